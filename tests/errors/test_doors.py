"""What the terminal says to bad input: word for word, with the exit code, and nothing typed is lost."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path
from unittest import mock

import pytest

from tests.unit.cli.terminal import Terminal


@pytest.fixture
def terminal(tmp_path: Path) -> Terminal:
    """An empty workshop."""
    return Terminal(tmp_path / "home")


@pytest.fixture
def eight(terminal: Terminal) -> Terminal:
    """A workshop with an eight in it, ``van``."""
    terminal.done("new", "van", "8 cylinders V")
    return terminal


TYPED = {
    "frob": "There is no verb 'frob'. 'knowngood --help' lists them.\n",
    "suspcts van": "There is no verb 'suspcts'. Did you mean 'suspects'?\n",
    "--bogus": "No such option '--bogus'. See 'knowngood --help'.\n",
    "say": "Missing argument 'CAR'. See 'knowngood say --help'.\n",
    "say van": "Missing argument 'LINE...'. See 'knowngood say --help'.\n",
    "say van x --jsn": "No such option '--jsn'. Did you mean '--json'?\n",
    "serve --port 0": ("Not a value for '--port': 0 is not in the range 1<=x<=65535. See 'knowngood serve --help'.\n"),
    "undo nosuch": "There is no car 'nosuch' here. Cars: none yet. A new one: knowngood new NICKNAME.\n",
    "say van x": "There is no car 'van' here. Cars: none yet. A new one: knowngood new NICKNAME.\n",
    "library zzz": "Nothing here is called 'zzz'. Try a shorter word, a part or a symptom.\n",
    "import nosuch.jsonl": "There is no file nosuch.jsonl. Check the name.\n",
    "import /": "/ cannot be read: Is a directory. Name a file that you may read.\n",
    "weigh nosuch.txt": "There is no file nosuch.txt. Check the name.\n",
    "weigh /": "/ cannot be read: Is a directory. Name a file that you may read.\n",
}


@pytest.mark.parametrize("typed", TYPED)
def test_what_cannot_be_done_is_said(terminal: Terminal, typed: str) -> None:
    """Exit code 2, nothing on the output, the fact and what to do."""
    result = terminal(*typed.split())
    assert (result.code, result.out, result.err) == (2, "", TYPED[typed])


def test_bare_name_shows_the_verbs(terminal: Terminal) -> None:
    """Nothing was asked, so help is given, and nothing after it."""
    result = terminal()
    assert result.code == 2
    assert result.err.startswith("Usage: knowngood [OPTIONS] VERB ...\n")
    assert result.err.rstrip().endswith("knowngood next wagon")


@pytest.mark.parametrize("line", ["", "  "])
def test_empty_line(eight: Terminal, line: str) -> None:
    """An empty line is none, and says what one looks like."""
    before = eight.done("export").out
    result = eight("say", "van", line)
    assert (result.code, result.out, result.err) == (
        2,
        "",
        "The line is empty. Type what was seen, measured or done, such as 'comp 175 180 60 175'.\n",
    )
    assert eight.done("export").out == before


def test_empty_nickname(terminal: Terminal) -> None:
    """A car without a name could not be asked for."""
    result = terminal("new", " ")
    assert (result.code, result.err) == (
        2,
        "A car needs a nickname; nothing was typed. Type any word you call it by.\n",
    )


def test_one_nickname_for_two_cars(terminal: Terminal) -> None:
    """Two cars may be called alike; which is meant is then said by its code."""
    first = terminal.done("new", "van", "--json").json["code"]
    second = terminal.done("new", "van", "--json").json["code"]
    result = terminal("say", "van", "smoke")
    assert (result.code, result.err) == (
        2,
        f"2 cars are called 'van'. Use the code: {first} (van), {second} (van).\n",
    )
    terminal.done("say", second, "4 cylinders")


KEPT = {
    "comp 3 9000 psi": (
        "9000 psi is outside the usual 0 to 304.6 psi; decimal point slipped (90)?",
        "Really so?",
    ),
    "frobnicate": (
        "nothing in it was understood",
        "'frobnicate': what was seen, measured or done, and where?",
    ),
    "c9 lead 3k": (
        "there is no cylinder 9: the engine has 8",
        "There is no cylinder 9 of 8: which one is it, or how many cylinders has the engine?",
    ),
    "13 cylinders": (
        "13 cylinders is outside 1 to 12",
        "",
    ),
    "firing order 1-2-3": (
        "Firing order 1-2-3 does not name each of the 8 cylinders once.",
        "Take back what was said before and is not so, then say 'firing order 1-2-3' again.",
    ),
}


@pytest.mark.parametrize("line", KEPT)
def test_doubtful_line_is_kept_and_asked_about(eight: Terminal, line: str) -> None:
    """The words stay in the journal; they do not count, and one question is put."""
    before = eight.done("suspects", "van", "--json").json
    why, ask = KEPT[line]
    result = eight.done("say", "van", line)
    said = " ".join(result.out.split())
    assert f"Kept as a note, does not count: {why}" in said
    assert ask in said
    assert f'"line":"{line}"' in eight.done("export").out
    assert eight.done("suspects", "van", "--json").json == before


def test_count_that_leaves_a_cylinder_out(terminal: Terminal) -> None:
    """Cylinder 6 was measured, so there are not 4: the car can still be asked about, and the line taken back."""
    terminal.done("new", "six", "6 cylinders", "comp 175 172 170 171 170 12 psi")
    before = terminal.done("next", "six").out
    out = terminal.done("say", "six", "4 cylinders").out
    assert "Kept as a note, does not count: There is no cylinder 5: the engine has 4." in out
    assert terminal.done("next", "six", "--json").json["next"]
    assert terminal.done("undo", "six").out == "Struck: 4 cylinders\n"
    assert terminal.done("next", "six").out == before


def test_two_readings_that_contradict(terminal: Terminal) -> None:
    """Good, then nothing, with no work between: neither is dropped in silence, and which is right comes first."""
    first, second = "comp 175 172 170 171 psi", "comp 175 172 0 171 psi"
    terminal.done("new", "van", "4 cylinders", first, second)
    asks = terminal.done("next", "van", "--json").json["asks"]
    assert asks[0] == (
        f'"{first}" and "{second}" do not agree on cranking compression, cylinder 3. '
        "Which is right? Take the other back."
    )
    terminal.done("undo", "van")
    assert not any("do not agree" in ask for ask in terminal.done("next", "van", "--json").json["asks"])


def test_car_without_a_count_of_cylinders(terminal: Terminal) -> None:
    """Something is assumed, said to be assumed, and asked."""
    answer = terminal.done("weigh", "-", "--json", "--all", piped=b"coil on plug\nfuel pressure 1 bar\n").json
    assert "How many cylinders? 4 are assumed." in answer["asks"]
    assert "4 cylinders (not said)" in answer["assumed"]


def test_words_that_are_no_text(eight: Terminal) -> None:
    """Bytes that are no letters are refused, not half kept."""
    result = eight("say", "van", "caf\udce9")
    assert (result.code, result.err) == (2, "'caf�' is not text in UTF-8. Type it again.\n")


def test_moment_that_is_none(eight: Terminal) -> None:
    """The form of a moment is shown."""
    result = eight("say", "van", "smoke", "--at", "nonsense")
    assert (result.code, result.err) == (2, "'nonsense' is not a moment. Write it as 2026-05-01T09:30.\n")


def test_gate_that_is_none(eight: Terminal) -> None:
    """The gates there are, are named."""
    result = eight("may", "van", "fly")
    assert (result.code, result.out) == (2, "")
    assert result.err == "There is no gate 'fly'. Gates: battery, crank, start, idle, yard, road.\n"


def test_suspect_that_is_none(eight: Terminal) -> None:
    """The leading ones are named."""
    result = eight("why", "van", "zzz")
    assert result.code == 2
    assert result.err.startswith("No suspect has 'zzz' in its name. Leading ones: ")


def test_steering_marks_are_shown_not_obeyed(eight: Terminal) -> None:
    """What would colour, move or turn the terminal's text is shown as its number; the journal keeps it as typed."""
    out = eight.done("say", "van", "red\x1b[31m \u202edlo").out
    assert "\x1b" not in out
    assert "\u202e" not in out
    assert "red␛[31m <U+202E>dlo" in out
    assert "red\\u001b[31m \u202edlo" in eight.done("export").out


