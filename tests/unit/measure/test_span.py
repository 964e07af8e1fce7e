"""A value against a span that a doubt of its own blurs at both ends."""

import pytest

from knowngood.measure.span import against_span


@pytest.mark.parametrize(
    ("value", "word"),
    [
        (0.3, "under"),
        (0.43, "under"),
        (0.45, "cannot tell"),
        (0.55, "cannot tell"),
        (0.57, "inside"),
        (0.73, "inside"),
        (0.75, "cannot tell"),
        (0.85, "cannot tell"),
        (0.87, "over"),
        (2.0, "over"),
    ],
)
def test_both_ends_are_blurred_alike(value: float, word: str) -> None:
    """From 0.5 to 0.8, nothing is said within 0.06 of either end."""
    assert against_span(value, 0.5, 0.8, margin=0.06) == word


@pytest.mark.parametrize(("value", "word"), [(0.5, "inside"), (0.8, "inside"), (0.499, "under"), (0.801, "over")])
def test_ends_belong_to_the_span_where_nothing_is_in_doubt(value: float, word: str) -> None:
    """Without a margin there is always a word."""
    assert against_span(value, 0.5, 0.8, margin=0.0) == word
