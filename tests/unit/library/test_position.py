"""The line of every key of a TOML text, in all ways TOML can be written."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from knowngood.library.position import Path as Keys
from knowngood.library.position import positions

TEXT = '''\
# a comment with [[fault]] and "quotes"
title = "one # two"

[[fault]]
id = "a"   # behind
acts = [
  { on = "spark", level = "none" },
  # between
  { on = "fuel",
    level = "none" },
]
what = """
[[fault]]
acts = "not a key"
"""
[fault.chance]
per_1000 = 1_000
"wrong time".x = 'a "b" \\'
[[fault.cures]]
do = "replaced"
[[fault.cures]]
do = "cleaned"

[[fault]]
id = 'b'
[[fault.cures]]
do = "repaired"
[fault.needs]
ignition = ["coil on plug",
            "distributor"]
'''

LINES = {
    ("title",): 2,
    ("fault",): 4,
    ("fault", 0): 4,
    ("fault", 0, "id"): 5,
    ("fault", 0, "acts"): 6,
    ("fault", 0, "acts", 0, "level"): 7,
    ("fault", 0, "acts", 1): 9,
    ("fault", 0, "acts", 1, "level"): 10,
    ("fault", 0, "what"): 12,
    ("fault", 0, "chance"): 16,
    ("fault", 0, "chance", "per_1000"): 17,
    ("fault", 0, "chance", "wrong time", "x"): 18,
    ("fault", 0, "cures", 0, "do"): 20,
    ("fault", 0, "cures", 1): 21,
    ("fault", 0, "cures", 1, "do"): 22,
    ("fault", 1): 24,
    ("fault", 1, "cures", 0, "do"): 27,
    ("fault", 1, "needs", "ignition", 1): 30,
}


@pytest.mark.parametrize("keys", LINES, ids=str)
def test_line_of_key(keys: Keys) -> None:
    """Comments, texts over several lines and nested tables do not shift the count."""
    assert positions(TEXT)[keys] == LINES[keys]


def test_every_key_of_a_file_is_found() -> None:
    """What the parser reads and what the line finder finds are the same keys, each with its name in its line."""
    text = (Path(__file__).parent / "small.toml").read_text(encoding="utf-8")
    found = positions(text)
    lines = text.splitlines()
    keys = set(keys_of(tomllib.loads(text), ()))
    assert keys == set(found)
    for path in keys:
        if isinstance(path[-1], str):
            assert path[-1] in lines[found[path] - 1]


def keys_of(value: object, path: Keys) -> list[Keys]:
    """Every path of keys inside a parsed text."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return ([path] if path else []) + [keys for key, item in pairs for keys in keys_of(item, (*path, key))]


def test_unknown_text_keeps_what_was_found() -> None:
    """Where the text cannot be followed, the lines before it stay known."""
    assert positions("a = 1\n= 2\nb = 3\n") == {("a",): 1}
