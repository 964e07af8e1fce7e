"""The knowledge that comes with the package passes every rule."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.library import load
from knowngood.library.__main__ import main
from knowngood.library.load import every_problem, read
from knowngood.library.rules import FOR_OURS, RULES


def test_our_library_is_read() -> None:
    """All of our files can be read, and reading them twice says the same."""
    assert load().hash == read().library().hash


@pytest.mark.parametrize("rule", RULES + FOR_OURS, ids=lambda rule: rule.__name__)
def test_our_library_passes(rule: object) -> None:
    """No record of ours breaks this rule; each problem is shown with its file and line."""
    draft = read()
    assert callable(rule)
    assert [str(problem) for problem in rule(draft.library(), draft.where)] == []


def test_every_record_has_a_line() -> None:
    """Each record's origin leads to the line of its own id."""
    where = read().where
    for (table, name), origin in where.origins.items():
        if origin.table:
            continue  # written out from a record of another kind, whose line it has
        key = "field" if table == "fitted" else "id"
        line = where.line(origin.file, (table, origin.index, key))
        assert f'"{name}"' in where.texts[origin.file].splitlines()[line - 1]


def test_a_shop_may_override_ours(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shop's price takes the place of ours, its mistake is printed and makes the exit code 1."""
    own = '[[tool]]\nid = "hand_tools"\nname = "hand tools"\ncommon = true\nprice = {price}\nsource = "{source}"\n'
    (tmp_path / "own.toml").write_text(own.format(price=1, source="memory"), encoding="utf-8")
    assert load(tmp_path).tools["hand_tools"].price == 1
    assert load(tmp_path).hash != load().hash
    assert main([str(tmp_path)]) == 0
    (tmp_path / "own.toml").write_text(own.format(price=1, source="memmory"), encoding="utf-8")
    assert len(every_problem(read(tmp_path))) == 1
    assert main([str(tmp_path)]) == 1
    said = capsys.readouterr().out
    assert f"{tmp_path / 'own.toml'}:6: tool[hand_tools].source: no source is called 'memmory'." in said
    assert said.endswith("; 1 problem\n")


def test_every_danger_says_what_is_not_done_until_then() -> None:
    """A fault that is a stop item stands in exactly one list of what the car must not be used for meanwhile."""
    library = load()
    told = [fault for until in library.until_then.values() for fault in until.faults]
    assert sorted(told) == sorted(fault.id for fault in library.faults.values() if fault.stop)
