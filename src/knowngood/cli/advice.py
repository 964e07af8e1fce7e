"""``suspects``, ``next`` and ``why``."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click
import msgspec

from knowngood.app.answer import Answer, Suspect
from knowngood.app.whereabouts import how_likely, places_beside, where
from knowngood.cli.show import (
    ALIKE,
    ASKED,
    NOTHING_TO_DO,
    REFUSED,
    as_json,
    echo_lines,
    leading_sentence,
    next_lines,
    opened,
    suspect_lines,
    wrap,
)
from knowngood.errors import Problem, Refused
from knowngood.sheets.words import signed

if TYPE_CHECKING:
    from knowngood.app.state import State
    from knowngood.planner.rollout import Played


NOT_TOLD = (
    "A line with ? bears on it; how far is not known: so much hangs on it that without it too few of the worked-out "
    "cars are left."
)


def _answer(home: Path, car: str) -> Answer:
    workshop = opened(home)
    return workshop.answer(workshop.job(car).code)


def _thought_over(answer: Answer, state: State, seconds: float) -> tuple[Answer, str]:
    """The answer with its steps played through, and what that changed."""
    from knowngood.app.refined import refined

    told = refined(state, seconds, heard=_played_on_the_side)
    if sys.stderr.isatty():
        click.echo("", err=True)
    if told is None:
        return answer, ""
    return msgspec.structs.replace(answer, next=told.steps), told.changed


def _played_on_the_side(played: Played) -> None:
    """How far it is, on a terminal, in one line that is written over."""
    if sys.stderr.isatty():
        click.echo(f"\rplaying it through: {played.done} points, {played.waiting} to go  ", nl=False, err=True)


@click.command(epilog="Example: knowngood suspects wagon")
@click.argument("car")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def suspects_verb(home: Path, car: str, json_: bool) -> None:
    """What is likely wrong with a CAR, and which lines say so."""
    answer = _answer(home, car)
    if json_:
        click.echo(as_json({"suspects": answer.suspects, "unlisted": answer.unlisted, "surprises": answer.surprises}))
        return
    click.echo(wrap(leading_sentence(answer)))
    echo_lines(suspect_lines(answer))
    for surprise in answer.surprises:
        click.echo(wrap(surprise))


@click.command(epilog="Example: knowngood next wagon")
@click.argument("car")
@click.option("--think", type=float, default=0.0, help="Play the leading steps through for so many seconds.")
@click.option("--all", "full", is_flag=True, help="Five steps at length, with every answer and caution.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def next_verb(home: Path, car: str, think: float, full: bool, json_: bool) -> None:
    """What to do next on a CAR: what, where, how long, why, and what each answer leads to."""
    from knowngood.app.service import base_service, service_offer
    from knowngood.app.told_gone import GONE, told_gone

    workshop = opened(home)
    code = workshop.job(car).code
    answer, changed, state = workshop.answer(code), "", workshop.state(code)
    if think > 0:
        answer, changed = _thought_over(answer, state, think)
    gone = GONE if told_gone(state.entries, workshop.library) else ""
    offer = service_offer(state, base_service(state))
    if json_:
        said = {"next": answer.next, "alike": answer.alike, "asks": answer.asks, "refused": answer.refused}
        click.echo(as_json({**said, "gone": gone, "thought_over": changed, "service": offer}))
        return
    if gone:
        click.echo(wrap(f"{gone} Prove it: knowngood proof {car}. What follows may be wrong all the same."))
    if not answer.next:
        click.echo(wrap(NOTHING_TO_DO))
    if changed:
        click.echo(wrap(changed))
    echo_lines(next_lines(answer, full=full, most=5))
    for refusal in answer.refused[:REFUSED]:
        click.echo(wrap(refusal))
    for pair in answer.alike[:ALIKE]:
        click.echo(wrap(pair.said))
    for ask in answer.asks[:ASKED]:
        click.echo(wrap(f"Tell me: {ask}"))
    if offer:
        click.echo(wrap(offer))


@click.command(epilog="Example: knowngood why wagon coil")
@click.argument("car")
@click.argument("suspect", required=False, default="")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def why_verb(home: Path, car: str, suspect: str, json_: bool) -> None:
    """How each line moved a SUSPECT (its number in the list, or a word of its name; the first if none is said)."""
    answer = _answer(home, car)
    found = _find(answer, suspect)
    if json_:
        click.echo(as_json(found))
        return
    click.echo(wrap(f"{found.name}{where(found)}: {how_likely(found)}. {found.what}"))
    if places := places_beside(found):
        click.echo(wrap("There: " + ", ".join(places)))
    click.echo("Points are 10 log10 of the odds: +3 doubles them, +10 makes them ten times as much.")
    for because in found.because:
        weight = "found" if because.settled else signed(because.weight)
        click.echo(wrap(f"{weight:>7}  line {because.line}: {because.text}", indent=" " * 9))
    for one in found.unweighed:
        click.echo(wrap(f"{'?':>7}  line {one.line}: {one.text}", indent=" " * 9))
    for told in found.story:
        click.echo(wrap(f"{signed(told.weight):>7}  from the start: {told.text}", indent=" " * 9))
    if found.unweighed:
        click.echo(wrap(NOT_TOLD))


def _find(answer: Answer, wanted: str) -> Suspect:
    if not answer.suspects:
        raise Refused(Problem("There is no suspect yet.", "Say what the car does."))
    if wanted.isdecimal() and len(wanted) < 5 and 1 <= int(wanted) <= len(answer.suspects):
        return answer.suspects[int(wanted) - 1]
    for suspect in answer.suspects:
        kinds = " ".join(f"{kind.fault} {kind.name}" for kind in suspect.kinds)
        if wanted.lower() in f"{suspect.name} {suspect.fault} {suspect.part} {kinds}".lower():
            return suspect
    names = ", ".join(suspect.name for suspect in answer.suspects[:6])
    raise Refused(Problem(f"No suspect has {wanted!r} in its name.", f"Leading ones: {names}."))
