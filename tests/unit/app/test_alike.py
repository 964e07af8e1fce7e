"""Suspects that nothing tells apart, over the library and on one car."""

from __future__ import annotations

import msgspec
import pytest

from knowngood.app.alike import alike_in_library, alike_pairs
from knowngood.app.state import state_of
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE, Place
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.planner.separation import Alike


@pytest.fixture(scope="module")
def library() -> Library:
    """The library as shipped."""
    return load()


def test_library_without_checks_tells_nothing_apart(library: Library) -> None:
    """Each check taken away can only add pairs; with none, far more than with all."""
    bare = alike_in_library(msgspec.structs.replace(library, checks={}))
    full = alike_in_library(library)
    assert len(bare) > 100 * max(len(full), 1)
    assert {(pair.first, pair.second) for pair in full} <= {(pair.first, pair.second) for pair in bare}
    costs = [pair.cost for pair in full]
    assert costs == sorted(costs, reverse=True)


def test_pair_is_said_in_one_sentence(library: Library) -> None:
    """Word for word; what wastes less than 1 is not said."""
    state = state_of(library, ())
    first, second = FaultAt("plug_worn", Place("cylinder", "3")), FaultAt("fuel_pump_weak", ENGINE)
    plug, pump = library.faults["plug_worn"].name, library.faults["fuel_pump_weak"].name
    pairs = alike_pairs(state, [Alike(first, second, 12.4, 1.5), Alike(second, first, 0.9, 1.0)])
    assert [pair.said for pair in pairs] == [
        f"No check here tells {plug}, cylinder 3 from {pump}: taking one for the other costs about 12 on average."
    ]
