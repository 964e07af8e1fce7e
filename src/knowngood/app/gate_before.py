"""The gate a step leads through: what cranks, runs or drives the car is advised with the looks that come before."""

from __future__ import annotations

from knowngood.app.bench import may_of
from knowngood.app.gate_view import gate_short
from knowngood.app.state import State
from knowngood.planner.gates import RUN, TURNED
from knowngood.sheets.words import capital

ROAD = "road"
LEADS_THROUGH = {"key at start": TURNED, "cranked": TURNED, "idle": RUN, "held at speed": RUN, "driven": ROAD}
"""What the engine does while a check is made -> the gate before it."""

Shut = dict[str, tuple[str, str]]


def shut_gates(state: State) -> Shut:
    """What the engine does -> the gate before it and how that stands, for gates that are not open.

    It refuses nothing here: the looks are said with the step. What must not run at all is not among the steps
    (:func:`knowngood.app.possible.must_not_run`).
    """
    gates = {name: may_of(state, name) for name in dict.fromkeys(LEADS_THROUGH.values()) if name in state.library.gates}
    return {
        engine: (name, f"May you {gates[name].gate.name}? {capital(gate_short(gates[name])).rstrip('.')}.")
        for engine, name in LEADS_THROUGH.items()
        if name in gates and not gates[name].is_open
    }
