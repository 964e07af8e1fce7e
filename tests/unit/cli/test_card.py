"""The card of a car: written, read and erased, and in nothing that leaves the machine."""

from __future__ import annotations

import zipfile
from pathlib import Path

from tests.unit.cli.terminal import Terminal

OWNER = "Xaverius Quillfeather"


def bytes_below(folder: Path) -> bytes:
    return b"".join(file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file())


def test_card_is_written_and_read(terminal: Terminal) -> None:
    """Field by field; an empty text erases one; nothing on it says how to write it."""
    terminal.done("new", "wagon")
    nothing = "Nothing stands on the card. Write it: knowngood card wagon owner 'the baker, 0170 555'"
    assert " ".join(terminal.done("card", "wagon").out.split()) == nothing
    assert terminal.done("card", "wagon", "owner", OWNER).out == f"owner: {OWNER}\n"
    assert terminal.done("card", "wagon", "plate", "AB 12", "--json").json == {"owner": OWNER, "plate": "AB 12"}
    assert terminal.done("card", "wagon", "plate", "").out == f"owner: {OWNER}\n"


def test_erased_from_every_file(terminal: Terminal, tmp_path: Path) -> None:
    """A daily copy held it: its bytes are gone there, too, and the car is still what it was."""
    terminal.done("new", "wagon")
    terminal.done("card", "wagon", "owner", OWNER)
    terminal.done("say", "wagon", "shakes")
    assert bytes_below(tmp_path).count(OWNER.encode()) >= 2
    assert terminal.done("card", "wagon", "--erase").out == "Erased, here and in 1 daily copy.\n"
    assert OWNER.encode() not in bytes_below(tmp_path)
    assert terminal.done("card", "wagon", "--erase", "--json").json == {"erased_in_copies": 0}
    assert "shakes" in terminal.done("export", "wagon").out


def test_card_stays_out_of_what_is_handed_over(terminal: Terminal, tmp_path: Path) -> None:
    """Export, record and archive hold the journal only, in words and as JSON."""
    terminal.done("new", "wagon", "shakes")
    terminal.done("card", "wagon", "owner", OWNER)
    archive = tmp_path / "wagon.zip"
    for words in (
        ("export", "wagon"),
        ("export", "wagon", "--json"),
        ("sheet", "wagon", "record"),
        ("sheet", "wagon", "record", "--json"),
        ("export", "wagon", "--hand-over", str(archive)),
    ):
        assert OWNER not in terminal.done(*words).out
    with zipfile.ZipFile(archive) as opened:
        inside = {name: opened.read(name) for name in opened.namelist()}
    assert b"shakes" in inside["journal.jsonl"]
    assert not [name for name, content in inside.items() if OWNER.encode() in content]


def test_what_stands_under_a_field_must_be_said(terminal: Terminal) -> None:
    """A field alone, or one with --erase, changes nothing."""
    terminal.done("new", "wagon")
    alone = terminal("card", "wagon", "owner")
    assert (alone.code, alone.err) == (
        2,
        "What is to stand under 'owner' was not said. Type it behind: knowngood card wagon 'owner' TEXT; an empty "
        "TEXT ('') erases the field.\n",
    )
    for words in (("owner", "--erase"), ("owner", "me", "--erase")):
        result = terminal("card", "wagon", *words)
        assert (result.code, result.err) == (
            2,
            "--erase erases the whole card, and 'owner' was typed besides. Type: knowngood card wagon --erase; "
            "one field: knowngood card wagon 'owner' ''.\n",
        )


def test_card_of_no_car_is_refused(terminal: Terminal) -> None:
    """In the words of every other verb."""
    assert terminal("card", "van").code == 2
