"""How things stand after a check or a repair: each number counted by hand on three fault sets."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.belief.protocol import Scenarios
from knowngood.planner.problem import AccessGraph, AccessTime
from knowngood.planner.standing import Counted, Standing
from tests.naive.toy_belief import ask, fault, sets_of
from tests.unit.planner.small import check, repair, shows, told

CHANCES = {frozenset({"A"}): 0.5, frozenset({"A", "B"}): 0.3, frozenset[str](): 0.2}
TABLES = {"a": shows("A", 0.9, 0.1), "b": shows("B"), "moved": shows("A")}
STEPS = {"cover": AccessTime(2.0, 3.0), "rail": AccessTime(5.0, 7.0, after=("cover",))}
LOOK, BOTH = check("a", 1.0), check("both", 1.0, "a", "b", access=("rail",))
SWAP = check("moved", 1.0, after=repair("swap", 1.0, "A"))


def start(**more: object) -> Standing:
    """All three sets, nothing open."""
    belief = sets_of(CHANCES, TABLES)
    sets = belief.scenarios(10, np.random.default_rng(1))
    if more:
        sets = replace(sets, **more)
    root = told(belief, [repair("A", 1.0)], [LOOK, BOTH, SWAP], access=AccessGraph(STEPS), rate_per_hour=120.0)
    return Standing(root, Counted(belief, sets), frozenset())


def chance(standing: Standing, name: str) -> float:
    """Of one fault."""
    return float(standing.belief.chances()[standing.root.column[fault(name)]])


def test_counted_is_bayes_by_hand() -> None:
    """Yes with 0.9 where A is, 0.1 where not: 0.74 in all; A then 0.72 / 0.74, B 0.27 / 0.74."""
    belief = start().belief
    yes, joint = belief.outcome_chances(ask("a"))
    assert yes == pytest.approx([0.74, 0.26])
    assert belief.faults == belief.source.faults
    assert belief.outcomes(ask("a")) == ("yes", "no")
    given = belief.given(ask("a"), "yes")
    assert sorted(given.chances()) == pytest.approx(sorted([0.72 / 0.74, 0.27 / 0.74]))
    assert joint[0] == pytest.approx(given.chances())
    assert belief.given(ask("a"), "no").sets.weight.sum() == pytest.approx(1.0)
    assert belief.scenarios(1, np.random.default_rng(1)) is belief.sets


def test_reading_is_worked_out_once_for_these_sets() -> None:
    """Asked again it is the same array; for other sets it is worked out anew."""
    belief = start().belief
    present = belief.sets.present
    assert belief.likelihood(ask("a"), present) is belief.likelihood(ask("a"), present)
    other = belief.likelihood(ask("a"), ~present)
    assert other is not belief.likelihood(ask("a"), present)
    assert other.shape == (2, 3)


def test_check_asked_is_not_offered_again() -> None:
    """What was read is left out of the checks that read more; a check with nothing new is gone; its cover is off."""
    after = start().after_check(LOOK, start().belief.likelihood(ask("a"), start().belief.sets.present)[0])
    assert chance(after, "A") == pytest.approx(0.72 / 0.74)
    assert [(one.id, one.asks) for one in after.problem.checks] == [("both", (ask("b"),)), ("moved", (ask("moved"),))]
    read = start().after_check(BOTH, np.ones(3))
    assert [one.id for one in read.problem.checks] == ["moved"]
    assert read.opened == {"cover", "rail"}
    assert start().opening(BOTH) == pytest.approx(2.0 * (2 + 5 + 3 + 7))
    assert read.opening(BOTH) == 0.0


def test_swap_made_is_not_offered_again_but_its_reading_is() -> None:
    """A swap says something each time it is looked at by another check; the swap itself is made once."""
    after = start().after_check(SWAP, np.ones(3))
    assert [one.id for one in after.problem.checks] == ["a", "both"]
    assert after.asked == frozenset()
    assert after.changed == {("moved", str(SWAP.place))}


def test_repair_that_may_not_work_leaves_both_ways() -> None:
    """A was there with 0.8; a repair that works in 9 of 10 leaves 0.08, and B as it was."""
    after = start().after_repair(repair("A", 1.0, works=0.9, access=("cover",)))
    assert chance(after, "A") == pytest.approx(0.08)
    assert chance(after, "B") == pytest.approx(0.3)
    assert after.belief.sets.weight.sum() == pytest.approx(1.0)
    assert len(after.belief.sets.weight) == 5, "only the two sets it may help are split"
    assert after.opened == {"cover"}


def test_repair_that_works_clears_it() -> None:
    """For sure, and where it was not there nothing changes."""
    after = start().after_repair(repair("A", 1.0))
    assert chance(after, "A") == 0.0
    assert chance(after, "B") == pytest.approx(0.3)
    assert len(after.belief.sets.weight) == 3


def test_what_matters_goes_with_what_is_cleared() -> None:
    """Faults that must be put right and are, are not to be put right any more; split sets keep theirs."""
    matters = start().belief.sets.present.copy()
    sure = start(matters=matters).after_repair(repair("A", 1.0)).belief.sets
    assert sure.matters is not None and not sure.matters[:, start().root.column[fault("A")]].any()
    assert (sure.matters <= sure.present).all()
    split = start(matters=matters).after_repair(repair("A", 1.0, works=0.5)).belief.sets
    assert split.matters is not None and split.matters.shape == split.present.shape
    assert float(split.weight @ split.matters[:, start().root.column[fault("A")]]) == pytest.approx(0.4)


def test_draws_are_cleared_by_luck_that_stays() -> None:
    """Of 4,000 draws a repair that works in 3 of 4 clears 3,000 within four standard errors (27); always the same."""
    begin = start()
    draws = Scenarios(np.full(4000, 1 / 4000), np.ones((4000, 2), dtype=bool), exact=False)
    drawn = replace(begin, belief=replace(begin.belief, sets=draws))
    after = drawn.after_repair(repair("A", 1.0, works=0.75))
    assert abs(4000 * chance(after, "A") - 1000) < 4 * 27.4
    assert chance(after, "B") == pytest.approx(1.0)
    again = drawn.after_repair(repair("A", 1.0, works=0.75))
    assert (again.belief.sets.present == after.belief.sets.present).all()
    other = replace(drawn, luck=5).after_repair(repair("A", 1.0, works=0.75))
    assert (other.belief.sets.present != after.belief.sets.present).any()
