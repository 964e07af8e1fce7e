"""Whether what was just entered is the answer to a step: it is not offered again while the next is worked out."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.answer import NextStep
from knowngood.app.verbs import done
from knowngood.evidence import Body, Reading, Work


def just_done(step: NextStep, new: Sequence[Body]) -> bool:
    """Whether entries answer a step: one of the readings it takes, or the work it is.

    Parameters
    ----------
    step : NextStep
    new : sequence of Body
        Entries the step does not know of.
    """
    if step.reads:
        read = {(body.kind, str(body.place)) for body in new if isinstance(body, Reading)}
        return any((asked.kind, asked.place) in read for asked in step.reads)
    return any(
        body.do == done(step.do) and body.part == step.what and set(step.place.split(",")) <= set(map(str, body.places))
        for body in new
        if isinstance(body, Work)
    )
