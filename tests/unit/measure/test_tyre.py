"""Tyre sizes."""

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.tyre import TyreSize, read_size, rolling_circumference, size_change


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("205/55R16", TyreSize(205, 55, 16, "radial")),
        ("P265/70 R16 112S", TyreSize(265, 70, 16, "radial")),
        ("225/45 zr 17", TyreSize(225, 45, 17, "radial")),
        ("165/80-13", TyreSize(165, 80, 13, "bias")),
        ("245/70 R 19,5", TyreSize(245, 70, 19.5, "radial")),
    ],
)
def test_side_walls(text: str, size: TyreSize) -> None:
    """Letters before and after, spaces, ZR, bias and half inch rims."""
    assert read_size(text) == size


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "185R14",
            "'185R14' holds no size of the form 205/55R16. "
            "A size without the second number: look it up, it is 80 or 82.",
        ),
        ("205/05R16", "205/5 on 16 in is no car tyre. Read the side wall again."),
    ],
)
def test_unreadable(text: str, words: str) -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        read_size(text)
    assert str(refused.value) == words


def test_worn_tyre_rolls_shorter() -> None:
    """6.4 mm of radius are about 2 % of a small wheel."""
    new, worn = rolling_circumference(600.0), rolling_circumference(600.0, worn=True)
    assert 1.0 - worn.value / new.value == pytest.approx(12.8 / 600.0)


def test_builds_are_not_mixed() -> None:
    """Word for word, and an unknown build."""
    with pytest.raises(KnownGoodError, match=r"Old tyre bias, new tyre radial\. Compare rolled distances instead\."):
        size_change(read_size("165/80-13"), read_size("165/80R13"))
    with pytest.raises(KnownGoodError, match=r"No tyre build is called 'square'\. Give one of: radial, bias\."):
        rolling_circumference(600.0, "square")
