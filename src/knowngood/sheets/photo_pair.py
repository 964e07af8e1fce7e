"""Photos beside each other, such as before and after, as one drawing that needs no other file."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from html import escape
from textwrap import shorten

import msgspec

from knowngood.sheets.drawing import SERIF, WIDTH, opening

GAP, HIGH, HEAD = 20, 210, 20  # between photos, most of their height, room for the words over them
LETTERS = 46  # of the words over a photo, half a page wide


class Jpeg(msgspec.Struct, frozen=True):
    """A picture as the bytes of a JPEG file, and its sides in pixels."""

    data: bytes
    width: int
    height: int


def photo_pair(shots: Sequence[tuple[str, Jpeg]]) -> str:
    """An SVG with one or two photos side by side, each under its words.

    Parameters
    ----------
    shots : sequence of (words, Jpeg)
    """
    side = (WIDTH - GAP) / 2
    fits = [min(side / one.width, HIGH / one.height) for _, one in shots]
    height = HEAD + max(one.height * fit for (_, one), fit in zip(shots, fits, strict=True))
    parts = [opening(WIDTH, round(height))]
    for index, ((words, one), fit) in enumerate(zip(shots, fits, strict=True)):
        x = index * (side + GAP)
        said = shorten(words, LETTERS, placeholder="...")
        parts.append(f'<text x="{x:.0f}" y="14" font-size="13" {SERIF}>{escape(said)}</text>')
        parts.append(
            f'<image x="{x:.0f}" y="{HEAD}" width="{one.width * fit:.0f}" height="{one.height * fit:.0f}" '
            f'href="data:image/jpeg;base64,{b64encode(one.data).decode()}"/>'
        )
    return "".join([*parts, "</svg>"])
