"""What was measured, drawn: rows of cylinders on one scale, and readings that moved between before and after."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.app.pieces import DONE
from knowngood.app.state import State
from knowngood.app.story import as_it_should_be, before_and_after
from knowngood.evidence import Reading, Value, Work
from knowngood.library.records import ReadingKind
from knowngood.sheets.change_strip import Change, change_strip
from knowngood.sheets.row_strip import row_strip
from knowngood.sheets.sheet import Block, Picture, Table
from knowngood.units import Unit, kinds

MOST_DRAWN = 6


class _Measured(msgspec.Struct, frozen=True):
    number: int
    value: Value
    after: bool


def row_strips(state: State) -> list[Block]:
    """Rows of cylinders that were measured, each on one scale and in one unit; dashed how it was before the work."""
    rows: dict[str, list[_Measured]] = {}
    worked = False
    for entry in state.entries:
        body = entry.body
        worked = worked or (isinstance(body, Work) and body.who == "here" and body.do in DONE)
        if isinstance(body, Reading) and body.value is not None and not body.doubt and body.place.kind == "cylinder":
            place = state.layout.by_number(body.place)
            if place is not None:
                rows.setdefault(body.kind, []).append(_Measured(int(place.name), body.value, worked))
    return [
        _strip(state, state.library.readings[kind], row)
        for kind, row in rows.items()
        if len({one.number for one in row}) > 1
    ]


def _strip(state: State, kind: ReadingKind, row: Sequence[_Measured]) -> Picture:
    """A row of cylinders in the unit that is wanted; where none is, in the one typed last. The window as told."""
    quantity, last = kinds().get(kind.quantity), row[-1].value
    unit = quantity.units.get(state.settings.unit_of(kind.quantity) or last.unit) if quantity is not None else None
    said = unit.symbol or unit.name if unit is not None else last.unit

    def at(after: bool) -> dict[int, float]:
        return {one.number: _in(unit, one.value.number) for one in row if one.after is after}

    before, after = at(False), at(True)
    words = [
        f"{head}{', '.join(f'{number}: {value:g}' for number, value in sorted(values.items()))} {said}"
        for head, values in (("before: " if after else "", before), ("after: " if before else "", after))
        if values
    ]
    told = state.car.windows.get(kind.id)
    ends = (told.low, told.high) if told is not None else (None, None)
    low, high = (_in(unit, end) if end is not None else None for end in ends)
    if low is not None or high is not None:
        span = " to ".join(f"{end:g}" for end in (low, high) if end is not None)
        words.append(f"should be {span} {said} ({told.source if told is not None else ''})")
    title = f"{kind.name.capitalize()}{' (dashed: before the work)' if before and after else ''}"
    picture = row_strip(after or before, said, window=(low, high), before=before if after else None)
    return Picture(title, picture, tuple(words))


def _in(unit: Unit | None, base: float) -> float:
    return float(f"{unit.from_base(base) if unit else base:.4g}")


def change_blocks(state: State) -> list[Block]:
    """What was read before the work and after it: numbers on lines, words in a table."""
    moved = [one for one in before_and_after(state) if one.before != one.after]
    drawn: list[Change] = []
    for one in moved:
        was, now = one.reading_before.value, one.reading_after.value
        kind = state.library.readings.get(one.reading_before.kind)
        row = one.reading_before.place.kind == "cylinder"  # a row is drawn already
        if was is not None and now is not None and kind is not None and not row and len(drawn) < MOST_DRAWN:
            low, high = as_it_should_be(state, kind)
            drawn.append(
                Change(
                    name=one.name,
                    before=one.before,
                    after=one.after,
                    was=was.number,
                    now=now.number,
                    low=low,
                    high=high,
                )
            )
    blocks: list[Block] = []
    if drawn:
        words = tuple(f"{one.name}: {one.before} before, {one.after} after" for one in drawn)
        blocks.append(Picture("Before the work (dashed) and after it", change_strip(drawn), words))
    names = {one.name for one in drawn}
    rest = tuple((one.name, one.before, one.after) for one in moved if one.name not in names)
    if rest:
        blocks.append(Table("Read before and after", ("what", "before", "after"), rest))
    return blocks