def test_damaged_store(eight: Terminal) -> None:
    """The file is named and left as it is, and so is the copy to go back to."""
    file = eight.home / "workshop.sqlite"
    for beside in eight.home.glob("workshop.sqlite-*"):
        beside.unlink()
    broken = b"no database" * 500
    file.write_bytes(broken)
    (copy,) = (eight.home / "copies").glob("*.sqlite")
    for words in (["cars"], ["say", "van", "smoke"], ["next", "van"], ["export"]):
        result = eight(*words)
        assert (result.code, result.out) == (2, "")
        assert result.err == (
            f"{file} cannot be read: file is not a database. Move workshop.sqlite and the files beside it that begin "
            f"with its name into another folder and keep them; then restore the last copy: {copy}.\n"
        )
    assert file.read_bytes() == broken


def test_home_that_is_a_file(tmp_path: Path) -> None:
    """Nothing can be kept below a file."""
    (tmp_path / "home").write_text("")
    result = Terminal(tmp_path / "home")("new", "van")
    assert (result.code, result.err) == (
        2,
        f"{tmp_path / 'home'} cannot be used: File exists. Check the disk and the rights on the folder; "
        "nothing was changed.\n",
    )


def test_library_folder_with_mistakes(terminal: Terminal, tmp_path: Path) -> None:
    """Every mistake of every file in one pass, each with its line and its path; exit code 1."""
    own = tmp_path / "own"
    own.mkdir()
    (own / "a.toml").write_text('\n[[caution]]\nid = "hot"\ntext = "Hot."\nsource = "memory"\n', encoding="utf-8")
    (own / "b.toml").write_text("[[caution]]\nid = \n", encoding="utf-8")
    result = terminal("library", "--check", str(own))
    assert (result.code, result.out) == (1, "")
    assert f"{own / 'a.toml'}:5: caution[hot].source: a caution rests on memory. Find a source" in result.err
    assert f"{own / 'b.toml'}:2: " in result.err
    missing = terminal("library", "--check", str(tmp_path / "nosuch"))
    assert missing.code == 2
    assert missing.err == (
        f"'{tmp_path / 'nosuch'}' is not a folder. Make it, or name the folder that holds the shop's own files.\n"
    )


