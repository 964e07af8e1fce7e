"""A figure over cars with its interval: the cars drawn again with replacement.

References
----------
Efron and Tibshirani, An introduction to the bootstrap, 1993, chapters 8 and 13 (percentile interval). Whole cars are
drawn, since what is measured on one car hangs together.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from knowngood.proving.figures import Figure
from knowngood.proving.simulated_worlds import dice

Rows = NDArray[np.intp]
DRAWS = 1000  # what a 95 % interval by percentiles takes, chapter 13.3


def over_cars(score: Callable[[Rows], float], cars: int, goal: float | None = None, *, digits: int = 4) -> Figure:
    """A score of some of the cars, by their rows (car,), as a figure of all of them; a goal is a ceiling."""
    rng = dice(0, "cars drawn again", cars)
    drawn = [score(rng.integers(cars, size=cars)) for _ in range(DRAWS)]
    low, high = (round(float(value), digits) for value in np.quantile(drawn, [0.025, 0.975]))
    return Figure(round(score(np.arange(cars)), digits), cars, low, high, goal=goal, at_least=False)
