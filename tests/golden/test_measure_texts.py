"""Measurements as the terminal shows them, word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from knowngood.cli.measure import measure_verb


@pytest.mark.parametrize(
    "line",
    [
        "compression 172 170 60 175 psi",
        "joint 0.42V 105A --place frame to ground post --window under 1mohm",
        "leakdown 80psi 74 72 55 75",
    ],
)
def test_measure_shows(line: str, tmp_path: Path, golden: Callable[[str, str], None]) -> None:
    """Entered, formula, working, result, verdict, what it cannot tell, slips, cautions, source; 80 columns."""
    shown = CliRunner().invoke(measure_verb, line.split(), obj=tmp_path)
    assert shown.exit_code == 0
    assert max(len(row) for row in shown.output.splitlines()) <= 80
    golden(f"measure_{line.split()[0]}.txt", shown.output)


def test_measure_lists(golden: Callable[[str, str], None]) -> None:
    """The verb alone lists its topics."""
    golden("measure_topics.txt", CliRunner().invoke(measure_verb, []).output)


def test_measure_says_how_a_topic_is_typed(golden: Callable[[str, str], None]) -> None:
    """A topic's own help: what is needed, what may be left out, an example."""
    golden("measure_help.txt", CliRunner().invoke(measure_verb, ["joint", "--help"]).output)
