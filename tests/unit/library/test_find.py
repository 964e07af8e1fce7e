"""Looking records up by id, alias, words and code."""

from __future__ import annotations

import msgspec
import pytest

from knowngood.car import ENGINE, Place
from knowngood.library.find import by_words, code_at, named
from knowngood.library.records import Library


def test_named_by_id_and_alias(small: Library) -> None:
    """An earlier id leads to the record that took its place."""
    assert named(small.faults, "coil_dead").id == "coil_dead"
    assert named(small.faults, "coil_failed").id == "coil_dead"


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("new coil packs all round", ["coil"]),
        ("Ignition-coil swapped", ["coil"]),
        ("coils", ["coil"]),
        ("recoil", []),
        ("the intake hose and a coil", ["hose", "coil"]),
        ("", []),
    ],
)
def test_by_words(small: Library, text: str, ids: list[str]) -> None:
    """Whole words count, in either case and number; the longest words come first."""
    assert [part.id for part in by_words(small.parts, text)] == ids


@pytest.mark.parametrize(
    ("text", "id", "place"),
    [
        ("P0304", "P0301..P0304", Place("cylinder", "4")),
        ("p0301 ", "P0301..P0304", Place("cylinder", "1")),
        ("P0171", "P0171", Place("bank", "1")),
    ],
)
def test_code_at(small: Library, text: str, id: str, place: Place) -> None:
    """A code of a run speaks of the cylinder it counts to, a code of a bank of that bank."""
    found = code_at(small, text)
    assert found is not None
    assert (found[0].id, found[1]) == (id, place)


def test_code_of_the_engine(small: Library) -> None:
    """Without run and bank a code speaks of the engine; a code that is not listed is nothing."""
    code = small.codes["P0171"]
    plain = msgspec.structs.replace(small, codes={"P0335": msgspec.structs.replace(code, id="P0335", bank=0)})
    assert code_at(plain, "P0335") == (plain.codes["P0335"], ENGINE)
    assert code_at(small, "P0305") is None
    assert code_at(small, "P03") is None
