"""A fault at its place, in words."""

from __future__ import annotations

from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE


def fault_words(state: State, at: FaultAt) -> str:
    """``coil weak, cylinder 5``."""
    place = "" if at.place == ENGINE else f", {at.place}"
    return f"{state.library.faults[at.fault].name}{place}"
