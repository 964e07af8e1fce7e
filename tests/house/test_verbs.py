"""The verbs of the Makefile, and what the first pages say about them."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MAKEFILE = (ROOT / "Makefile").read_text()
VERBS = re.findall(r"^([a-z]+):", MAKEFILE, re.MULTILINE)


def test_verbs_are_ten_at_most() -> None:
    """Nobody has to look up more than ten verbs."""
    assert len(VERBS) <= 10
    assert {"run", "test", "check", "fix"} <= set(VERBS)


def test_every_verb_is_explained_and_phony() -> None:
    """The head of the Makefile says what each verb does; no file can stand in for one."""
    assert re.findall(r"^#   ([a-z]+) ", MAKEFILE, re.MULTILINE) == VERBS
    assert re.findall(r"^\.PHONY: (.*)$", MAKEFILE, re.MULTILINE) == [" ".join(VERBS)]


def test_every_verb_sets_up_by_itself() -> None:
    """The first line of each recipe is the set-up, so that any verb works on a fresh machine."""
    for verb in VERBS:
        assert re.search(rf"^{verb}:\n\t\$\(SET_UP\) (run|dev|docs)\n", MAKEFILE, re.MULTILINE), verb


def test_readme_commands_exist() -> None:
    """README's two commands are there, and it names no verb that is not."""
    named = re.findall(r"\bmake ([a-z]+)\b", (ROOT / "README.md").read_text())
    assert {"run", "test"} <= set(named) <= set(VERBS)
