"""What must hold of works and findings, on the library that is shipped: swaps, new parts, what was seen for sure."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from knowngood.app.ledger import log_odds
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.load import load
from knowngood.library.records import ReadingKind
from tests.in_turn import in_turn
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import small_car, small_library

CAR = Car(cylinders=4, form="inline", ignition="coil on plug", injection="port", air_meter="flow meter", turbo=False)
ALL = tuple(Place("cylinder", str(number)) for number in (1, 2, 3, 4))
SECOND, THIRD = ALL[1], ALL[2]
MISS = Reading(kind="miss", place=SECOND, word="yes")
SHAKES = Reading(kind="shakes", word="yes")
DECIBEL = 1.0  # of log odds in 10 log10


def after(*bodies: Reading | Work | Finding) -> ExactBelief:
    """The belief about the four-cylinder car after these, in turn."""
    belief = believe(load(), CAR, layout_of(CAR), in_turn(bodies))
    assert belief.exact
    return belief


def of_part(part: str, place: Place) -> list[FaultAt]:
    """Faults of a part at a place of this car."""
    return [at for at in after().faults if load().faults[at.fault].part == part and at.place == place]


def chance(belief: ExactBelief, at: FaultAt) -> float:
    """Chance of one fault now."""
    return float(belief.chances()[belief.model.column[at]])


def moved(belief: ExactBelief, before: ExactBelief) -> dict[FaultAt, float]:
    """How far each fault's log odds moved, 10 log10."""
    change = log_odds(belief.chances()) - log_odds(before.chances())
    return dict(zip(belief.faults, map(float, change), strict=True))


def may_have_come(belief: ExactBelief, *places: Place) -> dict[FaultAt, float]:
    """Faults that work on the coils at some places may have brought about in what came off there, and how likely."""
    return {at: share for at, share in belief.model.timeline.disturbed["coil"] if at.place in places}


def test_miss_that_moved_with_the_coil_raises_the_coil_alone() -> None:
    """The coil of cylinder 2 sits on 3 now: one of its faults is likelier than not, and nothing else rises much."""
    swap = Work(do="swapped", part="coil", places=(SECOND,), to=THIRD, effect="moved", effect_at=THIRD)
    belief, before = after(MISS, swap), after(MISS)
    change = moved(belief, before)
    coil = of_part("coil", THIRD)
    # a coil that is only hot or weak shows less surely than a dead one
    assert max(chance(belief, at) for at in coil) > 5.0 * max(chance(before, at) for at in of_part("coil", SECOND))
    assert belief.chance_of_any(coil) > 0.5
    assert all(change[at] > 10.0 * DECIBEL for at in coil)
    assert all(change[at] < 0.0 for at in of_part("coil", SECOND))
    others = {at: by for at, by in change.items() if load().faults[at.fault].part != "coil"}
    came_off = may_have_come(belief, SECOND, THIRD)
    assert max(by for at, by in others.items() if at not in came_off) < 3.0 * DECIBEL
    assert max(chance(belief, at) for at in came_off) < 0.05  # the swap may have left a plug off
    stays = [at for at in set(others) - set(came_off) if at.place == SECOND and abs(others[at]) > 1e-9]
    assert stays and all(others[at] < 0.0 for at in stays)


def test_miss_that_stayed_lowers_the_coil() -> None:
    """The coil that was on 2 and is on 3 is less suspect than it was; what stayed on 2 is more suspect."""
    swap = Work(do="swapped", part="coil", places=(SECOND,), to=THIRD, effect="stayed", effect_at=SECOND)
    belief, before = after(MISS, swap), after(MISS)
    pairs = list(zip(of_part("coil", THIRD), of_part("coil", SECOND), strict=True))
    assert pairs and all(here.fault == there.fault for here, there in pairs)
    # the coil that came off 2, wherever it is now; then the one that went there
    assert all(chance(belief, here) < 0.7 * chance(before, there) for here, there in pairs)
    assert all(chance(belief, there) < 1.7 * chance(before, here) for here, there in pairs)
    others = {at: by for at, by in moved(belief, before).items() if load().faults[at.fault].part != "coil"}
    lifted = {at for at, by in others.items() if by > 0.1 * DECIBEL}
    assert FaultAt("plug_gap_closed", SECOND) in lifted
    assert not any(at.place == THIRD for at in lifted - set(may_have_come(belief, THIRD)))


def test_swap_without_a_word_moves_chances_with_the_parts() -> None:
    """A swap alone teaches nothing: what was believed of the coil of 2 is believed of the coil of 3.

    What came off for it may have been left bad at either place.
    """
    belief, before = after(MISS, Work(do="swapped", part="coil", places=(SECOND,), to=THIRD)), after(MISS)
    for at in belief.faults:
        was = chance(before, at)
        if load().faults[at.fault].part == "coil" and at.place in (SECOND, THIRD):
            other = SECOND if at.place == THIRD else THIRD
            was = chance(before, FaultAt(at.fault, other))
        was += (1.0 - was) * may_have_come(belief, SECOND, THIRD).get(at, 0.0)
        assert chance(belief, at) == pytest.approx(was, abs=1e-9)
    assert chance(belief, FaultAt("coil_dead", THIRD)) > 2.0 * chance(belief, FaultAt("coil_dead", SECOND))


