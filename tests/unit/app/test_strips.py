"""Drawings of what was measured: the window of the car, before and after."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

from knowngood.app.strips import change_blocks, row_strips
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.change_strip import Change, change_strip
from knowngood.sheets.sheet import Picture, Table

LINES = (
    "petrol, 4 cylinders inline, coil on plug, flow meter",
    "shakes at cold idle",
    "comp 172 170 60 175 psi",
    "compression should be 150 to 190 psi",
    "lt b1 +19 idle",
    "vacuum hose chewed",
    "replaced vacuum hose",
    "lt b1 +2 idle",
    "runs well, no shake",
    "comp 172 170 168 175 psi",
)


def pictures(tmp_path: Path) -> tuple[list[Picture], list[Picture | Table]]:
    """The rows, and what moved."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in LINES:
            shop.say(job, line)
        state = shop.state(job)
        return row_strips(state), change_blocks(state)  # type: ignore[return-value]


def test_row_shows_the_window_of_the_car_and_how_it_was(tmp_path: Path) -> None:
    """Two thin lines in the unit of the row, the row before the work dashed below."""
    (row,), _ = pictures(tmp_path)
    assert row.words == (
        "before: 1: 172, 2: 170, 3: 60, 4: 175 psi",
        "after: 1: 172, 2: 170, 3: 168, 4: 175 psi",
        "should be 150 to 190 psi (as told)",
    )
    assert "should be 150" in row.svg
    assert "should be 190" in row.svg
    assert row.svg.count("stroke-dasharray") == 4


def test_what_moved_is_drawn_and_what_is_a_word_stands_in_a_table(tmp_path: Path) -> None:
    """The trim on its line; the shake in words; the row of cylinders is not drawn twice."""
    _, (drawn, table) = pictures(tmp_path)
    assert isinstance(drawn, Picture)
    assert drawn.words == ("long trim (hot idle), bank 1: +19 % before, +2 % after",)
    assert isinstance(table, Table)
    assert ("shakes, runs unevenly", "yes", "no") in table.rows


def test_line_of_a_change_is_to_scale() -> None:
    """Before, after and the two ends of the window stand in the order of their size; a name is never markup."""
    change = Change(name="drop <of> it", before="0.9 V", after="0.1 V", was=0.9, now=0.1, low=0.0, high=0.3)
    root = ElementTree.fromstring(change_strip([change, change]))
    at = {element.text: float(element.get("x", "0")) for element in root if element.tag.endswith("text")}
    assert at["0.1 V"] < at["0.9 V"]
    assert "drop <of> it" in at
    strokes = [element.get("d", "") for element in root if element.get("stroke-width") == "0.6"]
    assert len(strokes) == 4
    low, high = (float(stroke.split()[0][1:]) for stroke in strokes[:2])
    assert low < at["0.1 V"] < high < at["0.9 V"]


def test_change_without_a_span_is_drawn_all_the_same() -> None:
    """Nothing to scale it by."""
    change = Change(name="x", before="0 V", after="0 V", was=0.0, now=0.0)
    assert change_strip([change]).endswith("</svg>")
