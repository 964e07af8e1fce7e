"""What a fault alone reaches, and who sees it."""

from __future__ import annotations

from collections.abc import Callable

from knowngood.library.load import Draft
from knowngood.library.reach import Reach
from knowngood.library.records import REGIMES, Library
from knowngood.library.steps import at_level

RICH = """
[[fault]]
id = "rich"
name = "rich"
part = "hose"
place = "{place}"
chance = {{ per_1000 = 60, low = 30, high = 100, source = "memory" }}
acts = [{{ on = "{on}", {what}, when = ["hot idle", "pull"] }}]
cures = [{{ do = "repaired", minutes = 10, source = "memory" }}]
"""


def reached(lay_over: Callable[..., Draft], place: str, on: str, what: str) -> dict[str, set[str | int]]:
    """Levels reached at hot idle, by ladder."""
    library = lay_over(RICH.format(place=place, on=on, what=what)).library()
    return {ladder: set(by_regime["hot idle"]) for ladder, by_regime in Reach(library).faults["rich"].items()}


def test_inputs_are_followed_to_the_end(small: Library) -> None:
    """Spark none makes the cylinder dead, and one cylinder dead is one missing; an act without regimes holds in all."""
    found = Reach(small).faults["coil_dead"]
    assert found["spark"] == {regime: frozenset({"none"}) for regime in REGIMES}
    assert found["burn"]["cranking"] == {"dead"}
    assert found["missing"]["cranking"] == {1}
    assert set(found) == {"spark", "burn", "missing"}


def test_regimes_are_kept(small: Library) -> None:
    """A coil that is weak under pull leaves every other regime alone."""
    assert Reach(small).faults["coil_weak"]["burn"] == {"pull": frozenset({"poor"})}


def test_steps_outside_every_range_go_no_further(lay_over: Callable[..., Draft]) -> None:
    """A shift of -3 alone does not reach the range -6..-5 that burns poorly; a shift of -5 does."""
    assert reached(lay_over, "bank", "mixture", "shift = -3") == {"mixture": {-3}}
    assert reached(lay_over, "cylinder", "mixture", "shift = -5") == {"mixture": {-5}, "burn": {"poor"}, "missing": {1}}


def test_faults_of_many_cylinders_count_up_to_the_end(lay_over: Callable[..., Draft]) -> None:
    """Two companions miss as two; a fault of the engine may miss on one, two, or as many as the ladder counts."""
    assert reached(lay_over, "companions", "spark", 'level = "none"')["missing"] == {2}
    assert reached(lay_over, "engine", "spark", 'level = "none"')["missing"] == {1, 2, 3}


def test_shifts_are_held_inside_the_ends(lay_over: Callable[..., Draft]) -> None:
    """A shift over the end is the end."""
    assert reached(lay_over, "bank", "mixture", "shift = 9")["mixture"] == {6}


def test_a_reading_sees_in_its_own_regime_only(small: Library) -> None:
    """Spark looked at while cranking misses a coil that is weak only under pull; a complaint of any time has it."""
    reach = Reach(small)
    assert reach.readings["spark_seen"] == {"coil_dead"}
    assert reach.readings["shakes"] == {"coil_dead", "coil_weak", "valve_burnt"}


def test_a_reading_that_shows_the_same_sees_nothing(lay_over: Callable[..., Draft]) -> None:
    """A level whose column is that of the good level is not seen, though the ladder is reached."""
    same = """
[[reading]]
id = "spark_seen"
name = "spark"
place = "cylinder"
source = "memory"
on = "spark"
words = ["some", "none"]
[reading.chance]
good = { some = 0.9, none = 0.1 }
weak = { some = 0.9, none = 0.1 }
none = { some = 0.1, none = 0.9 }
"""
    library = lay_over(same, RICH.format(place="cylinder", on="spark", what='level = "weak"')).library()
    reach = Reach(library)
    assert "rich" in reach.faults
    assert reach.readings["spark_seen"] == {"coil_dead"}


def test_direct_readings_codes_and_checks(small: Library) -> None:
    """A look sees the fault it names; codes see through inputs; a check that reads codes sees what all codes see."""
    reach = Reach(small)
    assert reach.readings["hose_look"] == {"hose_split"}
    assert reach.codes["P0171"] == {"hose_split"}
    assert reach.checks["hose_looked"] == {"hose_split"}
    assert reach.checks["trims"] == {"coil_dead", "coil_weak", "hose_split", "valve_burnt"}


def test_through_a_table() -> None:
    """Levels go by name, steps by the range that holds them, the rest goes nowhere."""
    table: dict[str, str | int] = {"-6..-5": "poor", "6..6": "dead", "weak": "poor"}
    assert [at_level(table, level) for level in (-5, 6, -4, "weak", "none")] == ["poor", "dead", None, "poor", None]


def test_what_no_car_has_together_is_not_seen(lay_over: Callable[..., Draft]) -> None:
    """A reading of coils on plugs or a check of them sees no fault of a distributor."""
    kinds = 'needs = { ignition = ["distributor"], systems = ["automatic"] }\n'
    rotor = RICH.format(place="cylinder", on="spark", what='level = "none"') + kinds
    look = """
[[check]]
id = "spark_test"
name = "spark tested"
reads = ["spark_seen"]
minutes = 5
source = "memory"
needs = { ignition = ["coil on plug"], systems = ["manual"] }
"""
    assert "rich" in Reach(lay_over(rotor.replace('"hot idle"', '"cranking"')).library()).checks["spark_test"]
    assert (
        "rich" not in Reach(lay_over(rotor.replace('"hot idle"', '"cranking"') + look).library()).checks["spark_test"]
    )
