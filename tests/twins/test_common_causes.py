"""One cause behind many faults: what was seen of it raises the rest, and nothing moves before."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.common_causes import HARM_TOLD, HARM_UNTOLD, CommonCauses, given_state
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask, FaultAt
from knowngood.car import ENGINE, Car, Place
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.records import Act, Ladder, Library, Part, Raised, ReadingKind
from tests.naive.agrum_belief import by_nodes
from tests.naive.brute_belief import BruteBelief
from tests.unit.belief.tiny import ONE, TWO, after, chance, fault, library, word

MICE = Raised(by="animals", times=10.0)
STOOD = Raised(by="standing", times=4.0)
CHEWED_SEEN = Finding(fault="coil_wire_chewed", place=ONE)
MISS = Reading(kind="miss", place=TWO, word="yes")
ROUGH = Reading(kind="rough", place=ENGINE, word="yes")


def small() -> Library:
    """Wires an animal chews, contacts that years of standing spoil, and a plug that neither touches."""
    levels = ("steady", "poor", "dead")
    burn = Ladder(id="burn", name="burn", place="cylinder", levels=levels)
    engine = Ladder(
        id="rough", name="rough", place="engine", levels=("no", "yes"), inputs={"burn": {"poor": "yes", "dead": "yes"}}
    )
    dead, poor = [Act(on="burn", level="dead")], [Act(on="burn", level="poor")]
    look = ReadingKind(
        id="loom_look",
        name="loom",
        place="cylinder",
        source="memory",
        levels=("whole", "chewed"),
        direct={"coil_wire_chewed": "chewed"},
        words=("whole", "chewed"),
        chance={"whole": {"whole": 0.98, "chewed": 0.02}, "chewed": {"whole": 0.1, "chewed": 0.9}},
    )
    return library(
        [burn, engine],
        [
            fault("coil_wire_chewed", 10.0, part="wire", place="cylinder", acts=dead, raised=[MICE]),
            fault("loom_chewed", 5.0, part="loom", raised=[MICE, STOOD]),
            fault("contact_green", 20.0, part="contact", place="cylinder", acts=poor, raised=[STOOD]),
            fault("plug_worn", 200.0, part="plug", place="cylinder", acts=poor),
        ],
        [
            word("miss", "burn", {"steady": 0.01, "poor": 0.6, "dead": 0.95}, place="cylinder"),
            word("rough", "rough", {"no": 0.05, "yes": 0.9}, complaint=True),
            look,
        ],
        parts=[Part(id="plug", name="plug", price=10.0, source="memory", swaps=True)],
    )


def told(*bodies: Reading | Work | Finding, cylinders: int = 2, **story: object) -> ExactBelief:
    """The belief after these, held against counting out and against a general-purpose library."""
    belief = after(small(), *bodies, car=Car(cylinders=cylinders, form="inline", **story))  # type: ignore[arg-type]
    assert belief.chances() == pytest.approx(BruteBelief(belief).chances(belief.faults), abs=1e-12)
    assert belief.chances() == pytest.approx(by_nodes(belief).chances(belief.faults), abs=1e-9)
    return belief


def test_one_chewed_wire_raises_the_others() -> None:
    """Told of mice, ten times the odds; with one wire seen chewed, nearly twice that for those not looked at."""
    mice = told(animals=True)
    assert chance(mice, "coil_wire_chewed", TWO) == pytest.approx(0.0917, abs=0.0001)  # odds 10/990 times ten
    seen = told(CHEWED_SEEN, animals=True)
    assert chance(seen, "coil_wire_chewed", TWO) > 1.6 * chance(mice, "coil_wire_chewed", TWO)
    assert chance(seen, "loom_chewed") > 1.6 * chance(mice, "loom_chewed")
    assert chance(seen, "plug_worn", TWO) == pytest.approx(0.2, abs=1e-12)


def halved(count: float, harm: float, times: float) -> tuple[float, float]:
    """Chance without and with harm (odds ``times`` as high) whose mean is the count, by halving."""
    low, high = 0.0, count
    for _ in range(200):
        bare = 0.5 * (low + high)
        hurt = times * bare / (1.0 - bare + times * bare)
        low, high = (low, bare) if (1.0 - harm) * bare + harm * hurt > count else (bare, high)
    return bare, hurt


@pytest.mark.parametrize("animals", [None, True])
def test_a_seen_one_by_hand(animals: bool | None) -> None:
    """Cars with harm have 19 times the odds of those without; the wire that was seen says which car this one is."""
    count, harm = (0.01, HARM_UNTOLD["animals"]) if animals is None else (0.1 / 1.09, HARM_TOLD)
    bare, hurt = halved(count, harm, 19.0)
    harmed = harm * hurt / count
    seen = told(CHEWED_SEEN, animals=animals)
    assert chance(seen, "coil_wire_chewed", TWO) == pytest.approx(harmed * hurt + (1.0 - harmed) * bare, abs=1e-9)


def test_nothing_moves_before_a_line() -> None:
    """Laid or not, a chance before any line is the count that the story raises."""
    belief = told(CHEWED_SEEN, MISS, animals=True, standing_years=3.0)
    before = dict(zip(belief.faults, belief.chances_by_entry([0, 1])[0], strict=True))
    assert before == pytest.approx({at: belief.model.priors[at] for at in belief.faults}, abs=1e-9)
    assert belief.built.common.states == 2


def test_a_story_that_denies_it_is_believed() -> None:
    """Told that no animal was there, a damaged wire is a damaged wire."""
    seen = told(CHEWED_SEEN, animals=False)
    assert chance(seen, "coil_wire_chewed", TWO) == pytest.approx(0.01, abs=1e-12)


def test_two_causes_of_one_fault() -> None:
    """A loom that was seen chewed on a car that stood asks after both; contacts and wires rise."""
    belief = told(Finding(fault="loom_chewed", place=ENGINE), MISS, ROUGH, standing_years=2.0)
    assert [cause.name for cause in belief.built.common.causes] == ["animals", "standing"]
    assert chance(belief, "contact_green", ONE) > chance(told(MISS, ROUGH, standing_years=2.0), "contact_green", ONE)
    assert chance(belief, "coil_wire_chewed", TWO) > 2.5 * chance(told(MISS, ROUGH), "coil_wire_chewed", TWO)


def test_its_own_look_shows_it_too() -> None:
    """A look that shows a chewed wire raises the next, a whole one does not ask what else was done."""
    chewed = told(Reading(kind="loom_look", place=ONE, word="chewed"), animals=True)
    assert chance(chewed, "coil_wire_chewed", TWO) > 1.3 * chance(told(animals=True), "coil_wire_chewed", TWO)
    assert told(Reading(kind="loom_look", place=ONE, word="whole"), animals=True).built.common.states == 1


def test_a_new_wire_is_no_animals_wire() -> None:
    """What a new part brings does not depend on what was done to the car before; the old one counts as seen."""
    new = Work(do="replaced", part="wire", places=(TWO,))
    belief = told(CHEWED_SEEN, new, animals=True)
    assert chance(belief, "coil_wire_chewed", TWO) == pytest.approx(0.010, abs=1e-9)


def test_outcomes_and_draws_know_of_it() -> None:
    """What a look at the other wire would show, by one pass and by the belief after each outcome; draws agree."""
    belief = told(CHEWED_SEEN, MISS, animals=True)
    ask = Ask("loom_look", TWO)
    shown, after_each = belief.outcome_chances(ask)
    for name, row in zip(belief.outcomes(ask), after_each, strict=True):
        assert row == pytest.approx(belief.given(ask, name).chances(), abs=1e-9)
    assert shown @ after_each == pytest.approx(belief.chances(), abs=1e-9)
    drawn = belief.scenarios(40_000, np.random.default_rng(3))
    assert drawn.present.mean(axis=0) == pytest.approx(belief.chances(), abs=0.015)


def test_chance_of_any_counts_what_they_share() -> None:
    """Faults nothing was read of are not independent once a common cause is asked for."""
    belief = told(CHEWED_SEEN, animals=True)
    brute = BruteBelief(belief)
    wanted = [FaultAt("loom_chewed", ENGINE), FaultAt("coil_wire_chewed", TWO)]
    instances = {belief.instance_now(at) for at in wanted}
    expected = sum(weight for present, weight in brute.weights if present & instances) / brute.total
    assert belief.chance_of_any(wanted) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("prior", [1e-12, 0.003, 0.5, 0.9])
def test_chances_given_the_cause_average_to_the_count(prior: float) -> None:
    """At either end, too."""
    raised = [np.array([0.0, np.log(39.0), np.log(7.0), np.log(273.0)])]
    share = np.array([0.45, 0.05, 0.45, 0.05])
    given = given_state(np.array([prior]), raised, share)
    assert given @ share == pytest.approx([prior], rel=1e-9)
    assert np.log(given / (1.0 - given))[0] - np.log(given / (1.0 - given))[0, 0] == pytest.approx(raised[0], abs=1e-3)


def test_no_cause_is_one_state() -> None:
    """Where none is laid every chance is its count."""
    at = FaultAt("a", Place("engine"))
    assert CommonCauses((), {at: 0.25}).of(at) == pytest.approx([0.25])
