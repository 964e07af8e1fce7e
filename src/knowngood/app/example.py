"""The example car, told line by line."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from knowngood.app.workshop import SaidLine, Workshop
from knowngood.library.records import Library

NICKNAME = "barn six"
BEFORE_WORK = "work"


def example_lines(until: str = "") -> list[str]:
    """The lines of the example, up to the stage named ``until`` (all of them when empty)."""
    text = files("knowngood.app").joinpath("example.txt").read_text(encoding="utf-8")
    result = []
    for line in text.splitlines():
        if line.startswith("== "):
            if until and line[3:].strip() == until:
                break
        elif line.strip() and not line.startswith("#"):
            result.append(line)
    return result


def tell_example(folder: Path, library: Library, until: str = BEFORE_WORK) -> tuple[str, list[SaidLine]]:
    """Tell the example into a workshop folder; a car of its name that is there already is taken as told.

    Returns
    -------
    code, said
        Of the job; ``said`` is empty when it was there.
    """
    with Workshop(folder, library) as workshop:
        there = [job for job in workshop.jobs() if job.nickname == NICKNAME]
        if there:
            return there[0].code, []
        job = workshop.new(NICKNAME)
        return job.code, [workshop.say(job.code, line) for line in example_lines(until)]
