"""Toothed wheels on the crankshaft: pitch, gap, time a tooth."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
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


def tooth_time(rpm: float, positions: int, *, rpm_se: float = 10.0) -> tuple[float, float]:
    """Time from one tooth to the next.

    Parameters
    ----------
    rpm : float [1/min]
        Speed of the wheel.
    positions : int
        Places on the full pitch.
    rpm_se : float [1/min]
        One standard error of the speed; 10 1/min is what a shown speed wanders at idle.

    Returns
    -------
    time_ms, se : tuple of float [ms], [ms]

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
    >>> time_ms, se = tooth_time(800.0, 60)
    >>> f"{time_ms:.3f} ± {se:.3f} ms"
    '1.250 ± 0.016 ms'
    """
    places = whole("Places of the wheel", positions, 4)
    return with_error(lambda speed: 60000.0 / speed / places, (above_zero("Engine speed", rpm, "1/min"),), (rpm_se,))


def rpm_of_teeth(tooth_hz: float, positions: int, *, missing: int = 0, tooth_se_hz: float = 1.0) -> tuple[float, float]:
    """Speed of a wheel from the frequency of its teeth.

    Parameters
    ----------
    tooth_hz : float [Hz]
        By the time between neighbouring teeth (then `missing` is 0), or as a counter counts them over whole turns.
    positions, missing : int
        Places, and teeth a counter misses each turn.
    tooth_se_hz : float [Hz]
        One standard error of the frequency; 1 Hz is a counter over a second.

    Returns
    -------
    rpm, se : tuple of float [1/min], [1/min]

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
    >>> rpm, se = rpm_of_teeth(800.0, 60)
    >>> f"{rpm:.0f} ± {se:.0f} 1/min"
    '800 ± 1 1/min'
    """
    teeth = wheel(positions, missing).teeth
    return with_error(
        lambda hertz: 60.0 * hertz / teeth, (above_zero("Tooth frequency", tooth_hz, "Hz"),), (tooth_se_hz,)
    )
