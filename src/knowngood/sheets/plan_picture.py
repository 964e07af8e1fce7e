"""The plan of an engine as a drawing: banks, numbers, firing order, front marked; strokes and a word beside each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from textwrap import wrap

from knowngood.sheets.drawing import SERIF, opening
from knowngood.sheets.words import tally

RADIUS, STEP, BANK = 20, 84, 60  # of a cylinder; from one to the next; from bank to bank, without notes
STROKE = 3  # from one tally stroke to the next, and the gap between two fives
LEFT, TOP = 60, 46  # of the first cylinder
LINE, NOTE = 15, 13  # between lines of notes; signs in one
TEXT, SMALL = 15, 12  # heights of letters
LEAST_WIDTH = 584  # that of a row of six, so that fewer cylinders are drawn no larger


def plan_picture(
    banks: Sequence[Sequence[int]],
    sides: Sequence[str],
    firing_order: Sequence[int],
    notes: Mapping[int, Sequence[str]],
    strokes: Mapping[int, int],
) -> str:
    """An SVG of the engine seen from above, the pulley end on the left.

    Parameters
    ----------
    banks : sequence of sequences of int
        Cylinder numbers of each bank, counted from the pulley end.
    sides : sequence of str
        ``left`` or ``right`` for each bank, seen from the flywheel end; ``""`` inline.
    firing_order : sequence of int
        Empty where it is not known.
    notes : mapping cylinder -> lines of text
        What is written under a cylinder.
    strokes : mapping cylinder -> int
        0 to 10 tally strokes beside a cylinder.
    """
    # who stands at the flywheel end, on the right of the drawing, has the left bank at the lower edge
    order = sorted(range(len(banks)), key=lambda bank: sides[bank] == "left")
    notes = {number: [line for note in said for line in wrap(note, NOTE)] for number, said in notes.items()}
    step = BANK + LINE * max((len(said) for said in notes.values()), default=0)
    width = max(LEFT + STEP * max(len(bank) for bank in banks) + 20, LEAST_WIDTH)
    height = TOP + step * len(banks)
    parts = [
        opening(width, height),
        f'<text x="8" y="20" font-size="{TEXT}" {SERIF}>pulley end (front of the engine)</text>',
        f'<path d="M26 {TOP} V{height - 30}" stroke="black" stroke-width="3"/>',
    ]
    if firing_order:
        said = "-".join(str(number) for number in firing_order)
        parts.append(f'<text x="{width - 8}" y="20" font-size="{TEXT}" text-anchor="end" {SERIF}>fires {said}</text>')
    for row, bank in enumerate(order):
        y = TOP + step * row + RADIUS + 4
        if sides[bank]:
            parts.append(f'<text x="34" y="{y - RADIUS - 8}" font-size="{SMALL}" {SERIF}>{sides[bank]} bank</text>')
        for place, number in enumerate(banks[bank]):
            parts += _cylinder(LEFT + STEP * place + RADIUS, y, number, notes.get(number, ()), strokes.get(number, 0))
    return "".join([*parts, "</svg>"])


def _cylinder(x: int, y: int, number: int, notes: Sequence[str], strokes: int) -> list[str]:
    parts = [
        f'<circle cx="{x}" cy="{y}" r="{RADIUS}" fill="white" stroke="black" stroke-width="1.5"/>',
        f'<text x="{x}" y="{y + 6}" font-size="18" text-anchor="middle" {SERIF}>{number}</text>',
    ]
    for place, sign in enumerate(tally(strokes)):
        at = x + RADIUS + 4 + STROKE * place
        if sign == "|":
            parts.append(f'<path d="M{at} {y - 12} V{y + 12}" stroke="black" stroke-width="1.5"/>')
    for line, text in enumerate(notes):
        parts.append(
            f'<text x="{x - RADIUS}" y="{y + RADIUS + 17 + LINE * line}" font-size="{SMALL}" {SERIF}>'
            f"{escape(text)}</text>"
        )
    return parts
