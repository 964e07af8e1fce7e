"""The package as a stranger gets it: ``python -m benchmarks.package``.

A wheel is built, put into a bare environment with the locked packages it asks for, and used there: how large that is,
how long help takes, and whether a notes file is weighed.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from knowngood.proving.figures import Figure, line, write

ROOT = Path(__file__).resolve().parents[1]
RUNS = 5
HELP_GOAL_MS = 400.0
NOTES = "4 cylinders inline, coil on plug\nP0302 stored, shakes at idle\n"


def wheel(folder: Path) -> Path:
    """The wheel, built into a folder."""
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", os.fspath(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def bare_environment(folder: Path, made: Path) -> Path:
    """An environment with the wheel and the locked packages it asks for; returns its programs."""
    from tools.set_up import uv_environment

    subprocess.run([sys.executable, "-m", "venv", "--without-pip", os.fspath(folder)], check=True)
    python = folder / "bin" / "python"
    install = [
        sys.executable,
        "-m",
        "uv",
        "pip",
        "install",
        "--quiet",
        "--compile-bytecode",
        "--python",
        os.fspath(python),
    ]
    locked = ["--require-hashes", "-r", os.fspath(ROOT / "requirements" / "run.txt")]
    for what in (locked, ["--no-deps", os.fspath(made)]):
        subprocess.run([*install, *what], check=True, env=uv_environment())
    return folder / "bin"


def megabytes(folder: Path) -> float:
    """What the files of a folder take [MB, 10^6 bytes]."""
    return sum(file.stat().st_size for file in folder.rglob("*") if file.is_file() and not file.is_symlink()) / 1e6


def main() -> int:
    """Build, install, try, print, write."""
    began = time.perf_counter()
    clean = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        package = wheel(folder)
        programs = bare_environment(folder / "bare", package)
        knowngood = os.fspath(programs / "knowngood")
        times = []
        for _ in range(RUNS + 1):
            start = time.perf_counter()
            subprocess.run([knowngood, "--help"], cwd=folder, env=clean, check=True, capture_output=True)
            times.append(1000.0 * (time.perf_counter() - start))
        times = times[1:]
        notes = folder / "notes.txt"
        notes.write_text(NOTES, encoding="utf-8")
        weighed = subprocess.run(
            [knowngood, "weigh", os.fspath(notes)], cwd=folder, env=clean, check=True, capture_output=True, text=True
        )
        assert "Most likely" in weighed.stdout, weighed.stdout
        of_ours = megabytes(next((folder / "bare" / "lib").glob("python*/site-packages/knowngood")))
        figures = {
            "package.install_mb": Figure(round(megabytes(folder / "bare"), 1), 1),
            "package.own_mb": Figure(round(of_ours, 1), 1),
            "package.wheel_mb": Figure(round(package.stat().st_size / 1e6, 2), 1),
            "package.help_ms": Figure(
                round(statistics.median(times), 1),
                RUNS,
                round(min(times), 1),
                round(max(times), 1),
                HELP_GOAL_MS,
                at_least=False,
            ),
        }
    for name, figure in figures.items():
        print(line(name, figure))
    write(figures, command="python -m benchmarks.package", seconds=time.perf_counter() - began)
    return 0


if __name__ == "__main__":
    sys.exit(main())
