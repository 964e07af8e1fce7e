"""What the journal of a car would take of a measurement: its line, the place still to be said, or why it takes none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from knowngood.app.measuring import topic_named
from knowngood.app.measuring_kept import as_said
from knowngood.app.measuring_written import DROPS, KEPT, SIDES
from knowngood.app.state import car_of
from knowngood.app.step_form import StepForm
from knowngood.app.workshop import Workshop
from knowngood.car import Layout, layout_of
from knowngood.errors import KnownGoodError
from knowngood.jobs.store import Job


@dataclass(frozen=True)
class Offer:
    """What can be kept.

    Parameters
    ----------
    line : str
        As the journal would have it; empty where it would take nothing.
    ask : str
        What is still to be said, over ``places``; empty where nothing is.
    places : tuple of str
        To choose from.
    why_not : str
        Why nothing can be kept.
    """

    line: str = ""
    ask: str = ""
    places: tuple[str, ...] = ()
    why_not: str = ""


def offer(workshop: Workshop, job: Job, name: str, named: Mapping[str, Sequence[str]], place: str = "") -> Offer:
    """What the journal would take of a measurement that can be worked out; nothing is stored."""
    if name not in KEPT:
        return Offer(why_not="suspects are not weighed by it.")
    ask, places = ("", ()) if place else _asked(name, named, layout_of(car_of(workshop.entries(job.code))))
    tried = place or (places[0] if places else "")
    try:
        line, _ = as_said(workshop, job, name, [], {**named, "place": [tried]} if tried else named)
    except KnownGoodError as error:
        problem = error.problems[0]
        fixes = [one for one in problem.fix.split(". ") if "--" not in one]
        return Offer(why_not=" ".join([problem.fact, *fixes]))
    return Offer("" if ask else line, ask, places)


def _asked(name: str, named: Mapping[str, Sequence[str]], layout: Layout) -> tuple[str, tuple[str, ...]]:
    """What the line still wants to know, and what there is to choose from."""
    if name == "starter":
        return "Which side was it?", tuple(SIDES)
    if topic_named(name).field("place") is not None:
        return "", ()
    one = KEPT[name][0]
    if one.place == "cylinder" and len(named.get(one.field, ())) == 1:
        return "Which cylinder was it?", tuple(f"cylinder {number}" for number in layout.numbers())
    if one.place == "bank" and len(layout.banks) > 1 and not {"short2", "long2"} & set(named):
        return "Which bank was it?", tuple(f"bank {number}" for number in range(1, len(layout.banks) + 1))
    return "", ()


@dataclass(frozen=True)
class WorkedBy:
    """A topic that works a reading of the library out: its name, what it is, the place where it asks for one."""

    name: str
    says: str
    place: str = ""


def worked_by(form: StepForm) -> WorkedBy | None:
    """The topic that works out the numbers a step asks for; none where it asks for no number that one takes."""
    kinds = [question.kind for question in form.questions]
    drops = [place for place, one in DROPS.items() if one.kind in kinds]
    taken = [name for kind in kinds for name, written in KEPT.items() if any(one.kind == kind for one in written)]
    name = "drop" if drops else taken[0] if taken else ""
    return WorkedBy(name, topic_named(name).says, drops[0] if len(drops) == 1 else "") if name else None
