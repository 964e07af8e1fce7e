"""Every rule is broken once by a file of its own, which opens with the problems it must raise, word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from knowngood.library.load import Draft
from knowngood.library.records import Library
from knowngood.library.rules import FOR_OURS, RULES, Rule, check_library

BROKEN = Path(__file__).parent / "broken"


def test_small_library_passes_every_rule(small: Library) -> None:
    """What the broken files are laid over has no problem of its own."""
    assert check_library(small) == []


@pytest.mark.parametrize("rule", RULES + FOR_OURS, ids=lambda rule: rule.__name__)
def test_rule_says_what_is_wrong(rule: Rule, lay_over: Callable[..., Draft]) -> None:
    """A rule's broken file raises the problems at its head and no others, some of them by the rule."""
    text = (BROKEN / f"{rule.__name__}.toml").read_text(encoding="utf-8")
    expected = [line.removeprefix("# ") for line in text.splitlines() if line.startswith("# ")]
    draft = lay_over(text)
    library = draft.library()
    assert draft.problems == []
    found = check_library(library, draft.where) + (rule(library, draft.where) if rule in FOR_OURS else [])
    assert [str(problem) for problem in found] == expected
    assert rule(library, draft.where)


def test_broken_files_belong_to_rules() -> None:
    """No broken file is left over from a rule that is gone."""
    rules = {rule.__name__ for rule in RULES + FOR_OURS}
    assert {path.stem for path in BROKEN.glob("*.toml")} == rules | {"ten_mistakes"}


def test_problems_without_origin_name_the_record(lay_over: Callable[..., Draft]) -> None:
    """A library whose files are not at hand is checked all the same; the path alone says where."""
    library = lay_over('[[caution]]\nid = "hot"\ntext = "Hot."\nsource = "memory"\n').library()
    problems = check_library(library)
    assert [str(problem) for problem in problems] == [
        "caution[hot].source: a caution rests on memory. Find a source, or common practice."
    ]