@pytest.mark.parametrize("bytes_", [b"\x7fELF\x02\xff\xfe\x00", b"caf\xe9"])
def test_notes_that_are_no_text(terminal: Terminal, tmp_path: Path, bytes_: bytes) -> None:
    """A program, or text of another code, from a file and from a pipe."""
    file = tmp_path / "notes.txt"
    file.write_bytes(bytes_)
    assert terminal("weigh", str(file)).err == f"{file} is not text in UTF-8. Save it as plain text.\n"
    piped = terminal("weigh", "-", piped=bytes_)
    assert (piped.code, piped.err) == (2, "What was piped in is not text in UTF-8. Pipe in plain text.\n")


def test_export_that_is_none(terminal: Terminal, tmp_path: Path) -> None:
    """Nothing of a damaged export is taken in; the line is named."""
    terminal.done("new", "van")
    good = terminal.done("export").out
    file = tmp_path / "wagon.jsonl"
    file.write_text(f"{good}half a li\n", encoding="utf-8")
    result = terminal("import", str(file))
    assert (result.code, result.out) == (2, "")
    assert result.err.startswith("wagon.jsonl:2: This is not an entry: 'half a li' (JSON is malformed")
    assert result.err.endswith("Export the journal again, or take the line out; nothing was stored.\n")
    assert terminal.done("export").out == good


def test_archive_whose_journal_is_refused_leaves_no_photo(eight: Terminal, tmp_path: Path) -> None:
    """The journal first: a picture that nothing names would lie there for ever."""
    photo = "0" * 32 + ".jpg"
    file = tmp_path / "van.zip"
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("journal.jsonl", f"half a li {photo}\n")
        archive.writestr(f"photos/{photo}", b"a picture")
    result = eight("import", str(file))
    assert (result.code, result.out) == (2, "")
    assert result.err.startswith("van.zip:1: This is not an entry: ")
    assert not [found for found in eight.home.rglob("*") if found.name == photo]


def test_file_that_may_not_be_read(terminal: Terminal, tmp_path: Path) -> None:
    """A file of somebody else's is no accident of the program."""
    file = tmp_path / "wagon.jsonl"
    file.touch()
    with mock.patch("pathlib.Path.read_bytes", side_effect=PermissionError(13, "Permission denied")):
        result = terminal("import", str(file))
    assert (result.code, result.err) == (
        2,
        f"{file} cannot be read: Permission denied. Name a file that you may read.\n",
    )


def test_stopped_by_hand(eight: Terminal) -> None:
    """Ctrl-C ends with 2 and says so."""
    with mock.patch("knowngood.app.workshop.at_once", side_effect=KeyboardInterrupt):
        result = eight("next", "van")
    assert (result.code, result.out, result.err) == (2, "", "\nStopped. What was said before is on disk.\n")


def test_page_stopped_by_hand_is_done(terminal: Terminal) -> None:
    """That is the way to end it: 0, and nothing said."""
    with mock.patch("knowngood.web.serving.serve", side_effect=KeyboardInterrupt):
        assert terminal.done("serve").out == ""


def test_crash_names_a_log_and_keeps_what_was_said(eight: Terminal) -> None:
    """What should not happen ends with exit code 3, and the log holds the trace."""
    before = eight.done("export").out
    with mock.patch("knowngood.app.workshop.at_once", side_effect=ZeroDivisionError("a test's own")):
        result = eight("next", "van")
    assert (result.code, result.out) == (3, "")
    met = re.fullmatch(
        r"Something went wrong that should not have\. What was said is on disk\. Log: (.+)\n", result.err
    )
    assert met is not None, result.err
    log = Path(met[1])
    assert "ZeroDivisionError: a test's own" in log.read_text(encoding="utf-8")
    log.unlink()
    assert eight.done("export").out == before
