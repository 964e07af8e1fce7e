"""Write the hash-locked requirement files from pyproject.toml.

    .venv/bin/python tools/lock.py             keep the versions that are locked, add and drop what changed
    .venv/bin/python tools/lock.py --upgrade   take the newest

The files carry versions and hashes only: where packages come from is the
business of the machine, so no address of an index is ever written.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCKS = {  # file -> (what goes in, files it must agree with)
    "bootstrap": (["--group", "pyproject.toml:bootstrap"], []),
    "run": (["pyproject.toml"], []),
    "dev": (["pyproject.toml", "--group", "pyproject.toml:dev"], ["run"]),
    "docs": (["--group", "pyproject.toml:docs"], ["dev"]),
}


def main(options: list[str]) -> None:
    env = {"UV_SYSTEM_CERTS": "1", **os.environ}
    for name, (sources, agrees_with) in LOCKS.items():
        command = ["uv", "pip", "compile", *sources, "--output-file", f"requirements/{name}.txt"]
        command += ["--generate-hashes", "--universal", "--python-version", "3.11", "--quiet", *options]
        command += ["--no-header", "--no-annotate", "--no-emit-index-url", "--no-emit-find-links"]
        for other in agrees_with:
            command += ["--constraint", f"requirements/{other}.txt"]
        subprocess.run([sys.executable, "-m", *command], cwd=ROOT, env=env, check=True)


if __name__ == "__main__":
    main(sys.argv[1:])
