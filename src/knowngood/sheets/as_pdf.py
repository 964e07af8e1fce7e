"""A sheet as PDF, set by typst; nothing is read from or written to the disk but our own page form."""

from __future__ import annotations

from functools import cache
from importlib import resources

import msgspec

from knowngood.sheets.sheet import Sheet


@cache
def _form() -> bytes:
    return resources.files("knowngood.sheets").joinpath("sheet.typ").read_bytes()


def as_pdf(sheet: Sheet) -> bytes:
    """The sheet as the bytes of a PDF file."""
    import typst  # here: only who prints waits for it

    pdf = typst.compile(_form(), sys_inputs={"sheet": msgspec.json.encode(sheet).decode()}, timestamp=0)
    assert isinstance(pdf, bytes)
    return pdf
