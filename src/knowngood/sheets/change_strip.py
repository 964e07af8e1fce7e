"""Readings before and after on a line each: a dashed stroke where it was, a full one where it is, two thin lines where
it should be."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from textwrap import shorten

import msgspec

from knowngood.sheets.drawing import SERIF, WIDTH, opening, scale

LEFT, RIGHT, ROW = 268, 590, 46  # edges of the scale, height of a line
LETTERS = 42  # of the name, left of its line


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """One reading that moved.

    Parameters
    ----------
    name, before, after : str
        What was read and both readings in words.
    was, now : float
        The same as numbers of one unit.
    low, high : float or None
        Where it should be, in that unit.
    """

    name: str
    before: str
    after: str
    was: float
    now: float
    low: float | None = None
    high: float | None = None


def change_strip(changes: Sequence[Change]) -> str:
    """An SVG with a line for each, on a scale of its own.

    Parameters
    ----------
    changes : sequence of Change
        At least one.
    """
    parts = [opening(WIDTH, ROW * len(changes))]
    for index, change in enumerate(changes):
        parts += _line(change, ROW * index + 22)
    return "".join([*parts, "</svg>"])


def _line(change: Change, y: int) -> list[str]:
    x = scale((end for end in (change.was, change.now, change.low, change.high) if end is not None), LEFT, RIGHT)
    name = shorten(change.name, LETTERS, placeholder="...")
    parts = [
        f'<text x="0" y="{y + 4}" font-size="12" {SERIF}>{escape(name)}</text>',
        f'<path d="M{LEFT} {y} H{RIGHT}" stroke="black" stroke-width="1"/>',
        f'<path d="M{x(change.was)} {y} V{y + 10}" stroke="black" stroke-width="2" stroke-dasharray="3 2"/>',
        f'<path d="M{x(change.now)} {y} V{y - 10}" stroke="black" stroke-width="2"/>',
        f'<text x="{x(change.was)}" y="{y + 21}" font-size="11" text-anchor="middle" {SERIF}>{escape(change.before)}'
        "</text>",
        f'<text x="{x(change.now)}" y="{y - 13}" font-size="11" text-anchor="middle" {SERIF}>{escape(change.after)}'
        "</text>",
    ]
    for end in (change.low, change.high):
        if end is not None:
            parts.append(f'<path d="M{x(end)} {y - 7} V{y + 7}" stroke="black" stroke-width="0.6"/>')
    return parts
