"""Which part of the evidence goes into the tables when all of it does not fit.

The rest then weighs draws. What goes first is what joins many cylinders and
says least: complaints of the whole engine. What fits one cylinder or one part
stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Model


def smaller_parts(said: Sequence[Said], model: Model) -> Iterator[Sequence[Said]]:
    """Ever smaller parts of the evidence."""
    yield said
    said = levels_set(said)
    wide = wide_ladders(model)
    yield said
    local = [one for one in said if not (one.target.place.kind == "engine" and one.target.ladder in wide)]
    yield local
    strongest = sorted(local, key=lambda one: -strength(one))
    while strongest:
        strongest = strongest[: len(strongest) * 3 // 4]
        yield strongest


def levels_set(every: Sequence[Said]) -> list[Said]:
    """Unknown healthy levels set to the point of their grid that suits the row best."""
    fit: dict[str, Array] = {}
    for said in every:
        if said.level:
            best = said.table.max(axis=1)
            fit[said.level] = fit.get(said.level, np.ones(len(best))) * best / best.max()
    return [
        replace(said, table=said.table[int(fit[said.level].argmax())], level="") if said.level else said
        for said in every
    ]


def wide_ladders(model: Model) -> frozenset[str]:
    """Engine ladders that single cylinders reach."""
    acting, wide = model.acting, set[str]()
    for fault in model.library.faults.values():
        if fault.place in ("cylinder", "pair", "companions"):
            wide.update(act.on for act in fault.acts)
    grown = True
    while grown:
        more = {one.id for one in acting.ladders.values() if wide & set(one.inputs)} - wide
        wide |= more
        grown = bool(more)
    return frozenset(wide)


def strength(said: Said) -> float:
    """How far apart the most and least likely states are, in log."""
    return float(np.ptp(np.log(np.maximum(said.table, 1e-9))))
