"""The exchange in README is what the terminal says."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

import pytest

README = Path(__file__).parents[2] / "README.md"
FENCE = "```console\n"


def exchange() -> str:
    """The fenced block of the terminal."""
    text = README.read_text(encoding="utf-8")
    return text.split(FENCE, 1)[1].split("```", 1)[0]


def test_exchange_in_readme_is_real(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """Each command is run in an empty workshop, in a process of its own; below it stand the first lines it says."""
    said: list[str] = []
    for block in exchange().split("$ ")[1:]:
        command, *shown = block.rstrip("\n").split("\n")
        program = [sys.executable, "-m", "knowngood.cli", "--home", str(tmp_path), *shlex.split(command)[1:]]
        result = subprocess.run(program, capture_output=True, text=True, check=True)
        lines = result.stdout.rstrip("\n").split("\n")
        said += [f"$ {command}", *lines[: len(shown)]]
    told = "\n".join(said) + "\n"
    if request.config.getoption("--golden"):
        text = README.read_text(encoding="utf-8")
        README.write_text(text.replace(exchange(), told), encoding="utf-8")
    assert exchange() == told
