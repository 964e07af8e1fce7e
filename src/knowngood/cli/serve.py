"""``serve``."""

from __future__ import annotations

import contextlib
from pathlib import Path

import click


@click.command(epilog="Examples: knowngood serve; knowngood serve --share")
@click.option(
    "--port", type=click.IntRange(1, 65535), default=None, help="First port to try; the next free one is taken."
)
@click.option("--share", is_flag=True, help="Also to screens of the local network that type the code printed here.")
@click.pass_obj
def serve_verb(home: Path, port: int | None, share: bool) -> None:
    """Serve the page on this machine until stopped, and print its address."""
    from knowngood.web.serving import FIRST_PORT, serve

    # Ctrl-C is how it is stopped; it comes here when all is closed
    with contextlib.suppress(KeyboardInterrupt):
        serve(home, port=port or FIRST_PORT, share=share, say=click.echo)
