"""Where the air comes out."""

import pytest

from knowngood.errors import NotMeasurable, Refused
from knowngood.measure.sealing_path import parts_heard


def test_two_openings_name_their_parts_in_order() -> None:
    """Coolant first, as heard."""
    assert parts_heard(["coolant", "oil filler"], percent=35.0).parts == (
        "head gasket",
        "crack",
        "rings",
        "piston",
        "bore",
    )


@pytest.mark.parametrize(
    ("openings", "percent", "remark"),
    [
        (
            ["intake", "exhaust"],
            60.0,
            "Everything leaks: it may be the wrong stroke. Turn the engine once and measure again.",
        ),
        (["exhaust"], 97.0, "Everything leaks: it may be the wrong stroke. Turn the engine once and measure again."),
        (["oil filler"], 12.0, "A little past the rings is normal."),
        ([], 35.0, "The air goes somewhere: check the tester's own joint at the plug hole first."),
        (["exhaust"], 35.0, ""),
    ],
)
def test_remark_goes_with_what_was_heard(openings: list[str], percent: float, remark: str) -> None:
    """What has to be said with the parts is said."""
    assert parts_heard(openings, percent=percent).remark == remark


def test_unknown_opening_is_refused() -> None:
    """The five openings are listed."""
    with pytest.raises(Refused) as refused:
        parts_heard(["bonnet"], percent=10.0)
    assert str(refused.value) == (
        "No opening is called 'bonnet'. Openings: intake, exhaust, oil filler, coolant, neighbour."
    )


def test_leak_outside_the_scale_is_refused() -> None:
    """There is no leak of 120 %."""
    with pytest.raises(NotMeasurable, match="Leak is 120 %"):
        parts_heard([], percent=120.0)
