"""Tables kept with date and commit, and their pictures."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from knowngood.proving.kept import keep

WAYS = {"knows": {"mean": 100.0, "median": 80.0, "p90": 200.0}, "ours": {"mean": 150.0, "median": 90.0, "p90": 400.0}}
BINS = {"own": {"said": [0.1, 0.5], "there": [0.1, 0.4], "suspects": [10.0, 10.0]}}


@pytest.mark.parametrize(("full", "folder"), [(True, "docs/figures"), (False, "build")])
def test_full_run_goes_into_the_docs_and_a_short_one_does_not(
    full: bool, folder: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The table says how it was asked for and when; its picture lies beside it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("CARS", "2")
    monkeypatch.delenv("FULL", raising=False)
    monkeypatch.delenv("ONLY", raising=False)
    file = keep("ways", {"ways": WAYS}, full=full)
    kept = json.loads(file.read_text())
    assert file == Path(folder) / "ways.json"
    assert kept["command"] == "make prove CARS=2" and len(kept["date"]) == 10
    assert kept["ways"] == WAYS
    assert "<svg" in file.with_suffix(".svg").read_text()


def test_reliability_is_drawn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A line a world, named beside it, with a mark at each of its bins; and the line of chances that are right."""
    monkeypatch.chdir(tmp_path)
    worlds = {**BINS, "disturbed": {"said": [0.1, 0.4, 0.8], "there": [0.2, 0.3, 0.7], "suspects": [9.0] * 3}}
    drawn = keep("chances", {"bins": worlds}, full=False).with_suffix(".svg").read_text()
    assert "<!-- own -->" in drawn and "<!-- disturbed -->" in drawn
    lines = re.findall(r'<g id="line2d_\d+">\s*<path d="([^"]*)" clip-path', drawn)
    assert sorted(path.count("L") for path in lines) == [1, 1, 2]
