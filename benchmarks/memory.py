"""The most memory one `weigh` holds, from start to end.

Asked of the process itself: what the system tells of a child's peak (`ru_maxrss`) begins at that of the parent it was
split off from, and a parent that has measured other things before is the larger of the two.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from knowngood.proving.figures import Figure

GOAL_MB = 300.0
WEIGH = """
import contextlib, io, runpy, sys
sys.argv = ["knowngood", "weigh", sys.argv[1]]
with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()):
    runpy.run_module("knowngood.cli", run_name="__main__", alter_sys=True)
print(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""


def memory_figure(notes: Path) -> Figure:
    """Peak resident memory of `knowngood weigh` on a file of notes [MB]."""
    run = [sys.executable, "-c", WEIGH, str(notes)]
    told = subprocess.run(run, capture_output=True, check=True, text=True).stdout
    return Figure(round(int(told.split()[-1]) / 1024.0, 0), 1, goal=GOAL_MB, at_least=False)
