"""Numbers given to a computation: those that cannot carry an answer are refused here, in one wording."""

from __future__ import annotations

import math
from collections.abc import Sequence

from knowngood.errors import NotMeasurable


def finite(name: str, value: float, unit: str) -> float:
    """The value, when it is a number at all.

    Parameters
    ----------
    name : str
        What the number is, in the words of the sentence it will stand in.
    value : float
        The number met.
    unit : str
        Its unit, empty for a bare number.

    Returns
    -------
    value : float

    Raises
    ------
    NotMeasurable
        The value is not finite.

    Examples
    --------
    >>> finite("Air flow", 3.2, "g/s")
    3.2
    """
    if not math.isfinite(value):
        raise NotMeasurable(f"{name} is {value}: not a number.", f"Give a number{_in(unit)}.")
    return float(value)


def above_zero(name: str, value: float, unit: str) -> float:
    """The value, when it is finite and above zero; otherwise `NotMeasurable`."""
    if finite(name, value, unit) <= 0:
        raise NotMeasurable(f"{name} is {show(value, unit)}.", f"Give a number above 0{_in(unit)}.")
    return float(value)


def not_below_zero(name: str, value: float, unit: str) -> float:
    """The value, when it is finite and zero or more; otherwise `NotMeasurable`."""
    if finite(name, value, unit) < 0:
        raise NotMeasurable(f"{name} is {show(value, unit)}.", f"Give 0 or more{_in(unit)}.")
    return float(value)


def between(name: str, value: float, low: float, high: float, unit: str) -> float:
    """The value, when it is finite and inside low to high, ends included; otherwise `NotMeasurable`."""
    if not low <= finite(name, value, unit) <= high:
        raise NotMeasurable(
            f"{name} is {show(value, unit)}: outside {low:g} to {show(high, unit)}.",
            "Check the reading and its unit.",
        )
    return float(value)


def whole(name: str, value: float, least: int) -> int:
    """The value as a whole number of at least `least`; otherwise `NotMeasurable`."""
    if finite(name, value, "") != int(value) or value < least:
        raise NotMeasurable(f"{name} is {value:g}.", f"Give a whole number, {least} or more.")
    return int(value)


def resolved(name: str, value: float, se: float, unit: str) -> float:
    """The value, when it is above zero by three of its standard errors or more; otherwise `NotMeasurable`."""
    above_zero(name, value, unit)
    if value < 3.0 * not_below_zero(f"Standard error of {name[0].lower()}{name[1:]}", se, unit):
        raise NotMeasurable(
            f"{name} is {show(value, unit)} with a standard error of {show(se, unit)}: less than three of them.",
            "Measure again with a finer instrument or a larger value.",
        )
    return float(value)


def row(name: str, values: Sequence[float], unit: str, *, least: int) -> tuple[float, ...]:
    """All values of a row, when there are enough of them and each is finite; otherwise `NotMeasurable`."""
    if len(values) < least:
        raise NotMeasurable(f"{name}: {len(values)} given.", f"At least {least} are needed.")
    return tuple(finite(f"{name}, number {place},", value, unit) for place, value in enumerate(values, start=1))


def show(value: float, unit: str) -> str:
    """A number with its unit, six digits at most."""
    return f"{value:g} {unit}".rstrip()


def _in(unit: str) -> str:
    return f" in {unit}" if unit else ""
