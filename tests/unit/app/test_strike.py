"""A line struck with a reason is a line like any other: it can be taken back."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.strike import strike_line
from knowngood.app.workshop import Workshop
from knowngood.library.load import load


@pytest.mark.parametrize("why", ["mistyped", "undo"])
def test_undo_brings_a_struck_line_back(tmp_path: Path, why: str) -> None:
    """Whatever its reason, also one that is called as the program's own undo is."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        first, second = shop.say(job, "battery 12.4 V"), shop.say(job, "oil level right")
        strike_line(shop, job, first.entries[0], why)
        assert [entry.line for entry in shop.entries(job)] == ["four", second.text]
        shop.undo(job)
        assert [entry.line for entry in shop.entries(job)] == ["four", first.text, second.text]
