"""What each answer of the first step makes one do next, in words."""

from __future__ import annotations

from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load

NOTES = "V8, coil on plug, port injection\nP0302, shakes\nlt b1 +19\n"


def test_answers_lead_to_what_they_call_for() -> None:
    """A hose that is off is put on, one that is split is renewed, and where all are whole one looks on."""
    first = weigh_notes(NOTES, load()).next[0]
    assert first.what == "hose_look_check"
    then = {after.answer: after.then.split("; then ")[1] for after in first.answers}
    assert then["off"] == "reseat vacuum hose"
    assert then["split"] == "replace vacuum hose"
    assert then["all whole"] not in (then["off"], then["split"])


def test_of_steps_that_are_not_first_only_what_is_suspected_then_is_said() -> None:
    """What would follow them has not been worked out."""
    others = weigh_notes(NOTES, load()).next[1:]
    said = [after.then for step in others for after in step.answers]
    assert said
    assert not any("; then " in then for then in said)
