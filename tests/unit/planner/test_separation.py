"""Suspects that nothing tells apart: when a pair is one, and what it costs."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.advice import advise
from knowngood.planner.problem import AccessGraph, AccessTime, put_right
from knowngood.planner.separation import not_told_apart, ratios
from tests.naive.toy_belief import fault, independent
from tests.unit.planner.small import check, repair, shows, told

CHANCES = [(fault("A"), 0.5), (fault("B"), 0.3)]


def sees(a: float, b: float):
    """Yes with these chances for A alone and for B alone."""

    def table(there: frozenset[str]) -> tuple[float, float]:
        yes = a if "A" in there else b if "B" in there else 0.01
        return yes, 1.0 - yes

    return ("yes", "no"), table


def problem(readings, checks=(), **more):
    """A at 40, B at 10."""
    belief = independent({"A": 0.5, "B": 0.3}, readings)
    return told(belief, [repair("A", 40.0), repair("B", 10.0)], checks, **more)


def test_pair_with_no_check_at_all() -> None:
    """The cheaper order tries B first and wastes its 10 where it was A: 0.5 x 10, against 0.3 x 40."""
    (alike,) = not_told_apart(problem({}), CHANCES)
    assert (alike.first, alike.second) == (fault("A"), fault("B"))
    assert alike.cost == pytest.approx(5.0)
    assert alike.ratio == 1.0


@pytest.mark.parametrize(("times", "apart"), [(2.9, False), (3.1, True)])
def test_three_to_one_is_the_line(times: float, apart: bool) -> None:
    """Yes at 0.3 with A and at 0.3 / times with B; no is never more than 0.9 / 0.7 for B."""
    weak = problem({"t": sees(0.3, 0.3 / times)}, [check("t", 1.0)])
    assert ratios(weak, [at for at, _ in CHANCES])[0, 1] == pytest.approx(times)
    assert (not_told_apart(weak, CHANCES) == ()) is apart


def test_check_that_sees_both_alike_tells_nothing() -> None:
    """Only a check that answers differently helps."""
    alike = problem({"t": sees(0.9, 0.9), "u": shows("A", sees=0.9, false_alarm=0.1)}, [check("t", 1.0)])
    assert len(not_told_apart(alike, CHANCES)) == 1
    apart = problem({"t": sees(0.9, 0.9), "u": shows("A", sees=0.9, false_alarm=0.1)}, [check("t", 1.0), check("u", 1)])
    assert not_told_apart(apart, CHANCES) == ()


def test_spare_tells_apart_what_no_reading_does() -> None:
    """The reading is yes with either; with a known-good A fitted it is yes with B only."""
    belief = independent({"A": 0.5, "B": 0.3}, {"t": sees(0.9, 0.9)})
    spare = check("t", 1.0, after=put_right(belief.faults, (fault("A"),)))
    assert not_told_apart(told(belief, [repair("A", 40.0), repair("B", 10.0)], [spare]), CHANCES) == ()


def test_one_repair_for_both_costs_nothing() -> None:
    """Mixing up what is put right together is no loss."""
    belief = independent({"A": 0.5, "B": 0.3})
    assert not_told_apart(told(belief, [repair("AB", 40.0, "A", "B")]), CHANCES) == ()


def test_without_a_repair_nothing_is_compared() -> None:
    """A fault that cannot be put right here costs the same whatever it is mixed up with."""
    belief = independent({"A": 0.5, "B": 0.3})
    assert not_told_apart(told(belief, [repair("A", 40.0)]), CHANCES) == ()


def test_what_comes_off_and_the_proof_are_wasted_too() -> None:
    """B behind a cover (3 to open, 2 to close), proof 7: 0.5 x (10 + 5 + 7) = 11."""
    covered = told(
        independent({"A": 0.5, "B": 0.3}),
        [repair("A", 40.0), repair("B", 10.0, access=("K",))],
        access=AccessGraph({"K": AccessTime(3.0, 2.0)}),
        proof_minutes=7.0,
    )
    assert not_told_apart(covered, CHANCES)[0].cost == pytest.approx(11.0)


def test_dearest_first() -> None:
    """Three alike: pairs in the order of what they waste."""
    belief = independent({"A": 0.5, "B": 0.3, "C": 0.2})
    pairs = not_told_apart(
        told(belief, [repair("A", 40.0), repair("B", 10.0), repair("C", 20.0)]), [*CHANCES, (fault("C"), 0.2)]
    )
    assert [alike.cost for alike in pairs] == sorted((alike.cost for alike in pairs), reverse=True)
    assert len(pairs) == 3


def test_advice_carries_what_is_compared() -> None:
    """Leading suspects only; one under 3 in 100 is not compared."""
    belief = independent({"A": 0.5, "B": 0.3, "C": 0.01})
    problem = told(belief, [repair("A", 40.0), repair("B", 10.0), repair("C", 20.0)])
    pairs = not_told_apart(problem, advise(problem).compared)
    assert [(alike.first.fault, alike.second.fault) for alike in pairs] == [("A", "B")]
    assert np.isfinite(pairs[0].cost)
