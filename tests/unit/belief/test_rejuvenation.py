"""Moving draws on where the plan of elimination holds nothing."""

from __future__ import annotations

from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load


def test_a_car_with_nothing_in_the_tree_is_weighed_too() -> None:
    """All that four engine-wide complaints hide lies outside the plan of elimination: there is no branch to redraw."""
    answer = weigh_notes(
        "4 cylinders inline, coil on plug, direct injection, turbo, about 2010\n"
        "engine lamp flashes, will not rev, shakes\na misfire code\n",
        load(),
    )
    assert len(answer.suspects) >= 10
    assert all(0.0 <= one.chance <= 1.0 for one in answer.suspects)
