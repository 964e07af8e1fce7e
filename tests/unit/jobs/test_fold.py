"""What entries amount to: strikes, strikes of strikes, the car, undo."""

from __future__ import annotations

import pytest

from knowngood.app.state import car_of
from knowngood.errors import Refused
from knowngood.evidence import CarFact, Entry, Note, Strike
from knowngood.jobs import birth, standing, undo
from tests.unit.jobs.workshop import NAME, entry, ids, stamp

NOW = stamp(3000)


def names(entries: list[Entry]) -> str:
    return " ".join(entry.id for entry in entries)


def test_standing_is_in_time_order_then_as_typed_then_as_given() -> None:
    """What happened before the swap comes before it, however late it was typed."""
    late = entry("late", Note("before the swap"), at=1, entered=9)
    same = [entry("a", Note("1"), at=2, entered=3), entry("b", Note("2"), at=2, entered=3)]
    typed_earlier = entry("c", Note("3"), at=2, entered=2)
    assert names(standing([*same, typed_earlier, late])) == "late c a b"


@pytest.mark.parametrize(
    ("strikes", "left"),
    [
        ("", "a b"),
        ("s1>a", "b s1"),
        ("s1>a s2>s1", "a b s2"),
        ("s1>a s2>s1 s3>s2", "b s1 s3"),
        ("s1>a s2>a s3>s1", "b s2 s3"),
        ("s1>a s2>s1 s3>a", "b s2 s3"),
        ("s1>gone", "a b s1"),
        ("s1>s2 s2>s1", "a b"),
        ("s1>s1 s2>s1 s3>a", "b s2 s3"),
    ],
)
def test_strike_counts_unless_a_strike_that_counts_names_it(strikes: str, left: str) -> None:
    """A struck strike gives back what it took; a circle takes nothing."""
    entries = [entry("a", Note("")), entry("b", Note(""))]
    entries += [entry(by, Strike(target, "")) for by, _, target in (text.partition(">") for text in strikes.split())]
    assert names(standing(entries)) == left


def test_strike_that_happened_before_its_target_counts() -> None:
    """A clock put back does not make an undo go lost."""
    assert names(standing([entry("s", Strike("a", ""), at=1), entry("a", Note(""), at=2)])) == "s"


def test_car_is_told_by_what_stands() -> None:
    """A later fact takes the place of the earlier one until it is struck; lists add up."""
    facts = [
        entry("n", NAME, at=1),
        entry("a", CarFact("cylinders", "4"), at=2),
        entry("b", CarFact("cylinders", "6"), at=3),
        entry("c", CarFact("systems", '["automatic"]'), at=4),
        entry("d", CarFact("systems", '["secondary air"]'), at=5),
    ]
    car = car_of(standing(reversed(facts)))
    assert (car.nickname, car.cylinders, car.systems) == ("green van", 6, ("automatic", "secondary air"))
    struck = [*facts, entry("s", Strike("b", "miscounted"), at=6)]
    assert car_of(standing(struck)).cylinders == 4


def test_birth_is_the_nickname_typed_first() -> None:
    """Something that happened earlier, or a later nickname, is not the beginning."""
    entries = [entry("old", Note(""), at=1, entered=9), entry("n2", NAME, at=1, entered=5), entry("n", NAME, at=2)]
    assert birth(entries).id == "n"


def test_undo_takes_the_line_typed_last_with_all_its_entries() -> None:
    """A row of four readings goes as it came."""
    row = [entry(name, Note(""), at=1, entered=5, line="a row") for name in ("r1", "r2")]
    job = [entry("n", NAME, at=2), *row, entry("x", Note(""), at=4, line="other")]
    made = undo(job, now=NOW, new_id=ids())
    assert [(strike.id, strike.body, strike.at, strike.entered, strike.line) for strike in made] == [
        ("u1", Strike("r1", "undo"), NOW, NOW, "undo"),
        ("u2", Strike("r2", "undo"), NOW, NOW, "undo"),
    ]


def test_undo_after_undo_goes_on_to_the_line_before() -> None:
    """Undo is not its own opposite."""
    job = [
        entry("n", NAME, at=1, line="new"),
        entry("a", Note(""), at=2, line="a"),
        entry("b", Note(""), at=3, line="b"),
    ]
    new_id = ids()
    job += undo(job, now=NOW, new_id=new_id)
    job += undo(job, now=NOW, new_id=new_id)
    assert names(standing(job)) == "n u1 u2"
    with pytest.raises(Refused, match=r"Nothing is left to take back\."):
        undo(job, now=NOW, new_id=new_id)


def test_undo_of_a_correction_gives_back_what_it_struck() -> None:
    """A strike typed as a line is a line like any other."""
    job = [
        entry("n", NAME, at=1),
        entry("a", Note(""), at=2),
        entry("s", Strike("a", "wrong car"), at=3, line="strike a"),
    ]
    assert names(standing(job)) == "n s"
    assert names(standing([*job, *undo(job, now=NOW, new_id=ids())])) == "n a u1"


def test_undo_of_a_named_entry_takes_its_line_also_an_undo() -> None:
    """The echo of every line carries its own undo."""
    new_id = ids()
    job = [entry("n", NAME, at=1), entry("a", Note(""), at=2, line="a"), entry("b", Note(""), at=3, line="b")]
    job += undo(job, now=NOW, new_id=new_id, of="a")
    assert names(standing(job)) == "n b u1"
    assert names(standing([*job, *undo(job, now=NOW, new_id=new_id, of="u1")])) == "n a b u2"
