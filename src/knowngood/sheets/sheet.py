"""A printed page as plain records: what stands on it, not how it looks. Each form of print reads the same records."""

from __future__ import annotations

import msgspec


class Words(msgspec.Struct, frozen=True, tag="words"):
    """A paragraph. ``strong`` is said first and larger; ``small`` is what must be there but is not read first."""

    text: str
    strong: bool = False
    small: bool = False


class Items(msgspec.Struct, frozen=True, tag="items"):
    """A list under a heading. ``boxes``: each with an empty box to tick. ``small`` as in :class:`Words`."""

    heading: str
    rows: tuple[str, ...]
    boxes: bool = False
    small: bool = False


class Table(msgspec.Struct, frozen=True, tag="table"):
    """Rows under a head; an empty cell of a table ``to_fill`` is a place to write, and the row is made high enough."""

    heading: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    to_fill: bool = False


class Lines(msgspec.Struct, frozen=True, tag="lines"):
    """Empty lines to write on; what is written is typed back as lines."""

    heading: str
    count: int


class Picture(msgspec.Struct, frozen=True, tag="picture"):
    """A drawing (SVG text) and the same said in words, for plain text and for who cannot see it."""

    heading: str
    svg: str
    words: tuple[str, ...]


class Signature(msgspec.Struct, frozen=True, tag="signature"):
    """A line to sign on, for each of ``who``."""

    who: tuple[str, ...]


Block = Words | Items | Table | Lines | Picture | Signature


class Sheet(msgspec.Struct, frozen=True, kw_only=True):
    """One printed page.

    Parameters
    ----------
    title, car, date : str
        What it is, of which car, when it was made.
    blocks : tuple of Block
    foot : str
        What the page does not say or claim.
    """

    title: str
    car: str
    date: str
    blocks: tuple[Block, ...]
    foot: str = ""
