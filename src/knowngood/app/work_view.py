"""The work of a car as its page shows it: parts by where they stand with the next tap, sums, what comes off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.answer import Answer
from knowngood.app.apart import field_of, name_of, now_apart
from knowngood.app.bench import WorkSheet, work_of
from knowngood.app.clock import clock_words
from knowngood.app.money import (
    ARRIVED,
    FITTED,
    ORDERED,
    RETURNED,
    WANTED,
    Money,
    PartLine,
    money_of,
    money_words,
    part_words,
    parts_of,
)
from knowngood.app.service import base_service, service_words
from knowngood.app.state import State
from knowngood.car import ENGINE
from knowngood.evidence import Entry

STAGES = (
    (ARRIVED, "Here, to be fitted"),
    (ORDERED, "Ordered"),
    (WANTED, "To be ordered"),
    (FITTED, "Fitted"),
    (RETURNED, "Sent back"),
)
NEXT = {WANTED: ("ordered", "Ordered it"), ORDERED: ("arrived", "It has come"), ARRIVED: ("returned", "Sent it back")}


@dataclass(frozen=True)
class PartView:
    """A part and what one tap does with it.

    Parameters
    ----------
    words : str
        ``ignition coil: 38, from the breaker``.
    tap, button : str
        The field that moves it on, and what the button says; empty where nothing is left to do.
    asks_price : bool
        No price was said yet.
    fit : tuple of (field, label)
        Where it can be fitted.
    count : int
        Pieces that the tap moves on.
    """

    words: str
    tap: str = ""
    button: str = ""
    asks_price: bool = False
    fit: tuple[tuple[str, str], ...] = ()
    count: int = 1


@dataclass(frozen=True)
class WorkView:
    """Work, parts by stage, sums, the one that says to stop, whether parts were bought, the service, the clock.

    ``apart``: field and name of what is off now; ``to_come_off``: of what the next steps want off.
    """

    sheet: WorkSheet
    parts: tuple[tuple[str, tuple[PartView, ...]], ...]
    money: tuple[str, ...]
    stop: str
    bought: bool
    service: tuple[str, ...]
    clock: tuple[str, ...] = ()
    clock_runs: bool = False
    apart: tuple[tuple[str, str], ...] = ()
    to_come_off: tuple[tuple[str, str], ...] = ()


def work_view(state: State, answer: Answer, now: Sequence[Entry]) -> WorkView:
    """Everything the page of work shows.

    Parameters
    ----------
    now : sequence of Entry
        All that stands, of which the answer may not know yet: parts are where these say.
    """
    told, lines = money_of(state, answer), parts_of(state.library, now)
    groups = tuple(
        (heading, tuple(_part(state, line) for line in lines if line.stage == stage)) for stage, heading in STAGES
    )
    words = money_words(told, state.car.price_paid)
    sheet, apart = work_of(state), now_apart(state.library, now)
    to_come_off = dict.fromkeys(
        (field_of(one), name_of(state.library, one)) for step in answer.next for one in step.off
    )
    return WorkView(
        sheet,
        tuple((heading, parts) for heading, parts in groups if parts),
        tuple(line for line in words if not _said_again(told, line)),
        told.verdict if told.stop else "",
        bool(told.spent or told.promised),
        tuple(service_words(base_service(state), state.settings.rate_per_hour)),
        tuple(clock_words(session) for session in sheet.sessions),
        any(not session.end for session in sheet.sessions),
        apart,
        tuple(one for one in to_come_off if one not in apart),
    )


def _said_again(told: Money, line: str) -> bool:
    """What the verdict says anyway; and the verdict, where it is to stop and stands alone."""
    return bool(told.verdict) and (
        line.startswith("Expected for the whole car") or (told.stop and line == told.verdict)
    )


def _part(state: State, line: PartLine) -> PartView:
    words = part_words(line).replace(f": {line.stage}", "", 1)
    if line.part not in state.library.parts or line.stage not in NEXT:
        return PartView(words)
    stage, button = NEXT[line.stage]
    fit = _where(state, line.part) if line.stage == ARRIVED else ()
    asks_price = line.price is None and line.stage != ARRIVED
    return PartView(words, f"stock|{stage}|{line.part}", button, asks_price, fit, line.count)


def _where(state: State, part: str) -> tuple[tuple[str, str], ...]:
    """The places a part can be fitted at, each with the field that says so."""
    places = state.layout.places(state.library.parts[part].place) or (ENGINE,)  # fitted to a car that is told wrong
    return tuple((f"work|replaced|{part}|{place}", str(place).removeprefix("cylinder ")) for place in places)
