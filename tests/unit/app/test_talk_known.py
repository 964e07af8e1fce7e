"""A car talked through twice: what is known is not asked, nor said, once more."""

from __future__ import annotations

from knowngood.app.talk import ASKS, complained_of, lines_of_talk, told_of
from knowngood.car import Car
from knowngood.evidence import Entry, Reading

CAR = Car(
    drive="petrol", cylinders=6, form="inline", ignition="coil on plug", injection="port", air_meter="flow meter",
    turbo=False, mileage_km=187000.0, year=2002, standing_years=1.5, animals=True, last_done=("coils were off",),
)  # fmt: skip


def test_known_answers_are_those_that_can_be_tapped() -> None:
    """Every field of the questions, each with one of its answers or what was typed."""
    told = told_of(CAR)
    assert list(told) == [ask.field for ask in ASKS]
    assert told == {
        "drive": "petrol", "cylinders": "6", "form": "inline", "ignition": "coil on plug",
        "injection": "port injection", "air": "flow meter", "turbo": "no turbo", "km": "187000", "year": "2002",
        "stood": "1.5", "animals": "signs of animals", "done": "coils were off", "new": "",
    }  # fmt: skip
    assert all(told[ask.field] in ("", *ask.answers) for ask in ASKS if ask.answers)
    assert set(told_of(Car()).values()) == {""}


def test_only_what_is_new_is_said() -> None:
    """The form comes back whole; the lines hold the answer that was changed, or nothing."""
    told = told_of(CAR)
    assert lines_of_talk(list(told.items()), told) == []
    changed = {**told, "km": "188000", "new": "plugs"}
    assert lines_of_talk(list(changed.items()), told) == ["188000 km", "new parts: plugs"]


def test_complaint_told_otherwise_since_is_not_marked() -> None:
    """The last word of each counts."""
    said = [("shakes", "yes"), ("hunts", "yes"), ("shakes", "no")]
    entries = [
        Entry(
            id=str(at), at="2026-05-01T08:00", entered="2026-05-01T08:00", line=kind, body=Reading(kind=kind, word=word)
        )
        for at, (kind, word) in enumerate(said)
    ]
    assert complained_of(entries) == {"hunts"}
