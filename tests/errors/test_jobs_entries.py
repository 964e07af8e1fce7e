"""What an entry, an export, a card, a copy or an undo is refused for, word for word."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import msgspec
import pytest

from knowngood.errors import Refused
from knowngood.evidence import CarFact, Entry, Note, Reading, Setting, Strike, Value
from knowngood.jobs import birth, undo
from knowngood.jobs.card import write_card
from knowngood.jobs.copies import copy_day, restore
from knowngood.jobs.export import read_in, write_out
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import NAME, entry, ids, stamp

AGAIN = "Export the journal again, or take the line out; nothing was stored."


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "home") as opened:
        opened.append("k7f3", [entry("n", NAME, line="new green van"), entry("a", at=2, line="comp 175")])
        yield opened


def message(do: Callable[[], object]) -> str:
    with pytest.raises(Refused) as met:
        do()
    return str(met.value)


def changed(one: Entry, **fields: Any) -> Entry:
    return msgspec.structs.replace(one, **fields)


BAD_ENTRIES: dict[str, tuple[Entry, str]] = {
    "no id": (entry(""), "An entry has no id. Give each entry a random one."),
    "no microseconds": (
        changed(entry("x"), at="2001-02-03T04:05:06Z"),
        "'2001-02-03T04:05:06Z' is not a moment as `at` is kept. Write it like 2001-02-03T04:05:06.000007Z.",
    ),
    "no zone": (
        changed(entry("x"), entered="2001-02-03T04:05:06.000007"),
        "'2001-02-03T04:05:06.000007' is not a moment as `entered` is kept. Write it like 2001-02-03T04:05:06.000007Z.",
    ),
    "another zone": (
        changed(entry("x"), at="2001-02-03T04:05:06.000007+02:00"),
        "'2001-02-03T04:05:06.000007+02:00' is not a moment as `at` is kept. "
        "Write it like 2001-02-03T04:05:06.000007Z.",
    ),
    "no such day": (
        changed(entry("x"), at="2001-02-30T04:05:06.000007Z"),
        "'2001-02-30T04:05:06.000007Z' is not a moment as `at` is kept. Write it like 2001-02-03T04:05:06.000007Z.",
    ),
    "newer": (
        changed(entry("x"), version=2),
        "Entry 'x' was written by a newer version: form 2, known is 1. Use the newer version.",
    ),
    "broken text": (
        entry("x", line="\udcff"),
        "Entry 'x' cannot be written down: "
        "'utf-8' codec can't encode character '\\udcff' in position 0: surrogates not allowed. Type it again.",
    ),
    "not finite": (
        entry("x", Reading(kind="compression", value=Value(float("nan")))),
        "Entry 'x' cannot be written down: Expected `float`, got `null` - at `$.body.value.number`. Type it again.",
    ),
    "field no car has": (
        entry("x", CarFact("wheels", "4")),
        "A car has no field 'wheels'. Fields that are: ",
    ),
    "value that does not fit": (
        entry("x", CarFact("cylinders", '"six"')),
        "'\"six\"' does not fit 'cylinders' of a car. ",
    ),
    "another under one id": (
        entry("a", at=2, line="comp 180"),
        "Two entries have the id 'a': 'comp 175' (k7f3, typed 2001-02-03T04:00:02.000000Z) is here, "
        "'comp 180' (k7f3, typed 2001-02-03T04:00:02.000000Z) is new. "
        "An entry is never replaced; strike the one that is wrong and type the other as a line of its own.",
    ),
    "strike of nothing": (
        entry("x", Strike("gone", "")),
        "A strike names the entry 'gone', which is not in job k7f3. Take the id from the journal.",
    ),
    "strike of itself": (
        entry("x", Strike("x", "")),
        "The strike 'x' takes back itself, in a circle. Name an entry that was there before it.",
    ),
}


@pytest.mark.parametrize("case", BAD_ENTRIES)
def test_entry_that_cannot_be_kept(store: Store, case: str) -> None:
    """What could not come out again as it went in is not let in."""
    one, text = BAD_ENTRIES[case]
    said = message(lambda: store.append("k7f3", [one]))
    assert said.startswith(text) if text.endswith(" ") else said == text
    assert [entry.id for entry in store.entries("k7f3")] == ["n", "a"]


def test_all_entries_that_cannot_be_kept_are_named(store: Store) -> None:
    """One pass, all problems."""
    said = message(lambda: store.append("k7f3", [BAD_ENTRIES["no id"][0], BAD_ENTRIES["newer"][0]]))
    assert said == f"{BAD_ENTRIES['no id'][1]}\n{BAD_ENTRIES['newer'][1]}"


def test_strikes_in_a_circle(store: Store) -> None:
    """Not even two that come together."""
    said = message(lambda: store.append("k7f3", [entry("x", Strike("y", "")), entry("y", Strike("x", ""))]))
    fix = "Name an entry that was there before it."
    assert said == (
        f"The strike 'x' takes back itself, in a circle. {fix}\nThe strike 'y' takes back itself, in a circle. {fix}"
    )


def test_strike_across_jobs(store: Store) -> None:
    """One car's journal does not reach into another's."""
    store.append("b2b2", [entry("m", NAME)])
    assert message(lambda: store.append("b2b2", [entry("x", Strike("a", ""))])) == (
        "A strike names the entry 'a', which is not in job b2b2. Take the id from the journal."
    )


def test_job_that_is_not_there(store: Store) -> None:
    """A slip in the code does not begin a job."""
    assert message(lambda: store.append("k7f4", [entry("x")])) == (
        "There is no job 'k7f4'. A job begins with the nickname of its car."
    )
    assert message(lambda: store.entries("k7f4")) == "There is no job 'k7f4'. Jobs: k7f3 green van."
    assert message(lambda: store.entries("")) == "There is no job ''. Jobs: k7f3 green van."
    assert message(lambda: write_out(store, "k7f4")) == "There is no job 'k7f4'. Jobs: k7f3 green van."


def test_no_jobs_yet(tmp_path: Path) -> None:
    """An empty workshop says that it is one."""
    with Store.open(tmp_path) as store:
        assert message(lambda: store.entries("k7f3")) == "There is no job 'k7f3'. Jobs: none yet."


@pytest.mark.parametrize("code", ["", "K7F3", "../k7f3", "a b", "a" * 17])
def test_code_that_is_none(store: Store, code: str) -> None:
    """A code may stand in the name of a file."""
    assert message(lambda: store.append(code, [entry("x", NAME)])) == (
        f"'{code}' is not a job code. Use small letters and digits, like k7f3."
    )


def test_entry_of_a_newer_version_in_the_file(store: Store) -> None:
    """What this version does not know is not half read."""
    with closing(sqlite3.connect(store.file)) as connection:
        connection.execute(
            "INSERT INTO entry VALUES ('x', 'k7f3', 9, 'at', 'entered', '', '', '{\"type\":\"new\"}', 2)"
        )
        connection.commit()
    assert message(lambda: store.entries("k7f3")) == (
        "Entry 'x' was written by a newer version: form 2, known is 1. Use the newer version; nothing was changed."
    )


def read(store: Store, *lines: str | bytes) -> str:
    text = b"\n".join(line if isinstance(line, bytes) else line.encode() for line in lines)
    before = write_out(store, with_card=True)
    said = message(lambda: read_in(store, text, name="van.jsonl"))
    assert write_out(store, with_card=True) == before
    return said


def test_import_of_a_damaged_file_names_every_line(store: Store) -> None:
    """And stores nothing of the lines that could be read."""
    good = write_out(store).splitlines()[1].replace('"id":"a"', '"id":"b"')
    said = read(
        store,
        good,
        good[:30],
        b"\xff\xfe\x00",
        "a list of parts",
        good.replace('"seq":1', '"seq":-1'),
        good.replace('"version":1', '"version":7'),
        good.replace('"look"', '"took"'),
        "",
        good.replace(":02.000000Z", ":02Z", 1),
        "[" * 100_000,
    )
    assert said.splitlines() == [
        f"van.jsonl:2: This is not an entry: '{good[:30]}' (Input data was truncated). {AGAIN}",
        "van.jsonl:3: This is not an entry: '\ufffd\ufffd\\x00' (JSON is malformed: invalid character (byte 0)). "
        + AGAIN,
        "van.jsonl:4: This is not an entry: 'a list of parts' (JSON is malformed: invalid character (byte 0)). "
        + AGAIN,
        f"van.jsonl:5: The place of this entry is -1, below 0. {AGAIN}",
        "van.jsonl:6: This entry was written by a newer version: form 7, known is 1. "
        "Import it with the newer version; nothing was stored.",
        f"van.jsonl:7: This is not an entry: '{good[:40]}...' (Object contains unknown field `took`). {AGAIN}",
        "van.jsonl:9: '2001-02-03T04:00:02Z' is not a moment as `at` is kept. "
        "Write it like 2001-02-03T04:05:06.000007Z.",
        f"van.jsonl:10: This is not an entry: '{'[' * 40}...' (Expected `object`, got `array`). {AGAIN}",
    ]


def test_import_of_lines_that_speak_against_what_is_here(store: Store) -> None:
    """Each with its line: another entry under one id, a strike of nothing, a job without a beginning."""
    first, second = write_out(store).splitlines()
    strike = second.replace('"id":"a"', '"id":"s"').replace('{"type":"note","text":"a"', '{"type":"strike","entry":"z"')
    said = read(
        store,
        first,
        second.replace("comp 175", "comp 180"),
        strike.replace(',"why":"","ask":""', ',"why":""'),
        second.replace('"id":"a"', '"id":"o"').replace("k7f3", "b2b2"),
        first.replace('"id":"n"', '"id":"r"').replace("green", "red"),
    )
    moment = "2001-02-03T04:00:{}.000000Z"
    assert said.splitlines() == [
        f"van.jsonl:2: Two entries have the id 'a': 'comp 175' (k7f3, typed {moment.format('02')}) is here, "
        f"'comp 180' (k7f3, typed {moment.format('02')}) is new. "
        "An entry is never replaced; strike the one that is wrong and type the other as a line of its own.",
        "van.jsonl:3: A strike names the entry 'z', which is not in job k7f3. Take the id from the journal.",
        "van.jsonl:4: There is no job 'b2b2'. A job begins with the nickname of its car.",
        f"van.jsonl:5: Job k7f3 is 'new green van' (k7f3, typed {moment.format('00')}) here, "
        f"and 'new red van' (k7f3, typed {moment.format('00')}) there. "
        "Two cars have one code: import it under another one.",
    ]


@pytest.mark.parametrize("text", ["", "\n\n"])
def test_import_of_nothing(store: Store, text: str) -> None:
    """An empty file is not a success."""
    assert read(store, text) == "van.jsonl: There is no entry in it. Take a file that was written by an export."


def test_import_of_cards(store: Store) -> None:
    """A card of a job that is not in the file, one that says something else than the one here; neither is shown."""
    write_card(store, "k7f3", "plate", "AB 12 CD")
    said = read(
        store,
        write_out(store).strip(),
        '{"card":"k7f3","field":"plate","text":"EF 34 GH"}',
        '{"card":"b2b2","field":"plate","text":"EF 34 GH"}',
    )
    assert said.splitlines() == [
        "van.jsonl:3: The card of job k7f3 says something else under 'plate' here. "
        "Erase one of the two; nothing was stored.",
        f"van.jsonl:4: This card belongs to job 'b2b2', of which the file holds no entry. {AGAIN}",
    ]


def test_card_that_cannot_be_written_down(store: Store) -> None:
    """The words themselves are not repeated in the message."""
    assert message(lambda: write_card(store, "k7f3", "owner", "\udcff")) == (
        "The field 'owner' cannot be written down. Type it again."
    )


def test_copies(store: Store, tmp_path: Path) -> None:
    """Not into the workshop's folder, not of nothing, not without a day, not from nothing."""
    home = store.file.parent
    assert message(lambda: copy_day(home, home, now=stamp(0))) == (
        f"{home} is the workshop's own folder. Name another one, best on another disk."
    )
    assert message(lambda: copy_day(tmp_path / "none", tmp_path, now=stamp(0))) == (
        f"There is no workshop in {tmp_path / 'none'}. Name the folder that holds workshop.sqlite."
    )
    assert message(lambda: copy_day(home, tmp_path, now="today")) == (
        "'today' is not a moment. Write it like 2001-02-03T04:05:06.000007Z."
    )
    assert message(lambda: restore(tmp_path / "none", tmp_path / "new")) == (
        f"There is no copy {tmp_path / 'none'}. Name one of the files a daily copy made."
    )


