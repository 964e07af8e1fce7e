"""A place is named where it stands out, and only there."""

from __future__ import annotations

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.app.whereabouts import how_likely, places_beside, where
from knowngood.library.load import load

SIX = "6 cylinders inline, coil on plug, port injection, flow meter, about 2004, 150000 km\nruns rough at idle\n"


def weighed(text: str) -> Answer:
    return weigh_notes(text, load())


def test_no_cylinder_is_named_where_nothing_tells_them_apart() -> None:
    answer = weighed(SIX)
    at_cylinders = [one for one in answer.suspects if one.places[0].place.startswith("cylinder")]
    assert at_cylinders
    assert {where(one) for one in at_cylinders} == {", cylinder not known yet"}
    assert all(not places_beside(one) for one in at_cylinders)


def test_a_code_makes_its_cylinder_stand_out() -> None:
    answer = weighed(SIX + "P0305\n")
    first = next(one for one in answer.suspects if one.places[0].place.startswith("cylinder"))
    assert where(first).startswith(", cylinder 5")
    assert places_beside(first)[0].startswith("cylinder 5 about")


def test_two_cylinders_stand_out_together() -> None:
    answer = weighed(SIX + "cyl 2 and 5 dead, unplugging them changes nothing\n")
    named = {where(one) for one in answer.suspects[:6]}
    assert named & {", cylinder 2 and cylinder 5", ", cylinder 5 and cylinder 2"}


def test_what_is_said_is_what_the_order_goes_by() -> None:
    """A worn plug somewhere is nearly sure on an old car and yet rarely what was noticed: both are said."""
    shown = [one.shown for one in weighed(SIX + "P0305\n").suspects]
    assert shown == sorted(shown, reverse=True)
    answer = weighed(SIX + "P0305\ncyl 5 no spark\n")
    apart = [one for one in answer.suspects if one.chance - one.shown >= 0.1]
    assert apart
    assert all("; there at all, behind it or not: " in how_likely(one) for one in apart)
