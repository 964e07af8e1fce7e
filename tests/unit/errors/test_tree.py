"""Errors of ours carry what is so and what to do."""

from __future__ import annotations

import pytest

from knowngood.errors import KnownGoodError, Problem, Refused


@pytest.mark.parametrize(
    "given",
    [("No lamp is on.", "Turn the key."), (Problem("No lamp is on.", "Turn the key."),)],
    ids=["words", "a problem"],
)
def test_one_problem_however_it_is_given(given: tuple[str, ...]) -> None:
    """As words with their fix, or as a problem."""
    refused = Refused(*given)
    assert refused.problems == (Problem("No lamp is on.", "Turn the key."),)
    assert str(refused) == "No lamp is on. Turn the key."


def test_many_problems_stand_in_lines() -> None:
    """In their order, each with its place."""
    raised = KnownGoodError(Problem(fact, file="a.toml", line=line) for line, fact in ((3, "One."), (5, "Two.")))
    assert str(raised) == "a.toml:3: One.\na.toml:5: Two."


def test_error_that_says_nothing_is_a_mistake_of_ours() -> None:
    """An empty message would leave the mechanic with nothing to do."""
    with pytest.raises(ValueError, match="without a problem"):
        Refused([])
