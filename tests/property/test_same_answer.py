"""The same lines give the same answer in every process, whatever order a set happens to have there."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

NOTES = """petrol, 6 cylinders inline, coil on plug, port injection, flow meter, 187000 km, about 2002
stood 2 years
done last: rocker cover gasket by a neighbour, coils were off
shakes at cold idle
slow crank
P0302 stored, P0171 stored
unplug inj 2, no change; unplug inj 5, drops
lt b1 +19 idle, +4 2500
comp 172 170 175 171 168 173 psi
coil plug loose 2
reseated coil connector 2
vacuum hose chewed
replaced vacuum hose
runs well, no shake
lt b1 +2 idle, +1 2500
no codes
"""


def answered(notes: Path, hash_seed: str) -> dict[str, Any]:
    """What `weigh` says in a process of its own, but for the milliseconds it took."""
    command = [sys.executable, "-m", "knowngood.cli", "weigh", str(notes), "--json"]
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed}
    said = json.loads(subprocess.run(command, env=environment, capture_output=True, check=True, text=True).stdout)
    del said["ms"]
    return dict(said)


def test_same_lines_give_the_same_answer_in_every_process(tmp_path: Path) -> None:
    """A car whose chances are drawn: to the last digit the same, though text is hashed otherwise each time."""
    notes = tmp_path / "notes.txt"
    notes.write_text(NOTES, encoding="utf-8")
    first = answered(notes, "1")
    assert not first["exact"]
    assert answered(notes, "2") == first
