"""What is told of the car, fact by fact, gathered into one :class:`Car`."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from typing import Any, Protocol

import msgspec

from knowngood.car.car import Car
from knowngood.errors import Problem, Refused

ADDS_UP = ("systems", "last_done", "new_parts")
"""Fields to which a later fact adds instead of taking the place of the earlier one."""

LAID_OVER = ("windows", "tightening", "branches")
"""Fields of many values: a later fact takes the place of the earlier one for the same thing only."""


class Told(Protocol):
    """One field as told: its name and its value as JSON."""

    @property
    def field(self) -> str:
        """Name of a field of :class:`Car`."""

    @property
    def value(self) -> str:
        """Its value as JSON."""


def with_fact(car: Car, fact: Told) -> Car:
    """The car with one more fact.

    A later fact takes the place of an earlier one; ``systems``, ``last_done`` and ``new_parts`` add up, specification
    windows, tightening values and branches are laid over each other one by one. A count of cylinders clears the doubt
    about an earlier one; who infers a count says so with a fact of its own behind it, and infers none where one was
    told.

    Parameters
    ----------
    car : Car
    fact : Told
        A ``CarFact``: a field of :class:`Car` and its value as JSON; ``null`` makes a field unknown again.

    Returns
    -------
    Car

    Raises
    ------
    Refused
        The car has no such field, or the value does not fit it.

    Examples
    --------
    >>> from collections import namedtuple
    >>> Fact = namedtuple("Fact", "field value")
    >>> with_fact(Car(), Fact("cylinders", "6")).cylinders
    6
    """
    if fact.field not in Car.__struct_fields__:
        raise Refused(
            Problem(f"A car has no field '{fact.field}'.", f"Fields that are: {', '.join(Car.__struct_fields__)}.")
        )
    try:
        value = msgspec.json.decode(fact.value)
        told = {**msgspec.to_builtins(car), fact.field: _added(car, fact.field, value)}
        if fact.field == "cylinders":
            told["cylinders_doubtful"] = False
        return msgspec.convert(told, Car)
    except msgspec.DecodeError as problem:
        raise Refused(Problem(f"'{fact.value}' does not fit '{fact.field}' of a car.", f"{problem}.")) from problem


def car_told(facts: Iterable[Told]) -> Car:
    """The car of all facts, in the order they are given; raises as :func:`with_fact`."""
    return reduce(with_fact, facts, Car())


def _added(car: Car, field: str, value: Any) -> Any:
    if field in ADDS_UP and isinstance(value, list):
        earlier = list(getattr(car, field))
        return earlier + [item for item in value if item not in earlier]
    if field in LAID_OVER and isinstance(value, dict):
        return {**msgspec.to_builtins(getattr(car, field)), **value}
    return value
