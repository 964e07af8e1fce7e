"""The open standard's table: SAE J1979 / ISO 15031-5, service 01 (public parameter table), byte vectors and ranges."""

import pytest

from knowngood.measure.obd_scaling import FUEL_STATUS, fuel_status, misfire_monitor_cylinder, scaled_values


def first(identifier: int, data: str) -> float | None:
    return scaled_values(identifier, bytes.fromhex(data))[0].value


@pytest.mark.parametrize(("code", "state"), [pytest.param(0x02, "closed loop", id="from-memory-closed")])
def test_fuel_status(code: int, state: str) -> None:
    """0x02 is closed loop; the other bits from memory."""
    assert fuel_status(code) == state
    assert sorted(FUEL_STATUS) == [0, 1, 2, 4, 8, 16]


@pytest.mark.parametrize(
    ("identifier", "data", "value"),
    [
        pytest.param(0x04, "7F", 49.80, id="r7.02"),
        pytest.param(0x05, "7B", 83.0, id="r7.03"),
        pytest.param(0x06, "80", 0.0, id="r7.04-80"),
        pytest.param(0x07, "8C", 9.375, id="r7.04-8C"),
        pytest.param(0x08, "66", -20.31, id="r7.04-66"),
        pytest.param(0x09, "FF", 99.22, id="r7.04-FF"),
        pytest.param(0x0B, "23", 35.0, id="r7.05"),
        pytest.param(0x0C, "1AF8", 1726.0, id="r7.06"),
        pytest.param(0x0E, "94", 10.0, id="r7.08"),
        pytest.param(0x10, "01F4", 5.00, id="r7.10"),
        pytest.param(0x42, "37E6", 14.31, id="r7.13-from-memory"),
        pytest.param(0x44, "8000", 1.000, id="r7.15-from-memory"),
    ],
)
def test_vectors(identifier: int, data: str, value: float) -> None:
    """Each vector of the table."""
    assert first(identifier, data) == pytest.approx(value, abs=0.005)


@pytest.mark.parametrize(
    ("identifier", "width", "low", "high"),
    [
        pytest.param(0x04, 1, 0.0, 100.0, id="r7.02-range"),
        pytest.param(0x05, 1, -40.0, 215.0, id="r7.03-range"),
        pytest.param(0x06, 1, -100.0, 99.22, id="r7.04-range"),
        pytest.param(0x0B, 1, 0.0, 255.0, id="r7.05-range"),
        pytest.param(0x0C, 2, 0.0, 16383.75, id="r7.06-range"),
        pytest.param(0x0D, 1, 0.0, 255.0, id="r7.07-range"),
        pytest.param(0x0E, 1, -64.0, 63.5, id="r7.08-range"),
        pytest.param(0x0F, 1, -40.0, 215.0, id="r7.09-range"),
        pytest.param(0x10, 2, 0.0, 655.35, id="r7.10-range"),
        pytest.param(0x11, 1, 0.0, 100.0, id="r7.11-range"),
        pytest.param(0x14, 2, 0.0, 1.275, id="r7.12-range"),
        pytest.param(0x42, 2, 0.0, 65.535, id="r7.13-range-from-memory"),
        pytest.param(0x43, 2, 0.0, 65535 * 100 / 255, id="r7.14-range-from-memory"),
        pytest.param(0x5C, 1, -40.0, 215.0, id="r7.16-range-from-memory"),
    ],
)
def test_ranges(identifier: int, width: int, low: float, high: float) -> None:
    """All bytes 00 give the low end, all FF the high end."""
    assert first(identifier, "00" * width) == pytest.approx(low)
    assert first(identifier, "FF" * width) == pytest.approx(high, abs=0.005)


@pytest.mark.parametrize("data", [pytest.param("5AFF", id="r7.12-not-used-for-trim")])
def test_oxygen_sensor_without_trim(data: str) -> None:
    """5A FF is 0.450 V and no trim."""
    voltage, trim = scaled_values(0x14, bytes.fromhex(data))
    assert voltage.value == pytest.approx(0.450)
    assert trim.value is None


@pytest.mark.parametrize(
    ("identifier", "place"),
    [
        pytest.param(0x14, "sensor 1, bank 1", id="r7.12-14"),
        pytest.param(0x17, "sensor 4, bank 1", id="r7.12-17"),
        pytest.param(0x18, "sensor 1, bank 2", id="r7.12-18-from-memory"),
        pytest.param(0x1B, "sensor 4, bank 2", id="r7.12-1B-from-memory"),
    ],
)
def test_oxygen_sensor_places(identifier: int, place: str) -> None:
    """14 to 17 are bank 1, sensors 1 to 4; 18 to 1B bank 2 (from memory)."""
    assert place in scaled_values(identifier, b"\x00\x00")[0].name


def test_misfire_monitors() -> None:
    """A2 to AD are cylinders 1 to 12 (service 06, from memory)."""
    assert [misfire_monitor_cylinder(monitor) for monitor in range(0xA2, 0xAE)] == list(range(1, 13))
