"""Lines that once made an entry nobody meant: kept as words, or read as what they say."""

from __future__ import annotations

import pytest

from knowngood.car import Car, Place
from knowngood.evidence import Note, Reading, Value
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
        ("ect 6", ["coolant_reading 6"]),
        ("comp warm psi 1-8: 165 160 162 168 158 163 118 160", [f"compression cylinder {n}" for n in range(1, 9)]),
        ("plugs out: 3 wet fuel, 5 sooty black", ["plug_look cylinder 3 wet with fuel", "plug_look cylinder 5 black"]),
        ("stft +4/+1 idle hot", ["short_trim bank 1 4", "short_trim bank 2 1"]),
        ("leakdown 5 9% 3 8%", ["leakdown cylinder 5 9", "leakdown cylinder 3 8"]),
    ],
)
def test_line_counts_as_what_it_says(line: str, says: list[str]) -> None:
    """Neither an ordinal, nor what was left undone, nor one code that is absent, is a reading."""
    found = counted(line)
    assert len(found) == len(says), found
    assert all(one.startswith(said) for one, said in zip(found, says, strict=True)), found
