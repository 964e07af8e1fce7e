"""What in the car's story makes a suspect likelier or less likely, before anything was read."""

from __future__ import annotations

import math

from knowngood.app.answer import OfStory
from knowngood.app.ledger import LEAST_WEIGHT
from knowngood.app.state import State
from knowngood.belief.priors import applies
from knowngood.library.records import Fault, Raised

WORDS = {
    "animals": "animals were in it",
    "flood": "it stood in water",
    "standing": "it stood for long",
    "high mileage": "its mileage is high",
    "low mileage": "its mileage is low",
    "new part": "the part is new",
}


def of_story(state: State, fault: Fault) -> list[OfStory]:
    """What of the story bears on a fault, the farthest first, as points of its odds before any reading."""
    story = state.belief.model.story
    found = [
        OfStory(round(10.0 * math.log10(one.times), 2), _words(state, one))
        for one in fault.raised
        if applies(one, fault, state.car, story)
    ]
    return sorted((one for one in found if abs(one.weight) >= LEAST_WEIGHT), key=lambda one: -abs(one.weight))


def _words(state: State, raised: Raised) -> str:
    if raised.by != "after work":
        return WORDS[raised.by]
    done = [area for area in raised.on if area in state.belief.model.story.areas]
    areas = " and ".join(state.library.areas[area].name for area in done)
    return f"work was done on {areas}" if areas else "work was done"
