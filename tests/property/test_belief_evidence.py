"""What must hold of any evidence, on invented cars: order, strength, names, rows, silence, sums, contradiction."""

from __future__ import annotations

import itertools
import random

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.app.ledger import log_odds
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import FaultAt
from knowngood.car import Car, Place, layout_of
from knowngood.car.car import Window
from knowngood.errors import ImpossibleEvidence
from knowngood.evidence import Entry, Finding, Reading, Value, Work
from knowngood.library.records import Library, ReadingKind
from knowngood.lines import read_line
from tests.in_turn import in_turn
from tests.naive.small_car import small_car, small_entries, small_library

SEEDS = st.integers(0, 10_000)
NEAR = 1e-9


def entry(index: int, body: Reading | Work | Finding, line: str = "") -> Entry:
    """An entry at its place in time."""
    return Entry(id=str(index), at=f"{index:03}", entered=f"{index:03}", line=line or f"line {index}", body=body)


def drawn(seed: int, works: int = 0, cylinders: int | None = None) -> tuple[Library, Car, list[Entry]]:
    """A library, a car of up to four cylinders, a few entries."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 2, 3)
    car, layout = small_car(cylinders or int(rng.integers(1, 5)))
    return library, car, small_entries(rng, library, layout, 5, works)


def belief_of(library: Library, car: Car, entries: list[Entry]) -> ExactBelief:
    """The belief after these entries."""
    return believe(library, car, layout_of(car), entries)


def without_repeats(entries: list[Entry]) -> list[Entry]:
    """The last entry of each kind of reading, and the findings."""
    kept = {one.body.kind if isinstance(one.body, Reading) else one.id: one for one in entries}
    return list(kept.values())


def with_kind(library: Library, kind: ReadingKind) -> Library:
    """The library with one more kind of reading, or another of the same name."""
    return msgspec.structs.replace(library, readings={**library.readings, kind.id: kind})


def sure_word(id: str) -> ReadingKind:
    """A word that a spark of one level always gives and of another never."""
    return ReadingKind(
        id=id,
        name=id,
        place="cylinder",
        source="memory",
        on="spark",
        words=("yes", "no"),
        chance={"good": {"yes": 0.0, "no": 1.0}, "weak": {"yes": 1.0, "no": 0.0}, "none": {"yes": 1.0, "no": 0.0}},
        gross=0.0,
    )


@given(SEEDS, st.randoms(use_true_random=False))
@settings(max_examples=40)
def test_order_within_a_moment_does_not_matter(seed: int, dice: random.Random) -> None:
    """Between two works the readings can be typed in any order, repeated ones too."""
    library, car, entries = drawn(seed)
    bodies = [one.body for one in entries]
    mixed = list(bodies)
    dice.shuffle(mixed)
    assert belief_of(library, car, in_turn(mixed)).chances() == pytest.approx(
        belief_of(library, car, in_turn(bodies)).chances(), abs=NEAR
    )


@given(SEEDS, st.sampled_from([5e3, 8e3, 1.5e4]))
@settings(max_examples=25)
def test_measured_moves_more_than_told(seed: int, ohms: float) -> None:
    """The same number from the owner moves the fault it speaks of the same way and less; a doubtful one not at all."""
    library, car, entries = drawn(seed)
    window = ReadingKind(
        id="lead",
        name="lead",
        place="cylinder",
        source="memory",
        levels=("good", "high"),
        direct={"f0": "high"},
        spread={
            "good": library.readings["resistance"].spread["good"],
            "high": library.readings["resistance"].spread["high"],
        },
        relative=True,
        healthy=library.readings["resistance"].healthy,
    )
    library = with_kind(library, window)
    car = msgspec.structs.replace(car, windows={"lead": Window(4.8e3, 5.2e3, "test")})
    entries = [one for one in entries if not isinstance(one.body, Finding)]

    def moved(**how: str) -> float:
        reading = Reading(kind="lead", place=Place("cylinder", "1"), value=Value(ohms, step=100.0), **how)
        before = belief_of(library, car, entries)
        after = belief_of(library, car, [*entries, entry(len(entries), reading)])
        column = [str(at) for at in before.faults].index("f0 @ cylinder 1")
        return float(log_odds(after.chances())[column] - log_odds(before.chances())[column])

    measured, told_of, doubtful = moved(), moved(who="owner"), moved(doubt="which cylinder?")
    assert doubtful == pytest.approx(0.0, abs=1e-7)
    assert 0.0 < told_of / measured < 1.0
    assert (measured > 0.0) == (ohms > 7e3)


@given(SEEDS, st.booleans())
@settings(max_examples=25)
def test_a_word_told_and_seen_counts_as_seen(seed: int, told_first: bool) -> None:
    """What the owner said before or after adds nothing to the same thing seen here, and takes nothing away."""
    library, car, entries = drawn(seed)
    entries = [one for one in entries if not (isinstance(one.body, Reading) and one.body.kind == "see_burn")]
    seen = Reading(kind="see_burn", place=Place("cylinder", "1"), word="yes")
    told = msgspec.structs.replace(seen, who="owner")
    both = [told, seen] if told_first else [seen, told]
    bodies = [one.body for one in entries]
    assert belief_of(library, car, in_turn([*bodies, *both])).chances() == pytest.approx(
        belief_of(library, car, in_turn([*bodies, seen])).chances(), abs=NEAR
    )


def renamed(body: Reading | Work | Finding, names: dict[str, str]) -> Reading | Work | Finding:
    """A body with its cylinders under other numbers, and banks with them."""

    def other(place: Place) -> Place:
        return Place("cylinder", names[place.name]) if place.kind == "cylinder" else place

    if isinstance(body, Work):
        to = other(body.to) if body.to is not None else None
        return msgspec.structs.replace(body, places=tuple(map(other, body.places)), to=to)
    return msgspec.structs.replace(body, place=other(body.place))


@given(SEEDS, st.permutations(["1", "2", "3"]))
@settings(max_examples=40)
def test_other_numbers_for_the_cylinders_permute_the_answer(seed: int, order: list[str]) -> None:
    """Cylinders of one bank are alike: what is said of one under another number is believed of that one."""
    library, car, entries = drawn(seed, works=2, cylinders=3)
    names = dict(zip(("1", "2", "3"), order, strict=True))
    plain = belief_of(library, car, entries)
    other = belief_of(library, car, in_turn([renamed(one.body, names) for one in entries]))
    place = {at: index for index, at in enumerate(other.faults)}
    moved = [
        place[FaultAt(at.fault, Place("cylinder", names[at.place.name]) if at.place.kind == "cylinder" else at.place)]
        for at in plain.faults
    ]
    assert other.chances()[moved] == pytest.approx(plain.chances(), abs=NEAR)


@given(SEEDS, st.lists(st.integers(40, 200), min_size=4, max_size=4))
@settings(max_examples=25)
def test_a_row_is_its_single_readings(seed: int, ohms: list[int]) -> None:
    """Four numbers in one line, four lines, or four lines from the last cylinder to the first: the same answer."""
    library, car, _ = drawn(seed, cylinders=4)
    library = with_kind(
        library, msgspec.structs.replace(library.readings["resistance"], quantity="lead_resistance", says=("leads",))
    )
    row = "leads " + " ".join(f"{number / 10:.1f}k" for number in ohms)
    singles = [f"leads cyl {at} {number / 10:.1f}k" for at, number in enumerate(ohms, start=1)]
    answers = []
    for lines in ([row], singles, singles[::-1]):
        bodies = [body for line in lines for body in read_line(line, car, library).bodies]
        assert [type(body) for body in bodies] == [Reading] * 4
        answers.append(belief_of(library, car, in_turn(bodies)).chances())
    assert answers[1] == pytest.approx(answers[0], abs=NEAR)
    assert answers[2] == pytest.approx(answers[0], abs=NEAR)
    assert len({round(float(chance), 6) for chance in answers[0]}) > 1


@given(SEEDS)
@settings(max_examples=25)
def test_what_says_nothing_changes_nothing(seed: int) -> None:
    """A word as likely at every level, a kind nobody knows, a doubtful reading."""
    library, car, entries = drawn(seed, works=1)
    flat = {level: {"yes": 0.3, "no": 0.7} for level in library.ladders["rough"].levels}
    library = with_kind(
        library,
        ReadingKind(
            id="flat", name="flat", place="engine", source="memory", on="rough", words=("yes", "no"), chance=flat
        ),
    )
    before = belief_of(library, car, entries)
    silent = (
        Reading(kind="flat", word="yes"),
        Reading(kind="never heard of", word="yes"),
        Reading(kind="see_rough", word="yes", doubt="heard from the next bay"),
    )
    for body in silent:
        after = belief_of(library, car, [*entries, entry(len(entries), body)])
        assert after.chances() == pytest.approx(before.chances(), abs=NEAR)


@given(SEEDS)
@settings(max_examples=25)
def test_weights_add_up_to_the_present(seed: int) -> None:
    """Prior log odds and the weights of all entries are the present log odds; each row is the belief so far."""
    library, car, entries = drawn(seed)
    entries = without_repeats(entries)
    belief = belief_of(library, car, entries)
    bearing = sorted(entry for entry in belief.entries_in() if entry >= 0)
    rows = belief.chances_by_entry(range(len(entries)))
    nothing_said = belief_of(library, car, [])
    assert rows[0] == pytest.approx(nothing_said.chances(), abs=NEAR)
    assert rows[0] == pytest.approx([belief.model.priors[at] for at in belief.faults], abs=NEAR)
    weights = np.diff(log_odds(rows), axis=0)
    assert log_odds(rows[0]) + weights.sum(axis=0) == pytest.approx(log_odds(belief.chances()), abs=1e-6)
    for count in range(1, len(entries) + 1):
        so_far = belief_of(library, car, entries[:count])
        assert rows[count] == pytest.approx(so_far.chances(), abs=NEAR)
        assert count - 1 in bearing or weights[count - 1] == pytest.approx(0.0, abs=NEAR)


@given(SEEDS)
@settings(max_examples=25)
def test_without_a_line_is_as_if_it_had_not_been_typed(seed: int) -> None:
    """Taking an entry away leaves the belief of the others, where no other repeats it."""
    library, car, entries = drawn(seed)
    entries = without_repeats(entries)
    belief = belief_of(library, car, entries)
    for gone in range(len(entries)):
        others = belief_of(library, car, [*entries[:gone], *entries[gone + 1 :]])
        assert belief.chances_without(gone) == pytest.approx(others.chances(), abs=NEAR)


@given(SEEDS)
@settings(max_examples=25)
def test_contradiction_is_refused_and_named(seed: int) -> None:
    """What no set of faults explains is an error that shows the lines, not a number."""
    library, car, entries = drawn(seed)
    library = with_kind(library, sure_word("jumps"))
    place = Place("cylinder", "1")
    lines = [
        *entries,
        entry(90, Reading(kind="jumps", place=place, word="yes"), "spark jumps at 1"),
        entry(91, Reading(kind="jumps", place=place, word="no"), "nothing jumps at 1"),
    ]
    with pytest.raises(ImpossibleEvidence) as caught:
        belief_of(library, car, lines)
    text = str(caught.value)
    assert "spark jumps at 1" in text and "nothing jumps at 1" in text and "Strike" in text


WILD = st.one_of(
    st.sampled_from([0.0, 1e-12, 1e-3, 1.0, 1e6, 1e9, 1e15, -1.0, -1e9]),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
)


@given(
    SEEDS,
    st.lists(
        st.tuples(
            st.sampled_from(["trim", "count", "resistance"]),
            WILD,
            st.sampled_from(["exact", "about", "over", "under", "none seen"]),
        ),
        min_size=1,
        max_size=3,
    ),
)
@settings(max_examples=60)
def test_wild_numbers_never_give_a_number_that_is_none(seed: int, read: list[tuple[str, float, str]]) -> None:
    """Any number at all: chances between 0 and 1, or the refusal that names the lines."""
    library, car, entries = drawn(seed, works=1)
    for kind, number, sense in read:
        place = {"cylinder": Place("cylinder", "1"), "bank": Place("bank", "1")}.get(
            library.readings[kind].place, Place("engine")
        )
        body = Reading(kind=kind, place=place, value=Value(number, sense=sense))
        entries = [*entries, entry(len(entries), body, f"{kind} {number}")]
    try:
        chances = belief_of(library, car, entries).chances()
    except ImpossibleEvidence as impossible:
        assert all(one.line in str(impossible) for one in entries[-len(read) :])
    else:
        assert np.all(np.isfinite(chances)) and np.all(chances >= 0.0) and np.all(chances <= 1.0)


@given(SEEDS, st.integers(0, 3))
@settings(max_examples=25)
def test_a_finding_stands(seed: int, against: int) -> None:
    """A fault seen beyond doubt stands at 0.99 or more, whatever else was read at its place."""
    library, car, entries = drawn(seed)
    place = Place("cylinder", "1")
    good = [
        Reading(kind="see_spark", place=place, word="no"),
        Reading(kind="see_burn", place=place, word="no"),
        Reading(kind="see_rough", word="no"),
    ]
    bodies = [Finding(fault="f0", place=place), *good[:against]]
    entries = [one for one in entries if not isinstance(one.body, Finding)]
    belief = belief_of(library, car, in_turn([*(one.body for one in entries), *bodies]))
    column = [str(at) for at in belief.faults].index("f0 @ cylinder 1")
    assert belief.chances()[column] >= 0.99


def test_every_pair_of_wild_seeds_differs() -> None:
    """The invented cars are not all the same car: chances of two seeds differ, so that these tests can fail."""
    chances = [tuple(np.round(belief_of(*drawn(seed, cylinders=2)).chances(), 6)) for seed in range(6)]
    assert all(a != b for a, b in itertools.combinations(chances, 2))
