"""What is said when the library is asked for something that is not there."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.errors import LibraryInvalid, Refused
from knowngood.library import load
from knowngood.library.find import named
from knowngood.library.load import read


def test_no_such_folder(tmp_path: Path) -> None:
    """A shop's folder that is not there is refused, and nothing is read in its stead."""
    with pytest.raises(Refused) as caught:
        load(tmp_path / "own")
    assert str(caught.value) == (
        f"'{tmp_path / 'own'}' is not a folder. Make it, or name the folder that holds the shop's own files."
    )


def test_no_such_record() -> None:
    """An unknown id is answered with the nearest one."""
    ladders = read().library().ladders
    with pytest.raises(Refused) as caught:
        named(ladders, "sprak")
    assert str(caught.value) == "nothing is called 'sprak'. Did you mean 'spark'?"


def test_a_shops_mistake_is_told_with_its_file(tmp_path: Path) -> None:
    """A shop's file goes through every rule; the error carries file, line, path, fact and fix apart from each other."""
    own = tmp_path / "own.toml"
    own.write_text('\n[[caution]]\nid = "hot"\ntext = "Hot."\nsource = "memory"\n', encoding="utf-8")
    with pytest.raises(LibraryInvalid) as caught:
        load(tmp_path)
    assert caught.value.exit_code == 1
    (problem,) = [problem for problem in caught.value.problems if problem.file == str(own)]
    assert (problem.line, problem.path) == (5, "caution[hot].source")
    assert (problem.fact, problem.fix) == ("a caution rests on memory.", "Find a source, or common practice.")
