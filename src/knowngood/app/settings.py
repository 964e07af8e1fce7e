"""How the workshop likes it: units, the word behind money, the hourly rate, day or night."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.evidence import Entry, Setting
from knowngood.planner.problem import RATE_PER_HOUR
from knowngood.units import kind_named, kinds, parse_number

LONGEST_WORD = 12
AS_TYPED = "as typed"
UNITS = {
    "compression": (("compression",), ("psi", "bar", "kPa")),
    "pressure": (("pressure",), ("psi", "bar", "kPa")),
    "temperature": (("temperature",), ("degC", "degF")),
    "gap": (("gap", "lash"), ("mm", "in")),
    "air flow": (("air_flow",), ("g/s", "kg/h", "lb/min")),
}
"""Setting -> the kinds of measurement it speaks of (a kind, else its family), and the units there are to choose."""
NAMES = {
    "compression": "Compression in",
    "pressure": "Other pressures in",
    "temperature": "Temperature in",
    "gap": "Gaps and clearances in",
    "air flow": "Air flow in",
    "currency": "The word behind money",
    "rate": "Your hour is worth",
    "night": "Light on dark",
}


@dataclass(frozen=True)
class Settings:
    """What holds for the whole workshop.

    Parameters
    ----------
    units : dict setting -> name of a unit
        Those that were chosen; a kind that is not among them is shown as it was typed.
    currency : str
        Stands behind money; may be empty.
    rate_per_hour : float [money/h]
    night : bool
        Light on dark on screens that say nothing else.
    """

    units: dict[str, str] = field(default_factory=dict)
    currency: str = ""
    rate_per_hour: float = RATE_PER_HOUR
    night: bool = False

    def unit_of(self, quantity: str) -> str:
        """The unit a kind of measurement is wanted in; empty where none was chosen."""
        kind = kinds().get(quantity)
        if kind is None:
            return ""
        for name in (quantity, kind.family):
            for setting, (of, _) in UNITS.items():
                if name in of and setting in self.units:
                    return self.units[setting]
        return ""

    def by_kind(self) -> dict[str, str]:
        """The unit wanted for each kind of measurement that one was chosen for."""
        wanted = {name: self.unit_of(name) for name in kinds()} if self.units else {}
        return {name: unit for name, unit in wanted.items() if unit}

    def said(self, name: str) -> str:
        """A setting as it is typed."""
        if name in UNITS:
            return self.units.get(name, AS_TYPED)
        plain = {"currency": self.currency, "rate": f"{self.rate_per_hour:g}", "night": "yes" if self.night else "no"}
        return plain[name]


def settings_of(entries: Iterable[Entry]) -> Settings:
    """The settings of standing entries in time order."""
    said = {entry.body.name: entry.body.value for entry in entries if isinstance(entry.body, Setting)}
    return Settings(
        units={name: said[name] for name in UNITS if said.get(name, AS_TYPED) != AS_TYPED},
        currency=said.get("currency", ""),
        rate_per_hour=float(said.get("rate", RATE_PER_HOUR)),
        night=said.get("night") == "yes",
    )


def settings_in(folder: Path) -> Settings:
    """The settings of the workshop in a folder; none are chosen where there is no workshop, and none is made.

    A workshop that cannot be read is told of by whatever needs it: a measurement can be worked out without.
    """
    from knowngood.jobs.disk import FILE  # late: the store is slow to load, and most folders hold none yet

    if not (folder / FILE).exists():
        return Settings()
    from knowngood.jobs.admission import SHOP
    from knowngood.jobs.fold import standing
    from knowngood.jobs.store import Store

    try:
        with Store.open(folder) as store:
            return settings_of(standing(row.entry() for row in store.kept(SHOP)))
    except KnownGoodError:
        return Settings()


def setting(name: str, value: str) -> Setting:
    """A setting as it was typed, checked.

    Raises
    ------
    Refused
        There is no such setting, or it cannot be set to that.
    """
    name, value = setting_named(name), " ".join(value.split())
    if name in UNITS:
        return Setting(name, _unit(name, value))
    if name == "currency":
        return Setting(name, _word(value))
    if name == "rate":
        return Setting(name, _rate(value))
    if value not in ("yes", "no"):
        raise Refused(Problem(f"Night is yes or no; '{value}' was typed.", "Type yes or no."))
    return Setting(name, value)


def setting_named(typed: str) -> str:
    """The name of a setting as it is kept, however it was typed.

    Raises
    ------
    Refused
        There is no such setting.
    """
    name = typed.strip().lower().replace("_", " ")
    if name not in NAMES:
        raise Refused(Problem(f"There is no setting '{name}'.", f"Settings: {', '.join(NAMES)}."))
    return name


def _unit(name: str, value: str) -> str:
    kind, choice = kind_named(UNITS[name][0][0]), UNITS[name][1]
    if value == AS_TYPED:
        return value
    found = next((unit.name for unit in kind.spelled(value) if unit.name in choice), "")
    if not found:
        raise Refused(Problem(f"'{value}' is no unit {name} is shown in.", f"Units: {', '.join((*choice, AS_TYPED))}."))
    return found


def _word(value: str) -> str:
    if len(value) > LONGEST_WORD or any(sign.isdigit() or not sign.isprintable() for sign in value):
        fact = f"'{value}' is no word to stand behind money."
        raise Refused(Problem(fact, f"Type up to {LONGEST_WORD} letters or signs, without digits."))
    return value


def _rate(value: str) -> str:
    number = parse_number(value).value
    if not math.isfinite(number) or not 0.0 <= number <= 1e5:
        raise Refused(Problem(f"An hour cannot be worth {value}.", "Type the money of an hour, 0 to 100000."))
    return f"{number:g}"


@dataclass(frozen=True)
class SettingView:
    """A setting as a form shows it: its name, its label, what it is now, what there is to choose (none: to type)."""

    name: str
    label: str
    now: str
    choice: tuple[tuple[str, str], ...] = ()


def settings_view(settings: Settings) -> list[SettingView]:
    """Every setting, in the order they are shown."""
    return [SettingView(name, label, settings.said(name), _choice(name)) for name, label in NAMES.items()]


def _choice(name: str) -> tuple[tuple[str, str], ...]:
    if name == "night":
        return (("no", "no"), ("yes", "yes"))
    if name not in UNITS:
        return ()
    units = kind_named(UNITS[name][0][0]).units
    return ((AS_TYPED, AS_TYPED), *((unit, units[unit].symbol or unit) for unit in UNITS[name][1]))


def sums_words(settings: Settings) -> str:
    """What sums are in, as long as money has no word; empty when it has one.

    >>> sums_words(Settings())
    'Sums are in your own money, an hour of work counted as 40: both can be set.'
    """
    if settings.currency:
        return ""
    return f"Sums are in your own money, an hour of work counted as {settings.rate_per_hour:g}: both can be set."
