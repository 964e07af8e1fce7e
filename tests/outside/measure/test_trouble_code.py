"""Structure of trouble codes: SAE J2012 / ISO 15031-6:2015."""

import pytest

from knowngood.measure.trouble_code import bytes_from_code, code_build, code_from_bytes


@pytest.mark.parametrize(
    ("letter", "system"),
    [
        pytest.param("P", "powertrain", id="r7.17-P"),
        pytest.param("C", "chassis", id="r7.17-C"),
        pytest.param("B", "body", id="r7.17-B"),
        pytest.param("U", "network", id="r7.17-U"),
    ],
)
def test_letters(letter: str, system: str) -> None:
    """The letter names the system."""
    assert code_build(f"{letter}0100").system == system


@pytest.mark.parametrize(
    ("digit", "origin"),
    [
        pytest.param("0", "standard", id="r7.18-0"),
        pytest.param("1", "maker", id="r7.18-1"),
        pytest.param("2", "standard", id="r7.18-2"),
        pytest.param("3", "standard or maker", id="r7.18-3-from-memory"),
    ],
)
def test_first_digit(digit: str, origin: str) -> None:
    """0 and 2 standard, 1 the maker's, 3 mixed."""
    assert code_build(f"P{digit}400").origin == origin


@pytest.mark.parametrize(
    ("digit", "word"),
    [
        pytest.param("1", "metering", id="r7.19-1"),
        pytest.param("2", "injector", id="r7.19-2"),
        pytest.param("3", "misfire", id="r7.19-3"),
        pytest.param("4", "auxiliary emission", id="r7.19-4"),
        pytest.param("5", "speed and idle", id="r7.19-5"),
        pytest.param("6", "computer", id="r7.19-6"),
        pytest.param("7", "transmission", id="r7.19-7"),
    ],
)
def test_second_digit(digit: str, word: str) -> None:
    """The area of a standard powertrain code."""
    assert word in code_build(f"P0{digit}00").area


@pytest.mark.parametrize(
    ("number", "code"),
    [
        pytest.param(0x0301, "P0301", id="r7.20-0301-from-memory"),
        pytest.param(0xC100, "U0100", id="r7.20-C100-from-memory"),
        pytest.param(0x4123, "C0123", id="r7.20-4123-from-memory"),
    ],
)
def test_two_bytes(number: int, code: str) -> None:
    """Bits 15 and 14 the letter, 13 and 12 the first digit (from memory; the inverse is checked beside it)."""
    assert code_from_bytes(number >> 8, number & 255) == code
    assert bytes_from_code(code) == (number >> 8, number & 255)


@pytest.mark.parametrize(
    ("code", "cylinder"),
    [pytest.param("P0300", 0, id="r7.21-several")]
    + [pytest.param(f"P03{cylinder:02d}", cylinder, id=f"r7.21-{cylinder}") for cylinder in range(1, 13)],
)
def test_misfire_codes(code: str, cylinder: int) -> None:
    """P0300 random or multiple, P0301 to P0312 cylinder 1 to 12 (common practice)."""
    assert code_build(code).cylinder == cylinder
    assert code_build("P0313").cylinder is None
