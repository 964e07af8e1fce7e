"""Sheets word for word: of the example car those without chances, of a car of which nothing was told all of them."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from knowngood.app.example import tell_example
from knowngood.app.sheets import SHEETS, sheet_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text

DATE = "2026-05-01"


@pytest.mark.parametrize("name", ["arrival", "closing"])
def test_sheet_is_the_text_that_was_reviewed(name: str, tmp_path: Path, golden: Callable[[str, str], None]) -> None:
    """The example car, all told."""
    code, _ = tell_example(tmp_path, load(), until="")
    with Workshop(tmp_path, load()) as workshop:
        sheet = sheet_of(name, workshop.state(code), workshop.answer(code), DATE)
    golden(f"sheet_{name}.txt", as_text(sheet))


@pytest.mark.parametrize("name", list(SHEETS))
def test_empty_sheet_is_the_text_that_was_reviewed(
    name: str, tmp_path: Path, golden: Callable[[str, str], None]
) -> None:
    """A four of which nothing but its layout was told; the price before buying moves with every chance: no digits."""
    with Workshop(tmp_path, load()) as workshop:
        code = workshop.new("grey four").code
        for line in ("petrol, 4 cylinders inline, coil on plug, port injection, flow meter", "180000 km"):
            assert workshop.say(code, line).counts
        text = as_text(sheet_of(name, workshop.state(code), workshop.answer(code), DATE))
    if name == "buy":
        head, price, rest = re.split(r"(What it may cost\n.*?\n\n)", text, maxsplit=1, flags=re.DOTALL)
        text = head + re.sub(r"\d+", "#", " ".join(price.split())) + "\n\n" + rest
    golden(f"sheet_empty_{name}.txt", text)
