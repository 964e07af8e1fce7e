"""``library``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
import msgspec

from knowngood.cli.show import as_json, echo_lines, wrap
from knowngood.errors import Problem, Refused

if TYPE_CHECKING:
    from knowngood.app.explain import Explained
    from knowngood.library.records import Library

MOST_FOUND, MOST_ALIKE = 40, 20


@click.command(
    epilog="Examples: knowngood library coil; knowngood library coil_dead; knowngood library --list checks; "
    "knowngood library --seen; knowngood library --check my-folder"
)
@click.argument("words", nargs=-1)
@click.option("--list", "place", metavar="KIND", default="", help="All records of a kind: faults, checks, access, ...")
@click.option("--seen", is_flag=True, help="Faults no check can see, and faults that only one can.")
@click.option("--alike", is_flag=True, help="Faults that no check tells apart, and what that costs.")
@click.option("--check", "folder", type=click.Path(path_type=Path), default=None, help="A shop's own folder to check.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def library_verb(
    home: Path, words: tuple[str, ...], place: str, seen: bool, alike: bool, folder: Path | None, json_: bool
) -> None:
    """What the program knows: how much, what WORDS find, or the page of one record."""
    from knowngood.library.load import load, load_for

    library = load(folder) if folder is not None else load_for(home)
    if alike:
        _show_alike(library, json_)
    elif seen:
        _show_seen(library, json_)
    elif place:
        _show_list(library, place, json_)
    elif words:
        _show_found(library, " ".join(words), json_)
    else:
        _show_counts(library, json_, checked=folder is not None)


def _show_counts(library: Library, json_: bool, *, checked: bool) -> None:
    counts = {
        "faults": len(library.faults),
        "readings": len(library.readings),
        "checks": len(library.checks),
        "codes": len(library.codes),
        "parts": len(library.parts),
        "access steps": len(library.access),
    }
    if json_:
        click.echo(as_json({**counts, "mistakes": 0} if checked else counts))
        return
    told = ", ".join(f"{number} {name}" for name, number in counts.items())
    click.echo(f"{told}; no mistakes" if checked else told)


def _show_list(library: Library, place: str, json_: bool) -> None:
    from knowngood.app.explain import listed

    found = listed(library, place)
    if json_:
        click.echo(as_json(dict(found)))
        return
    echo_lines(wrap(f"{name}: {title}", indent="    ", first="") for name, title in found)


def _show_found(library: Library, words: str, json_: bool) -> None:
    from knowngood.app.explain import explain, found_by

    found = found_by(library, words)
    if not found:
        raise Refused(Problem(f"Nothing here is called {words!r}.", "Try a shorter word, a part or a symptom."))
    kind, first = found[0]
    if len(found) == 1 or words.casefold().replace(" ", "_") in (first.id.casefold(), _plain_name(first)):
        page = explain(library, kind, first.id)
        if json_:
            click.echo(as_json({**msgspec.structs.asdict(page), "besides": _as_rows(found[1:])}))
            return
        echo_lines(page_lines(page))
        found = found[1:]
        if not found:
            return
        click.echo()
    if json_:
        click.echo(as_json(_as_rows(found)))
        return
    click.echo("What holds these words")
    echo_lines(
        wrap(f"{kind} {one.id}: {getattr(one, 'name', '')}", indent="     ", first=" - ")
        for kind, one in found[:MOST_FOUND]
    )
    if len(found) > MOST_FOUND:
        click.echo(f"   and {len(found) - MOST_FOUND} more: say more words.")


def _as_rows(found: Sequence[tuple[str, Any]]) -> list[dict[str, str]]:
    return [{"kind": kind, "id": one.id, "name": getattr(one, "name", "")} for kind, one in found]


def _plain_name(record: object) -> str:
    return str(getattr(record, "name", "")).casefold().replace(" ", "_")


def page_lines(page: Explained) -> Iterator[str]:
    """One record in 80 columns."""
    yield wrap(f"{page.name} ({page.kind} {page.id})", indent="    ", first="")
    if page.what and page.what != page.name:
        yield wrap(page.what, "   ")
    for section in page.sections:
        yield ""
        yield section.title
        for line in section.lines:
            yield wrap(line, indent="   ", first=" - ")


def _show_seen(library: Library, json_: bool) -> None:
    from knowngood.library.separation import TOLD_APART, Separation

    separation = Separation(library)
    unseen, one = separation.unseen(), separation.seen_by_one()
    if json_:
        click.echo(as_json({"unseen": unseen, "seen_by_one": one}))
        return
    click.echo(wrap(f"{len(unseen)} faults that no check sees (an answer {TOLD_APART:g} times as likely, at least)."))
    echo_lines(wrap(library.faults[name].name, indent="   ", first=" - ") for name in unseen)
    click.echo(wrap(f"{len(one)} faults that only one check sees:"))
    echo_lines(
        wrap(f"{library.faults[name].name}: {library.checks[check].name}", indent="   ", first=" - ")
        for name, check in one.items()
    )


def _show_alike(library: Library, json_: bool) -> None:
    from knowngood.app.alike import alike_in_library
    from knowngood.library.separation import TOLD_APART

    pairs = alike_in_library(library)
    if json_:
        click.echo(as_json(pairs))
        return
    count = "1 pair" if len(pairs) == 1 else f"{len(pairs)} pairs"
    click.echo(wrap(f"{count} of faults that no check tells apart ({TOLD_APART:g} times as likely, at least)."))
    for pair in pairs[:MOST_ALIKE]:
        click.echo(wrap(pair.said, indent="   ", first=" - "))
    if len(pairs) > MOST_ALIKE:
        click.echo(f"   and {len(pairs) - MOST_ALIKE} more: all of them with --json.")
