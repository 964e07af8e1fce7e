"""Scaled values of the open standard."""

from collections.abc import Callable

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.obd_scaling import SCALES, fuel_status, misfire_monitor_cylinder, scaled_values


@pytest.mark.parametrize("identifier", list(SCALES))
def test_step_is_the_change_of_one_count(identifier: int) -> None:
    """What the table says of the step is what the formula does."""
    scales = SCALES[identifier]
    width = scales[0].width
    last = 1 if width == 2 else 0
    for place, scale in enumerate(scales):
        one, two = bytearray(width), bytearray(width)
        at = last if len(scales) == 1 else place
        one[at], two[at] = 100, 101
        values = [scaled_values(identifier, bytes(data))[place].value for data in (one, two)]
        assert values[0] is not None
        assert values[1] is not None
        assert values[1] - values[0] == pytest.approx(scale.step)


def test_oxygen_trim_beside_its_voltage() -> None:
    """The second byte is a trim unless it is FF."""
    voltage, trim = scaled_values(0x15, bytes.fromhex("5A8C"))
    assert (voltage.value, trim.value) == pytest.approx((0.45, 9.375))


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: scaled_values(0x0C, b"\x1a"),
            "Identifier 0C carries 2 data bytes; 1 came. "
            "Leave out the service and identifier bytes, and fill bytes after the data.",
        ),
        (
            lambda: scaled_values(0x05, b"\x1a\x00"),
            "Identifier 05 carries 1 data byte; 2 came. "
            "Leave out the service and identifier bytes, and fill bytes after the data.",
        ),
        (lambda: fuel_status(0x06), "Fuel system status 06 is no single state. Read it again."),
        (lambda: misfire_monitor_cylinder(0xA1), "Monitor A1 is no misfire counter of a cylinder. Give A2 to AD."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        ask()
    assert str(refused.value) == words


def test_unknown_identifier_names_the_known() -> None:
    """The list of what can be asked stands in the message."""
    with pytest.raises(KnownGoodError, match=r"Identifier FF is not in the table\. Known are 04, 05, "):
        scaled_values(0xFF, b"")
