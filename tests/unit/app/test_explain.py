"""One page on a record."""

from __future__ import annotations

import pytest

from knowngood.app.explain import EXPLAINED, Explained, explain, found_by, listed
from knowngood.errors import Refused
from knowngood.library import load
from knowngood.library.separation import Separation
from knowngood.library.tables import records_of


def lines(page: Explained, title: str) -> list[str]:
    """The lines of one section."""
    return next((section.lines for section in page.sections if section.title == title), [])


def test_a_fault_in_one_page() -> None:
    """What it does, how it shows, what sees it, cautions and sources stand on the page of a fault."""
    library = load()
    page = explain(library, "fault", "crank_sensor_hot")
    assert any("crank signal (crank_signal): drops out" in line for line in lines(page, "What it does"))
    assert any("(crank_sensor_heated, " in line for line in lines(page, "What sees it"))
    assert any(line.startswith("P0335 ") for line in lines(page, "Codes it can set"))
    assert any("crank sensor replaced" in line for line in lines(page, "Put right by"))
    assert lines(page, "What is said of it")
    assert lines(page, "Sources")


def test_a_mechanism_in_one_page() -> None:
    """What acts on a ladder with what it does there, what reads it; steps are signed; a reading names its ladder."""
    library = load()
    page = explain(library, "ladder", "heater_heat")
    assert page.what == "At the engine, from good to worst: hot, comes and goes, cold."
    assert "heater core blocked (heater_core_blocked): cold" in lines(page, "Faults that act on it")
    assert "heater blows cold (heater_cold)" in lines(page, "Readings that see it")
    assert "coolant flow (flow)" in lines(page, "Comes from")
    mixture = explain(library, "ladder", "mixture")
    assert mixture.what == "Steps from -4 to +4 at the bank; they add."
    assert "duct torn behind the air meter (duct_torn): -2 steps" in lines(mixture, "Faults that act on it")
    assert "heat of the heater (heater_heat)" in lines(explain(library, "reading", "heater"), "Stands on")


def test_checks_stand_quickest_first() -> None:
    """What sees a fault is in the order of its minutes."""
    library = load()
    page = explain(library, "fault", "engine_ground_poor")
    ids = [line.rsplit("(", 1)[1].split(",")[0] for line in lines(page, "What sees it")]
    assert ids == sorted(ids, key=lambda name: library.checks[name].minutes)


def test_work_and_what_it_gets_wrong() -> None:
    """After plugs the coil plug that was not clicked on comes first, and the looks before closing stand there."""
    page = explain(load(), "area", "plugs")
    wrong = lines(page, "Wrong more often after it")
    assert wrong[0].startswith("plug of the coil not clicked on: odds times ")
    times = [float(line.rsplit(" ", 1)[1]) for line in wrong]
    assert times == sorted(times, reverse=True)
    assert "Press every coil plug until it clicks" in lines(page, "Look at before it is closed up")


def test_a_published_source_is_named_in_full() -> None:
    """Title and section, not the id."""
    assert any("J2012" in line for line in lines(explain(load(), "code", "P0335"), "Sources"))


def test_a_silent_fault_says_why() -> None:
    """Where no complaint leads to a fault the page says why."""
    assert lines(explain(load(), "fault", "timing_belt_old"), "What is said of it") == [
        "Nothing: a belt gives no sign before it breaks."
    ]


@pytest.mark.parametrize("kind", EXPLAINED)
def test_every_record_has_a_page(kind: str) -> None:
    """Each record of every kind can be explained, and no line of a page is empty."""
    library = load()
    separation = Separation(library)
    for name in records_of(library, kind):
        page = explain(library, kind, name, separation)
        assert page.name
        assert all(line.strip() for section in page.sections for line in section.lines), name


def test_an_exact_name_comes_first() -> None:
    """A record whose id or name is just the words asked for stands before those that only hold them."""
    library = load()
    assert found_by(library, "coil dead")[0][1].id == "coil_dead"
    assert found_by(library, "head gasket")[0][0] == "part"
    assert found_by(library, "xyzzy") == []


def test_kind_and_id_name_one_record() -> None:
    """What is listed as `area brakes` is shown by these words, though a part has the same id."""
    library = load()
    assert [(kind, record.id) for kind, record in found_by(library, "area brakes")] == [("area", "brakes")]
    assert found_by(library, "brakes")[0][0] == "part"
    page = explain(library, "area", "brakes")
    looks = next(section.lines for section in page.sections if section.title == "Look at before it is closed up")
    assert library.checks["pedal_pumped_check"].name in looks
    assert library.checks["brake_hoses_looked"].name in looks


def test_what_is_not_there_is_refused() -> None:
    """The nearest name is offered."""
    with pytest.raises(Refused, match=r"no fault is called 'coil_ded'\. Did you mean 'coil_dead'"):
        explain(load(), "fault", "coil_ded")
    with pytest.raises(Refused, match=r"no kind of record is called 'faulte'\. Did you mean 'faults'"):
        listed(load(), "faulte")
