"""What is written on paper is typed back: any values in the row sheet, any answers on the arrival sheet."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.app.sheets_bay import ASKED, arrival_sheet, row_sheet
from knowngood.app.state import State
from knowngood.app.weigh import is_understood
from knowngood.app.workshop import Workshop
from knowngood.evidence import Reading
from knowngood.library.load import load
from knowngood.lines import Recent, read_line
from knowngood.sheets.sheet import Items, Table

COLUMNS = {
    "compression": st.integers(min_value=30, max_value=220).map(str),
    "gap": st.integers(min_value=4, max_value=20).map(lambda tenths: f"{tenths / 10:.1f}"),
    "coil primary": st.integers(min_value=3, max_value=30).map(lambda tenths: f"{tenths / 10:.1f}"),
    "injector ohms": st.integers(min_value=20, max_value=180).map(lambda tenths: f"{tenths / 10:.1f}"),
}
ANSWERS = {
    "drive": ["petrol", "hybrid", "gas conversion"],
    "cylinders": ["4 cylinders inline", "6 cylinders V", "4 cylinders flat", "3 cylinders"],
    "ignition": ["coil on plug", "coil and lead", "pair coil", "distributor"],
    "injection": ["port injection", "single point", "direct injection"],
    "air": ["flow meter", "manifold pressure", "flow meter, turbo"],
    "km, year": ["187000 km", "187000 km, about 2002"],
    "stood": ["stood 2 years", "stood 2 years behind a barn", "mouse droppings under the bonnet"],
    "done last": ["done last: rocker cover gasket by a neighbour", "done last: not known"],
    "new parts": ["new parts: none", "new parts: plugs, coil 3"],
}


@cache
def six() -> State:
    """A six with a coil on each plug."""
    with Workshop(Path(mkdtemp()), load()) as shop:
        job = shop.new("six").code
        assert shop.say(job, "petrol, 6 cylinders inline, coil on plug, port injection, flow meter").counts
        return shop.state(job)


@cache
def heads() -> tuple[str, ...]:
    """The columns of the row sheet that take a number."""
    (table,) = [block for block in row_sheet(six(), "2026-05-01").blocks if isinstance(block, Table)]
    return tuple(head for head in table.head if head in COLUMNS)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_column_of_the_row_sheet_is_a_row_of_readings(data: st.DataObject) -> None:
    """Head and six cells, a dash where nothing was measured: a reading for each cell that was filled, at its place."""
    head = data.draw(st.sampled_from(heads()))
    cells = data.draw(
        st.lists(COLUMNS[head] | st.just("-"), min_size=6, max_size=6).filter(lambda row: set(row) != {"-"})
    )
    understood = read_line(f"{head} {' '.join(cells)}", six().car, six().library, Recent())
    assert is_understood(understood), understood
    read = [body for body in understood.bodies if isinstance(body, Reading) and body.value is not None]
    filled = [number for number, cell in enumerate(cells, start=1) if cell != "-"]
    assert [six().layout.number(body.place) for body in read] == filled


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_the_arrival_sheet_filled_in_is_understood(data: st.DataObject) -> None:
    """One answer for each line of the sheet: every one counts."""
    assert [row[0] for row in ASKED] == list(ANSWERS)
    for name in ANSWERS:
        line = data.draw(st.sampled_from(ANSWERS[name]))
        understood = read_line(
            line, six().car if name in ("done last", "new parts") else type(six().car)(), load(), Recent()
        )
        assert is_understood(understood) and understood.bodies, (name, line, understood)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_a_box_of_the_arrival_sheet_is_ticked_by_its_words(data: st.DataObject) -> None:
    """Any look of the sheet, said good as it tells or with a bad word of its own."""
    (items,) = [block for block in arrival_sheet(six(), "2026-05-01").blocks if isinstance(block, Items)]
    said = data.draw(st.sampled_from(items.rows)).split("say '")[1].rstrip("'")
    understood = read_line(said, six().car, six().library, Recent())
    (body,) = understood.bodies
    assert isinstance(body, Reading)
    kind = six().library.readings[body.kind]
    assert body.word == kind.words[0]
    bad = data.draw(st.sampled_from(kind.words[1:]))
    other = read_line(f"{said.rpartition(':')[0]}: {bad}", six().car, six().library, Recent())
    assert is_understood(other), other
    assert [one.word for one in other.bodies if isinstance(one, Reading)] == [bad]


@pytest.mark.parametrize(
    ("line", "places"),
    [
        ("compression 170 - - 171 - -", [1, 4]),
        ("gap - - - 0.9 - -", [4]),
        ("compression - - - - - 170", [6]),
    ],
)
def test_dashes_keep_the_places_of_what_was_measured(line: str, places: list[int]) -> None:
    """Also at the ends and side by side: a number never slides to another cylinder, nor is taken for all of them."""
    understood = read_line(line, six().car, six().library, Recent())
    assert [six().layout.number(body.place) for body in understood.bodies if isinstance(body, Reading)] == places