def test_new_plugs_and_no_change_clears_the_plugs_and_lifts_the_rest() -> None:
    """After all plugs are new: plugs are down, and with "no change" nothing else of what can shake an engine is."""
    new = Work(do="replaced", part="plug", places=ALL)
    told = Work(do="replaced", part="plug", places=ALL, effect="no change")
    before, silent, belief = after(SHAKES), after(SHAKES, new), after(SHAKES, told)
    against_before, against_silent = moved(belief, before), moved(belief, silent)
    # faults that act on how the engine burns, in the part that is new
    burning = {
        at
        for at, by in against_before.items()
        if load().faults[at.fault].part == "plug" and abs(by) > 1e-6 and chance(before, at) > 0.001
    }
    assert {at.place for at in burning} >= set(ALL)
    assert all(against_before[at] < -5.0 * DECIBEL for at in burning)
    rest = [by for at, by in against_silent.items() if load().faults[at.fault].part != "plug"]
    assert min(rest) > -0.01 * DECIBEL  # what leans the mixture the other way falls by a hair
    assert max(rest) > 0.5 * DECIBEL


@pytest.mark.parametrize("seed", range(12))
def test_no_change_lowers_the_parts_that_came_out(seed: int) -> None:
    """By enumeration on a small car: the removed parts themselves are less suspect once the complaint outlived them."""
    rng = np.random.default_rng(seed)
    small = small_library(rng, 2, 2)
    car, layout = small_car(2)
    places = (Place("cylinder", "1"), Place("cylinder", "2"))
    bodies = {
        effect: [
            Reading(kind="see_rough", word="yes"),
            Work(do="replaced", part="part0", places=places, effect=effect),
        ]
        for effect in ("", "no change")
    }
    old = [
        Instance(fault, place) for fault, record in small.faults.items() if record.part == "part0" for place in places
    ]
    chances = {}
    for effect, both in bodies.items():
        brute = BruteBelief(believe(small, car, layout, in_turn(both)))
        chances[effect] = np.array([brute.mass[one] / brute.total for one in old])
    assert np.all(chances["no change"] <= chances[""] + 1e-9)


def test_replaced_part_retires_with_its_evidence() -> None:
    """What was read of the old coil says nothing of the new one, which has a new part's chances, and not none."""
    read = Reading(kind="spark_test", place=SECOND, word="none")
    new = Work(do="replaced", part="coil", places=(SECOND,))
    belief, unread, kept = after(read, new), after(new), after(read)
    coil = of_part("coil", SECOND)
    for at in coil:
        assert chance(belief, at) == pytest.approx(chance(unread, at), abs=1e-12)
        assert chance(belief, at) > 0.0
    bad_when_new = load().parts["coil"].new_bad_per_1000 / 1000.0
    assert sum(chance(belief, at) for at in coil) == pytest.approx(bad_when_new, rel=1e-6)
    for at in belief.faults:
        if at not in coil:
            was = chance(kept, at)
            came = (1.0 - was) * may_have_come(belief, SECOND).get(at, 0.0)
            assert chance(belief, at) == pytest.approx(was + came, abs=1e-9)


@cache
def _seen_and_denied() -> dict[FaultAt, tuple[float, float]]:
    """Each fault at its first place: its chance once found, and with up to three readings that deny it besides."""
    result: dict[FaultAt, tuple[float, float]] = {}
    places: dict[str, FaultAt] = {}
    for at in after().faults:
        places.setdefault(at.fault, at)
    for at in places.values():
        found = Finding(fault=at.fault, place=at.place)
        kinds = [kind for kind in load().readings.values() if at.fault in kind.direct and kind.words][:3]
        denied = after(found, *(_denial(kind, at) for kind in kinds))
        result[at] = (chance(after(found), at), chance(denied, at))
    return result


def _denial(kind: ReadingKind, at: FaultAt) -> Reading:
    """The word that speaks most for the good level against the fault's own."""
    good, bad = kind.chance[kind.levels[0]], kind.chance[kind.direct[at.fault]]
    word = max(kind.words, key=lambda word: good.get(word, 0.0) / max(bad.get(word, 0.0), 1e-9))
    same = kind.place == at.place.kind
    place = at.place if same else ENGINE if kind.place == "engine" else Place(kind.place, "1")
    return Reading(kind=kind.id, place=place, word=word)


def test_what_was_found_stands() -> None:
    """Every fault of the library, found at its place, stands at 0.99 or more, up to three looks that deny it or not."""
    weakest = min(_seen_and_denied().items(), key=lambda item: min(item[1]))
    assert min(weakest[1]) >= 0.99, weakest


def test_what_was_found_stands_until_repaired() -> None:
    """A new coil ends the finding of the old one; reseating a connector that was found off mostly does."""
    at = FaultAt("coil_dead", SECOND)
    found = Finding(fault=at.fault, place=at.place)
    assert chance(after(found), at) >= 0.99
    assert chance(after(found, Work(do="replaced", part="coil", places=(SECOND,))), at) < 0.02
    elsewhere = FaultAt("coil_dead", THIRD)
    assert chance(after(found), elsewhere) == pytest.approx(chance(after(), elsewhere), abs=1e-9)
