"""Kinds of fault of one part are one suspect; order and chances are those of the part."""

from __future__ import annotations

import pytest

from knowngood.app.answer import Suspect
from knowngood.app.state import State
from knowngood.app.suspects import KIND_SHARE, _range, suspected, suspects_of
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from knowngood.library.records import Chance, Fault
from tests.told import state_after

NOTES = "4 cylinders inline, coil on plug, port injection\nP0302\ncoil 2>3, now P0303\n"


@pytest.fixture(scope="module")
def suspects() -> tuple[State, list[Suspect]]:
    """Of a coil that took its miss along."""
    state = state_after(NOTES)
    return state, suspects_of(state)


def test_kinds_of_one_part_are_one_suspect(suspects: tuple[State, list[Suspect]]) -> None:
    """A coil that is dead and one that fails when hot are the same coil to replace: one row, both named."""
    _, rows = suspects
    kinds = {kind.fault for kind in rows[0].kinds}
    assert {"coil_dead", "coil_hot"} <= kinds
    assert rows[0].name.startswith("ignition coil (coil dead or ")
    assert all(kinds.isdisjoint(kind.fault for kind in row.kinds) for row in rows[1:])


def test_chance_of_a_suspect_is_that_of_any_of_its_kinds(suspects: tuple[State, list[Suspect]]) -> None:
    """It is at least the largest of its kinds and at most their sum, and the place's chance is no larger."""
    _, rows = suspects
    for row in rows:
        chances = [kind.chance for kind in row.kinds]
        assert row.chance >= max(chances)
        assert row.places[0].chance <= row.chance
        assert row.kinds[0].fault == row.fault
    assert rows[0].behind >= max(kind.behind for kind in rows[0].kinds)


def test_order_is_by_what_is_behind_a_finding(suspects: tuple[State, list[Suspect]]) -> None:
    """Rows with the larger share behind what was found come first, and the coil is on 3 now."""
    _, rows = suspects
    shares = [row.behind for row in rows if row.behind >= 0.001]
    assert shares == sorted(shares, reverse=True)
    assert rows[0].places[0].place == "cylinder 3"


def test_small_kinds_are_not_named(suspects: tuple[State, list[Suspect]]) -> None:
    """A kind with less than a tenth of its suspect stays out of the row's name."""
    state, _ = suspects
    for one in suspected(state)[:6]:
        if one.behind >= 0.001:
            assert all(state.kinds_behind.get(kind, 0.0) >= KIND_SHARE * one.behind for kind in one.kinds[1:])


def test_what_was_seen_has_the_line_that_says_so_for_its_only_reason() -> None:
    """A catalyst seen missing is not a bit likelier for a good brake pedal: it was found, and nothing moves it."""
    notes = (
        "petrol, V6, coil on plug, port injection, flow meter, 214000 km",
        "P0420 pending, P0305 stored",
        "plug 5 wet",
        "catalyst sawn off",
        "brake pedal: good",
    )
    answer = weigh_notes("\n".join(notes), load())
    (missing,) = [one for one in answer.suspects if one.fault == "catalyst_missing"]
    assert [(one.text, one.settled) for one in missing.because] == [("catalyst sawn off", True)]
    others = [reason for one in answer.suspects if one is not missing for reason in one.because]
    assert others
    assert not any(reason.settled for reason in others)


@pytest.mark.parametrize(
    ("chance", "low", "high"),
    [
        (0.02, 0.01, 0.04),  # nothing was read: the range of the prior itself
        (0.5, 0.33108, 0.67123),  # even odds, times (1/99) / (2/98) and (4/96) / (2/98)
        (0.0, 0.0, 0.0),
        (1.0, 1.0, 1.0),
    ],
)
def test_range_is_the_answer_with_the_prior_at_either_end(chance: float, low: float, high: float) -> None:
    """Worked by hand: the odds go with the prior odds, other numbers held."""
    fault = Fault(
        id="f", name="f", part="p", place="engine", chance=Chance(per_1000=20.0, low=10.0, high=40.0, source="memory")
    )
    assert _range(fault, chance) == pytest.approx((low, high), abs=5e-5)
