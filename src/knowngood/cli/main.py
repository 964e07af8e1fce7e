"""``knowngood``: the verbs and what they are for. A verb's own module is read only when it is used."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from knowngood import __version__
from knowngood.cli.screen import obey_no_signs
from knowngood.errors import KnownGoodError

VERBS = {
    "new": ("cars", "Begin a car under a nickname."),
    "cars": ("cars", "The cars in this workshop, each with what it waits for."),
    "say": ("lines", "Say one line of what was seen, measured or done."),
    "undo": ("lines", "Take back the line said last, or another."),
    "journal": ("lines", "What was said of a car, line by line, numbered."),
    "suspects": ("advice", "What is likely wrong, and why."),
    "next": ("advice", "What to do next, with its price and its reason."),
    "why": ("advice", "How each line moved one suspect."),
    "work": ("bench", "What was done, what is apart, what was left undone."),
    "todo": ("bench", "What is left, the most dangerous first."),
    "proof": ("proof", "Is each repair proved, and what is still to be read?"),
    "may": ("may", "May it be bought, connected, cranked, started, driven?"),
    "sheet": ("sheet", "A page to print: buy, arrival, row, next, closing, road, todo, record, cost."),
    "weigh": ("weigh", "Suspects and next steps for a notes file; nothing is stored."),
    "export": ("exchange", "A car's journal as text, one JSON line an entry."),
    "import": ("exchange", "Take in an exported journal, or restore a daily copy."),
    "library": ("knowledge", "What the program knows: search, explain, check."),
    "measure": ("measure", "Work out a measurement: formula, working, source, what it cannot tell."),
    "card": ("card", "Names and plates of people, outside the journal; can be erased."),
    "settings": ("settings", "Units, the word behind money, what an hour is worth."),
    "serve": ("serve", "Serve the page on this machine."),
}


class Verbs(click.Group):
    """A group that reads a verb's module on first use, so that help is quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Verbs in the order of the job."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The verb's command, from its module."""
        if cmd_name not in VERBS:
            return None
        module = importlib.import_module(f"knowngood.cli.{VERBS[cmd_name][0]}")
        command: click.Command = getattr(module, f"{cmd_name}_verb")
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The verbs with one line each, without reading their modules."""
        with formatter.section("Verbs"):
            formatter.write_dl([(name, text) for name, (_, text) in VERBS.items()])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click, with the nearest verb named when there is none of that name."""
        if args and args[0] not in VERBS and not args[0].startswith("-"):
            import difflib

            near = difflib.get_close_matches(args[0], VERBS, n=1)
            hint = f" Did you mean '{near[0]}'?" if near else " 'knowngood --help' lists them."
            raise click.UsageError(f"There is no verb '{args[0]}'.{hint}")
        return super().resolve_command(ctx, args)


def default_folder() -> Path:
    """Where the workshop is kept unless told otherwise: ``KNOWNGOOD_HOME``, else below the home folder."""
    told = os.environ.get("KNOWNGOOD_HOME")
    return Path(told) if told else Path.home() / ".local" / "share" / "knowngood"


@click.command(
    cls=Verbs,
    subcommand_metavar="VERB ...",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog="Example: knowngood new wagon; knowngood say wagon 'comp 172 170 60 175'; knowngood next wagon",
)
@click.version_option(__version__, prog_name="knowngood")
@click.option("--home", type=click.Path(path_type=Path), default=None, help="Folder of the workshop.")
@click.pass_context
def cli(ctx: click.Context, home: Path | None) -> None:
    """Bring a neglected petrol car back: say what you see, ask what is wrong and what to do next."""
    ctx.obj = home or default_folder()


def _in_our_words(error: click.ClickException) -> str:
    """What was typed wrong, and the help that says how it is typed."""
    message = error.format_message().replace("Invalid value for", "Not a value for")
    ctx = getattr(error, "ctx", None)
    bare = isinstance(error, click.exceptions.NoArgsIsHelpError)
    if ctx is None or bare or "--help'" in message or "Did you mean" in message:
        return message
    return f"{message} See '{ctx.command_path} --help'."


def main(typed: Sequence[str] | None = None) -> None:
    """Run the terminal on what was ``typed``, else on the command line.

    Exit codes: 0 done, 1 the answer is no, 2 could not do what was typed, 3 unexpected.
    """
    try:
        obey_no_signs()
        # a verb that ends with a code of its own hands it back here
        code = cli.main(typed, prog_name="knowngood", standalone_mode=False)
        sys.exit(code if isinstance(code, int) else 0)
    except click.Abort:  # Ctrl-C, or the end of what was typed
        click.echo("Stopped. What was said before is on disk.", err=True)
        sys.exit(2)
    except click.ClickException as error:
        click.echo(_in_our_words(error), err=True)
        sys.exit(2)
    except KnownGoodError as error:
        click.echo(str(error), err=True)
        sys.exit(error.exit_code)
    except BrokenPipeError:
        sys.exit(0)
    except Exception as error:
        from knowngood.app.unexpected import log_of

        log = log_of(error)
        click.echo(f"Something went wrong that should not have. What was said is on disk. Log: {log}", err=True)
        sys.exit(3)
