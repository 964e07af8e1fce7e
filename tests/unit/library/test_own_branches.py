"""A car's own branches: whose place they take, and what hangs on them then."""

from __future__ import annotations

from knowngood.car import Car
from knowngood.library.load import load
from knowngood.library.own_branches import kind_of, library_of


def behind(library: object, ladder: str) -> set[str]:
    """The ladders an own or usual branch reaches a ladder from."""
    return {name for name in library.ladders[ladder].inputs if name.endswith("_carries")}  # type: ignore[attr-defined]


def test_nothing_told_is_the_same_library() -> None:
    """A car of which no branch was told has the library as it is."""
    assert library_of(load(), Car()) is load()


def test_told_fuse_of_the_pump_is_the_fuse_of_the_pump() -> None:
    """It keeps its faults and what it comes after, and is called by its number."""
    library = library_of(load(), Car(branches={"fuse 5": ("pump",)}))
    assert behind(library, "pump_feed") == behind(load(), "pump_feed")
    assert library.readings["volts_behind_pump_fuse"].name == "volts behind fuse 5 (fuse of the fuel pump), under load"
    assert library.faults["pump_fuse_blown"].words[0] == "fuse 5"
    assert set(library.faults) == set(load().faults)


def test_told_fuse_that_no_usual_one_is_stands_beside() -> None:
    """Coils are fed over a splice as a rule: a fuse for them is one thing more on their way."""
    library = library_of(load(), Car(branches={"fuse 7": ("coils", "injectors")}))
    assert behind(library, "coil_order") == {"coil_splice_carries", "fuse_7_carries"}
    assert behind(library, "injector_order") == {"injector_splice_carries", "fuse_7_carries"}
    assert {"blown_fuse_7", "contact_poor_fuse_7"} == set(library.faults) - set(load().faults)
    assert {"volts_behind_fuse_7", "drop_over_fuse_7"} == set(library.readings) - set(load().readings)
    assert library.hash != load().hash


def test_told_fuse_takes_over_from_the_usual_ones() -> None:
    """One fuse for pump and computer: the usual fuse of the computer feeds it no more."""
    library = library_of(load(), Car(branches={"fuse 3": ("computer", "pump")}))
    assert library.branches["ecu_fuse"].feeds == ("computer", "pump")
    assert library.branches["pump_fuse"].feeds == ()
    assert "pump_fuse_carries" not in library.ladders["pump_feed"].inputs
    assert "ecu_fuse_carries" in library.ladders["pump_feed"].inputs


def test_usual_branch_told_by_its_name_feeds_what_is_told() -> None:
    """The main relay of this car feeds the coils itself."""
    library = library_of(load(), Car(branches={"main relay": ("coils",)}))
    assert library.branches["main_relay"].feeds == ("coils",)
    assert library.branches["main_relay"].name == "main relay"
    assert "main_relay_carries" in library.ladders["coil_order"].inputs
    assert "main_relay_carries" in library.ladders["pump_relay_carries"].inputs


def test_kind_is_in_the_name() -> None:
    """Fuse, relay, splice or ground stands as a word; the last of them says what it is."""
    names = ("fuse 5", "relay k3", "left ground", "splice s12", "refused 5", "fuse box relay 2", "relay fuse 3")
    assert [kind_of(name) for name in names] == [
        "fuse",
        "relay",
        "ground",
        "splice",
        "",
        "relay",
        "fuse",
    ]


def test_told_branch_with_the_id_of_another_kind_takes_no_place() -> None:
    """The shared ground of the sensors goes by ``sensor_ground_splice``; a splice told by these words is another."""
    library = library_of(load(), Car(branches={"sensor ground splice": ("sensors",)}))
    assert library.branches["sensor_ground_splice"] == load().branches["sensor_ground_splice"]
    own = library.branches["sensor_ground_splice_of_this_car"]
    assert (own.kind, own.feeds) == ("splice", ("sensors",))
