"""Of many readings an answer says what is not as it should be, and what the other answers do not say too."""

from __future__ import annotations

from knowngood.app.next_steps import advised, next_steps
from knowngood.app.told_apart import told_apart
from tests.told import state_after


def test_only_what_differs_is_said() -> None:
    """What all of them say is left out; a long one is cut and says so; one alone keeps what it says."""
    assert told_apart(["a no, b no, c on, or the like", "a yes, b no, c off"]) == ["a no, c on", "a yes, c off"]
    assert told_apart(["a, b, c, d, e"]) == ["a, b, c, d, and so on"]
    assert told_apart(["same", "same"]) == ["same", "same"]
    assert told_apart([]) == []


def test_answers_of_a_check_name_what_is_not_as_it_should_be() -> None:
    """A plug out and looked at: oily or loose is said, never that it is normal and tight."""
    state = state_after("4 cylinders inline, coil on plug, port injection", "P0304", "comp 175 172 178 60 psi")
    steps = [step for step in next_steps(state, advised(state)) if len(step.reads) > 1 and len(step.answers) > 1]
    answers = [answer.answer for step in steps for answer in step.answers]
    assert "all as it should be" in answers
    assert not [answer for answer in answers if "normal" in answer or "tight tight" in answer]
    assert all(len(answer) <= 120 for answer in answers)
