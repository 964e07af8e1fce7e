"""What is said when the library is asked for something that is not there."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.errors import LibraryInvalid, Refused
from knowngood.library import load
from knowngood.library.__main__ import main
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


def test_file_that_is_not_utf_8_is_told_with_its_line(tmp_path: Path) -> None:
    """The other files are read, and nothing breaks off."""
    own = tmp_path / "own.toml"
    own.write_bytes(b'[[tool]]\nname = "l\xf6ss"\n')
    (problem,) = read(tmp_path).problems
    assert str(problem) == (
        f"{own}:2: the byte 0xf6 here is not UTF-8. Save the file as UTF-8; nothing of it is read until then."
    )


def test_no_such_folder_at_the_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """2 is "could not do what was typed"; 1 would be a library with problems."""
    assert main([str(tmp_path / "own")]) == 2
    assert capsys.readouterr().err == (
        f"'{tmp_path / 'own'}' is not a folder. Make it, or name the folder that holds the shop's own files.\n"
    )
