"""The whole story of a job, as a page or a terminal tells it."""

from __future__ import annotations

import msgspec

from knowngood.app.next_visit import next_visit
from knowngood.app.proof import NOTHING, proofs_of
from knowngood.app.state import State
from knowngood.app.story import story_of
from knowngood.app.time_line import History, Moment, chapter_words, days_of, histories, time_line


class StoryView(msgspec.Struct, frozen=True):
    """One sentence a fault; what changed nothing; every line of every day; each day in a sentence; how readings moved;
    the next visit.
    """

    faults: list[str]
    in_vain: list[str]
    moments: list[Moment]
    days: list[tuple[str, str]]
    readings: list[History]
    next_visit: list[str]


def chapters_of(state: State) -> tuple[list[str], list[str]]:
    """One sentence for each thing that was put right, and for each work that changed nothing."""
    told = [
        (chapter_words(chapter, proof), proof.verdict)
        for chapter, proof in zip(story_of(state), proofs_of(state), strict=True)
    ]
    right = [words for words, verdict in told if verdict != NOTHING]
    return right, [words for words, verdict in told if verdict == NOTHING]


def story_view(state: State) -> StoryView:
    """Everything that is told of a job."""
    moments = time_line(state)
    return StoryView(*chapters_of(state), moments, days_of(moments), histories(state), next_visit(state))
