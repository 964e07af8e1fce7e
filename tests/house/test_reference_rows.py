"""Every published row of measurement is asserted or left out with its reason; rows from memory say so."""

import re
import tomllib

from benchmarks.measurements import LEAST_ROWS, OUTSIDE, asserted_ids, row_marks, rows_asserted, rows_left_out

MARKS = {"S", "S2", "C", "M"}
MEMORY = "from-memory"


def from_memory() -> set[str]:
    """Rows with an M among their marks that a test asserts."""
    return {row for row in rows_asserted() if "M" in row_marks()[row].split("+")}


def test_every_row_is_asserted_or_left_out() -> None:
    """One of the two, never both, and no row beyond the list of marks."""
    assert rows_asserted() & rows_left_out() == set()
    assert rows_asserted() | rows_left_out() == set(row_marks())
    assert {part for mark in row_marks().values() for part in mark.split("+")} == MARKS


def test_enough_rows_that_were_seen_or_computed() -> None:
    """150 at least, without those from memory."""
    assert len(rows_asserted() - from_memory()) >= LEAST_ROWS


def test_rows_from_memory_say_so() -> None:
    """In the id of every test of theirs; a seen or computed row may say it of a part, never of all its tests."""
    for row in rows_asserted():
        said = [MEMORY in rest for one, rest in asserted_ids() if one == row]
        assert all(said) if row in from_memory() else not all(said), row


def test_no_row_from_memory_is_the_only_check() -> None:
    """Beside each stands a seen or computed row that is asserted, or a test by first principles that exists."""
    beside = tomllib.loads((OUTSIDE / "rows.toml").read_text(encoding="utf-8"))["beside"]
    assert set(beside) == from_memory()
    tests = "".join(file.read_text(encoding="utf-8") for file in OUTSIDE.glob("test_*.py"))
    for row, others in beside.items():
        for other in others.split():
            by_row = other in rows_asserted() - from_memory()
            assert by_row or f"def {other}(" in tests, (row, other)


def test_rows_left_out_have_a_reason() -> None:
    """Three words or more in the last column of the lists."""
    for file in sorted(OUTSIDE.glob("left_out_*.md")):
        for line in re.findall(r"^\| \d.* \|$", file.read_text(encoding="utf-8"), re.MULTILINE):
            assert len(line.strip("| ").split(" | ")[-1].split()) >= 3, line
