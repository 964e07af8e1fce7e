"""Faults that come and go: what one look tells, and what many do."""

from __future__ import annotations

import math

import pytest

from knowngood.belief.acting import Regime
from knowngood.belief.looks import condition_of, pattern_chance, quadrature, sessions
from knowngood.belief.protocol import Ask
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Note, Reading, Work
from knowngood.library.records import Act, Cure, Ladder, Library
from tests.unit.belief.tiny import chance, fault, library, over_days, word

SURE = {"good": 0.0, "out": 1.0}


def wire() -> Library:
    """A contact that is bad in every second car, and then opens in half of the looks; ten readings that never err."""
    return library(
        [Ladder(id="feed", name="feed", place="engine", levels=("good", "out"))],
        [
            fault(
                "contact",
                500,
                acts=[Act(on="feed", level="out")],
                cures=[Cure(do="cleaned", minutes=5, source="memory", works=0.9)],
                shows={"any": 0.5},
            )
        ],
        [
            *(word(f"lamp{number}", "feed", SURE) for number in range(10)),
            word("cuts_out", "feed", SURE, complaint=True),
        ],
    )


def said(kind: str, answer: str, *conditions: str, who: str = "measured here") -> Reading:
    """One reading."""
    return Reading(kind=kind, place=ENGINE, word=answer, conditions=conditions, who=who)


@pytest.mark.parametrize("days", [0, 1, 2, 3, 4])
def test_good_today_is_no_proof(days: int) -> None:
    """How often it shows is even between never and always: after n good days 1 in n + 2, by Laplace's rule."""
    belief = over_days(wire(), *[[said("lamp0", "no")]] * days)
    assert chance(belief, "contact") == pytest.approx(1.0 / (days + 2.0))


def test_ten_good_readings_of_one_evening_are_one() -> None:
    """They share the look: a third is left, as after the first of them."""
    belief = over_days(wire(), [said(f"lamp{number}", "no") for number in range(10)])
    assert chance(belief, "contact") == pytest.approx(1.0 / 3.0)
    one_a_day = over_days(wire(), *[[said(f"lamp{number}", "no")] for number in range(3)])
    assert chance(one_a_day, "contact") == pytest.approx(1.0 / 5.0)


def test_what_showed_will_show_again_by_laplace() -> None:
    """Seen in k of n days: then in (k + 1) of (n + 2) (rule of succession; Laplace 1774, from memory)."""
    belief = over_days(wire(), *[[said("lamp0", answer)] for answer in ("yes", "no", "yes")], [said("lamp1", "yes")])
    before = over_days(wire(), *[[said("lamp0", answer)] for answer in ("yes", "no", "yes")])
    assert belief.log_chance - before.log_chance == pytest.approx(math.log(3.0 / 5.0))
    assert chance(before, "contact") == pytest.approx(1.0)


def test_in_this_look_it_shows_or_not() -> None:
    """What was read tonight will be read again tonight; what will be read tomorrow is open."""
    belief = over_days(wire(), [said("lamp0", "yes")])
    outcome, _ = belief.outcome_chances(Ask("lamp1", ENGINE))
    assert outcome == pytest.approx([1.0, 0.0])


def test_each_condition_has_its_own_number() -> None:
    """A wet look says nothing of how often it shows in the dry."""
    wet_and_dry = over_days(wire(), [said("lamp0", "no"), said("lamp1", "no", "wet")])
    assert chance(wet_and_dry, "contact") == pytest.approx(1.0 / 5.0)  # both numbers even: a half times a half


def test_complaint_is_a_habit() -> None:
    """What the driver says of many drives is there whatever shows today; what others told is no look of ours."""
    complained = over_days(wire(), [said("cuts_out", "yes")], [said("lamp0", "no")])
    assert chance(complained, "contact") == pytest.approx(1.0)
    told = over_days(wire(), [said("lamp0", "no", who="owner")])
    assert chance(told, "contact") == pytest.approx(0.0)


def test_work_begins_another_look() -> None:
    """Cleaned, then good: left with one in ten, and then not shown in half of the looks: 1/20 against 1/2 and 9/20."""
    belief = over_days(wire(), [Work(do="cleaned", part="part of contact", places=(ENGINE,)), said("lamp0", "no")])
    assert chance(belief, "contact") == pytest.approx((0.05 * 0.5) / (0.05 * 0.5 + 0.95))


def test_number_stays_through_a_repair() -> None:
    """It showed every day and cleaning changed nothing that lasts: what is left shows as often as before."""
    clean = Work(do="cleaned", part="part of contact", places=(ENGINE,))
    seldom = over_days(wire(), [said("lamp0", "yes")], [clean, said("lamp0", "no")])
    often = over_days(wire(), *[[said("lamp0", "yes")]] * 3, [clean, said("lamp0", "no")])
    assert chance(often, "contact") < chance(seldom, "contact") < 0.1


@pytest.mark.parametrize(
    "regime, condition",
    [
        (Regime("any"), "any"),
        (Regime("cold idle"), "cold"),
        (Regime("pull"), "hot"),
        (Regime("cold start", frozenset(["wet"])), "wet"),
        (Regime("cruise", frozenset(["bump"])), "shaken"),
        (Regime("hot idle", frozenset(["electrical load"])), "load"),
        (Regime("hot restart", frozenset(["hot soak"])), "hot"),
        (Regime("cold start", frozenset(["after standing"])), "cold"),
    ],
)
def test_condition_of_a_regime(regime: Regime, condition: str) -> None:
    """What was added to the regime comes before the regime."""
    assert condition_of(regime) == condition


def test_sessions_end_after_some_hours() -> None:
    """Lines of one evening are one; the next morning is another; a look that is named is its own; no time, no end."""
    times = ["2026-05-01T18:00:00Z", "2026-05-01T21:59:00Z", "2026-05-02T08:00:00Z"]
    entries = [Entry(id=at, at=at, entered=at, body=Note("")) for at in times]
    assert sessions(entries) == [1, 1, 2]
    named = [Entry(id=look, at=times[0], entered=times[0], look=look, body=Note("")) for look in "aab"]
    assert sessions(named) == [1, 1, 2]
    assert sessions([Entry(id=at, at=at, entered=at, body=Note("")) for at in ("1", "2")]) == [1, 1]


def test_always_and_never_need_no_points() -> None:
    """A fault that always shows has one pattern."""
    assert pattern_chance(1.0, 3, 3) == 1.0
    assert pattern_chance(1.0, 2, 3) == 0.0


@pytest.mark.parametrize("mean", [0.02, 0.3, 0.5, 0.9])
def test_points_are_those_of_gauss_and_jacobi(mean: float) -> None:
    """Against the nodes and weights of scipy on -1..1, drawn to 0..1."""
    from scipy.special import roots_jacobi

    nodes, weights = roots_jacobi(3, 2.0 * (1.0 - mean) - 1.0, 2.0 * mean - 1.0)
    points, chance = quadrature(mean)
    assert points == pytest.approx(0.5 * (1.0 + nodes))
    assert chance == pytest.approx(weights / weights.sum())


@pytest.mark.parametrize("mean", [0.02, 0.3, 0.9])
def test_pattern_of_looks_by_the_beta_function(mean: float) -> None:
    """Shown in k of n looks: B(a + k, b + n - k) / B(a, b), exact up to the five looks three points carry."""
    from scipy.special import beta

    a, b = 2.0 * mean, 2.0 * (1.0 - mean)
    for looks in range(6):
        for shown in range(looks + 1):
            expected = beta(a + shown, b + looks - shown) / beta(a, b)
            assert pattern_chance(mean, shown, looks) == pytest.approx(expected)
