"""A knowledge file with ten mistakes is told all of them in one pass, in the order of its lines."""

from __future__ import annotations

from pathlib import Path

from knowngood.library.load import Draft, add_texts, every_problem

FILES = Path(__file__).parents[1] / "unit" / "library"

SAID = """\
ten.toml:4: fault[lead_open].part: 5 is not words in quotes. Write it as "...".
ten.toml:6: fault[lead_open].chance.hihg: no key is called 'hihg'. Did you mean 'high'?
ten.toml:6: fault[lead_open].chance: 'high' is missing. Add it.
ten.toml:7: fault[lead_open].needs.ignition: 'coil and lead' is not a list. \
Write it in square brackets, also when it is only one.
ten.toml:16: fault[lead_leaks].acts[1].level: the ladder 'spark' has no level 'week'. Did you mean 'weak'?
ten.toml:22: fault[lead_leaks].chance.source: no source is called 'made_up_tabel'. Did you mean 'made_up_table'?
ten.toml:24: fault[lead_leaks].cures[0].do: 'replace' is no kind of work. Did you mean 'replaced'?
ten.toml:28: reding: no kind of record is called 'reding'. Did you mean 'reading'?
ten.toml:40: reading[lead_look].chance.whole: the chances sum to 1.1. Make them sum to 1.
ten.toml:48: check[lead_looked].tools[0]: no tool is called 'testr'. Did you mean 'tester'?
"""


def test_ten_mistakes_in_one_pass() -> None:
    """File, line, path of keys, fact and fix of each; the fault that could not be read makes no further noise."""
    draft = Draft()
    add_texts(draft, {"small.toml": (FILES / "small.toml").read_text(encoding="utf-8")})
    add_texts(draft, {"ten.toml": (FILES / "broken" / "ten_mistakes.toml").read_text(encoding="utf-8")})
    assert "".join(f"{problem}\n" for problem in every_problem(draft)) == SAID
