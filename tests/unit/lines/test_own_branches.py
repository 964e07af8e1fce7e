"""What hangs on a branch of this car, as typed, and what is then typed of that branch."""

from __future__ import annotations

import pytest

from knowngood.evidence import CarFact, Finding, Note, Reading
from knowngood.library.load import load
from knowngood.lines import read_notes

CAR = "4 cylinders inline, coil on plug, port injection"


def read(*lines: str) -> list[object]:
    """The bodies of the last line."""
    return list(read_notes("\n".join((CAR, *lines)), load()).lines[-1].understood.bodies)


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("fuse 5 feeds coils, pump", '{"fuse 5": ["coils", "pump"]}'),
        ("Fuse no. 12 feeds the injectors and the ecu.", '{"fuse 12": ["injectors", "computer"]}'),
        ("relay k3 supplies pump", '{"relay k3": ["pump"]}'),
        ("left head ground grounds coils", '{"left head ground": ["coils"]}'),
    ],
)
def test_line_tells_what_hangs_on_a_branch(line: str, value: str) -> None:
    """Name, then what it feeds."""
    assert read(line) == [CarFact("branches", value)]


def test_echo_says_what_was_taken_in() -> None:
    """In the words it was told with."""
    notes = read_notes(f"{CAR}\nfuse 5 feeds coils and o2 heaters", load())
    assert notes.lines[-1].understood.echo == "fuse 5 feeds coils, oxygen heaters"


def test_unknown_consumer_is_asked_about() -> None:
    """The line is kept, does not count, and asks one question."""
    (note,) = read("fuse 9 feeds coils, the radio")
    assert isinstance(note, Note)
    assert note.why == "'radio' is nothing known to hang on a branch"
    assert note.ask == "Which of these: computer, pump, coils, injectors, oxygen sensor heaters, sensors?"


@pytest.mark.parametrize(
    ("line", "kind", "number"),
    [
        ("fuse 7 12.1 v", "volts_behind_fuse_7", 12.1),
        ("volts at fuse 7 0 v", "volts_behind_fuse_7", 0.0),
        ("drop over fuse 7 0.4 v", "drop_over_fuse_7", 0.4),
        ("volts at the pump fuse 12.1 v", "volts_behind_pump_fuse", 12.1),
        ("drop over the main relay 0.4 v", "drop_over_main_relay", 0.4),
    ],
)
def test_volts_are_read_at_a_branch(line: str, kind: str, number: float) -> None:
    """The car's own and the usual ones."""
    (body,) = read("fuse 7 feeds coils, injectors", line)
    assert isinstance(body, Reading)
    assert body.value is not None
    assert (body.kind, body.value.number, body.value.unit) == (kind, number, "V")


@pytest.mark.parametrize(
    ("line", "fault", "seen"),
    [
        ("fuse 7 blown", "blown_fuse_7", True),
        ("fuse 7 not blown", "blown_fuse_7", False),
        ("fuel pump fuse blown", "pump_fuse_blown", True),
        ("pump fuse not blown", "pump_fuse_blown", False),
    ],
)
def test_blown_fuse_is_a_finding(line: str, fault: str, seen: bool) -> None:
    """And "not blown" is a look that saw nothing."""
    (body,) = read("fuse 7 feeds coils, injectors", line)
    assert isinstance(body, Finding)
    assert (body.fault, body.seen) == (fault, seen)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("feed at coil none", "none"),
        ("no 12v at coil 3", "none"),
        ("power at coil", "battery voltage"),
    ],
)
def test_what_reaches_the_coils(line: str, word: str) -> None:
    """None, or the battery's voltage: "none" behind the part is no "there"."""
    (body,) = read(line)
    assert isinstance(body, Reading)
    assert (body.kind, body.word) == ("coil_feed", word)
