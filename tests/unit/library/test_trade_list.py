"""Everything a mechanic must be able to name is named; the list was written from the trade, not from the library."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from knowngood.library.load import load
from knowngood.library.tables import KINDS

LIST: dict[str, dict[str, list[str]]] = tomllib.loads(
    Path(__file__).with_name("trade_list.toml").read_text(encoding="utf-8")
)
ITEMS = [(group, item) for group, items in LIST.items() for item in items]


@pytest.mark.parametrize(("group", "item"), ITEMS, ids=[f"{group}-{item}" for group, item in ITEMS])
def test_item_of_the_trade_is_in_the_library(group: str, item: str) -> None:
    """Each record that stands for the item exists."""
    library = load()
    known = {name for kind in KINDS for name in getattr(library, kind.place)}
    named = LIST[group][item]
    assert named, "nothing stands for it"
    assert [name for name in named if name not in known] == []


def test_counts_do_not_fall_under_what_was_promised() -> None:
    """As many kinds as the plan asks, by the records themselves."""
    library = load()
    least = {"faults": 220, "checks": 150, "codes": 150, "parts": 120, "access": 80}
    assert {place: number for place, number in least.items() if len(getattr(library, place)) < number} == {}