def test_undo(store: Store) -> None:
    """Nothing left, not there, already gone, the beginning."""
    entries = store.entries("k7f3")

    def take_back(of: str = "") -> str:
        return message(lambda: undo(entries, now=stamp(9), new_id=ids(), of=of))

    assert take_back("gone") == "There is no entry 'gone' in this job. Take the id from the journal."
    assert take_back("n") == "'new green van' began this job and stays. Type another nickname to change it."
    entries += undo(entries, now=stamp(9), new_id=ids())
    assert take_back("a") == "'comp 175' is already taken back. Strike its strike to bring it back."
    assert take_back() == "Nothing is left to take back. The name of the car stays; type another to change it."
    assert message(lambda: birth([entry("x", Note(""))])) == (
        "These entries tell no nickname. A job begins with the nickname of its car."
    )


def test_workshop_itself_holds_settings_only(store: Store) -> None:
    """What is said of a car is refused there; a setting and its strike are let in."""
    store.append("shop", [entry("s", Setting("rate", "50"))])
    store.append("shop", [entry("t", Strike("s", "mistyped"))])
    words = message(lambda: store.append("shop", [entry("r", Reading(kind="compression"), line="comp 175")]))
    assert words == f"'comp 175' (shop, typed {stamp(0)}) is no setting. Say it of a car."
    assert [one.id for one in store.kept("shop")] == ["s", "t"]
