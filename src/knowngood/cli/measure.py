"""``measure``: one measurement worked out, with formula, working, source and what it cannot tell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click
import msgspec

from knowngood.app.measuring import measure, topic_named, topics
from knowngood.app.measuring_entry import says
from knowngood.app.measuring_told import NO_BREAK, entered_lines, unparted, verdict_lines
from knowngood.app.measuring_topic import Topic, Worked
from knowngood.app.measuring_typed import split_options
from knowngood.app.settings import settings_in
from knowngood.cli.show import as_json, echo_lines, wrap

if TYPE_CHECKING:
    from knowngood.app.measuring_kept import Kept
    from knowngood.app.workshop import SaidLine

INDENT = "  "
HEAD = 13  # blanks before what stands under a heading such as "cannot tell"


@click.command(
    context_settings={"ignore_unknown_options": True},  # a reading may begin with a minus
    add_help_option=False,  # help of a TOPIC is that of the topic
    epilog="Examples: knowngood measure joint 0.42V 105A; knowngood measure compression 172 170 60 175 psi; "
    "knowngood measure gap .039in --window 0.9-1.1mm; "
    "knowngood measure compression 172 170 60 175 psi --for wagon; "
    "knowngood measure coil 0.62 --for wagon --place 'cylinder 3'",
)
@click.argument("topic", required=False)
@click.argument("readings", nargs=-1, type=click.UNPROCESSED)
@click.option("--for", "car", metavar="CAR", help="Keep the readings in the journal of this CAR as well.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.option("--help", "help_", is_flag=True, help="Show this, or how a TOPIC is typed.")
@click.pass_context
def measure_verb(
    ctx: click.Context, topic: str | None, readings: tuple[str, ...], car: str | None, json_: bool, help_: bool
) -> None:
    """Work out a measurement: READINGS of a TOPIC, in any usual unit.

    Without a TOPIC they are listed. --window LOW-HIGH judges by the car's own figures. With --for CAR,
    --place 'cylinder 3' says where one reading was taken.
    """
    if topic is None:
        if help_:
            click.echo(ctx.get_help())
        else:
            echo_lines(topic_lines())
        return
    if help_:
        echo_lines(usage_lines(topic_named(topic)))
        return
    ordered, named = split_options(readings, topic_named(topic))
    if car is not None:
        kept = _kept(ctx.obj, car, topic, ordered, named)
        if json_:
            click.echo(as_json({**msgspec.to_builtins(kept.worked), "kept": kept.said}))
        else:
            echo_lines([*worked_lines(kept.worked), *kept_lines(car, kept.said)])
        return
    worked = measure(topic, ordered, named, units=settings_in(ctx.obj).by_kind())
    if json_:
        click.echo(as_json(worked))
    else:
        echo_lines(worked_lines(worked))


def _kept(home: Path, car: str, topic: str, ordered: Sequence[str], named: Mapping[str, Sequence[str]]) -> Kept:
    from knowngood.app.measuring_kept import keep, must_be_known
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    must_be_known(topic_named(topic))
    with Workshop(home, load_for(home)) as workshop:
        return keep(workshop, car, topic, ordered, named)


def topic_lines() -> Iterator[str]:
    """All topics, one line each."""
    width = max(len(name) for name in topics()) + 2
    yield "What can be worked out: knowngood measure TOPIC READINGS"
    for topic in topics().values():
        yield wrap(topic.says, INDENT + " " * width, INDENT + topic.name.ljust(width))
    yield "How one is typed: knowngood measure TOPIC --help"


def usage_lines(topic: Topic) -> Iterator[str]:
    """How a topic is typed."""
    yield wrap(f"{topic.name}: {topic.says}")
    yield wrap(f"knowngood measure {topic.usage}", INDENT * 3, "Typed     ")
    width = max([len(one.name) for one in topic.fields] + [len("window") if topic.window else 0]) + 2
    for one in topic.fields:
        known = f" ({one.assumed} when left out)" if one.assumed else "" if one.needed else " (may be left out)"
        words = f": {', '.join(one.words)}" if one.words and one.says else ""
        yield wrap(f"{says(one)}{words}{known}", INDENT + " " * width, INDENT + one.name.ljust(width))
    if topic.window:
        yield wrap("the car's own figures: 0.9-1.1, 'over 9.6', 'under 0.5', with the unit", INDENT + " " * width,
                   INDENT + "window".ljust(width))  # fmt: skip
    yield wrap(topic.command, INDENT * 3, "Example   ")


def worked_lines(worked: Worked) -> Iterator[str]:
    """A measurement worked out, in 80 columns."""
    yield wrap(f"{worked.topic}: {worked.says}")
    yield from _section("Entered", entered_lines(worked.entered))
    yield from _section("Formula", [worked.formula])
    yield from _section("Working", [worked.working])
    yield from _section("Result", [f"{result.name}: {result.text}" for result in worked.results])
    yield from _section("Verdict", verdict_lines(worked.verdicts))
    yield from _section("Look again", worked.check)
    yield from _section("Cannot tell", worked.cannot_tell)
    yield from _section("Usual slips", ["; ".join(worked.slips)] if worked.slips else [])
    yield from _section("Caution", worked.cautions)
    yield from _section("Source", worked.sources)


def kept_lines(car: str, said: SaidLine) -> Iterator[str]:
    """What was kept in a car's journal: the line, and what was understood of it."""
    yield from _section("Kept", [f"for {car}: {said.text}", said.echo])
    if not said.counts:
        yield from _section("", [f"It does not count yet: {said.why}.", *([said.ask] if said.ask else [])])


def _section(name: str, texts: Sequence[str]) -> Iterator[str]:
    for number, text in enumerate(texts):
        yield _fold(text, " " * HEAD, f"{name if number == 0 else '':<{HEAD}}")


def _fold(text: str, indent: str, first: str) -> str:
    """Folded without parting a number from its unit."""
    return wrap(unparted(text), indent, first).replace(NO_BREAK, " ")
