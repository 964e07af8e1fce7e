"""Trouble codes."""

from collections.abc import Callable

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.trouble_code import bytes_from_code, code_build, code_from_bytes


def test_areas_only_where_they_are_common() -> None:
    """Makers' codes and other letters have no common second digit."""
    assert code_build("P1300").area == ""
    assert code_build("C0300").area == ""
    assert code_build(" u0100 ").code == "U0100"


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: code_build("42"),
            "'42' is not one letter (P, C, B, U), a digit 0 to 3 and three more digits. "
            "Type it as the display shows it; older codes of two digits are the maker's own.",
        ),
        (lambda: code_from_bytes(0, 0), "Both bytes are 0: no code. Leave out the fill bytes."),
        (lambda: code_from_bytes(256, 0), "256, 0 are not two bytes. Give two numbers from 0 to 255."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        ask()
    assert str(refused.value) == words


def test_bytes_of_a_broken_code_are_refused() -> None:
    """The same refusal as for its build."""
    with pytest.raises(KnownGoodError, match=r"'P4000' is not one letter"):
        bytes_from_code("P4000")
