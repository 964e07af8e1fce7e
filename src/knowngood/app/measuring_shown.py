"""Results of measurements as text: no more digits than their error carries."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from knowngood.app.measuring_topic import BAD, GOOD, UNSURE, Checked, Result, Topic, Verdict
from knowngood.measure.bracket import Bracket
from knowngood.units import Quantity, Unit, kind_named, show

if TYPE_CHECKING:
    from knowngood.app.measuring_entry import Given


KELVIN = "K"
ENTERED = "the window entered"
THE_SAME = "the same"  # a result before it in another unit


def plain(value: float, unit: str = "", digits: int = 4) -> str:
    """A number without an error.

    >>> plain(0.42, "V"), plain(57600.0), plain(0.0)
    ('0.42 V', '57600', '0')
    """
    if value == 0.0 or not math.isfinite(value):
        number = f"{value:g}"
    else:
        decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
        number = f"{value:.{decimals}f}"
        number = number.rstrip("0").rstrip(".") if "." in number else number
    return _joined(number, unit)


def plus_minus(value: float, se: float, unit: str = "") -> str:
    """A number with one standard error: one digit of it, two when the first is 1 or 2.

    >>> plus_minus(4.0, 0.096, "mΩ"), plus_minus(24.9, 1.87, "%"), plus_minus(1198.0, 35.0, "kPa")
    ('4.00 ± 0.10 mΩ', '24.9 ± 1.9 %', '1200 ± 40 kPa')
    """
    if not se > 0.0 or not math.isfinite(se):
        return plain(value, unit)
    place = math.floor(math.log10(se))
    decimals = -place + (1 if se / 10.0**place < 3.0 else 0)
    shown = max(0, decimals)
    return _joined(f"{_fixed(value, decimals, shown)} ± {_fixed(se, decimals, shown)}", unit)


def from_to(bracket: Bracket, unit: str = "", digits: int = 3) -> str:
    """A range with its best value.

    >>> from_to(Bracket(13.1, 13.7, 14.4), "kV")
    '13.1 to 14.4 kV, most likely 13.7'
    """
    if bracket.low == bracket.high:
        return plain(bracket.value, unit, digits)
    span = f"{plain(bracket.low, '', digits)} to {plain(bracket.high, unit, digits)}"
    return f"{span}, most likely {plain(bracket.value, '', digits)}"


def measured(name: str, value: float, se: float | None = None, unit: str = "", scale: float = 1.0) -> Result:
    """A result with its standard error; ``scale`` turns both into the unit shown."""
    value, se = value * scale, None if se is None else se * scale
    return Result(name=name, text=plus_minus(value, se or 0.0, unit), value=value, se=se, unit=unit)


def ranged(name: str, bracket: Bracket, unit: str = "", scale: float = 1.0) -> Result:
    """A result known no better than a range."""
    turned = Bracket(bracket.low * scale, bracket.value * scale, bracket.high * scale)
    return Result(
        name=name, text=from_to(turned, unit), value=turned.value, low=turned.low, high=turned.high, unit=unit
    )


def said(name: str, text: str) -> Result:
    """A result in words."""
    return Result(name=name, text=text)


def in_unit_of(given: Given, name: str, result: str, value: float, se: float = 0.0) -> Result:
    """A result in the unit a field was typed in, with the other common unit behind it; value in base units."""
    unit = given.unit(name)
    also = given.kind(name).unit(unit.also) if unit.also else None
    text = plus_minus(unit.from_base(value), se / unit.factor, symbol(unit))
    if also is not None:
        text += f" ({plain(also.from_base(value), symbol(also), 3)})"
    return Result(name=result, text=text, value=unit.from_base(value), se=se / unit.factor, unit=symbol(unit))


def in_wanted_units(topic: Topic, results: Sequence[Result], units: Mapping[str, str]) -> list[Result]:
    """Results each in the unit wanted for its kind; the same one in another unit left out where one is wanted."""
    turned = [in_wanted_unit(topic, result, units) for result in results]
    told = {result.text for result in turned if result.name != THE_SAME}
    return [result for result in turned if result.name != THE_SAME or result.text not in told]


def in_wanted_unit(topic: Topic, result: Result, units: Mapping[str, str]) -> Result:
    """A result in the unit wanted for its kind, what it was worked out in behind it; as it is where none is wanted.

    The kind is one of those the topic measures or gives. What is in kelvins is a difference and stays one.
    """
    kinds = [kind_named(one.kind) for one in topic.fields if one.kind in units]
    kinds += [kind_named(kind) for kind in (topic.window, topic.gives) if kind in units]
    for kind in kinds:
        own = next((unit for unit in kind.units.values() if unit.symbol == result.unit), None)
        wanted = kind.unit(units[kind.name])
        if own is not None and own is not wanted and result.value is not None and result.unit != KELVIN:
            return _turned(result, own, wanted)
    return result


def _turned(result: Result, own: Unit, wanted: Unit) -> Result:
    def turned(value: float) -> float:
        return wanted.from_base(own.to_base(value))

    assert result.value is not None
    value, sign = turned(result.value), symbol(wanted)
    if result.low is not None and result.high is not None:
        span = Bracket(turned(result.low), value, turned(result.high))
        return ranged(result.name, span, sign)
    se = None if result.se is None else result.se * own.factor / wanted.factor
    behind = plus_minus(result.value, result.se or 0.0, result.unit)
    if not result.text.startswith(behind):  # said in words of its own
        return result
    text = f"{plus_minus(value, se or 0.0, sign)} ({plain(result.value, result.unit, 3)})"
    return Result(name=result.name, text=text, value=value, se=se, unit=sign)


def typed(given: Given, name: str, value: float, digits: int = 4) -> str:
    """A value in base units, as text in the unit a field was typed in."""
    unit = given.unit(name)
    return plain(unit.from_base(value), symbol(unit), digits)


def symbol(unit: Unit) -> str:
    """A unit's sign; nothing for a bare count."""
    return unit.symbol


