"""Kinds of measurement and their lawful units, read once from ``kinds.toml``."""

from __future__ import annotations

import os.path
import unicodedata
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from knowngood.errors import Problem, Refused


@dataclass(frozen=True, slots=True)
class Unit:
    """A lawful unit of a kind: ``base = factor * (typed - zero)``; ``also`` names the unit shown in brackets behind."""

    name: str
    symbol: str
    factor: float
    zero: float
    also: str
    spellings: tuple[str, ...]

    def to_base(self, typed: float) -> float:
        """Value in the kind's base unit of a value in this unit."""
        return self.factor * (typed - self.zero)

    def from_base(self, value: float) -> float:
        """Value in this unit of a value in the kind's base unit."""
        return value / self.factor + self.zero


@dataclass(frozen=True, slots=True)
class Guess:
    """A bare number between ``low`` and ``high`` (in that unit) most likely means this unit."""

    unit: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Kind:
    """What is measured, and how it is typed.

    Parameters
    ----------
    name, says : str
        Id, and what it is in a few words.
    base : str
        Name of the unit values are kept in.
    family : str
        The kind it takes its units from; itself when none.
    usual : (float, float)
        Base units. Outside is kept and asked back, never dropped.
    bare : str
        Name of the unit a number without one lawfully has; empty when it has to be guessed.
    guesses : tuple of Guess
        Tried in order for a bare number.
    open_line : (float, str) or None
        What "open" and "OL" stand for: over this many of that unit.
    whole : bool
        Readings have no decimals, so that a comma in them parts thousands.
    units : dict
        By name, in the order of the file.
    exact, folded : dict
        Spelling -> names of units, as typed, and in either case without blanks.
    """

    name: str
    says: str
    base: str
    family: str
    usual: tuple[float, float]
    bare: str
    guesses: tuple[Guess, ...]
    open_line: tuple[float, str] | None
    whole: bool
    units: dict[str, Unit] = field(hash=False)
    exact: dict[str, tuple[str, ...]] = field(hash=False, repr=False)
    folded: dict[str, tuple[str, ...]] = field(hash=False, repr=False)

    def unit(self, name: str) -> Unit:
        """Return the unit of that name.

        Raises
        ------
        Refused
            The kind has no such unit.
        """
        found = self.units.get(name)
        if found is None:
            raise Refused(f"'{name}' is no unit of {self.name}.", f"Units that are: {', '.join(self.units)}.")
        return found

    @property
    def zero_is_none(self) -> bool:
        """Whether zero is none of it in every unit; of a temperature it is not."""
        return all(unit.zero == 0.0 for unit in self.units.values())

    def spelled(self, text: str) -> tuple[Unit, ...]:
        """Units a typed spelling may mean: exact case first, then either case; empty when none."""
        plain = unicodedata.normalize("NFKC", text).strip()
        names = self.exact.get(plain) or self.folded.get(_folded(plain)) or ()
        return tuple(self.units[name] for name in names)


def _folded(spelling: str) -> str:
    return spelling.casefold().replace(" ", "")


def _lookup(units: dict[str, Unit], fold: bool) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for unit in units.values():
        for spelling in (unit.name, unit.symbol, *unit.spellings):
            plain = unicodedata.normalize("NFKC", spelling)
            names = found.setdefault(_folded(plain) if fold else plain, [])
            if plain and unit.name not in names:
                names.append(unit.name)
    return {spelling: tuple(names) for spelling, names in found.items() if names}


def _build(name: str, table: dict[str, Any], tables: dict[str, Any]) -> Kind:
    parent = tables[table["like"]] if "like" in table else {}
    own_guess = "guess" in table or "bare" in table
    merged = {**{key: value for key, value in parent.items() if not (own_guess and key in ("guess", "bare"))}, **table}
    units = {
        key: Unit(
            key,
            unit.get("symbol", key),
            float(unit["factor"]),
            float(unit.get("zero", 0.0)),
            unit.get("also", ""),
            tuple(unit.get("spell", ())),
        )
        for key, unit in merged["unit"].items()
    }
    opened = merged.get("open")
    return Kind(
        name=name,
        says=merged["says"],
        base=merged["base"],
        family=table.get("like", name),
        usual=(float(merged["usual"][0]), float(merged["usual"][1])),
        bare=merged.get("bare", ""),
        guesses=tuple(Guess(unit, float(low), float(high)) for unit, low, high in merged.get("guess", ())),
        open_line=(float(opened[0]), str(opened[1])) if opened else None,
        whole=bool(merged.get("whole", False)),
        units=units,
        exact=_lookup(units, fold=False),
        folded=_lookup(units, fold=True),
    )


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of measurement by name, in the order of the file."""
    import tomllib  # late: no door needs the table before the first number is read

    with open(os.path.join(os.path.dirname(__file__), "kinds.toml"), "rb") as file:
        tables = tomllib.load(file)
    return {name: _build(name, table, tables) for name, table in tables.items()}


def kind_named(name: str) -> Kind:
    """Return the kind of that name.

    Raises
    ------
    Refused
        No kind has this name; the nearest one is offered.
    """
    found = kinds().get(name)
    if found is None:
        import difflib

        near = difflib.get_close_matches(name, list(kinds()), n=1)
        fix = f"Did you mean '{near[0]}'?" if near else f"Kinds: {', '.join(kinds())}."
        raise Refused(Problem(f"no kind of measurement is called '{name}'.", fix))
    return found
