"""Gates go by looks made, never by chances."""

from __future__ import annotations

import pytest

from knowngood.library.job_records import Gate
from knowngood.library.records import ReadingKind
from knowngood.planner.gates import BAD, GOOD, LIMITED, NOT_LOOKED, GateState, Look, gate_state

GATE = Gate(id="road", name="the road", looks=("belt", "brakes"), limited="Round the yard only.")


def kind(id: str, *, stop: bool = False, words: tuple[str, ...] = ("good", "worn")) -> ReadingKind:
    return ReadingKind(id=id, name=f"{id} look", place="engine", source="x", words=words, stop=stop)


KINDS = {"belt": kind("belt"), "brakes": kind("brakes", stop=True)}


def gate(*looks: Look, undone: tuple[str, ...] = ()) -> GateState:
    return gate_state(GATE, KINDS, looks, undone)


@pytest.mark.parametrize(
    ("belt", "brakes", "state"),
    [
        (None, None, NOT_LOOKED),
        ("good", None, NOT_LOOKED),
        (None, "good", NOT_LOOKED),
        ("worn", None, NOT_LOOKED),
        ("good", "good", GOOD),
        ("worn", "good", LIMITED),
        ("good", "worn", BAD),
        ("worn", "worn", BAD),
        (None, "worn", BAD),
    ],
)
def test_gate_is_its_worst_look(belt: str | None, brakes: str | None, state: str) -> None:
    """A bad stop item shuts; then a look not made; then a bad look at another item limits."""
    looks = [Look(name, word) for name, word in (("belt", belt), ("brakes", brakes)) if word]
    now = gate(*looks)
    assert now.state == state
    assert now.is_open == (state == GOOD)
    assert now.limit == ("Round the yard only." if state == LIMITED else "")


def test_first_word_is_the_good_one() -> None:
    """Whatever it is called; any other word of the kind is bad."""
    kinds = {"belt": kind("belt", words=("tight", "slack")), "brakes": kind("brakes", stop=True)}
    good = gate_state(GATE, kinds, [Look("belt", "tight"), Look("brakes", "good")])
    assert good.state == GOOD
    assert gate_state(GATE, kinds, [Look("belt", "slack"), Look("brakes", "good")]).state == LIMITED


def test_last_look_counts() -> None:
    """Put right and looked at again opens; found bad later shuts."""
    assert gate(Look("belt", "good"), Look("brakes", "worn"), Look("brakes", "good")).state == GOOD
    assert gate(Look("belt", "good"), Look("brakes", "good"), Look("brakes", "worn")).state == BAD


def test_disturbed_look_must_be_made_again() -> None:
    """Neither its good nor its bad word holds after work that touched it."""
    for word in ("good", "worn"):
        now = gate(Look("belt", "good"), Look("brakes", word, disturbed=True))
        assert now.state == NOT_LOOKED
        assert [look.kind for look in now.missing] == ["brakes"]


def test_missing_looks_stop_items_first() -> None:
    """The gate lists the belt first, what is missing begins with the stop item."""
    assert [look.kind for look in gate().missing] == ["brakes", "belt"]


def test_closing_looks_are_the_bad_stop_items() -> None:
    """A limiting look does not close."""
    now = gate(Look("belt", "worn"), Look("brakes", "worn"))
    assert [(look.kind, look.state) for look in now.closing] == [("brakes", BAD)]


@pytest.mark.parametrize("word", ["good", "worn"])
def test_what_was_left_undone_shuts(word: str) -> None:
    """However the looks stand, what was left undone shuts the gate."""
    now = gate(Look("belt", word), Look("brakes", "good"), undone=("unplugged, cylinder 3",))
    assert (now.state, now.undone) == (BAD, ("unplugged, cylinder 3",))


def test_looks_of_other_gates_do_not_count() -> None:
    """A good look that the gate does not ask for opens nothing."""
    assert gate(Look("horn", "good")).state == NOT_LOOKED


ORDER = ("battery", "crank", "start", "yard", "road")
GATES = tuple(Gate(id=name, name=name, looks=(f"{name}_look",), limited="Only so.") for name in ORDER)
LOOKS = {f"{name}_look": kind(f"{name}_look", stop=True) for name in ORDER}


def states(bad: str) -> dict[str, str]:
    """Every gate when all looks are good but that one, a stop item."""
    looks = [Look(f"{name}_look", "worn" if name == bad else "good") for name in ORDER]
    return {gate.id: gate_state(gate, LOOKS, looks, gates=GATES).state for gate in GATES}


@pytest.mark.parametrize(
    ("bad", "expected"),
    [
        ("", (GOOD, GOOD, GOOD, GOOD, GOOD)),
        ("battery", (BAD, BAD, BAD, BAD, BAD)),
        ("crank", (GOOD, BAD, BAD, BAD, BAD)),
        ("start", (GOOD, LIMITED, BAD, BAD, BAD)),
        ("yard", (GOOD, GOOD, GOOD, BAD, BAD)),
        ("road", (GOOD, GOOD, GOOD, GOOD, BAD)),
    ],
)
def test_stop_item_shuts_the_gates_that_follow(bad: str, expected: tuple[str, ...]) -> None:
    """Not those before it; one of the engine leaves cranking for the check that decides it."""
    assert states(bad) == dict(zip(ORDER, expected, strict=True))


def test_look_that_could_not_be_told_is_not_made() -> None:
    """Neither good nor bad: it must be looked at again."""
    for word in ("could not tell", "not measured", ""):
        assert gate(Look("belt", "good"), Look("brakes", word)).state == NOT_LOOKED


def test_look_asked_for_twice_is_said_once() -> None:
    """A bad stop item that two gates ask for shuts both, and stands once in the second one's list."""
    first = Gate(id="start", name="start", looks=("start_look",))
    second = Gate(id="road", name="road", looks=("start_look", "road_look"))
    looks = [Look("start_look", "worn"), Look("road_look", "good")]
    now = gate_state(second, LOOKS, looks, gates=(first, second))
    assert [(look.kind, look.state) for look in now.looks] == [("start_look", BAD), ("road_look", GOOD)]
    assert [look.kind for look in now.closing] == ["start_look"]
