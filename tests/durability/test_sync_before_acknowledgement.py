"""Between two acknowledgements the log has been put on the disk.

Seen from outside, in the system calls of a writing process, where the machine has ``strace`` and lets it trace;
where not, this file holds no test, and what is left is the promise read back on every connection
(``tests/unit/jobs/test_store.py``: ``synchronous`` answers 2, which is FULL).
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

from tests.durability import writers

ROOT = Path(__file__).resolve().parents[2]
LINES = 10
TRACE = ["strace", "-f", "-y", "-e", "trace=write,pwrite64,fsync,fdatasync", "-o"]


def can_trace() -> bool:
    if shutil.which("strace") is None:
        return False
    return subprocess.run(["strace", "-o", "/dev/null", "true"], capture_output=True, check=False).returncode == 0


if can_trace():

    def test_log_is_on_the_disk_before_each_acknowledgement(tmp_path: Path) -> None:
        """For each line: the log is written, then synced, then the line is acknowledged; nothing is written between."""
        writers.begin(tmp_path)
        program = [sys.executable, str(Path(writers.__file__)), str(tmp_path), "w", str(LINES)]
        trace = tmp_path / "trace"
        done = subprocess.run([*TRACE, str(trace), *program], cwd=ROOT, capture_output=True, text=True, check=True)
        assert done.stdout.split() == [f"w-{number}" for number in range(LINES)]
        calls = [call for line in trace.read_text().splitlines() if (call := what(line))]
        told = "".join(calls)
        assert re.fullmatch("[ws]*" + "w+sa" * LINES + "[ws]*", told), told


def what(line: str) -> str:
    """``w``: the log is written, ``s``: it is synced, ``a``: a line is acknowledged; empty for the rest."""
    log = re.search(r"(\w+)\(\d+<[^>]*workshop\.sqlite-wal>", line)
    if log:
        return "s" if log[1] in ("fsync", "fdatasync") else "w"
    return "a" if re.search(r'write\(1<[^>]*>, "w-\d+\\n"', line) else ""
