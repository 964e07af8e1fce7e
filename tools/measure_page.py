"""The topics of measurement as a page of the reference; `make golden` writes it, a test keeps it fresh."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.app.measuring import groups, topics
from knowngood.app.measuring_entry import says
from knowngood.app.measuring_topic import Topic

INTRO = """# Measurements

`knowngood measure TOPIC READINGS` works one measurement out: what was understood, formula, working, result with its
standard error, verdict against the window entered and against the row, what to look at again, what it cannot tell,
usual slips, cautions, source. `knowngood measure` lists the topics, `knowngood measure TOPIC --help` says how one is
typed.

Readings are typed in any usual unit, with comma or point; a bare number gets the unit it is most likely in, shown as
guessed. `--window 0.9-1.1mm` judges by the car's own figures (`under 0.5`, `over 9.6` for one end). `OL` is an open
line, `-` in a row a place that was not measured. `--for CAR` keeps the readings in that car's journal. Where units were
chosen with `knowngood settings`, bare numbers are read in them, and results stand in them.

[The same on the bay page](../guides/bay-page.md#a-measurement-worked-out).

[How errors are carried](../explanation/measurements.md).
"""


def page() -> str:
    """The whole page."""
    return "\n".join([INTRO, *_sections()]) + "\n"


def _sections() -> Iterator[str]:
    yield f"There are {len(topics())} topics."
    for head, held in groups().items():
        yield f"\n## {head}\n"
        yield from (line for topic in held for line in _topic(topic))


def _topic(topic: Topic) -> Iterator[str]:
    yield f"### `{topic.name}`\n"
    yield f"{topic.says[0].upper()}{topic.says[1:]}.\n"
    yield f"- Typed: `{topic.usage}`"
    yield f"- Readings: {'; '.join(f'`{one.name}` {says(one)}' for one in topic.fields)}."
    yield f"- Example: `{topic.command}`"
    yield f"- Formula: {topic.formula}."
    yield "- Source: " + "; ".join(source.rstrip(".") for source in topic.sources()) + "."
    yield f"- Cannot tell: {' '.join(text[0].upper() + text[1:] for text in topic.cannot_tell())}\n"
