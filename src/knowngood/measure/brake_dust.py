"""Which way of cleaning brakes and clutches that may hold asbestos a shop of this size may use."""

from __future__ import annotations

from knowngood.measure.given import whole

WET_PAIRS_A_WEEK = 5
WET_CLUTCHES_A_WEEK = 5
"""A shop with no more than this may use the wet method: OSHA 29 CFR 1910.1001 (f)(3) and appendix F."""


def dust_methods(brake_pairs_a_week: int, clutches_a_week: int) -> tuple[str, ...]:
    """Ways of cleaning that the rule of the United States allows when the lining may hold asbestos.

    Parameters
    ----------
    brake_pairs_a_week, clutches_a_week : int
        Jobs a week in the shop: pairs of brakes, and clutches.

    Returns
    -------
    methods : tuple of str
        Words for the sheet; dry brushing and blowing are in none.

    Raises
    ------
    NotMeasurable
        A number is negative or not whole.

    Notes
    -----
    Cannot tell: whether a lining holds asbestos; only a laboratory does, so it is treated as if. Local law wins.

    References
    ----------
    osha_1910_1001 : OSHA 29 CFR 1910.1001 (f)(3) and appendix F (mandatory).

    Examples
    --------
    >>> dust_methods(1, 0)[-1]
    'wet: wipe and rinse with water, catch the water'
    """
    pairs = whole("Pairs of brakes a week", brake_pairs_a_week, 0)
    clutches = whole("Clutches a week", clutches_a_week, 0)
    methods = ("enclosure with a fine-dust vacuum", "low pressure wash with catch basin")
    if pairs <= WET_PAIRS_A_WEEK and clutches <= WET_CLUTCHES_A_WEEK:
        return (*methods, "wet: wipe and rinse with water, catch the water")
    return methods
