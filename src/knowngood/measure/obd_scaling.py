"""Bytes of the open standard's current-data service turned into values.

`SCALES` is the table: identifier, names, units, formula. Values with `basis` 'from memory' were not seen in a copy of
the standard. Each value carries its step; half of a step either way is the least error it can have.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from knowngood.errors import NotMeasurable, Refused

Formula = Callable[[int, int], float | None]
SEEN = "SAE J1979 public parameter table"
MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Scale:
    """How one value is made of the bytes A and B; `step` is its change for one count."""

    name: str
    unit: str
    step: float
    formula: Formula
    width: int
    basis: str = SEEN


@dataclass(frozen=True, slots=True)
class ScaledValue:
    """A value with its unit and the standard error of its rounding (step / sqrt 12); `value` is None for 'not used'."""

    name: str
    value: float | None
    unit: str
    se: float
    basis: str


def _percent(name: str, width: int = 1) -> Scale:
    return Scale(name, "%", 100.0 / 255.0, lambda a, b: a * 100.0 / 255.0, width)


def _trim(name: str) -> Scale:
    return Scale(name, "%", 100.0 / 128.0, lambda a, b: (a - 128) * 100.0 / 128.0, 1)


def _celsius(name: str, basis: str = SEEN) -> Scale:
    return Scale(name, "°C", 1.0, lambda a, b: a - 40.0, 1, basis)


def _oxygen(name: str) -> tuple[Scale, Scale]:
    return (
        Scale(f"{name} voltage", "V", 1.0 / 200.0, lambda a, b: a / 200.0, 2),
        Scale(
            f"{name} short trim", "%", 100.0 / 128.0, lambda a, b: None if b == 0xFF else (b - 128) * 100.0 / 128.0, 2
        ),
    )


SCALES: dict[int, tuple[Scale, ...]] = {
    0x04: (_percent("calculated load"),),
    0x05: (_celsius("coolant temperature"),),
    0x06: (_trim("short trim, bank 1"),),
    0x07: (_trim("long trim, bank 1"),),
    0x08: (_trim("short trim, bank 2"),),
    0x09: (_trim("long trim, bank 2"),),
    0x0B: (Scale("manifold pressure", "kPa", 1.0, lambda a, b: float(a), 1),),
    0x0C: (Scale("engine speed", "1/min", 0.25, lambda a, b: (256 * a + b) / 4.0, 2),),
    0x0D: (Scale("road speed", "km/h", 1.0, lambda a, b: float(a), 1),),
    0x0E: (Scale("timing advance, cylinder 1", "deg", 0.5, lambda a, b: a / 2.0 - 64.0, 1),),
    0x0F: (_celsius("intake air temperature"),),
    0x10: (Scale("air mass flow", "g/s", 0.01, lambda a, b: (256 * a + b) / 100.0, 2),),
    0x11: (_percent("throttle position"),),
    **{0x14 + place: _oxygen(f"oxygen sensor {place % 4 + 1}, bank {place // 4 + 1}") for place in range(8)},
    0x42: (Scale("module voltage", "V", 0.001, lambda a, b: (256 * a + b) / 1000.0, 2, MEMORY),),
    0x43: (Scale("absolute load", "%", 100.0 / 255.0, lambda a, b: (256 * a + b) * 100.0 / 255.0, 2, MEMORY),),
    0x44: (Scale("commanded lambda", "", 2.0 / 65536.0, lambda a, b: (256 * a + b) * 2.0 / 65536.0, 2, MEMORY),),
    0x5C: (_celsius("oil temperature", MEMORY),),
}

FUEL_STATUS = {
    0: "engine off or not supplied",
    1: "open loop, not ready yet",
    2: "closed loop",
    4: "open loop because of driving",
    8: "open loop because of a fault",
    16: "closed loop with a fault",
}
"""Fuel system status, identifier 03: bits from memory."""


def scaled_values(identifier: int, data: bytes) -> tuple[ScaledValue, ...]:
    """Values of one answer of the current-data service.

    Parameters
    ----------
    identifier : int
        Parameter identifier, 0x0C for the engine speed.
    data : bytes
        The data bytes after the identifier, A first.

    Returns
    -------
    values : tuple of ScaledValue
        One, or two where the identifier carries two.

    Raises
    ------
    Refused
        The identifier is not in the table.
    NotMeasurable
        There are too few or too many bytes.

    Notes
    -----
    Cannot tell: whether the computer measured a value or put a default in its place; nor banks and sensors of cars that
    number oxygen sensors in the other layout (identifier 1D).

    References
    ----------
    sae_j1979 : SAE J1979 / ISO 15031-5, service 01, public parameter table.

    Examples
    --------
    >>> [(value.name, value.value, value.unit) for value in scaled_values(0x0C, bytes.fromhex("1AF8"))]
    [('engine speed', 1726.0, '1/min')]
    """
    if identifier not in SCALES:
        known = ", ".join(f"{number:02X}" for number in SCALES)
        raise Refused(f"Identifier {identifier:02X} is not in the table.", f"Known are {known}.")
    scales = SCALES[identifier]
    width = scales[0].width
    if len(data) != width:
        raise NotMeasurable(
            f"Identifier {identifier:02X} carries {width} data byte{'s' if width > 1 else ''}; {len(data)} came.",
            "Leave out the service and identifier bytes, and fill bytes after the data.",
        )
    a, b = data[0], data[1] if width > 1 else 0
    return tuple(
        ScaledValue(scale.name, scale.formula(a, b), scale.unit, scale.step / math.sqrt(12.0), scale.basis)
        for scale in scales
    )


def fuel_status(code: int) -> str:
    """State of the mixture control, from one byte of identifier 03.

    Parameters
    ----------
    code : int
        The byte; 0x02 is closed loop.

    Returns
    -------
    state : str

    Raises
    ------
    NotMeasurable
        The byte is none of the states.

    Notes
    -----
    Cannot tell: how long it has been so. Trims count in closed loop only.

    References
    ----------
    sae_j1979 : SAE J1979, identifier 03 (bits from memory).

    Examples
    --------
    >>> fuel_status(0x02)
    'closed loop'
    """
    if code not in FUEL_STATUS:
        raise NotMeasurable(f"Fuel system status {code:02X} is no single state.", "Read it again.")
    return FUEL_STATUS[code]


def misfire_monitor_cylinder(monitor: int) -> int:
    """Cylinder of a misfire counter of the test-result service on newer cars.

    Parameters
    ----------
    monitor : int
        Monitor identifier, A2 to AD (hex).

    Returns
    -------
    cylinder : int
        1 to 12.

    Raises
    ------
    Refused
        The identifier is not one of the misfire counters.

    Notes
    -----
    Cannot tell: where that number sits on this engine. Test 0B is the average of the last ten drives, 0C this one.

    References
    ----------
    sae_j1979 : SAE J1979, service 06 (from memory).

    Examples
    --------
    >>> misfire_monitor_cylinder(0xA4)
    3
    """
    if not 0xA2 <= monitor <= 0xAD:
        raise Refused(f"Monitor {monitor:02X} is no misfire counter of a cylinder.", "Give A2 to AD.")
    return monitor - 0xA1
