"""``library``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from knowngood.cli.show import as_json, wrap
from knowngood.errors import Problem, Refused

if TYPE_CHECKING:
    from knowngood.library.records import Library


@click.command(epilog="Examples: knowngood library; knowngood library coil; knowngood library --check my-folder")
@click.argument("words", nargs=-1)
@click.option("--check", "folder", type=click.Path(path_type=Path), default=None, help="A shop's own folder to check.")
@click.option("--alike", is_flag=True, help="Faults that no check tells apart, and what that costs.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
def library_verb(words: tuple[str, ...], folder: Path | None, alike: bool, json_: bool) -> None:
    """What the program knows: how much, or the faults and checks that WORDS name."""
    from knowngood.app.knowledge import seen_by
    from knowngood.library.load import load

    library = load(folder) if folder is not None else load()
    if alike:
        _show_alike(library, json_)
        return
    wanted = " ".join(words).lower()
    if not wanted:
        counts = {
            "faults": len(library.faults),
            "readings": len(library.readings),
            "checks": len(library.checks),
            "codes": len(library.codes),
            "parts": len(library.parts),
            "access steps": len(library.access),
        }
        click.echo(as_json(counts) if json_ else ", ".join(f"{number} {name}" for name, number in counts.items()))
        return
    faults = [one for one in library.faults.values() if wanted in f"{one.id} {one.name} {' '.join(one.words)}".lower()]
    checks = [one for one in library.checks.values() if wanted in f"{one.id} {one.name}".lower()]
    if not faults and not checks:
        raise Refused(Problem(f"Nothing here is called {wanted!r}.", "Try a shorter word, a part or a symptom."))
    if json_:
        click.echo(as_json({"faults": faults, "checks": checks}))
        return
    for fault in faults[:20]:
        chance = fault.chance
        click.echo(wrap(f"{fault.name} ({fault.id}), at each {fault.place}"))
        count = f"{chance.per_1000:g} in 1,000 neglected cars ({chance.low:g} to {chance.high:g}, {chance.source})"
        click.echo(wrap(f"{fault.what} {count}.", "    "))
        seen = ", ".join(check.name for check in seen_by(library, fault)[:6])
        click.echo(wrap(f"seen by: {seen}", "    "))
    for check in checks[:20]:
        click.echo(wrap(f"{check.name} ({check.id}): {check.minutes:g} min. {check.how} {check.cannot}"))


def _show_alike(library: Library, json_: bool, most: int = 20) -> None:
    from knowngood.app.alike import alike_in_library

    pairs = alike_in_library(library)
    if json_:
        click.echo(as_json(pairs))
        return
    click.echo(wrap(f"{len(pairs)} pairs of faults that no check tells apart (three times as likely, at least)."))
    for pair in pairs[:most]:
        click.echo(wrap(pair.said, indent="   ", first=" - "))
