"""An empty workshop to type into, and one with a car in it that is only asked."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.cli.terminal import Terminal

LINES = (
    "4 cylinders inline, coil on plug, port injection",
    "comp 175 172 60 175 psi",
    "replaced coil 3, no change",
    "left off: coil 3",
)


@pytest.fixture
def terminal(tmp_path: Path) -> Terminal:
    """An empty workshop."""
    return Terminal(tmp_path / "home")


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Terminal:
    """A workshop with one car, ``wagon``; tests that use it only ask."""
    terminal = Terminal(tmp_path_factory.mktemp("told"))
    terminal.done("new", "wagon", *LINES)
    return terminal
