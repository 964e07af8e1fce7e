"""Numbers as mechanics write them."""

import pytest

from knowngood.errors import Refused
from knowngood.units import Amount, exactly, parse_number, split_amounts


@pytest.mark.parametrize(
    ("text", "value", "decimals"),
    [
        ("175", 175.0, 0),
        ("12.40", 12.4, 2),
        ("12,4", 12.4, 1),
        (".039", 0.039, 3),
        (",5", 0.5, 1),
        ("+8", 8.0, 0),
        ("-22", -22.0, 0),
        ("−30", -30.0, 0),
        ("１７５", 175.0, 0),
        ("１２．６", 12.6, 1),
        ("0", 0.0, 0),
        ("1.250,5", 1250.5, 1),
        ("126,000,000", 126000000.0, 0),
    ],
)
def test_plain_number_is_exact(text: str, value: float, decimals: int) -> None:
    """Decimals take a point or a comma, digits may be fullwidth, and the digits written are counted."""
    assert parse_number(text) == exactly(value, decimals)


@pytest.mark.parametrize(
    "text", ["~165", "about 165", "circa 165", "165 or so", "165ish", "165?", "around 165", "ca. 165"]
)
def test_about_is_five_percent_either_way(text: str) -> None:
    """Every way of saying "about" means the same span."""
    assert parse_number(text) == Amount(165.0, 165.0 - 8.25, 165.0 + 8.25, "about", 0)


def test_about_is_never_finer_than_half_the_last_digit() -> None:
    """ "About 2" is 1.5 to 2.5, not 1.9 to 2.1."""
    assert parse_number("~2") == Amount(2.0, 1.5, 2.5, "about", 0)


@pytest.mark.parametrize("text", ["500+", "over 500", ">500", "≥ 500", "more than 500", "500 or more", "at least 500"])
def test_over_leaves_the_upper_end_open(text: str) -> None:
    """Nothing is said about how far over."""
    assert parse_number(text) == Amount(500.0, 500.0, None, "over", 0)


@pytest.mark.parametrize("text", ["under 5", "<5", "≤5", "less than 5", "5 or less", "up to 5", "nearly 5"])
def test_under_leaves_the_lower_end_open(text: str) -> None:
    """Nothing is said about how far under."""
    assert parse_number(text) == Amount(5.0, None, 5.0, "under", 0)


@pytest.mark.parametrize(
    ("text", "low", "high", "decimals"),
    [
        ("1.5-2", 1.5, 2.0, 1),
        ("115 to 135", 115.0, 135.0, 0),
        ("150-to-160", 150.0, 160.0, 0),
        ("9–9.5", 9.0, 9.5, 1),
        ("5~8", 5.0, 8.0, 0),
        ("160-150", 150.0, 160.0, 0),
        ("-22 to -9", -22.0, -9.0, 0),
        ("12.x", 12.0, 13.0, 0),
        ("-3.x", -4.0, -3.0, 0),
    ],
)
def test_range_keeps_both_ends(text: str, low: float, high: float, decimals: int) -> None:
    """The value is the middle; 12.x is 12 to 13."""
    assert parse_number(text) == Amount((low + high) / 2, low, high, "range", decimals)


@pytest.mark.parametrize("text", ["none", "nil", "zero", "dead", "none seen", "Nothing"])
def test_none_seen_is_zero_and_not_a_typed_zero(text: str) -> None:
    """A word for nothing is kept apart from a 0 read off a gauge."""
    assert parse_number(text) == Amount(0.0, 0.0, 0.0, "none_seen", 0)
    assert parse_number("0").sense == "exact"


def test_three_digits_behind_a_comma_read_two_ways() -> None:
    """1,250 may be decimals or thousands; both are handed back, decimals first."""
    assert [amount for amount, _ in split_amounts("1,250")] == [exactly(1.25, 3), exactly(1250.0)]


def test_zero_in_front_of_a_comma_is_decimals_only() -> None:
    """Nobody groups thousands behind a zero."""
    assert [amount for amount, _ in split_amounts("0,125")] == [exactly(0.125, 3)]


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("175 psi", "psi"),
        ("13.6Kohm", "Kohm"),
        ('8.3" Hg', '" Hg'),
        ("500+ F", "F"),
        ("0.05v to 0.9v", "v"),
        ("9-9.5 bar", "bar"),
    ],
)
def test_split_gives_back_what_is_left(text: str, rest: str) -> None:
    """The unit is left for the reader who knows the kind."""
    assert split_amounts(text)[0][1] == rest


def test_step_is_one_of_the_last_digit() -> None:
    """14.80 was written to a hundredth."""
    assert parse_number("14.80").step == pytest.approx(0.01)


def test_text_without_a_number_is_refused_word_for_word() -> None:
    """The text met is shown and the forms that are taken are listed."""
    with pytest.raises(Refused) as refused:
        parse_number("good")
    assert str(refused.value) == "no number in 'good'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2."


def test_rest_behind_a_lone_number_is_refused_word_for_word() -> None:
    """A unit has no place where only a number is taken."""
    with pytest.raises(Refused) as refused:
        parse_number("175 psi")
    assert str(refused.value) == "'psi' is left behind the number in '175 psi'. Type the number alone."


@pytest.mark.parametrize("text", ["", "psi", "three thousand", "-", "."])
def test_no_number_has_no_splits(text: str) -> None:
    """Words for numbers are not guessed at."""
    assert split_amounts(text) == ()
