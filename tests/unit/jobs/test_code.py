"""Job codes are short, and no two jobs get the same."""

from __future__ import annotations

import re

import pytest

from knowngood.errors import Refused
from knowngood.jobs.code import new_code
from tests.unit.jobs.workshop import ids


def test_codes_are_letter_digit_letter_digit_and_never_taken() -> None:
    """Nothing that looks like something else is in them."""
    taken: set[str] = set()
    new_id = ids()
    for _ in range(300):
        code = new_code(taken, new_id)
        assert re.fullmatch(r"[a-hjkmnp-z][2-9][a-hjkmnp-z][2-9]", code)
        assert code not in taken
        taken.add(code)


def test_codes_that_are_used_up_are_told() -> None:
    """A draw that always falls the same way ends."""
    with pytest.raises(Refused, match=r"1 job codes are taken\. Begin another workshop folder\."):
        new_code({"s9x9"}, lambda: "always the same")
