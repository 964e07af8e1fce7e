"""Open or short, sensor or wire."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.sensors_open_short import open_or_short

PULL_UP = 1000.0
MANY = 1e12


def circuit(
    sensor: float, *, signal_wire: float = 0.0, ground_wire: float = 0.0, leak: float = MANY, feed: float = 5.0
) -> dict[str, float]:
    """The three voltages at the plug of a real circuit, worked out node by node.

    The plug's signal pin goes through the wire to the computer's pull-up; a leak to ground sits at the pin.
    """

    def at_plug(below: float) -> float:
        """Voltage at the signal pin with a resistance from it to ground, the leak beside it."""
        to_ground = 1.0 / (1.0 / max(below, 1e-9) + 1.0 / max(leak, 1e-9))
        return feed * to_ground / (to_ground + signal_wire + PULL_UP)

    meter = 1e7  # the meter itself joins the pin to body ground
    return {
        "plugged_v": at_plug(1.0 / (1.0 / (sensor + ground_wire) + 1.0 / meter)),
        "unplugged_v": at_plug(meter),
        "bridged_v": at_plug(1.0 / (1.0 / max(ground_wire, 1e-9) + 1.0 / meter)),
    }


@pytest.mark.parametrize(
    ("fault", "suspects"),
    [
        ({"sensor": 2500.0}, ()),
        ({"sensor": 1e9}, ("sensor open",)),
        ({"sensor": 0.5}, ("sensor shorted",)),
        ({"sensor": 2500.0, "leak": 0.5}, ("signal wire shorted to ground", "no supply from the computer")),
        ({"sensor": 2500.0, "feed": 0.0}, ("signal wire shorted to ground", "no supply from the computer")),
        (
            {"sensor": 2500.0, "ground_wire": 1e9},
            ("signal wire open", "ground wire open", "signal wire shorted to supply"),
        ),
        ({"sensor": 2500.0, "leak": 3000.0}, ("signal wire leaking or corroded", "ground wire")),
        ({"sensor": 2500.0, "ground_wire": 800.0}, ("signal wire leaking or corroded", "ground wire")),
    ],
)
def test_real_circuit_is_found(fault: dict[str, float], suspects: tuple[str, ...]) -> None:
    """The voltages of a circuit with one fault name that fault."""
    assert open_or_short(**circuit(**fault)).suspects == suspects


def test_high_signal_alone_asks_for_the_bridge() -> None:
    """Sensor or either wire."""
    found = open_or_short(4.99)
    assert found.suspects == ("sensor open", "signal wire open", "ground wire open")
    assert found.next_step == "Bridge the plug and read again."


def test_low_signal_alone_asks_for_the_plug() -> None:
    """Sensor or wire."""
    found = open_or_short(0.02)
    assert found.suspects == ("sensor shorted", "signal wire shorted to ground")
    assert found.next_step == "Take the plug off and read again."


def test_battery_voltage_on_the_signal_is_refused() -> None:
    """More than the supply comes from elsewhere."""
    with pytest.raises(NotMeasurable) as refused:
        open_or_short(12.4)
    assert str(refused.value) == (
        "The signal is 12.4 V with a supply of 5 V. "
        "It is shorted to battery voltage, or the supply is another one. Read the supply at the plug."
    )
