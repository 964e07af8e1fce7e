"""A row of cylinders on one scale: each reading a numbered stroke with its figure, the window two thin lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape

from knowngood.sheets.drawing import SERIF, WIDTH, opening, scale

LEFT, RIGHT, AXIS = 40, 570, 74  # edges of the scale, and how far down its line lies
BELOW, BELOW_WITH_BEFORE = 12, 54  # room under the line
TOP_WITHOUT_WINDOW = 24  # the figures of a window stand above those of the cylinders; without them nothing is up there
LEAST_GAP = 50  # between figures that would be written over each other


def row_strip(
    values: Mapping[int, float],
    unit: str,
    *,
    window: tuple[float | None, float | None] = (None, None),
    before: Mapping[int, float] | None = None,
) -> str:
    """An SVG strip.

    Parameters
    ----------
    values : mapping cylinder -> value
        In ``unit``; at least one.
    window : (low, high)
        What it should be, where known; either end may be missing.
    before : mapping cylinder -> value, optional
        Drawn dashed below the axis: how it was.
    """
    ends = [*values.values(), *(before or {}).values(), *(end for end in window if end is not None)]
    x = scale(ends, LEFT, RIGHT)
    height = AXIS + (BELOW_WITH_BEFORE if before else BELOW)
    top = 0 if any(end is not None for end in window) else TOP_WITHOUT_WINDOW
    parts = [
        opening(WIDTH, height - top, top=top),
        f'<path d="M{LEFT} {AXIS} H{RIGHT}" stroke="black" stroke-width="1"/>',
        f'<text x="4" y="{AXIS + 4}" font-size="12" {SERIF}>{escape(unit)}</text>',
    ]
    for end in window:
        if end is not None:
            parts.append(f'<path d="M{x(end)} 16 V{AXIS + 20}" stroke="black" stroke-width="0.6"/>')
            parts.append(
                f'<text x="{x(end)}" y="12" font-size="11" text-anchor="middle" {SERIF}>should be {end:g}</text>'
            )
    parts += _strokes(values, x, up=True)
    if before:
        parts += _strokes(before, x, up=False)
    return "".join([*parts, "</svg>"])


def _strokes(values: Mapping[int, float], x: Callable[[float], float], *, up: bool) -> list[str]:
    parts: list[str] = []
    away, dash = (-1, "") if up else (1, ' stroke-dasharray="3 2"')
    in_order = sorted(values.items(), key=lambda pair: (pair[1], pair[0]))
    at = _apart([x(value) for _, value in in_order])
    for (number, value), said in zip(in_order, at, strict=True):
        tip = AXIS + away * 18
        parts.append(f'<path d="M{x(value)} {AXIS} V{tip}" stroke="black" stroke-width="2"{dash}/>')
        parts.append(f'<path d="M{x(value)} {tip} L{said} {tip + away * 12}" stroke="black" stroke-width="0.5"/>')
        y = tip + away * 16 + (0 if up else 8)
        parts.append(f'<text x="{said}" y="{y}" font-size="12" text-anchor="middle" {SERIF}>{number}: {value:g}</text>')
    return parts


def _apart(wanted: list[float]) -> list[float]:
    """Places for the figures, in the order given and no nearer to each other than can be read."""
    places: list[float] = []
    for place in wanted:
        places.append(max(place, places[-1] + LEAST_GAP) if places else place)
    last = float(RIGHT)
    for index in range(len(places) - 1, -1, -1):
        places[index] = round(min(places[index], last), 1)
        last = places[index] - LEAST_GAP
    return places
