"""Measurements by topic: what can be worked out, and one worked out for whatever door asked."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import import_module

from knowngood.app.measuring_entry import doubts, entered, fill, read
from knowngood.app.measuring_shown import against, in_wanted_units
from knowngood.app.measuring_topic import OwnWindow, Topic, Verdict, Worked
from knowngood.errors import Problem, Refused
from knowngood.units import Quantity, read_quantity

FIELDS_OF_WORK = {
    "sealing": "Sealing",
    "ignition": "Ignition",
    "wiring": "Wiring",
    "supply": "Battery, charging, starter",
    "sensors": "Sensors",
    "mixture": "Mixture and air",
    "injectors": "Injectors and fuel",
    "cooling": "Cooling and oil",
    "counts": "Misfire counts and proof",
    "wheels": "Wheels, road, tightening",
}
"""Each has a module of its own; its heading, in the order they are listed."""


@cache
def groups() -> dict[str, tuple[Topic, ...]]:
    """The topics of each field of work, under its heading."""
    return {head: import_module(f"knowngood.app.measuring_{work}").TOPICS for work, head in FIELDS_OF_WORK.items()}


@cache
def topics() -> dict[str, Topic]:
    """Every topic by name, in the order they are listed."""
    return {topic.name: topic for held in groups().values() for topic in held}


def topic_named(name: str) -> Topic:
    """The topic of that name.

    Raises
    ------
    Refused
        There is none; the nearest one is offered.
    """
    found = topics().get(name.casefold())
    if found is None:
        raise Refused(Problem(f"There is no measurement '{name}'.", _nearest(name.casefold())))
    return found


def _nearest(word: str) -> str:
    """What may have been meant: a topic's beginning, a slip of the keys, a word of what a topic is about."""
    near = [name for name in topics() if len(word) > 2 and name.startswith(word)]
    near = near or difflib.get_close_matches(word, topics(), n=1, cutoff=0.7)
    near = near or [one.name for one in topics().values() if re.search(rf"\b{re.escape(word)}", one.says)]
    if not near:
        return "'knowngood measure' lists them."
    shown = [f"'{name}'" for name in near[:4]]
    return f"Did you mean {' or '.join([', '.join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)}?"


def measure(
    name: str,
    readings: Sequence[str],
    named: Mapping[str, Sequence[str]] | None = None,
    *,
    units: Mapping[str, str] | None = None,
    own: OwnWindow | None = None,
) -> Worked:
    """Work out one measurement from what was typed.

    Parameters
    ----------
    name : str
        Topic, one of `topics`.
    readings : sequence of str
        What is needed, in the order of the topic's fields, each in any usual unit.
    named : mapping of str to sequence of str, optional
        The rest by field; ``window`` is the window to judge by, such as ``0.9-1.1mm``.
    units : mapping of str to str, optional
        Name of the unit wanted for a kind of measurement: bare numbers are read in it, results are shown in it.
    own : OwnWindow, optional
        What the car is known to want, for when no window is entered.

    Returns
    -------
    Worked

    Raises
    ------
    Refused
        No such topic or field, something missing or left over, or a text that cannot be read.
    NotMeasurable
        The numbers cannot carry an answer.
    """
    topic = topic_named(name)
    others = {field.casefold(): texts for field, texts in (named or {}).items()}
    wanted = units or {}
    window = _window(topic, others.pop("window", None), wanted)
    texts = fill(topic, readings, others)
    given = read(topic, texts, wanted)
    outcome = topic.work(given)
    verdicts = list(outcome.verdicts)
    check = [*doubts(topic, given), *outcome.check]
    if window is None and own is not None and outcome.checked:
        verdicts += [against(own.window, one, own.source) for one in outcome.checked]
    if topic.window and window is None and not verdicts:
        check.append("No verdict without the car's own figures: add the window, LOW-HIGH with its unit.")
    if window is not None:
        verdicts += [against(window, one) for one in outcome.checked]
    return Worked(
        topic=topic.name,
        says=topic.says,
        entered=entered(topic, texts, given),
        formula=topic.formula,
        working=outcome.working,
        results=in_wanted_units(topic, outcome.results, wanted),
        verdicts=_without_repeats(verdicts),
        sources=topic.sources(),
        cannot_tell=topic.cannot_tell(),
        check=check,
        slips=list(topic.slips),
        cautions=list(topic.cautions),
    )


def _window(topic: Topic, texts: Sequence[str] | None, units: Mapping[str, str]) -> Quantity | None:
    if not texts:
        return None
    if not topic.window:
        raise Refused(Problem(f"{topic.name} takes no window.", f"It is typed so: knowngood measure {topic.usage}"))
    window = read_quantity(" ".join(texts), topic.window, prefer=units.get(topic.window, ""))
    if window.amount.sense not in ("range", "over", "under"):
        fix = "Type two ends such as 0.9-1.1mm, or one: 'under 0.5', 'over 9.6'."
        raise Refused(Problem(f"The window '{' '.join(texts)}' has no end.", fix))
    return window


def _without_repeats(verdicts: list[Verdict]) -> list[Verdict]:
    return list(dict.fromkeys(verdicts))
