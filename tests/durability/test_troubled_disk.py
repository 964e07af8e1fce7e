"""A disk that gets full, and one that turns read-only.

On a small file system in memory, mounted for this test alone, where the machine lets a test mount one. Where not, this
file holds no test; the same refusals are met in ``tests/errors/test_jobs_disk.py`` with limits set in the engine.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
APART = ["unshare", "-m"] if hasattr(os, "geteuid") and os.geteuid() == 0 else ["unshare", "-Urm"]
MOUNT = "mount -t tmpfs -o size=1m none"


def can_mount() -> bool:
    if shutil.which("unshare") is None:
        return False
    return subprocess.run([*APART, "sh", "-c", f"{MOUNT} /mnt"], capture_output=True, check=False).returncode == 0


if can_mount():

    def test_full_and_read_only_disk_lose_nothing(tmp_path: Path) -> None:
        """What was acknowledged before the disk was full is there; with room it goes on; read-only can be read."""
        run = f'{MOUNT} "$0" && "$1" -m tests.durability.troubled "$0"'
        command = [*APART, "sh", "-c", run, str(tmp_path), sys.executable]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        said = json.loads(done.stdout)
        file = tmp_path / "workshop.sqlite"
        acknowledged = said.pop("acknowledged")
        assert acknowledged > 10
        assert said == {
            "full": f"Refused: The disk of {file} is full. Make room, then type it again; nothing was changed.",
            "there when full": acknowledged,
            "there with room again": acknowledged + 1,
            "there on a read-only disk": acknowledged + 1,
            "read-only": f"Refused: {file} cannot be written: attempt to write a readonly database. "
            "Check that its disk and folder may be written to; nothing was changed.",
        }