def chance(value: float) -> str:
    """A chance in percent.

    >>> chance(0.0187), chance(0.00003), chance(0.38)
    ('1.9 %', 'under 0.1 %', '38 %')
    """
    if value < 0.001:
        return "under 0.1 %"
    return f"{100.0 * value:.{0 if value >= 0.1 else 1}f} %"


def listed(places: tuple[int, ...] | list[int], what: str) -> str:
    """Places of a row in words.

    >>> listed((3,), "cylinder"), listed((1, 3, 4), "cylinder")
    ('cylinder 3', 'cylinders 1, 3 and 4')
    """
    if len(places) == 1:
        return f"{what} {places[0]}"
    return f"{what}s {', '.join(str(place) for place in places[:-1])} and {places[-1]}"


def against(window: Quantity, checked: Checked, source: str = ENTERED) -> Verdict:
    """A value against the window entered; within two standard errors of an end it cannot tell."""
    low, high = window.low, window.high
    outside = max(
        [(low - checked.value, "under", low)] if low is not None else [(-math.inf, "", 0.0)],
        [(checked.value - high, "over", high)] if high is not None else [(-math.inf, "", 0.0)],
    )[0]
    beyond, side, end = outside
    unit = kind_named(window.kind).unit(window.unit)
    named = f"{checked.name} {plus_minus(unit.from_base(checked.value), checked.se / unit.factor, symbol(unit))}"
    if abs(beyond) < 2.0 * checked.se:
        near = plain(unit.from_base(end), symbol(unit))
        return Verdict(UNSURE, f"{named}: too near to {near} to tell, within two standard errors", source)
    if beyond > 0.0:
        return Verdict(BAD, f"{named}: {side} the window by {plain(beyond / unit.factor, symbol(unit), 3)}", source)
    return Verdict(GOOD, f"{named}: inside the window {show(window).partition(' (')[0]}", source)


def judged(is_good: bool | None, text: str, source: str) -> Verdict:
    """A verdict; ``None`` when it cannot tell."""
    return Verdict(UNSURE if is_good is None else GOOD if is_good else BAD, text, source)


def _fixed(value: float, decimals: int, shown: int) -> str:
    return f"{round(value, decimals):.{shown}f}"


def _joined(number: str, unit: str) -> str:
    return number + unit if unit in ("°", '"') else f"{number} {unit}".rstrip()
