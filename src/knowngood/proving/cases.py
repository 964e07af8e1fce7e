"""Real repairs with a known cause: does the advice name it, and is the next step a good one?

Each case is two notes files (what was known early; and with the first
measurements) and a record of the accepted causes, mapped to faults of the
library before the first score by one who wrote neither library nor grammar.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.library.records import Library
from knowngood.proving.figures import NOT_NAMED, Figure, share

FOLDER = Path("tests/cases/real")
TOLD = "can be told"
GOALS = {
    "cases.top1_measured": 0.60,
    "cases.top3_measured": 0.85,
    "cases.top5_measured": 0.90,
    "cases.lines_understood": 0.85,
}


@dataclass(frozen=True)
class Score:
    """How one case went at one stage.

    Parameters
    ----------
    name, stage : str
        ``open-01``; ``early`` or ``measured``.
    can_be_told : bool
        The cause is one that what was known can tell at all; only those count for the ranks.
    rank : int
        Of the first suspect that names an accepted cause; ``NOT_NAMED`` where none does.
    good_next : bool
        One of the first three steps is a good one by the record.
    lines, understood : int
        Lines of the notes, and those that count.
    """

    name: str
    stage: str
    can_be_told: bool
    rank: int
    good_next: bool
    lines: int
    understood: int


def rank_of(answer: Answer, ids: list[str], places: list[str]) -> int:
    """1-based rank of the first suspect that names an accepted fault, at its place where the case names one."""
    for rank, suspect in enumerate(answer.suspects, start=1):
        if any(kind.fault in ids for kind in suspect.kinds) and (
            not places or (suspect.places and suspect.places[0].place in places)
        ):
            return rank
    return NOT_NAMED


def score_case(folder: Path, name: str, case: dict[str, Any], stage: str, library: Library) -> Score:
    """Weigh one notes file and compare."""
    text = (folder / f"{name}.{stage}.txt").read_text(encoding="utf-8")
    answer = weigh_notes(text, library)
    places = list(case.get("places", [])) if case.get("place_told", True) else []
    typed = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    doubtful = {line.line for line in answer.not_understood}
    return Score(
        name=name,
        stage=stage,
        can_be_told=case["kind"] == TOLD,
        rank=rank_of(answer, list(case["ids"]), places),
        good_next=any(step.what in case["good_ids"] for step in answer.next[:3]),
        lines=len(typed),
        understood=len(typed) - len(doubtful),
    )


def read_cases(folder: Path = FOLDER) -> dict[str, dict[str, Any]]:
    """The cases by name."""
    with (folder / "causes.toml").open("rb") as file:
        return {str(case["id"]): case for case in tomllib.load(file)["case"]}


def score_all(library: Library, folder: Path = FOLDER) -> list[Score]:
    """Every case at both stages."""
    cases = read_cases(folder)
    return [
        score_case(folder, name, case, stage, library)
        for name, case in cases.items()
        for stage in ("early", "measured")
    ]


def figures_of(scores: list[Score]) -> dict[str, Figure]:
    """Top 1, 3 and 5 of the cases that can be told, lines understood, good steps among the first three."""
    result: dict[str, Figure] = {}
    for stage in ("early", "measured"):
        told = [score for score in scores if score.stage == stage and score.can_be_told]
        for top in (1, 3, 5):
            name = f"cases.top{top}_{stage}"
            result[name] = share(sum(score.rank <= top for score in told), len(told), GOALS.get(name))
    measured = [score for score in scores if score.stage == "measured"]
    understood = sum(score.understood for score in measured)
    result["cases.lines_understood"] = share(
        understood, sum(score.lines for score in measured), GOALS["cases.lines_understood"]
    )
    result["cases.good_next_in_3"] = share(sum(score.good_next for score in measured), len(measured))
    return result
