"""Resistance of spark plug leads: each by its length, and each against its row."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, not_below_zero

PER_METRE_OHM: dict[str, tuple[float, float]] = {"carbon": (10000.0, 23000.0), "wire wound": (2200.0, 8000.0)}
"""Usual resistance a metre (common practice: 3 to 7 kΩ a foot for carbon)."""
CEILING_PER_METRE_OHM = 39000.0
"""12 kΩ a foot, which a workshop page attributes to a standard whose text was not seen."""
REJECT_OHM = 30000.0
"""Over this a lead is replaced whatever its length (common practice)."""
ROW_FACTOR = 1.6
"""A lead this many times over or under the middle of its row stands apart (ours: wider than maker's tolerance)."""
RESISTOR_PLUG_OHM = (1000.0, 10000.0)
"""A resistor plug reads about 5 kΩ from terminal to tip (common practice); twice and a fifth of it are our ends."""


@dataclass(frozen=True, slots=True)
class LeadRow:
    """Leads against each other; places are counted from 1.

    `middle` is the middle of the row with its standard error, in ohm a metre where all lengths were given, else in
    ohm; `apart` stand off it by more than the factor, `open_line` have no continuity, `over_limit` exceed the reject
    figure.
    """

    middle: float
    middle_se: float
    per_metre: bool
    apart: tuple[int, ...]
    open_line: tuple[int, ...]
    over_limit: tuple[int, ...]


def lead_per_metre(
    ohms: float, length_mm: float, *, ohms_se: float | None = None, length_se_mm: float = 10.0
) -> tuple[float, float]:
    """Resistance of a lead by its length.

    Parameters
    ----------
    ohms, ohms_se : float [ohm]
        Reading end to end, and its standard error; 1 % when left out.
    length_mm, length_se_mm : float [mm]
        Length between the terminals, and its standard error.

    Returns
    -------
    ohm_per_metre, se : tuple of float [ohm/m], [ohm/m]

    Raises
    ------
    NotMeasurable
        The lead is open (the reading is not finite), or a number is not above zero.

    Notes
    -----
    Cannot tell: insulation. A lead with a good resistance can still spark through to ground; end caps with resistors
    of their own raise short leads.

    References
    ----------
    common_practice : 10 to 23 kΩ a metre for carbon, 2.2 to 8 kΩ a metre for wire wound leads.

    Examples
    --------
    >>> per_metre, se = lead_per_metre(5100.0, 400.0)
    >>> f"{per_metre / 1000:.1f} ± {se / 1000:.1f} kΩ/m"
    '12.8 ± 0.3 kΩ/m'
    """
    if ohms == math.inf:
        raise NotMeasurable("The lead has no continuity: no resistance a metre.", "Write it down as open.")
    resistance = above_zero("Resistance of the lead", ohms, "Ω")
    length = above_zero("Length of the lead", length_mm, "mm")
    error = 0.01 * resistance if ohms_se is None else not_below_zero("Resistance error", ohms_se, "Ω")
    length_error = not_below_zero("Length error", length_se_mm, "mm")
    return with_error(lambda ohm, mm: 1000.0 * ohm / mm, (resistance, length), (error, length_error))


def lead_kind(ohm_per_metre: float) -> tuple[str, ...]:
    """Kinds of lead whose usual resistance a metre this is.

    Parameters
    ----------
    ohm_per_metre : float [ohm/m]

    Returns
    -------
    kinds : tuple of str
        Of `carbon`, `wire wound`; `over the ceiling` alone when it is more than any lead should have; empty between.

    Raises
    ------
    NotMeasurable
        The number is not finite or not above zero.

    Notes
    -----
    Cannot tell: a lead with resistors in its caps from one with a resistive core.

    References
    ----------
    common_practice : usual spans, and 12 kΩ a foot as a ceiling.

    Examples
    --------
    >>> lead_kind(12750.0)
    ('carbon',)
    """
    value = above_zero("Resistance a metre", ohm_per_metre, "Ω/m")
    if value > CEILING_PER_METRE_OHM:
        return ("over the ceiling",)
    return tuple(kind for kind, (low, high) in PER_METRE_OHM.items() if low <= value <= high)


def lead_row(
    ohms: Sequence[float | None], lengths_mm: Sequence[float] | None = None, *, ohms_se: float = 60.0
) -> LeadRow:
    """Leads of one engine against each other.

    Leads of one set differ by their lengths, so with lengths they are compared by the metre.

    Parameters
    ----------
    ohms : sequence of float or None [ohm]
        Reading of each lead in counting order; inf for no continuity, None where not measured.
    lengths_mm : sequence of float, optional [mm]
        Length of each lead, also of those without a reading; left out when not measured.
    ohms_se : float [ohm]
        One standard error of a reading.

    Returns
    -------
    LeadRow

    Raises
    ------
    NotMeasurable
        Fewer than three leads with a reading, lengths for some of them only, or a reading that is negative or nan.

    Notes
    -----
    Cannot tell: a set that is worn all round, or a wrong set; compare the middle with the usual spans.

    References
    ----------
    common_practice : comparison within the set; over 30 kΩ is replaced.

    Examples
    --------
    >>> lead_row([5100.0, 5300.0, 18000.0, 5200.0, 6000.0, 5500.0]).apart
    (3,)
    """
    if lengths_mm is not None and len(lengths_mm) != len(ohms):
        raise NotMeasurable(f"{len(ohms)} leads, {len(lengths_mm)} lengths.", "Give a length for each lead, or none.")
    places = [place for place, value in enumerate(ohms, start=1) if value is not None]
    known = [value for value in ohms if value is not None]
    for value in known:
        if value != math.inf:
            not_below_zero("Resistance of the lead", value, "Ω")
    closed = [(place, value) for place, value in zip(places, known, strict=True) if value != math.inf]
    if len(closed) < 3:
        raise NotMeasurable(
            f"Leads: {len(closed)} with a reading.", "At least 3 are needed for a row; open leads are already found."
        )
    error = not_below_zero("Resistance error", ohms_se, "Ω")
    metres = [1.0] * len(ohms) if lengths_mm is None else [above_zero("Length", mm, "mm") / 1000.0 for mm in lengths_mm]
    scaled = [(place, value / metres[place - 1], error / metres[place - 1]) for place, value in closed]
    middle = median(value for _, value, _ in scaled)
    apart = tuple(
        place
        for place, value, se in scaled
        if value - 2.0 * se > ROW_FACTOR * middle or value + 2.0 * se < middle / ROW_FACTOR
    )
    return LeadRow(
        middle,
        _middle_se([(value, se) for _, value, se in scaled]),
        lengths_mm is not None,
        apart,
        tuple(place for place, value in zip(places, known, strict=True) if value == math.inf),
        tuple(place for place, value in closed if value > REJECT_OHM),
    )


def _middle_se(readings: Sequence[tuple[float, float]]) -> float:
    """Standard error of the middle of readings and their errors: that of the one in the middle, or of the two."""
    errors = [se for _, se in sorted(readings)]
    half, odd = divmod(len(errors), 2)
    return errors[half] if odd else 0.5 * math.hypot(errors[half - 1], errors[half])


def plug_resistor(ohms: float) -> str:
    """What the resistance from a plug's terminal to its tip says.

    Parameters
    ----------
    ohms : float [ohm]
        Reading; inf for no continuity.

    Returns
    -------
    word : str
        `resistor`, `no resistor`, `open`, or `unusual`.

    Raises
    ------
    NotMeasurable
        The reading is negative or nan.

    Notes
    -----
    Cannot tell: a cracked insulator, or a resistor that opens only when hot.

    References
    ----------
    common_practice : about 5 kΩ with a resistor, about nothing without.

    Examples
    --------
    >>> plug_resistor(4800.0)
    'resistor'
    """
    if ohms == math.inf:
        return "open"
    value = not_below_zero("Resistance of the plug", ohms, "Ω")
    low, high = RESISTOR_PLUG_OHM
    return "no resistor" if value < 10.0 else "resistor" if low <= value <= high else "unusual"
