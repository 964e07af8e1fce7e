"""What an engine did while a number was read, by the size of the number: it ran, it charged, it was cold."""

from __future__ import annotations

from knowngood.errors import Refused
from knowngood.lines.amounts import read_cells
from knowngood.lines.cell import Cell
from knowngood.lines.elements import Element
from knowngood.lines.reader import Reader

CHARGING_V = 13.2
"""A battery read above this is being charged; common practice."""
RUNS_RPM = 450
"""No starter turns an engine this fast; common practice."""
COLD_ENGINE_C = (-20.0, 40.0)
"""What air and coolant have after a night; a sensor that is open shows less, an engine that has run more."""


def is_charging(cell: Element) -> bool:
    """Whether a battery voltage is one of a running engine."""
    return _is_over(cell, "battery_voltage", CHARGING_V)


def is_running(cell: Element) -> bool:
    """Whether an engine speed is one of a running engine."""
    return _is_over(cell, "engine_speed", RUNS_RPM)


def _is_over(cell: Element, quantity: str, least: float) -> bool:
    try:
        return read_cells([cell], quantity)[0].value > least
    except Refused:
        return False


def is_of_cold(reader: Reader, cell: Cell) -> bool:
    """The engine is said to be cold; or nothing is said of it, and the number is one of a cold engine."""
    if cell.conditions or any(token.means("condition", "hot") for token in reader.tokens):
        return "cold" in cell.conditions
    try:
        shown = read_cells([cell.element], "coolant_temperature")[0]
    except Refused:
        return False
    low, high = COLD_ENGINE_C
    if not low <= shown.value <= high:
        return False
    reader.suppose(f"{cell.element.text}: taken as of a cold engine")
    return True
