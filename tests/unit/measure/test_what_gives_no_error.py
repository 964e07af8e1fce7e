"""Which computations give a quantity without a standard error or a range, by name, each with its reason."""

import re
from pathlib import Path

import pytest

from tests.unit.measure.computations import bare, carries_error, computations, gives_range, gives_words

PAGE = Path(__file__).parents[3] / "docs" / "explanation" / "measurements.md"
KINDS = {"constant", "decision", "definition", "error", "exact", "limit", "plan"}
EXCEPTIONS = {
    name: (kind, why)
    for name, kind, why in re.findall(
        r"^\| `(\w+\.\w+)` \| (\w+) \| (.+) \|$", PAGE.read_text(encoding="utf-8"), re.MULTILINE
    )
}


def test_no_other_computation_is_bare() -> None:
    """The page names exactly the computations that give neither."""
    assert bare() == set(EXCEPTIONS)


@pytest.mark.parametrize("name", sorted(EXCEPTIONS))
def test_exception_has_its_reason(name: str) -> None:
    """Of a known kind, and said in words."""
    kind, why = EXCEPTIONS[name]
    assert kind in KINDS
    assert len(why.split()) >= 3


def test_every_computation_gives_something() -> None:
    """An error, a range, words, or a bare number with its reason: nothing is left over, most carry errors."""
    kinds = {
        name: "error"
        if carries_error(function)
        else "range"
        if gives_range(function)
        else "words"
        if gives_words(function)
        else "bare"
        for name, function in computations().items()
    }
    assert sum(kind == "error" for kind in kinds.values()) > sum(kind == "bare" for kind in kinds.values())
    assert {name for name, kind in kinds.items() if kind == "bare"} == set(EXCEPTIONS)


def test_worked_case_of_the_page() -> None:
    """4.00 mΩ with a standard error of 0.149 mΩ, as the page says."""
    from knowngood.measure.joint import joint_resistance

    ohms, se = joint_resistance(0.42, 105.0, drop_se_v=0.01, current_se_a=3.0)
    assert (f"{1000 * ohms:.2f}", f"{1000 * se:.3f}") == ("4.00", "0.149")
