"""Lines on the terminal: numbered, and taken back."""

from __future__ import annotations

from tests.unit.cli.terminal import Terminal


def test_undo_takes_back_line_by_line(terminal: Terminal) -> None:
    """The last line, then the one before; the car stays."""
    terminal.done("new", "wagon", "4 cylinders", "fuel pressure 1 bar")
    assert terminal.done("undo", "wagon").out == "Struck: fuel pressure 1 bar\n"
    assert terminal.done("undo", "wagon", "--json").json == {"struck": "4 cylinders"}
    again = terminal("undo", "wagon")
    assert (again.code, again.err) == (
        2,
        "Nothing is left to take back. The name of the car stays; type another to change it.\n",
    )


def test_journal_numbers_the_lines_and_undo_takes_one_back(terminal: Terminal) -> None:
    """A wrong line that is not the last is taken back by its number; notes are told apart; no other number is taken."""
    said = ["4 cylinders", "P0302 stored", "xyzzy plugh", "comp 172 170 60 175"]
    terminal.done("new", "wagon", *said)
    shown = terminal.done("journal", "wagon").out.splitlines()
    texts = [line.split("  ")[-1] for line in shown if line[:3].strip()]
    assert texts == ["wagon", *said[:2], "xyzzy plugh (a note, does not count)", said[3]]
    assert all(len(line) <= 80 for line in shown)
    assert terminal.done("undo", "wagon", "3").out == "Struck: P0302 stored\n"
    numbers = [line["number"] for line in terminal.done("journal", "wagon", "--json").json]
    assert numbers == [1, 2, 3, 4]
    again = terminal("undo", "wagon", "9")
    assert (again.code, again.err) == (2, "There is no line 9: they are 1 to 4. See them: 'journal'.\n")
    assert terminal("undo", "wagon", "1").code == 2


def test_undo_gives_back_the_answer_of_before(terminal: Terminal) -> None:
    """After a line and its undo everything is weighed as if it had not been said."""
    terminal.done("new", "wagon", "4 cylinders", "fuel pressure 1 bar")
    before = terminal.done("suspects", "wagon", "--json").json
    terminal.done("say", "wagon", "comp 175 172 60 175 psi")
    assert terminal.done("suspects", "wagon", "--json").json != before
    terminal.done("undo", "wagon")
    assert terminal.done("suspects", "wagon", "--json").json == before
