"""Every page before a checker of others: what it calls serious or critical is found on none.

Rules: axe-core, from its distribution (vendor/), run as it comes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.axe import serious
from tests.browser.every_page import KINDS

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_serious(opened: Opened, pages: dict[str, str], kind: str) -> None:
    """Labels, roles, landmarks, contrast, order of headings."""
    page = opened("phone")
    page.goto(pages[kind])
    assert serious(page) == []


def test_checker_finds_what_is_wrong(opened: Opened) -> None:
    """A field without a label and a picture without words are serious."""
    page = opened("phone")
    page.set_content("<html lang=en><title>x</title><main><h1>x</h1><input><img src='data:,'></main>")
    assert {one.split(":")[0] for one in serious(page)} == {"image-alt", "label"}
