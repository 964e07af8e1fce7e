"""Allowed losses: US Army TM 10-3930-671-24, p. F-303; common practice; from memory where said."""

import pytest

from knowngood.measure.joint_limits import ALLOWED, drop_verdict


@pytest.mark.parametrize(
    ("place", "volts"),
    [
        pytest.param("battery to solenoid stud", 0.4, id="r4.08-stud"),
        pytest.param("post to clamp", 0.0, id="r4.08-clamp"),
        pytest.param("frame to ground post", 0.1, id="r4.09-frame-post"),
        pytest.param("frame to starter body", 0.1, id="r4.09-frame-starter"),
        pytest.param("positive post to starter stud", 0.1, id="r4.09-positive"),
        pytest.param("alternator output line", 0.3, id="r4.10"),
    ],
)
def test_allowed_loss(place: str, volts: float) -> None:
    """At the figure it is within, just over it is over."""
    assert not ALLOWED[place].from_memory
    assert drop_verdict(volts, place, drop_se_v=0.0).word == "within"
    assert drop_verdict(volts + 0.001, place, drop_se_v=0.0).word == "over"


@pytest.mark.parametrize("amps", [pytest.param(30.0, id="r4.10-at")])
def test_output_line_is_meant_at_30_a(amps: float) -> None:
    """0.3 V at 30 A."""
    assert ALLOWED["alternator output line"].at_a == amps
