"""Reading files into a library: what is laid over what, and what its hash stands for."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest

from knowngood.library.load import Draft
from knowngood.library.records import Library

TOOL = '[[tool]]\nid = "tester"\nname = "{name}"\ncommon = true\nprice = {price}\nsource = "memory"\n'


def test_every_table_is_read(small: Library) -> None:
    """Each kind of record lands in its place, under its id."""
    assert list(small.faults) == ["coil_dead", "coil_weak", "hose_split", "valve_burnt"]
    assert small.faults["coil_weak"].acts[0].when == ("pull",)
    assert small.faults["coil_weak"].needs == {"ignition": ("coil on plug",)}
    assert small.readings["compression"].spread["leaking"].high == 0.85
    assert small.ladders["burn"].inputs["mixture"] == {"-6..-5": "poor"}
    assert small.codes["P0301..P0304"].each == "cylinder"
    assert small.fitted["turbo"].share == {"yes": 0.1, "no": 0.9}


def test_later_files_override_by_id(lay_over: Callable[..., Draft]) -> None:
    """A shop's record takes the place of ours with the same id; the others stay, in their order."""
    draft = lay_over(
        TOOL.format(name="own tester", price=3)
        + '[[tool]]\nid = "lamp"\n'
        + TOOL.partition("\n")[2].partition("\n")[2].format(name="lamp", price=1)
    )
    library = draft.library()
    assert draft.problems == []
    assert list(library.tools) == ["tester", "lamp"]
    assert library.tools["tester"].name == "own tester"


def test_a_refused_override_leaves_ours(lay_over: Callable[..., Draft]) -> None:
    """An override with a mistake of form is told and does not hide the record it meant to replace."""
    draft = lay_over(TOOL.format(name="own tester", price='"cheap"'))
    assert len(draft.problems) == 1
    assert draft.library().tools["tester"].name == "spark tester"


def test_one_bad_file_does_not_hide_the_next(lay_over: Callable[..., Draft]) -> None:
    """A file that is no TOML is told; the files behind it are read."""
    draft = lay_over("a = [", TOOL.format(name="own tester", price=3))
    assert [problem.file for problem in draft.problems] == ["broken.toml"]
    assert draft.library().tools["tester"].name == "own tester"


def test_hash_follows_what_is_said(lay_over: Callable[..., Draft]) -> None:
    """Comments, blanks and the order of keys do not change the hash; a price does."""
    plain = TOOL.format(name="own tester", price=3)
    lines = plain.splitlines()
    other = "\n".join(["# a note", lines[0], *reversed(lines[1:])]).replace(" = ", "  =  ").replace("  3", "  3.0")
    assert lay_over(plain).library().hash == lay_over(other).library().hash
    assert lay_over(plain).library().hash != lay_over(TOOL.format(name="own tester", price=4)).library().hash
    assert len(lay_over().library().hash) == 64


def test_no_record_is_dropped_without_a_problem(
    lay_over: Callable[..., Draft], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A form that no words of ours describe is told in those of the reader."""
    monkeypatch.setattr(sys.modules[Draft.__module__], "mistakes", lambda *_: iter(()))
    (problem,) = lay_over(TOOL.format(name="own tester", price='"cheap"')).problems
    assert problem.path == "tool[tester]"
    assert problem.fact == "Expected `float`, got `str` - at `$.price`."
