"""What a shop pays back for a part that was not needed: its own data say so."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.state import State
from knowngood.app.taken_back import comes_back
from knowngood.app.tasks import repairs_of
from knowngood.library.load import load
from tests.told import state_after

NOTES = "4 cylinders inline, coil on plug, port injection\nP0302, shakes\n"
COIL = """
[[part]]
id = "coil"
name = "ignition coil"
price = 40
place = "cylinder"
source = "memory"
taken_back = { share = 0.8, minutes = 6, source = "common practice" }
"""


def state_with(folder: Path | None) -> State:
    """The car, with our library or a shop's own folder over it."""
    return state_after(NOTES, knowing=load(folder))


def test_unknown_means_nothing_comes_back() -> None:
    """No part of ours says that it is taken back: what a shop does is not known to us."""
    state = state_with(None)
    assert comes_back(state, "coil", 40.0, 3.0) == 0.0
    assert {repair.refund for repair in repairs_of(state)} == {0.0}


def test_share_less_the_way_and_the_hands(tmp_path: Path) -> None:
    """0.8 x 40 = 32, less 6 + 3 minutes at 40 an hour = 6: 26 come back."""
    (tmp_path / "own.toml").write_text(COIL, encoding="utf-8")
    state = state_with(tmp_path)
    assert comes_back(state, "coil", 40.0, 3.0) == pytest.approx(26.0)
    assert comes_back(state, "coil", 0.0, 3.0) == 0.0, "nothing was paid for one on the shelf"
    assert comes_back(state, "coil", 5.0, 30.0) == 0.0, "it is not worth the way"
    coils = [repair for repair in repairs_of(state) if repair.part == "coil" and repair.do == "replaced"]
    assert coils and all(0.0 < repair.refund < 32.0 for repair in coils)
