"""What stands on a screen: signs it would obey are shown; into a pipe everything goes as it is."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from knowngood.cli.screen import Screen, shown
from tests.unit.cli.terminal import Terminal

HOSTILE = "hose\x1b[2J\x07 \u202eoff\u202c \x9b31m"


def on_a_screen(home: Path, *words: str) -> str:
    """What a terminal is sent."""
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    program = [sys.executable, "-m", "knowngood.cli", "--home", os.fspath(home), *words]
    with subprocess.Popen(program, stdout=theirs, stderr=theirs) as running:
        os.close(theirs)
        told = b""
        while True:
            try:
                more = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not more:
                break
            told += more
        running.wait()
    os.close(ours)
    return told.decode().replace("\r\n", "\n")


def test_screen_is_sent_nothing_to_obey(terminal: Terminal, tmp_path: Path) -> None:
    """A nickname and a verb with signs that clear the screen and turn the writing are shown with pictures of them."""
    home = tmp_path / "screen"
    told = on_a_screen(home, "new", HOSTILE) + on_a_screen(home, "cars") + on_a_screen(home, HOSTILE)
    assert told.count("hose␛[2J␇ <U+202E>off<U+202C> <U+009B>31m") == 3
    assert not any(sign in told for sign in "\x1b\x07\x9b\u202e")


def test_pipe_gets_what_was_typed(terminal: Terminal) -> None:
    """The journal that is exported is the journal that was typed."""
    terminal.done("new", "van")
    terminal.done("say", "van", f"note: {HOSTILE}")
    assert any(HOSTILE in entry for entry in map(_line_of, terminal.done("export", "van").out.splitlines()))


def _line_of(entry: str) -> str:
    import json

    return str(json.loads(entry).get("line", ""))


def test_lines_and_columns_stay() -> None:
    """What lays out a line is the program's own, and letters with marks on them are letters."""
    assert shown("a\tb\r\nž é \u200d") == "a\tb\r\nž é \u200d"


def test_screen_is_else_the_stream() -> None:
    """Whoever asks whether it is a screen is told by the stream itself."""
    assert Screen(sys.__stdout__).isatty() == sys.__stdout__.isatty()  # type: ignore[union-attr, arg-type]
