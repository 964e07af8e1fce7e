"""What the answers of a check differ in: nobody reads twelve readings to find the one that counts."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.planner.outcomes import OR_THE_LIKE

MOST_PARTS = 4


def told_apart(answers: Sequence[str]) -> list[str]:
    """Answers of many readings, each with only what the others do not all say too, and at most a few of those.

    >>> told_apart(["hisses no, smell no, lamp on", "hisses yes, smell no, lamp on"])
    ['hisses no', 'hisses yes']
    """
    parts = [answer.removesuffix(OR_THE_LIKE).split(", ") for answer in answers]
    same: set[str] = set(parts[0]).intersection(*parts[1:]) if len(parts) > 1 else set()
    result = []
    for whole in parts:
        own = [part for part in whole if part not in same] or whole
        more = ", and so on" if len(own) > MOST_PARTS else ""
        result.append(", ".join(own[:MOST_PARTS]) + more)
    return result
