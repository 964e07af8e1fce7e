"""Answers worked out beside the page, so that saving a line never waits for what it leads to.

One thread works out one car at a time, the one asked for last first. What is
not worked out yet is not hidden: the page shows the answer before it and says
which lines it does not know of.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import msgspec

from knowngood.app.answer import Answer
from knowngood.app.proof import proofs_of, proved_words
from knowngood.app.refined import refined
from knowngood.app.state import State
from knowngood.app.told_gone import told_gone
from knowngood.app.unswept import unswept
from knowngood.app.weigh import AtOnce, completed
from knowngood.app.workshop import Workshop, line_numbers
from knowngood.errors import KnownGoodError
from knowngood.planner.rollout import Played
from knowngood.sheets.words import in_currency

LONGER_S = 20.0  # how long the leading steps are played through when that is asked for
PATIENCE_S = 0.15  # how long a page waits for the answer before it shows the one before


@dataclass(frozen=True)
class Thought:
    """What was worked out for a car: from which entries, and the answer or why there is none.

    ``played`` says what came of playing the leading steps through; empty where that was not asked for. ``whole``: the
    answer has its reasons and surprises, too, which come after the next step. ``proved``: what is said where
    all that was wrong is told to be gone, and every repair is proved.
    """

    ids: tuple[str, ...]
    answer: Answer | None = None
    state: State | None = None
    trouble: str = ""
    played: str = ""
    whole: bool = True
    proved: str = ""


@dataclass
class _Wanted:
    """What is to be thought about, and what is thought about now (``busy``; empty while an answer is completed)."""

    jobs: list[str] = field(default_factory=list)  # cars, the one wanted first at the end
    busy: str = ""
    ids: tuple[str, ...] = ()  # of what it is busy with, once they were read
    begun: dict[str, AtOnce] = field(default_factory=dict)  # answers to be completed when no newer one is wanted
    longer: list[str] = field(default_factory=list)  # cars to be played through when nothing else is wanted
    progress: dict[str, str] = field(default_factory=dict)


class Thinking:
    """The latest thought of each car.

    Parameters
    ----------
    open_workshop : callable
        Opens the workshop; each thought uses one of its own.
    patience_s : float [s]
        How long `thought` waits.
    """

    def __init__(self, open_workshop: Callable[[], Workshop], patience_s: float = PATIENCE_S) -> None:
        self.open_workshop = open_workshop
        self.patience_s = patience_s
        self._thoughts: dict[str, Thought] = {}
        self._wanted = _Wanted()
        self._changed = threading.Condition()
        self._thread: threading.Thread | None = None

    def last(self, job: str) -> Thought | None:
        """The thought there is, however old."""
        return self._thoughts.get(job)

    def thought(self, job: str, ids: tuple[str, ...]) -> Thought | None:
        """The thought on these entries; where it is not there in time, the one before, or nothing."""
        with self._changed:
            if not self._is_on(job, ids):
                self._want_newer(job, ids)
                self._changed.wait_for(lambda: self._is_on(job, ids), self.patience_s)
            return self._thoughts.get(job)

    def mark(self, job: str, ids: tuple[str, ...]) -> str:
        """Another text for other entries, and for an answer that has come."""
        with self._changed:
            thought = self._thoughts.get(job)
            come = f"{thought.whole} {thought.played}" if thought is not None else ""
            text = f"{'|'.join(ids)} {self._is_on(job, ids)} {come}"
        return hashlib.sha256(text.encode()).hexdigest()[:16]

    def want_newer(self, job: str, ids: tuple[str, ...]) -> None:
        """Have a car thought about where what is known is not of these entries; however often, it waits once."""
        with self._changed:
            self._want_newer(job, ids)

    def want(self, job: str) -> None:
        """Have a car thought about, without waiting."""
        with self._changed:
            self._want(job)

    def longer(self, job: str) -> None:
        """Have a car's leading steps played through, as far as nothing is said meanwhile."""
        with self._changed:
            if job not in self._wanted.longer:
                self._wanted.longer.append(job)
                self._wanted.progress[job] = "Thinking longer. Go on working; a new line comes first."
            self._start()

    def progress(self, job: str) -> str:
        """How far the playing through of a car has come; empty where none is under way."""
        return self._wanted.progress.get(job, "")

    def _is_on(self, job: str, ids: tuple[str, ...]) -> bool:
        thought = self._thoughts.get(job)
        return thought is not None and thought.ids == ids

    def _want_newer(self, job: str, ids: tuple[str, ...]) -> None:
        wanted = self._wanted
        if not self._is_on(job, ids) and job not in wanted.jobs and (wanted.busy, wanted.ids) != (job, ids):
            self._want(job)

    def _want(self, job: str) -> None:
        if job in self._wanted.jobs:
            self._wanted.jobs.remove(job)
        self._wanted.jobs.append(job)
        self._start()

    def _start(self) -> None:
        if self._thread is None or not self._thread.is_alive():
            # a daemon: a thought is lost with the program, the entries are not
            self._thread = threading.Thread(target=self._think_on, name="thinking", daemon=True)
            self._thread.start()

    def _think_on(self) -> None:
        while True:
            with self._changed:
                wanted = self._wanted
                if not wanted.jobs and not wanted.begun and not wanted.longer:
                    self._thread = None
                    return
                think: Callable[[str], Thought | None]
                if wanted.jobs:
                    think, job = self._think, wanted.jobs.pop()
                    wanted.busy = job
                elif wanted.begun:
                    think, job = self._complete, next(iter(wanted.begun))
                else:
                    think, job = self._play, wanted.longer.pop(0)
                    wanted.busy = job
            thought = think(job)
            with self._changed:
                if think == self._play:
                    wanted.progress.pop(job, None)
                wanted.busy, wanted.ids = "", ()
                if thought is not None:
                    self._thoughts[job] = thought
                self._changed.notify_all()

    def _think(self, job: str) -> Thought:
        """The next step and the suspects; the rest of the answer comes when nothing else is wanted."""
        ids: tuple[str, ...] = ()
        try:
            with unswept(), self.open_workshop() as workshop:
                before = self._thoughts.get(job)
                ids = ids_of(workshop, job)
                if before is not None and before.ids == ids:
                    return before
                with self._changed:
                    self._wanted.ids = ids
                    self._wanted.begun.pop(job, None)
                state = workshop.state(job)
                ids = workshop.stands(state.entries)
                begun = self._wanted.begun[job] = workshop.at_once(job)
                return Thought(ids, begun.answer, state, whole=False)
        except KnownGoodError as trouble:
            return Thought(ids, trouble=str(trouble))
        except Exception as unexpected:
            return Thought(ids, trouble=f"This could not be worked out ({type(unexpected).__name__}); nothing is lost.")

    def _complete(self, job: str) -> Thought:
        """The thought there is with its whole answer; as it is where that was broken off for a newer line."""
        thought = self._thoughts[job]
        begun = self._wanted.begun[job]
        assert thought.state is not None
        try:
            with in_currency(thought.state.settings.currency):
                answer = completed(
                    thought.state, begun, line_numbers(list(thought.state.entries)), lambda: not self._wanted.jobs
                )
                gone = answer is not None and told_gone(thought.state.entries, thought.state.library)
                proved = proved_words(proofs_of(thought.state)) if gone else ""
        except Exception as unexpected:
            answer, proved = begun.answer, ""
            thought = replace(thought, played=f"Its reasons could not be worked out ({type(unexpected).__name__}).")
        if answer is None:
            return thought
        self._wanted.begun.pop(job, None)
        return replace(thought, answer=answer, whole=True, proved=proved)

    def _play(self, job: str) -> Thought | None:
        """The thought there is, with its leading steps played through; ends when a line is said."""
        thought = self._thoughts.get(job)
        if thought is None or thought.state is None or thought.answer is None:
            return thought

        def wanted() -> bool:
            return not self._wanted.jobs

        def heard(played: Played) -> None:
            self._wanted.progress[job] = f"Thinking longer: {played.done} turns played, {played.waiting} to go."

        try:
            with in_currency(thought.state.settings.currency):
                told = refined(thought.state, LONGER_S, wanted=wanted, heard=heard)
        except Exception as unexpected:
            return replace(thought, played=f"It could not be played through ({type(unexpected).__name__}).")
        if told is None:
            return replace(thought, played="Nothing is known to be wrong: there is nothing to play through.")
        ended = "" if told.ended else ", then the time was up" if wanted() else ", then a newer line came first"
        turns = f"{told.points} {'turn' if told.points == 1 else 'turns'} played through{ended}"
        words = f"{told.changed or 'The same step stays first.'} ({turns})"
        return replace(thought, answer=msgspec.structs.replace(thought.answer, next=told.steps), played=words)


def ids_of(workshop: Workshop, job: str) -> tuple[str, ...]:
    """All that stands, by which a thought is known to be up to date."""
    return workshop.stands(workshop.entries(job))
