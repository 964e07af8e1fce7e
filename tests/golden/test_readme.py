"""The exchange in README is what the terminal says."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from knowngood.cli.main import cli

README = Path(__file__).parents[2] / "README.md"
FENCE = "```console\n"


def exchange() -> str:
    """The fenced block of the terminal."""
    text = README.read_text(encoding="utf-8")
    return text.split(FENCE, 1)[1].split("```", 1)[0]


def test_exchange_in_readme_is_real(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """Every command of the block is run in an empty workshop; below it stand the first lines of its answer."""
    said: list[str] = []
    for block in exchange().split("$ ")[1:]:
        command, *shown = block.rstrip("\n").split("\n")
        result = CliRunner().invoke(cli, ["--home", str(tmp_path), *shlex.split(command)[1:]])
        lines = result.output.rstrip("\n").split("\n")
        said += [f"$ {command}", *lines[: len(shown)]]
    told = "\n".join(said) + "\n"
    if request.config.getoption("--golden"):
        text = README.read_text(encoding="utf-8")
        README.write_text(text.replace(exchange(), told), encoding="utf-8")
    assert exchange() == told
