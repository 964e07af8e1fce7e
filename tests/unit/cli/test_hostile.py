"""Words that no hand types, in every place of every verb: done, or an answer in words; never anything unexpected."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.cli.terminal import Terminal

HOSTILE = {
    "a megabyte": "x" * 1_000_000,
    "five thousand digits": "9" * 5000,
    "marks upon marks": "a" + "\u0301" * 3000,
    "a list without end": "9," * 1500,
    "no text": "a\udcffb",
    "control characters": "\x07\x1b[2Ja\x08\x7f\x9b",
    "lines": "a\nb\r\nc\u2028d",
    "markup": "\"'><script>alert(1)</script>{{7*7}}${7*7}%s{0}",
}
VERBS = (
    "new {}", "new wagon {}", "say van {}", "say {} x", "undo {}", "suspects {}", "next {}", "why van {}",
    "why {} coil_dead", "work {}", "todo {}", "proof {}", "may van {}", "may {}", "sheet van {}", "sheet {} next",
    "export {}", "import {}", "library {}", "measure {}", "measure joint {}", "measure joint drop={}", "settings {} x",
    "settings currency {}", "settings rate {}", "settings temperature {}", "weigh {}", "card {}", "card van {} x",
    "card van owner {}", "{}",
)  # fmt: skip


@pytest.mark.parametrize("hostile", HOSTILE)
def test_every_verb_takes_it(terminal: Terminal, hostile: str) -> None:
    """Exit 0, 1 or 2, never 3; what cannot be done says why, and not in a megabyte; the car is still there."""
    text = HOSTILE[hostile]
    terminal.done("new", "van", "4 cylinders")
    for verb in VERBS:
        result = terminal(*(word.format(text) for word in verb.split()))
        assert result.code in (0, 1, 2), (verb, result.err)
        assert result.code != 2 or result.err, verb
    assert "van" in terminal.done("cars").out


def test_too_long_a_line_is_refused(terminal: Terminal) -> None:
    """A line longer than anyone types is not kept, and says so at once."""
    terminal.done("new", "van")
    result = terminal("say", "van", "x" * 4001)
    assert (result.code, result.err) == (
        2,
        "The line has 4001 characters; 4000 are the most. Say it in several lines.\n",
    )


def test_line_of_too_many_words_is_kept_and_asked_for_in_parts(terminal: Terminal) -> None:
    """The time to read a line grows with the square of its words, so there is a most; the words are kept."""
    terminal.done("new", "van")
    said = terminal.done("say", "van", "9," * 126, "--json").json
    assert said["counts"] is False
    assert said["why"] == "252 words, numbers and signs are in one line; 250 are the most that are read"
    assert said["ask"] == "Say it again in several lines."
    assert "9," * 126 in terminal.done("export", "van").out


def test_notes_file_with_a_line_of_a_megabyte_is_weighed(terminal: Terminal, tmp_path: Path) -> None:
    """The other lines of the file count."""
    file = tmp_path / "notes.txt"
    file.write_text("4 cylinders\n" + "9," * 500_000 + "\nP0302 stored, shakes at idle\n", encoding="utf-8")
    told = terminal.done("weigh", str(file), "--json").json
    assert told["suspects"]
    assert len(told["not_understood"]) == 1
