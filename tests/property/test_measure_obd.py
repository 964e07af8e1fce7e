"""Bytes and codes: every one of them."""

from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.obd_scaling import SCALES, scaled_values
from knowngood.measure.trouble_code import bytes_from_code, code_build, code_from_bytes


@given(st.integers(1, 0xFFFF))
def test_codes_there_and_back(number: int) -> None:
    """Two bytes, a code, and the same two bytes; the code is one the build can read."""
    code = code_from_bytes(number >> 8, number & 255)
    assert code_build(code).code == code
    assert bytes_from_code(code) == (number >> 8, number & 255)


@given(st.sampled_from(sorted(SCALES)), st.integers(0, 255), st.integers(0, 254))
def test_values_rise_with_the_bytes(identifier: int, a: int, b: int) -> None:
    """One count more is one step more, and the error is that of rounding."""
    scale = SCALES[identifier][0]
    data = [bytes([a, low][: scale.width]) for low in (b, b + 1)] if scale.width == 2 else [bytes([b]), bytes([b + 1])]
    one, two = (scaled_values(identifier, each)[0] for each in data)
    assert one.value is not None
    assert two.value is not None
    assert two.value > one.value or len(SCALES[identifier]) == 2
    assert abs(one.se - scale.step / 12**0.5) < 1e-12
