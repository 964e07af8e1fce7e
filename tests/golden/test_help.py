"""Help as it stands in the terminal."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from click.testing import CliRunner

from knowngood.cli.main import cli


@pytest.mark.parametrize(("name", "words"), [("help", []), ("help_weigh", ["weigh"])])
def test_help_is_the_text_that_was_reviewed(golden: Callable[[str, str], None], name: str, words: list[str]) -> None:
    """The verbs, and the one verb that needs no workshop."""
    result = CliRunner().invoke(cli, [*words, "--help"], prog_name="knowngood", terminal_width=80)
    assert result.exit_code == 0
    golden(f"{name}.txt", result.output)
