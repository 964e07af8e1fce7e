"""A sheet as plain text of 78 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from knowngood.sheets.sheet import Block, Items, Lines, Picture, Sheet, Signature, Table, Words

WIDTH = 78
LEAST_TO_FILL = 8  # characters of an empty cell to write in
MOST_OF_A_NAME = 44  # characters before the line to sign on, which has the date behind it


def as_text(sheet: Sheet) -> str:
    """The sheet as text; ends with a line end."""
    head = [*_wrap(sheet.title.upper()), *_wrap(f"{sheet.car}, {sheet.date}")]
    blocks = ["\n".join(_lines(block)) for block in sheet.blocks]
    foot = ["\n".join(_wrap(sheet.foot))] if sheet.foot else []
    return "\n\n".join(["\n".join(head), *blocks, *foot]) + "\n"


def _wrap(text: str, first: str = "", rest: str = "") -> list[str]:
    if not text:
        return [first.rstrip()]
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)


def _lines(block: Block) -> Iterator[str]:
    match block:
        case Words(text=text):
            yield from _wrap(text)
        case Items(heading=heading, rows=rows, boxes=boxes):
            yield from _wrap(heading)
            for row in rows:
                yield from _wrap(row, "  [ ] " if boxes else "  - ", "      " if boxes else "    ")
        case Table():
            yield from _table(block)
        case Lines(heading=heading, count=count):
            yield from _wrap(heading)
            yield from ["_" * WIDTH] * count
        case Picture(heading=heading, words=words):
            yield from _wrap(heading)
            for row in words:
                yield from _wrap(row, "  ", "    ")
        case Signature(who=who):
            for name in who:
                *above, last = textwrap.wrap(f"{name}:", MOST_OF_A_NAME)
                yield from above
                yield f"{last} ".ljust(30, "_") + "   date: " + "_" * 16


def _table(table: Table) -> Iterator[str]:
    if table.heading:
        yield from _wrap(table.heading)
    widths = _widths(table)
    for row in (table.head, *table.rows):
        parts = [textwrap.wrap(cell, width) or [""] for cell, width in zip(row, widths, strict=True)]
        for line in range(max(len(part) for part in parts)):
            cells = [
                "_" * width
                if table.to_fill and not whole and line == 0
                else (part[line] if line < len(part) else "").ljust(width)
                for part, width, whole in zip(parts, widths, row, strict=True)
            ]
            yield "  " + "  ".join(cells).rstrip()


def _widths(table: Table) -> list[int]:
    """Characters for each column: what it needs, the widest made narrower until the line fits."""
    columns = zip(table.head, *table.rows, strict=True)
    least = LEAST_TO_FILL if table.to_fill else 1
    widths = [max(least, *(len(cell) for cell in column)) for column in columns]
    room = WIDTH - 2 * len(widths)
    while sum(widths) > room:
        widths[widths.index(max(widths))] -= 1
    if table.to_fill and not any(row[-1] for row in table.rows):
        widths[-1] += room - sum(widths)  # the last place to write takes what is left
    return widths
