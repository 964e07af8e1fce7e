"""What is left undone is known by part and place; a line that begins with a day happened on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.weigh import weigh_notes
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from tests.told import entries_after, state_after

FOUR = "4 cylinders inline, coil on plug, port injection, about 2003"


def left(*lines: str) -> list[str]:
    """What is left undone after these lines."""
    return [one.what for one in state_after(FOUR, *lines).undone]


@pytest.mark.parametrize(
    "right", ["coil 3 plugged back in", "plugged coil 3 back in", "coil 3 connected again", "reseated coil 3"]
)
def test_what_is_put_right_clears_it_in_other_words(right: str) -> None:
    """The same part at the same place; another place stays as it was."""
    assert left("coil 3 left unplugged") == ["coil 3 left unplugged"]
    assert left("coil 3 left unplugged", right) == []
    assert left("coil 2 left unplugged", right) == ["coil 2 left unplugged"]


def test_what_is_left_twice_in_other_words_stays_twice() -> None:
    """Nothing that was typed disappears from the list before it is put right."""
    assert len(left("coil 3 left unplugged", "coil 3 left loose")) == 2


def test_day_at_the_head_places_the_entry(tmp_path: Path) -> None:
    """Typed later, it stands before the work of today."""
    with Workshop(tmp_path, load(), now=lambda: "2026-05-06T10:00:00.000000Z") as workshop:
        car = workshop.new("wagon").code
        workshop.say(car, FOUR)
        workshop.say(car, "replaced coil 3, no change")
        workshop.say(car, "yesterday: P0303")
        lines = [entry.line for entry in workshop.entries(car)]
        assert lines.index("yesterday: P0303") < lines.index("replaced coil 3, no change")


def test_full_dates_order_a_notes_file() -> None:
    """A misfire noted below the repair, with an earlier date, was before it."""
    told = (FOUR, "2026-05-05 replaced coil 3", "2026-05-01 P0303")
    assert [entry.line[:10] for entry in entries_after(*told)][-2:] == ["2026-05-01", "2026-05-05"]
    assert weigh_notes("\n".join(told), load()).suspects
