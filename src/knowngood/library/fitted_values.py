"""Which fields of a car a record may need, and which values each can have."""

from __future__ import annotations

from knowngood.car import MOST_CYLINDERS

CAR_VALUES: dict[str, tuple[str, ...]] = {
    "drive": ("petrol", "hybrid", "gas conversion", "carburettor"),
    "form": ("inline", "V", "flat"),
    "cylinders": tuple(str(count) for count in range(1, MOST_CYLINDERS + 1)),
    "ignition": ("coil on plug", "coil and lead", "pair coil", "distributor"),
    "injection": ("port", "single point", "direct", "other"),
    "air_meter": ("flow meter", "manifold pressure", "both"),
    "turbo": ("yes", "no"),
    "systems": (
        "automatic",
        "manual",
        "secondary air",
        "exhaust return",
        "fuel vapour valve",
        "cam phaser",
        "runner flap",
        "immobiliser",
        "air conditioning",
        "all-wheel drive",
        "electronic throttle",
        "idle valve",
        "returnless fuel",
        "fuel return",
        "catalyst",
        "second oxygen sensor",
        "knock sensor",
        "cam sensor",
        "crank sensor",
        "timing belt",
        "timing chain",
        "electric fan",
        "viscous fan",
        "transverse",
        "longitudinal",
    ),
}
"""Fields of :class:`knowngood.car.Car` that ``needs`` and ``fitted`` may name, with their lawful values."""


def field_values(field: str) -> tuple[str, ...] | None:
    """The lawful values of a field of ``needs`` or ``fitted``; ``None`` when there is no such field.

    A field of ``fitted`` may also be one of the ``systems``, then with ``yes`` and ``no``.
    """
    if field in CAR_VALUES:
        return CAR_VALUES[field]
    return ("yes", "no") if field in CAR_VALUES["systems"] else None
