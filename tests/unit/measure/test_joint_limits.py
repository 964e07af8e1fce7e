"""What a place may lose."""

import pytest

from knowngood.errors import Refused
from knowngood.measure.joint_limits import ALLOWED, drop_verdict


@pytest.mark.parametrize(
    ("drop", "place", "word"),
    [
        (0.90, "frame to ground post", "over"),
        (-0.90, "frame to ground post", "over"),
        (0.05, "frame to ground post", "within"),
        (0.11, "frame to ground post", "cannot tell"),
        (0.00, "post to clamp", "within"),
        (0.05, "post to clamp", "over"),
        (0.40, "whole feed", "within"),
    ],
)
def test_loss_against_its_place(drop: float, place: str, word: str) -> None:
    """Near the limit nobody can tell; between post and clamp any reading is poor."""
    assert drop_verdict(drop, place).word == word


def test_how_far_over_with_the_error_of_the_meter() -> None:
    """0.90 V where 0.10 V may be lost: 0.80 V beyond; nothing beyond within."""
    over = drop_verdict(-0.90, "frame to ground post", drop_se_v=0.02)
    assert (over.beyond_v, over.beyond_se_v) == pytest.approx((0.80, 0.02))
    assert drop_verdict(0.05, "frame to ground post").beyond_v == 0.0


def test_car_s_own_figure_wins() -> None:
    """And is said to be the source."""
    verdict = drop_verdict(0.15, "frame to ground post", limit_v=0.2)
    assert (verdict.word, verdict.beyond_v, verdict.allowed.source) == ("within", 0.0, "the car's own figure")


def test_figures_from_memory_say_so() -> None:
    """Whoever shows one can tell."""
    assert {place for place, allowed in ALLOWED.items() if allowed.from_memory} == {
        "sensor ground", "connector", "switch or relay", "whole feed", "whole ground"
    }  # fmt: skip


def test_unknown_place_is_refused() -> None:
    """The places are listed."""
    with pytest.raises(Refused, match=r"^No place is called 'door'\. Places: battery to solenoid stud, "):
        drop_verdict(0.1, "door")
