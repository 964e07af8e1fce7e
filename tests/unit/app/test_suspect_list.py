"""The list of suspects as a page shows it."""

from __future__ import annotations

import pytest
from msgspec import structs

from knowngood.app.answer import Because, OfStory, Suspect
from knowngood.app.suspect_list import UNLIKELY, lead_and_tail, speaks_for


def suspect(shown: float, *weights: float) -> Suspect:
    """One that is likely so far, moved so."""
    because = [Because(line, weight, "x") for line, weight in enumerate(weights)]
    return Suspect(
        fault="f", name="f", part="p", chance=shown, low=shown, high=shown, behind=shown, shown=shown, stand_out=0,
        held=0.0, several=False, places=[], because=because,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("chances", "shown"),
    [
        ((0.5, 0.3, 0.2, 0.1, 0.05, 0.04), 4),
        ((0.5, 0.05, 0.04, 0.03, 0.02), 3),
        ((0.05, 0.04, 0.03, 0.02), 4),
        ((0.5, 0.3, 0.05, 0.04, 0.2, 0.01, 0.01), 5),
        ((0.5,), 1),
        ((UNLIKELY,) * 9, 9),
    ],
)
def test_tail_begins_behind_the_last_that_is_likely(chances: tuple[float, ...], shown: int) -> None:
    """Three stand there in any case, a tail is two at least, and none is lost or out of order."""
    suspects = [suspect(chance) for chance in chances]
    lead, tail = lead_and_tail(suspects)
    assert len(lead) == shown
    assert [*lead, *tail] == suspects
    assert all(one.shown < UNLIKELY for one in tail)


def test_minuses_alone_are_not_all_there_is() -> None:
    """Where no line speaks for it, what does is said; where one does, or none was weighed yet, nothing is."""
    assert speaks_for(suspect(0.4, -1.0, -2.0)) == "from all readings together"
    assert speaks_for(suspect(0.4, -1.0, 0.5)) == ""
    assert speaks_for(structs.replace(suspect(0.4, -1.0), story=[OfStory(3.0, "it stood for long")])) == ""
    assert speaks_for(suspect(0.4)) == ""
