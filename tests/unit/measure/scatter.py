"""The slow, obvious way to carry errors: throw the readings many times and look how far the result scatters."""

from collections.abc import Callable, Sequence

import numpy

SEED = 2011
THROWS = 4000


def scatter(compute: Callable[..., float], values: Sequence[float], errors: Sequence[float]) -> float:
    """Standard deviation of the result when every reading is thrown with its own standard error."""
    dice = numpy.random.default_rng(SEED)
    throws = dice.normal(values, errors, size=(THROWS, len(values)))
    return float(numpy.std([compute(*(float(x) for x in throw)) for throw in throws], ddof=1))
