"""The public computations of measurement, and where each keeps its standard errors."""

import dataclasses
import importlib
import inspect
import pkgutil
import re
import typing
from collections.abc import Callable, Iterator
from functools import cache

import knowngood.measure
from knowngood.measure.bracket import Bracket

MACHINERY = {"bracket", "carried", "constant", "given", "glycol", "nozzle", "span", "table"}
"""Modules that hold no computation of their own: constants, bare laws, what is given, errors carried, tables."""

SE_OF = {
    "BuildUp": {"first_share_se": "first_share"},
    "FitmentChange": {"face_se_mm": "outward_mm"},
    "GearFit": {"se_pct": "off_pct"},
    "RailHold": {"se_kpa": "lost_kpa"},
    "RailVerdict": {"se": "share"},
    "SessionChange": {"se": "difference"},
    "ScaledValue": {"se": "value"},
    "SpeedShown": {"se_kmh": "error_kmh"},
    "StarterLoss": {"se_v_per_100_a": "v_per_100_a"},
    "ThermostatVerdict": {"se_c": "start_off_c"},
    "TrimStanding": {"se_pct": "total_pct"},
}
"""Whose error it is, where the name alone does not say."""


@cache
def computations() -> dict[str, Callable[..., object]]:
    """Every public function of every module but the machinery, by ``module.function``."""
    found: dict[str, Callable[..., object]] = {}
    for one in pkgutil.iter_modules(knowngood.measure.__path__):
        module = importlib.import_module(f"knowngood.measure.{one.name}")
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if one.name not in MACHINERY and function.__module__ == module.__name__ and not name.startswith("_"):
                found[f"{one.name}.{name}"] = function
    return found


def without_se(name: str) -> str:
    """The name of a value from that of its standard error: ``drop_se_v`` is that of ``drop_v``."""
    return "_".join(part for part in name.split("_") if part != "se")


def is_se(name: str) -> bool:
    """Whether a name is that of a standard error."""
    return "se" in name.split("_")


def record_of(function: Callable[..., object]) -> type | None:
    """The record a function returns, alone or in a row."""
    gives = typing.get_type_hints(function)["return"]
    for one in (gives, *typing.get_args(gives)):
        if dataclasses.is_dataclass(one) and isinstance(one, type) and one is not Bracket:
            return one
    return None


def error_fields(record: type) -> dict[str, str]:
    """Standard error to value, by the fields of a record."""
    fields = [field.name for field in dataclasses.fields(record)]
    named = SE_OF.get(record.__name__, {})
    return {name: named.get(name, without_se(name)) for name in fields if is_se(name)}


def carries_error(function: Callable[..., object]) -> bool:
    """Whether a function gives a value with its standard error."""
    record = record_of(function)
    if record is not None:
        return bool(error_fields(record))
    gives = typing.get_type_hints(function)["return"]
    told = (inspect.getdoc(function) or "").split("Returns\n-------\n")[1].split("\n")[0]
    return gives == tuple[float, float] and bool(re.search(r", (factor_)?se :", told))


def gives_range(function: Callable[..., object]) -> bool:
    """Whether a function gives a range instead: a bracket, or a record that holds one or its two ends."""
    gives = typing.get_type_hints(function)["return"]
    record = record_of(function)
    if record is None:
        return gives is Bracket
    hints = typing.get_type_hints(record)
    return Bracket in hints.values() or any(name.startswith("low") for name in hints)


def gives_words(function: Callable[..., object]) -> bool:
    """Whether a function gives words, places or yes and no, and no quantity."""
    gives = typing.get_type_hints(function)["return"]
    record = record_of(function)
    told = list(typing.get_type_hints(record).values()) if record else [gives]
    words: tuple[object, ...] = (str, bool, int, tuple[str, ...], tuple[int, ...], tuple[int, int], int | None)
    return all(one in words for one in told) and told != [int]


def with_error() -> Iterator[tuple[str, Callable[..., object]]]:
    """The computations that give standard errors."""
    yield from ((name, function) for name, function in computations().items() if carries_error(function))


def bare() -> set[str]:
    """The computations that give a quantity with neither an error nor a range."""
    return {
        name
        for name, function in computations().items()
        if not (carries_error(function) or gives_range(function) or gives_words(function))
    }
