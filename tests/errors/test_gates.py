"""What a gate says, word for word: not looked at, bad, left undone, limited, good, and no such gate."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from knowngood.app.bench import gate_words, may_of
from knowngood.errors import Refused
from knowngood.library.job_records import Gate
from knowngood.library.records import ReadingKind
from knowngood.planner.gates import Look, gate_state

GATE = Gate(id="start", name="start it", looks=("belt", "leak"), limited="Two minutes at idle, then look again.")
KINDS = {
    kind.id: kind
    for kind in (
        ReadingKind(id="belt", name="belt look", place="engine", source="x", words=("good", "cracked")),
        ReadingKind(id="leak", name="fuel leak look", place="engine", source="x", words=("good", "wet"), stop=True),
    )
}


@pytest.mark.parametrize(
    ("looks", "undone", "lines"),
    [
        ([], [], ["start it: not yet. Look first:", "look: fuel leak look (stop item)", "look: belt look"]),
        ([("leak", "good")], [], ["start it: not yet. Look first:", "look: belt look"]),
        (
            [("leak", "wet")],
            [],
            ["start it: no, until this is put right.", "bad: fuel leak look", "look: belt look"],
        ),
        (
            [("leak", "good"), ("belt", "good")],
            ["unplugged, cylinder 3"],
            [
                "start it: no, until this is put right.",
                "left undone: unplugged, cylinder 3; once it is right, say 'put back' and what it is",
            ],
        ),
        (
            [("leak", "good"), ("belt", "cracked")],
            [],
            ["start it: limited. Two minutes at idle, then look again."],
        ),
        ([("leak", "good"), ("belt", "good")], [], ["start it: yes. Every look was made and is good."]),
    ],
)
def test_what_a_gate_says(looks: list[tuple[str, str]], undone: list[str], lines: list[str]) -> None:
    """The answer first, then what shuts it, then what to look at, stop items first."""
    state = gate_state(GATE, KINDS, [Look(kind, word) for kind, word in looks], undone)
    assert list(gate_words(state)) == lines


def test_no_such_gate() -> None:
    """Those there are, are named."""
    state: Any = SimpleNamespace(library=SimpleNamespace(gates={"start": GATE, "road": GATE}))
    with pytest.raises(Refused) as met:
        may_of(state, "fly")
    assert str(met.value) == "There is no gate 'fly'. Gates: start, road."
