"""Open or short, sensor or wire: decided with the plug off and the plug bridged."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.given import above_zero, finite
from knowngood.measure.sensors_rail import FAULT_SHARE

_ENDS = "Unplug the computer's plug: still low to ground is the wire, free is the computer or its supply."
_GROUND = "Bridge the signal to body ground instead: goes low is the ground wire, stays high is the signal wire."


@dataclass(frozen=True, slots=True)
class OpenShort:
    """What the three voltages say: `suspects` in order, `next_step` what decides further, empty when decided."""

    suspects: tuple[str, ...]
    next_step: str


def open_or_short(
    plugged_v: float, *, supply_v: float = 5.0, unplugged_v: float | None = None, bridged_v: float | None = None
) -> OpenShort:
    """Where the fault of a sensor with a pull-up lies.

    The pull-up sits in the computer. With the plug off the signal must go to the supply; with signal and ground
    bridged at the plug it must go to 0. What does not follow is between the plug and the computer.

    Parameters
    ----------
    plugged_v : float [V]
        Signal at the plug, sensor connected.
    supply_v : float [V]
        Supply of the pull-up.
    unplugged_v, bridged_v : float or None [V]
        Signal with the plug off, and with signal and ground bridged at the plug; None when not done.

    Returns
    -------
    OpenShort

    Raises
    ------
    NotMeasurable
        A number is not finite, or the supply is not above zero.

    Notes
    -----
    Cannot tell: a fault that comes and goes; wire from computer without reading at both ends. A sensor in the middle
    of its span may still be wrong. The limits, 5 and 95 % of the supply, are from memory. Bridge only a two-wire
    sensor with a pull-up: never a fed sensor, an airbag or an oxygen sensor.

    References
    ----------
    circuit_theory : a resistor to the supply with a switch to ground.

    Examples
    --------
    >>> open_or_short(4.98, unplugged_v=4.99, bridged_v=0.01).suspects
    ('sensor open',)
    """
    supply = above_zero("Supply", supply_v, "V")
    plugged = _level("plugged", plugged_v, supply)
    unplugged = None if unplugged_v is None else _level("unplugged", unplugged_v, supply)
    bridged = None if bridged_v is None else _level("bridged", bridged_v, supply)
    if unplugged == "middle" or bridged == "middle":
        return OpenShort(
            ("signal wire leaking or corroded", "ground wire"), "Read each wire from end to end, unplugged."
        )
    if unplugged == "low":
        return OpenShort(("signal wire shorted to ground", "no supply from the computer"), _ENDS)
    if bridged == "high":
        return OpenShort(("signal wire open", "ground wire open", "signal wire shorted to supply"), _GROUND)
    return _by_sensor(plugged, unplugged is not None, bridged is not None)


def _by_sensor(plugged: str, was_unplugged: bool, was_bridged: bool) -> OpenShort:
    if plugged == "high":
        if was_bridged:
            return OpenShort(("sensor open",), "")
        return OpenShort(("sensor open", "signal wire open", "ground wire open"), "Bridge the plug and read again.")
    if plugged == "low":
        if was_unplugged:
            return OpenShort(("sensor shorted",), "")
        return OpenShort(("sensor shorted", "signal wire shorted to ground"), "Take the plug off and read again.")
    return OpenShort((), "")


def _level(how: str, signal_v: float, supply_v: float) -> str:
    """Where a signal lies: `low`, `middle` or `high`; one above the supply is refused."""
    share = finite(f"Signal {how}", signal_v, "V") / supply_v
    if share > 1.1:
        raise NotMeasurable(
            f"The signal is {signal_v:g} V with a supply of {supply_v:g} V.",
            "It is shorted to battery voltage, or the supply is another one. Read the supply at the plug.",
        )
    return "low" if share < FAULT_SHARE[0] else "high" if share > FAULT_SHARE[1] else "middle"
