"""The names a program of one's own may use: few, all documented, all there, and the page's examples run."""

from __future__ import annotations

import doctest
import re
from pathlib import Path

import pytest

import knowngood

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "python.md"


def test_face_is_a_dozen_names_at_most() -> None:
    """Whoever reads the page has read all of it."""
    assert len(knowngood.__all__) <= 12
    assert dir(knowngood) == sorted([*knowngood.__all__, "__version__"])


def test_every_name_is_there_and_documented() -> None:
    """The page's table and the package say the same."""
    named = re.findall(r"^\| `(\w+)", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(named) == sorted(knowngood.__all__)
    for name in knowngood.__all__:
        assert getattr(knowngood, name).__doc__, name


def test_name_that_is_none_is_told() -> None:
    """A slip names what there is."""
    with pytest.raises(AttributeError, match=r"^There is no 'Wrkshop' in knowngood. Its names: Answer, Car, "):
        _ = knowngood.Wrkshop


def test_examples_of_the_page_run() -> None:
    """What the page shows is what comes out."""
    tried = doctest.testfile(str(PAGE), module_relative=False, encoding="utf-8")
    assert tried.attempted > 8
    assert tried.failed == 0
