"""Answers worked out beside the page: the next step first, its reasons when nothing else is wanted."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from knowngood.app.refined import Refined
from knowngood.app.weigh import AtOnce, completed
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.web.thinking import Thinking, Thought, ids_of

LINES = ("4 cylinders inline, coil on plug, port injection", "P0302 stored", "shakes at idle")
PATIENCE_S = 60.0


@pytest.fixture
def thinking(tmp_path: Path) -> Thinking:
    """Of one workshop, with the patience to see every answer."""
    return Thinking(lambda: Workshop(tmp_path, load()), patience_s=PATIENCE_S)


def told(thinking: Thinking, *lines: str) -> str:
    """A car with some lines."""
    with thinking.open_workshop() as workshop:
        job = workshop.new("grey").code
        for line in lines:
            workshop.say(job, line)
        return job


def ids(thinking: Thinking, job: str) -> tuple[str, ...]:
    with thinking.open_workshop() as workshop:
        return ids_of(workshop, job)


def whole(thinking: Thinking, job: str) -> Thought:
    """The thought once its answer is whole."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        thought = thinking.thought(job, ids(thinking, job))
        if thought is not None and thought.whole:
            return thought
        time.sleep(0.02)
    raise AssertionError("the answer was never whole")


def test_reasons_come_after_the_next_step(thinking: Thinking, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first answer has its steps; the second changes no step, adds the reasons, and another mark tells of it."""
    wait = threading.Event()

    def held(*args: object) -> object:
        wait.wait(PATIENCE_S)
        return completed(*args)  # type: ignore[arg-type]

    monkeypatch.setattr("knowngood.web.thinking.completed", held)
    job = told(thinking, *LINES)
    first = thinking.thought(job, ids(thinking, job))
    before = thinking.mark(job, ids(thinking, job))
    assert first is not None
    assert first.answer is not None
    assert not first.whole
    assert first.answer.next
    assert not any(suspect.because for suspect in first.answer.suspects)
    wait.set()
    second = whole(thinking, job)
    assert second.answer is not None
    assert second.answer.next == first.answer.next
    assert any(suspect.because for suspect in second.answer.suspects)
    assert thinking.mark(job, ids(thinking, job)) != before


def test_whole_answer_is_that_of_the_terminal(thinking: Thinking) -> None:
    """Both ways come to the same words."""
    job = told(thinking, *LINES, "comp 175 172 60 174 psi")
    shown = whole(thinking, job).answer
    with thinking.open_workshop() as workshop:
        assert workshop.answer(job) == shown


def test_a_new_line_breaks_the_reasons_off(thinking: Thinking, monkeypatch: pytest.MonkeyPatch) -> None:
    """They are given up where a newer line is to be worked out, and come with its own answer."""
    given_up: list[bool] = []
    started = threading.Event()

    def slow(state: object, begun: AtOnce, lines: object, go_on: object) -> object:
        started.set()
        until = time.monotonic() + PATIENCE_S
        while not given_up and go_on() and time.monotonic() < until:  # type: ignore[operator]
            time.sleep(0.01)
        if not given_up:
            given_up.append(True)
            return None
        return completed(state, begun, lines)  # type: ignore[arg-type]

    monkeypatch.setattr("knowngood.web.thinking.completed", slow)
    job = told(thinking, *LINES)
    thinking.thought(job, ids(thinking, job))
    assert started.wait(PATIENCE_S)
    with thinking.open_workshop() as workshop:
        workshop.say(job, "comp 175 172 60 174 psi")
    newer = thinking.thought(job, ids(thinking, job))
    assert given_up
    assert newer is not None
    assert newer.ids == ids(thinking, job)
    assert whole(thinking, job).ids == newer.ids


def longer(thinking: Thinking, job: str) -> None:
    """Ask for more thought, and wait until that is over."""
    thinking.longer(job)
    until = time.monotonic() + PATIENCE_S
    while thinking.progress(job) and time.monotonic() < until:
        time.sleep(0.02)


def test_thinking_longer_tells_that_there_is_nothing_to_play(thinking: Thinking) -> None:
    """Who asked is told so; a car that nobody asked after before gets no empty answer."""
    job = told(thinking, LINES[0])
    whole(thinking, job)
    longer(thinking, job)
    thought = thinking.last(job)
    assert thought is not None
    assert thought.played == "Nothing is known to be wrong: there is nothing to play through."
    other = told(thinking, LINES[0])
    longer(thinking, other)
    assert thinking.last(other) is None


@pytest.mark.parametrize("another", [True, False], ids=["another line", "the time"])
def test_thinking_longer_tells_what_ended_it(
    thinking: Thinking, monkeypatch: pytest.MonkeyPatch, another: bool
) -> None:
    """A line of another car that came first, or the time that was up."""
    other = told(thinking, LINES[0])
    job = told(thinking, *LINES)
    whole(thinking, job)

    def one_point(state: object, seconds: float, *, wanted: Callable[[], bool], heard: object) -> Refined:
        if another:
            thinking.want(other)
        assert wanted() != another
        return Refined([], "", 1, ended=False)

    monkeypatch.setattr("knowngood.web.thinking.refined", one_point)
    longer(thinking, job)
    thought = thinking.last(job)
    assert thought is not None
    end = "a newer line came first" if another else "the time was up"
    assert thought.played == f"The same step stays first. (1 turn played through, then {end})"
