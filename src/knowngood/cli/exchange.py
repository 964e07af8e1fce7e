"""``export`` and ``import``."""

from __future__ import annotations

from pathlib import Path

import click
import msgspec

from knowngood.cli.files import read_file, write_file
from knowngood.cli.show import as_json
from knowngood.errors import Problem, Refused


@click.command(epilog="Examples: knowngood export wagon > wagon.jsonl; knowngood export wagon --hand-over wagon.zip")
@click.argument("car", required=False, default="")
@click.option(
    "--hand-over",
    "archive",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write one archive that goes with the CAR: record, readings, journal, photos.",
)
@click.option("--json", "json_", is_flag=True, help="One JSON list of the entries, to be read elsewhere.")
@click.pass_obj
def export_verb(home: Path, car: str, archive: Path | None, json_: bool) -> None:
    """The journal of a CAR (of all cars when none is named), one JSON line an entry."""
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        if archive is None:
            lines = workshop.export(workshop.job(car).code if car else "")
            entries = [msgspec.json.decode(line) for line in lines.split("\n") if line] if json_ else []
            click.echo(as_json(entries) if json_ else lines, nl=json_)
            return
        if not car:
            raise Refused(Problem("A hand-over file is of one car.", "Name it: knowngood export CAR --hand-over FILE."))
        from knowngood.app.bay_time import today_of
        from knowngood.app.handover import hand_over
        from knowngood.app.photo import photos_in

        code = workshop.job(car).code
        state, day = workshop.state(code), today_of(workshop.now()).isoformat()
        made = hand_over(state, workshop.answer(code), workshop.export(code), day, photos_in(home))
    write_file(archive, made)
    click.echo(as_json({"written": str(archive)}) if json_ else f"Written to {archive}.")


@click.command(
    epilog="Examples: knowngood import wagon.jsonl; knowngood import --restore copies/workshop-2026-05-01.sqlite"
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--restore", is_flag=True, help="FILE is a daily copy: put it back into an empty workshop folder.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def import_verb(home: Path, file: Path, restore: bool, json_: bool) -> None:
    """Take in an exported journal or a hand-over file; what is here already is passed over."""
    from knowngood.app.photo import take_photos_in
    from knowngood.app.workshop import Workshop, restore_copy
    from knowngood.library.load import load_for

    if restore:
        back = restore_copy(file, home)
        click.echo(as_json({"restored": str(back)}) if json_ else f"Restored into {back}.")
        return
    with Workshop(home, load_for(home)) as workshop:
        text, pictures = read_file(file), dict[str, bytes]()
        if text.startswith(b"PK"):
            from knowngood.app.handover import journal_in, photos_of_archive

            pictures, text = photos_of_archive(text, file.name), journal_in(text, file.name)
        new, known = workshop.take_in(text, file.name)
        # only after the journal that names them: one that is refused leaves no photo behind
        photos = take_photos_in(home, pictures)
    if json_:
        click.echo(as_json({"new": new, "here_already": known, "photos": photos}))
    else:
        besides = f"; {photos} new {'photo' if photos == 1 else 'photos'}" if photos else ""
        click.echo(f"{new} new, {known} here already{besides}.")
