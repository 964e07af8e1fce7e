"""Lines that once made an entry nobody meant: kept as words, or read as what they say."""

from __future__ import annotations

import pytest

from knowngood.car import Car, Place
from knowngood.evidence import CarFact, Note, Reading, Value, Work
from knowngood.library import load
from knowngood.lines import read_line

EIGHT = Car(cylinders=8, form="V")


def counted(line: str) -> list[str]:
    """What of a line counts, as kind, place and word or number."""
    found = []
    for body in read_line(line, EIGHT, load()).bodies:
        if isinstance(body, Note) or (isinstance(body, Reading) and body.doubt):
            continue
        assert isinstance(body, Reading), body
        value = body.value.number if isinstance(body.value, Value) else body.word
        place = "" if body.place == Place("engine") else f" {body.place}"
        found.append(f"{body.kind}{place} {value:g}" if isinstance(value, float) else f"{body.kind}{place} {value}")
    return found


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("starts ok 1st turn", ["starting starts"]),
        ("no code for 174", []),
        ("no leakdown on 1 2 4 6 8", []),
        ("no petrol in reg vac pipe", []),
        ("fuel pressure under load not done, gauge hose too short", []),
        ("coil ok", []),
        ("ect 6", ["coolant_reading_cold 6"]),
        ("comp warm psi 1-8: 165 160 162 168 158 163 118 160", [f"compression cylinder {n}" for n in range(1, 9)]),
        ("plugs out: 3 wet fuel, 5 sooty black", ["plug_look cylinder 3 wet with fuel", "plug_look cylinder 5 black"]),
        ("stft +4/+1 idle hot", ["short_trim bank 1 4", "short_trim bank 2 1"]),
        ("headlight out", ["lamps_told a lamp is out"]),
        ("right headlight out", ["lamps_told a lamp is out"]),
        ("tyres flat", ["tyres_told tyres old or flat"]),
        ("comp wet 4 150 psi", ["compression_wet cylinder 4 103"]),
        ("compression wet 3 9.8 kg/cm2", ["compression_wet cylinder 3 96"]),
        ("leakdown 5 9% 3 8%", ["leakdown cylinder 5 9", "leakdown cylinder 3 8"]),
    ],
)
def test_line_counts_as_what_it_says(line: str, says: list[str]) -> None:
    """Neither an ordinal, nor what was left undone, nor one code that is absent, is a reading."""
    found = counted(line)
    assert len(found) == len(says), found
    assert all(one.startswith(said) for one, said in zip(found, says, strict=True)), found


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("swpd lead 3 for 4, mf moved to 4 & 7 (its pair)", ("3", "4", "moved", "4")),
        ("coil 3>5, miss did not move to 5", ("3", "5", "stayed", "3")),
        ("swapped coil 3 with 5, misfire stayed on 3", ("3", "5", "stayed", "3")),
    ],
)
def test_swap_says_where_the_fault_is_now(line: str, told: tuple[str, ...]) -> None:
    """With others beside it, and where it did not go."""
    swap = read_line(line, EIGHT, load()).bodies[0]
    assert isinstance(swap, Work)
    assert swap.to is not None
    assert swap.effect_at is not None
    assert (swap.places[0].name, swap.to.name, swap.effect, swap.effect_at.name) == told


def test_repairer_is_no_repair() -> None:
    """``last repairer changed``: a man, not "last repair: er changed"."""
    (body,) = read_line("last repairer changed the plugs", EIGHT, load()).bodies
    assert body == CarFact("last_done", '["last repairer changed the plugs"]')
