"""Sheets of the example car."""

from __future__ import annotations

import re
import zlib
from pathlib import Path

import pytest

from knowngood.app.answer import Answer
from knowngood.app.example import tell_example
from knowngood.app.sheets import SHEETS, sheet_of
from knowngood.app.state import State
from knowngood.app.story import came_in_with, story_of
from knowngood.app.weigh import is_understood
from knowngood.app.workshop import Workshop
from knowngood.errors import Refused
from knowngood.library.load import load
from knowngood.lines import Recent, read_line
from knowngood.sheets.as_pdf import as_pdf
from knowngood.sheets.as_text import as_text
from knowngood.sheets.sheet import Items, Picture, Table

DATE = "2026-05-01"


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[State, Answer]:
    """The whole example: from intake to a proven repair."""
    folder: Path = tmp_path_factory.mktemp("example")
    code, _ = tell_example(folder, load(), until="")
    with Workshop(folder, load()) as workshop:
        return workshop.state(code), workshop.answer(code)


@pytest.mark.parametrize("name", SHEETS)
def test_every_sheet_can_be_made(told: tuple[State, Answer], name: str) -> None:
    """Each has a title, the car's name and something on it."""
    sheet = sheet_of(name, *told, DATE)
    assert sheet.title and sheet.blocks
    assert sheet.car == "barn six"


def test_unknown_sheet_is_refused_with_those_there_are(told: tuple[State, Answer]) -> None:
    """The error names every sheet."""
    with pytest.raises(Refused) as refused:
        sheet_of("invoice", *told, DATE)
    assert str(refused.value.problems[0]) == f"There is no sheet 'invoice'. Sheets: {', '.join(SHEETS)}."


def test_story_says_what_shows_that_it_worked(told: tuple[State, Answer]) -> None:
    """Each repair has its own proof: the miss for the coil plug, the trim for the hose, the drop for the ground."""
    state, _ = told
    chapters = {chapter.done: chapter for chapter in story_of(state)}
    plug = chapters["reseated plug of the coil cylinder 2"]
    hose = chapters["replaced vacuum hose"]
    ground = chapters["cleaned engine ground strap"]
    assert plug.was == "coil plug loose 2"
    assert any("P0302" in shown for shown in plug.shown_by)
    assert hose.was == "vacuum hose chewed"
    assert any(shown.startswith("long trim (hot idle), bank 1: +19 % before, +2 %") for shown in hose.shown_by)
    assert all("trim" not in shown for shown in ground.shown_by)
    assert any("0.9 V before, 0.1 V after" in shown for shown in ground.shown_by)


def test_came_in_with_is_what_was_complained_of(told: tuple[State, Answer]) -> None:
    """The driver's complaints and the codes, no healthy reading, nothing said after the work."""
    assert came_in_with(told[0]) == [
        "shakes at cold idle",
        "hesitates when pulling away",
        "slow crank",
        "P0302 stored, P0171 stored",
    ]


@pytest.mark.parametrize("name", ["arrival"])
def test_quoted_words_are_understood_when_typed_back(told: tuple[State, Answer], name: str) -> None:
    """What the sheet tells to say is a line the reader knows."""
    state, answer = told
    rows = [
        row for block in sheet_of(name, state, answer, DATE).blocks if isinstance(block, Items) for row in block.rows
    ]
    quoted = [row.split("say '")[1].rstrip("'") for row in rows if "say '" in row]
    assert len(quoted) >= 10
    for words in quoted:
        understood = read_line(words, state.car, state.library, Recent())
        assert is_understood(understood) and understood.bodies, words


def test_row_sheet_columns_are_typed_back_as_lines(told: tuple[State, Answer]) -> None:
    """The head of each column begins a line that is read as a row of that kind."""
    state, answer = told
    (table,) = [block for block in sheet_of("row", state, answer, DATE).blocks if isinstance(block, Table)]
    assert len(table.rows) == 6
    values = {"compression": "175", "gap": "0.9", "coil primary": "0.7", "injector ohms": "14"}
    for head in table.head[1:]:
        if head in values:
            understood = read_line(f"{head} {' '.join([values[head]] * 6)}", state.car, state.library, Recent())
            assert is_understood(understood), head
            assert len(understood.bodies) == 6, head


def test_record_names_what_was_not_inspected(told: tuple[State, Answer]) -> None:
    """A look that was not made is said, with a line to sign on and what the record is not."""
    text = as_text(sheet_of("record", *told, DATE))
    assert "Not inspected" in text
    assert "brake pedal held 30 s, every wheel brakes" in text
    assert "It is no roadworthiness or" in text
    assert "handed over by: ___" in text


def test_every_sheet_but_the_record_is_one_page(told: tuple[State, Answer], tmp_path: Path) -> None:
    """Pages are counted in the PDF itself (ISO 32000-1, 7.7.3: a page object says /Type /Page)."""
    for name in SHEETS:
        pdf = as_pdf(sheet_of(name, *told, DATE))
        streams = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL)
        whole = pdf + b"".join(_inflated(stream) for stream in streams)
        pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", whole))
        assert 1 <= pages <= (2 if name == "record" else 1), (name, pages)


def _inflated(stream: bytes) -> bytes:
    try:
        return zlib.decompress(stream)
    except zlib.error:
        return b""


def test_row_before_and_after_stand_on_one_strip(tmp_path: Path) -> None:
    """How it was is dashed below the axis, and said in words."""
    with Workshop(tmp_path, load()) as shop:
        code = shop.new("four").code
        for line in ("4 cylinders inline", "comp 170 172 60 171 psi", "adjusted valves 3", "comp 171 172 165 170 psi"):
            assert shop.say(code, line).counts, line
        sheet = sheet_of("record", shop.state(code), shop.answer(code), DATE)
    (strip,) = [block for block in sheet.blocks if isinstance(block, Picture) and "ompression" in block.heading]
    assert strip.heading == "Cranking compression (dashed: before the work)"
    assert strip.words == ("before: 1: 170, 2: 172, 3: 60, 4: 171 psi", "after: 1: 171, 2: 172, 3: 165, 4: 170 psi")
    assert "stroke-dasharray" in strip.svg
