"""Looking records up by id, alias, words and code."""

from __future__ import annotations

import msgspec
import pytest

from knowngood.car import ENGINE, Place
from knowngood.library.find import code_at, named, spoken_of
from knowngood.library.load import load
from knowngood.library.records import Library


def test_named_by_id_and_alias(small: Library) -> None:
    """An earlier id leads to the record that took its place."""
    assert named(small.faults, "coil_dead").id == "coil_dead"
    assert named(small.faults, "coil_failed").id == "coil_dead"


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


@pytest.mark.parametrize(
    ("told", "parts"),
    [
        ("coils", {"coil", "main_coil"}),
        ("radiator", {"radiator"}),
        ("injectors", {"injector"}),
        ("unleaded", set()),
        ("fuel pump", {"fuel_pump"}),
        ("waterpump and timingbelt", {"water_pump", "timing_drive"}),
        ("Spark-plugs, oil", {"plug", "oil"}),
        ("coolant sensor; coolant", {"coolant_sensor", "coolant"}),
        ("", set()),
        ("not known", set()),
    ],
)
def test_records_are_spoken_of_by_whole_words(told: str, parts: set[str]) -> None:
    """No oil in coils, no intake air in a radiator: and a fuel pump is no fuel. Together or apart, one or several."""
    assert spoken_of(load().parts, told) == parts


@pytest.mark.parametrize(
    ("told", "areas"),
    [
        ("it was showing no sign", set()),
        ("jump leads on it", {"jump_start"}),
        ("leads", {"leads"}),
        ("indicator bulb", set()),
        ("rocker cover gasket by a neighbour, coils were off", {"rocker_cover", "coils"}),
    ],
)
def test_areas_are_spoken_of_by_whole_words(told: str, areas: set[str]) -> None:
    """A wing is not in showing, nor a catalyst in an indicator."""
    assert spoken_of(load().areas, told) == areas
