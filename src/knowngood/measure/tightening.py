"""Tightening: the range of clamping force behind a torque, and of torque behind a force.

The maker's value always wins. Nothing here replaces it; it shows why oil on a dry specification breaks bolts.
"""

from __future__ import annotations

from knowngood.errors import Refused
from knowngood.measure.bracket import Bracket
from knowngood.measure.given import above_zero

FRICTION = {"dry": 0.20, "oiled": 0.15}
"""Torque over force times diameter: about 0.20 dry, 0.15 oiled (from memory; tables range wider)."""
FRICTION_SPREAD = 0.30
"""The factor scatters by 30 % either way from bolt to bolt: common practice."""
RECHECK_KM = (50.0, 100.0)
"""Distance after which wheel bolts are tightened again: from memory."""
CAUTIONS = (
    "The car maker's torque and sequence win.",
    "Never oil a thread whose torque is given dry.",
    "A bolt tightened by angle is replaced unless the maker allows it again.",
    f"Wheels: clean dry seats, star pattern, torque wrench, again after {RECHECK_KM[0]:g} to {RECHECK_KM[1]:g} km.",
)


def torque_for_force(thread_mm: float, force_kn: float, state: str = "dry") -> Bracket:
    """Torque that gives a clamping force.

    Parameters
    ----------
    thread_mm : float [mm]
        Thread diameter.
    force_kn : float [kN]
        Clamping force wanted.
    state : str
        'dry' or 'oiled'.

    Returns
    -------
    torque_nm : Bracket [N·m]

    Raises
    ------
    Refused
        The state is not one of the two.
    NotMeasurable
        A number is not above zero.

    Notes
    -----
    Cannot tell: the torque of a bolt on a car; that is the maker's. Coated, rusty or stretched bolts lie outside.

    References
    ----------
    common_practice : T = K d F, K about 0.20 dry and 0.15 oiled (from memory), 30 % either way.

    Examples
    --------
    >>> torque_nm = torque_for_force(12.0, 40.0)
    >>> f"{torque_nm.value:.0f} N·m ({torque_nm.low:.0f} to {torque_nm.high:.0f})"
    '96 N·m (67 to 125)'
    """
    factor = _friction(state)
    lever = above_zero("Thread diameter", thread_mm, "mm") * above_zero("Clamping force", force_kn, "kN")
    return Bracket(factor.low * lever, factor.value * lever, factor.high * lever)


def force_of_torque(thread_mm: float, torque_nm: float, state: str = "dry") -> Bracket:
    """Clamping force that a torque may give.

    Parameters
    ----------
    thread_mm : float [mm]
        Thread diameter.
    torque_nm : float [N·m]
        Torque applied.
    state : str
        'dry' or 'oiled'.

    Returns
    -------
    force_kn : Bracket [kN]

    Raises
    ------
    Refused
        The state is not one of the two.
    NotMeasurable
        A number is not above zero.

    Notes
    -----
    Cannot tell: the force in this bolt; only its length does. A bolt that turned into its yield holds less than this.

    References
    ----------
    common_practice : as in `torque_for_force`.

    Examples
    --------
    >>> oiled, dry = force_of_torque(12.0, 96.0, "oiled"), force_of_torque(12.0, 96.0)
    >>> f"dry {dry.value:.0f} kN, oiled {oiled.value:.0f} kN"
    'dry 40 kN, oiled 53 kN'
    """
    factor = _friction(state)
    over = above_zero("Torque", torque_nm, "N·m") / above_zero("Thread diameter", thread_mm, "mm")
    return Bracket(over / factor.high, over / factor.value, over / factor.low)


def _friction(state: str) -> Bracket:
    if state not in FRICTION:
        raise Refused(f"No friction is known for a thread that is '{state}'.", f"Give one of: {', '.join(FRICTION)}.")
    middle = FRICTION[state]
    return Bracket(middle * (1.0 - FRICTION_SPREAD), middle, middle * (1.0 + FRICTION_SPREAD))
