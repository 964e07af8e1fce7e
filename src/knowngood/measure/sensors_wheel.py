"""Toothed wheels on the crankshaft: pitch, gap, time a tooth."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.given import above_zero, whole


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel of `positions` equal places with `missing` teeth left out in a row."""

    positions: int
    missing: int
    teeth: int
    pitch_deg: float
    uncut_deg: float


def wheel(positions: int, missing: int) -> Wheel:
    """Angles of a wheel such as 60 - 2 or 36 - 1.

    Parameters
    ----------
    positions : int
        Places on the full pitch, 4 or more.
    missing : int
        Teeth left out, fewer than half.

    Returns
    -------
    Wheel
        `uncut_deg` is the angle of the places left out.

    Raises
    ------
    NotMeasurable
        Not whole numbers, too few places, or too many missing.

    Notes
    -----
    Cannot tell: where the gap stands to top dead centre; that is the maker's.

    References
    ----------
    geometry : 360 degrees over the places.

    Examples
    --------
    >>> wheel(60, 2)
    Wheel(positions=60, missing=2, teeth=58, pitch_deg=6.0, uncut_deg=12.0)
    """
    places, gone = whole("Places of the wheel", positions, 4), whole("Missing teeth", missing, 0)
    if 2 * gone >= places:
        raise NotMeasurable(f"{gone} of {places} teeth are missing.", "Give fewer than half.")
    pitch = 360.0 / places
    return Wheel(places, gone, places - gone, pitch, pitch * gone)


def tooth_time(rpm: float, positions: int) -> float:
    """Time from one tooth to the next.

    Parameters
    ----------
    rpm : float [1/min]
        Speed of the wheel.
    positions : int
        Places on the full pitch.

    Returns
    -------
    time_ms : float [ms]

    Raises
    ------
    NotMeasurable
        The speed is not above zero, or the places are not a whole number.

    Notes
    -----
    Cannot tell: a bent tooth from a speed that swings within a turn.

    References
    ----------
    arithmetic : 60 000 ms over speed and places.

    Examples
    --------
    >>> tooth_time(800.0, 60)
    1.25
    """
    return 60000.0 / above_zero("Engine speed", rpm, "1/min") / whole("Places of the wheel", positions, 4)


def rpm_of_teeth(tooth_hz: float, positions: int, *, missing: int = 0) -> float:
    """Speed of a wheel from the frequency of its teeth.

    Parameters
    ----------
    tooth_hz : float [Hz]
        By the time between neighbouring teeth (then `missing` is 0), or as a counter counts them over whole turns.
    positions, missing : int
        Places, and teeth a counter misses each turn.

    Returns
    -------
    rpm : float [1/min]

    Raises
    ------
    NotMeasurable
        The frequency is not above zero, or the wheel is not one.

    Notes
    -----
    Cannot tell: teeth counted twice by noise; the speed then comes out high.

    References
    ----------
    arithmetic : 60 s over the teeth of a turn. On 60 places the speed in 1/min is the frequency in Hz.

    Examples
    --------
    >>> rpm_of_teeth(800.0, 60)
    800.0
    """
    return 60.0 * above_zero("Tooth frequency", tooth_hz, "Hz") / wheel(positions, missing).teeth
