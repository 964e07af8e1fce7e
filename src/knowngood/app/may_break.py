"""What may break while something comes off: what it costs on average, and how it is said."""

from __future__ import annotations

from knowngood.library.records import AccessStep
from knowngood.sheets.words import in_words


def risk_of(step: AccessStep, rate_per_hour: float) -> float:
    """Money that breaking something costs on average each time a step is taken off and put on again."""
    return sum(one.per_1000 / 1000.0 * (one.minutes * rate_per_hour / 60.0 + one.money) for one in step.breaks)


def step_words(step: AccessStep) -> str:
    """``exhaust manifold (a stud may break: about 1 in 10)``."""
    if not step.breaks:
        return step.name
    every = ", ".join(f"{one.what} may break: {in_words(one.per_1000 / 1000.0)}" for one in step.breaks)
    return f"{step.name} ({every})"
