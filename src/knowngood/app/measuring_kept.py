"""Readings of a measurement kept in a car's journal: the line each topic is written as.

A measurement feeds the belief through the same door as everything else that is said: as a line. Only topics whose
readings the library knows have one, and a line is kept only when all of it reads back as what was measured.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from knowngood.app.measuring import measure, topic_named
from knowngood.app.measuring_entry import Given, fill, is_open, read
from knowngood.app.measuring_own import own_window
from knowngood.app.measuring_topic import Topic, Worked
from knowngood.app.measuring_written import CURRENT, DROPS, KEPT, PRIMARY, SECONDARY, SIDES, Written
from knowngood.app.recent import recent_of
from knowngood.app.state import car_of
from knowngood.app.weigh import why_not
from knowngood.app.workshop import SaidLine, Workshop
from knowngood.errors import Problem, Refused
from knowngood.evidence import Note, Reading
from knowngood.jobs.store import Job
from knowngood.lines import Understood, read_line
from knowngood.measure.cooling import coolant_standing
from knowngood.units import Quantity, kind_named, show

IDLE_BELOW_RPM = 1200.0  # common practice, from memory: a warm engine idles well under it
_NUMBERED = {"cylinder": r"(?:cylinder|cyl\.?|c|#)?\s*(\d+)", "bank": r"(?:bank|b)?\s*(\d+)"}


@dataclass(frozen=True, slots=True)
class Kept:
    """A measurement worked out, and what became of its line."""

    worked: Worked
    said: SaidLine


def keep(
    workshop: Workshop,
    car: str,
    name: str,
    readings: Sequence[str],
    named: Mapping[str, Sequence[str]] | None = None,
    *,
    at: str = "",
) -> Kept:
    """Work out a measurement and keep its readings in a car's journal; they are on disk when this returns.

    Parameters
    ----------
    workshop : Workshop
    car : str
        Code or nickname.
    name, readings, named
        As for `measure`; ``place`` of ``named`` says where one reading was taken, such as ``cylinder 3``.
    at : str
        When it was measured, if not now.

    Raises
    ------
    Refused
        As `measure`; no such car; the library knows no reading of the topic; a place is missing or does not fit; the
        line does not read back as what was measured. Nothing was stored.
    NotMeasurable
        The numbers cannot carry an answer. Nothing was stored.
    """
    job = workshop.job(car)
    line, worked = as_said(workshop, job, name, readings, named)
    return Kept(worked, workshop.say(job.code, line, at=at))


def as_said(
    workshop: Workshop, job: Job, name: str, readings: Sequence[str], named: Mapping[str, Sequence[str]] | None = None
) -> tuple[str, Worked]:
    """The line a measurement would be kept as for a car, and the measurement; nothing is stored.

    Raises
    ------
    Refused, NotMeasurable
        As `keep`.
    """
    topic = topic_named(name)
    must_be_known(topic)
    others = {field.casefold(): list(texts) for field, texts in (named or {}).items()}
    place = " ".join(others.pop("place", [])) if topic.field("place") is None else ""
    units = workshop.settings().by_kind()
    entries = workshop.entries(job.code)
    car = car_of(entries)
    own = own_window(workshop.library, car, topic.name, others, units)
    worked = measure(name, readings, others, units=units, own=own)
    line, wanted = _line(topic, _given(topic, readings, others, units), worked, place, units)
    understood = read_line(line, car, workshop.library, recent_of(entries))
    _must_read(line, understood, wanted, job.nickname)
    return line, worked


def must_be_known(topic: Topic) -> None:
    """Whether the library knows a reading of the topic.

    Raises
    ------
    Refused
        It does not.
    """
    if topic.name not in KEPT:
        raise Refused(
            Problem(
                f"{topic.name} is not kept: it is no reading that suspects are weighed by.",
                f"Leave out --for. What is kept: {', '.join(KEPT)}.",
            )
        )


def line_of(name: str, readings: Sequence[str], named: Mapping[str, Sequence[str]], place: str = "") -> str:
    """The line a measurement is kept as, such as ``comp 172 170 60 175 psi``.

    Raises
    ------
    Refused, NotMeasurable
        As `keep`, without what depends on the car.
    """
    topic = topic_named(name)
    must_be_known(topic)
    return _line(topic, _given(topic, readings, named, {}), measure(name, readings, named), place, {})[0]


def _given(
    topic: Topic, readings: Sequence[str], named: Mapping[str, Sequence[str]], units: Mapping[str, str]
) -> Given:
    texts = fill(topic, readings, {name: texts for name, texts in named.items() if name != "window"})
    return read(topic, texts, units)


def _line(
    topic: Topic, given: Given, worked: Worked, place: str, units: Mapping[str, str]
) -> tuple[str, list[tuple[str, float]]]:
    """The line, and kind and value of each reading it must come to."""
    parts: list[str] = []
    wanted: list[tuple[str, float]] = []
    for one in _written(topic, given, place):
        numbers = _numbers(topic, one, given, worked, units)
        where = _where(topic, one, given, len(numbers), "" if topic.name == "starter" else place)
        parts.append(" ".join(text for text in (one.words, where, _row([text for text, _ in numbers])) if text))
        wanted += [(one.kind, value) for _, value in numbers if value is not None]
    return ", ".join(parts), wanted


def _written(topic: Topic, given: Given, place: str) -> list[Written]:
    """What is written of this measurement: the part that was measured, at what the engine did meanwhile."""
    if topic.name == "coil":
        return [_winding(given)]
    if topic.name == "starter":
        if place not in SIDES:
            fact = f"starter: '{place}' is no side of its circuit." if place else "starter: which side is not said."
            raise Refused(Problem(fact, f"Add {' or '.join(f'--place {side!r}' for side in SIDES)}."))
        return [SIDES[place], CURRENT]
    if topic.name in ("drop", "joint"):
        found = DROPS.get(given.word("place"))
        if found is None:
            path = f"'{given.word('place')}' is" if given.has("place") else "a drop without a place is"
            fact = f"{topic.name}: {path} no reading that suspects are weighed by."
            raise Refused(Problem(fact, f"Leave out --for. What is kept: {', '.join(DROPS)}."))
        return [found]
    if topic.name == "airflow" and given.value("speed", "rpm") > IDLE_BELOW_RPM:
        fact = f"airflow at {given.text('speed')} is not kept: suspects are weighed by the air flow at warm idle."
        raise Refused(Problem(fact, f"Measure it under {IDLE_BELOW_RPM:g} rpm, or leave out --for."))
    if topic.name == "coolant":
        word = coolant_standing(given.value("coolant"), given.value("time", "min"))
        if word == "still cold":
            fact = f"coolant after {given.text('time')} is not kept: the engine may be cold still."
            raise Refused(Problem(fact, "Measure it after 15 min or more, or leave out --for."))
    return [one for one in KEPT[topic.name] if given.has(one.field)]


def _winding(given: Given) -> Written:
    """Primary or secondary, by the resistance: their usual spans do not meet."""
    winding = given.readings["winding"][0]
    assert winding is not None
    for one in (PRIMARY, SECONDARY):
        low, high = kind_named(one.kind).usual
        if not is_open(winding) and low <= winding.value <= high:
            return one
    fact = f"coil: {given.text('winding')} may be of the primary or of the secondary."
    raise Refused(Problem(fact, "Leave out --for, and say it as a line: coil primary cylinder 3 open."))


def _numbers(
    topic: Topic, one: Written, given: Given, worked: Worked, units: Mapping[str, str]
) -> list[tuple[str, float | None]]:
    """Text and base value of each reading of a field; ``-`` and None where nothing was measured."""
    if topic.name == "leakdown":
        shares = [result.value or 0.0 for result in worked.results[: len(given.values("cylinder"))]]
        rounded = [round(min(100.0, max(0.0, share)), 1) for share in shares]
        return [(f"{share:.1f} %", share) for share in rounded]
    if topic.name == "coil" and given.has("leads"):
        ohms = round(given.value("winding") - given.value("leads"), 6)
        return [(f"{ohms:g} Ω", ohms)]
    row = given.readings[one.field]
    # Not left to be guessed again: beside an open line, which says nothing of the unit, or by the shop's own unit.
    sure = any(held is not None and (is_open(held) or held.kind in units) for held in row)
    return [("-", None) if held is None else _number(held, sure=sure) for held in row]


def _number(held: Quantity, *, sure: bool) -> tuple[str, float]:
    """As typed; a guessed unit is left to be guessed again, and a drop has no sign: swapped probes are no fault."""
    text = show(held).partition(" (")[0]
    symbol = kind_named(held.kind).unit(held.unit).symbol
    if held.guessed and not sure:
        text = text.removesuffix(symbol).rstrip()
    if held.kind == "trim" and held.amount.sense == "exact" and held.value >= 0.0:
        text = f"+{text}"
    if held.kind == "drop" and held.value < 0.0:
        return text.replace("-", "", 1), -held.value
    return text, held.value


def _row(texts: Sequence[str]) -> str:
    """A row of readings; a unit they share stands once, behind the last."""
    units = {text.rpartition(" ")[2] for text in texts if text != "-"}
    unit = next(iter(units)) if len(units) == 1 else ""
    if len(texts) < 2 or not unit or any(sign.isdigit() for sign in unit):
        return " ".join(texts)
    return f"{' '.join(text.removesuffix(' ' + unit) for text in texts)} {unit}"


def _where(topic: Topic, one: Written, given: Given, count: int, place: str) -> str:
    """The place to write, from what was typed."""
    if not one.place:
        if place:
            raise Refused(Problem(f"{topic.name} is read once in a car; '{place}' is no place of it.", _LEAVE_OUT))
        return ""
    if count > 1:
        if place:
            raise Refused(Problem(f"{topic.name}: {count} readings cannot all be of '{place}'.", _LEAVE_OUT))
        return ""
    if place:
        found = re.fullmatch(_NUMBERED[one.place], place.strip(), re.IGNORECASE)
        if found is None:
            raise Refused(Problem(f"{topic.name}: '{place}' is no {one.place}.", f"Type --place '{one.place} 1'."))
        if one.number and given.has("short2"):
            raise Refused(Problem(f"{topic.name}: both banks are given; '{place}' is one of them.", _LEAVE_OUT))
        return f"{one.place} {found.group(1)}"
    if one.number and (given.has("short2") or given.has("long2")):
        return f"{one.place} {one.number}"
    if one.place == "cylinder":
        raise Refused(Problem(f"{topic.name}: of which cylinder is not said.", "Add --place 'cylinder 3'."))
    return ""


_LEAVE_OUT = "Leave out --place."


def _must_read(line: str, understood: Understood, wanted: Sequence[tuple[str, float]], car: str) -> None:
    """Whether a line comes to what was measured, and to nothing else, for this car."""
    if understood.left or any(isinstance(body, Note) for body in understood.bodies):
        fix = understood.asks[0] if understood.asks else "Leave out --for."
        raise Refused(Problem(f"'{line}' cannot be kept for {car}: {why_not(understood)}.", fix))
    found = [(body.kind, body.value.number) for body in understood.bodies if isinstance(body, Reading) and body.value]
    same = len(found) == len(understood.bodies) == len(wanted) and all(
        kind == other and math.isclose(number, value, rel_tol=1e-9, abs_tol=1e-9)
        for (kind, number), (other, value) in zip(found, wanted, strict=True)
    )
    if not same:
        fact = f"'{line}' would be kept for {car} as {understood.echo}, which is not what was measured."
        raise Refused(Problem(fact, "Type the unit behind the readings."))
