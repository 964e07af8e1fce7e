"""Which part of the evidence goes into the tables when all of it does not fit.

The rest then weighs draws. What goes first is what joins many cylinders and
says least: complaints of the whole engine. What fits one cylinder or one part
stays.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Model
from knowngood.belief.nodes import NodeBuilder
from knowngood.belief.timeline import Snapshot
from knowngood.car import ONE_OR_TWO

REPEAT_SHARE = 0.3  # a second number from the same meter at the same place shares its bias; from memory
HOPELESS_FIT = 9.0  # natural log: a healthy level that suits the row so much worse than the best is not tried
HOPELESS_WIDE, HOPELESS_LOCAL = 5, 18  # so many complaints of the whole engine beside so many local readings


def repeats_shared(every: Sequence[Said], model: Model, snapshots: list[Snapshot]) -> list[Said]:
    """How far each counts, whatever the order: of the same words the strongest, of one meter's numbers all alike.

    Settled before any part is taken: in a part the first may be missing, and its repeat must still count as a repeat.
    """
    builder = NodeBuilder(model.faces(snapshots), {})
    times = Counter(said.same for said in every if said.same)
    targets = {said.target: None for said in every if times[said.same] > 1}
    node = {target: builder.node_alone(target) for target in targets}
    alike: dict[tuple[int, str], list[int]] = {}
    for index, said in enumerate(every):
        if times[said.same] > 1:
            alike.setdefault((node[said.target], said.same), []).append(index)
    shares = [1.0] * len(every)
    for (_, same), where in alike.items():
        strongest = max(where, key=lambda index: strength(every[index]))
        for index in where:
            if same.endswith("#"):
                shares[index] = (1.0 + REPEAT_SHARE * (len(where) - 1)) / len(where)
            else:
                shares[index] = 1.0 if index == strongest else 0.0
    return [replace(said, share=share) for said, share in zip(every, shares, strict=True)]


def smaller_parts(said: Sequence[Said], model: Model) -> Iterator[Sequence[Said]]:
    """Ever smaller parts of the evidence; all of it first, unless that has never been seen to fit."""
    wide = wide_ladders(model)
    local = [one for one in said if not (one.target.place.kind == "engine" and one.target.ladder in wide)]
    inside = {id(one) for one in local}
    met = {(one.target.ladder, one.target.regime) for one in said if id(one) not in inside and one.share > 0.0}
    if len(met) < HOPELESS_WIDE or len(local) < HOPELESS_LOCAL:
        yield said
    local = levels_set(local)
    yield local
    strongest = sorted(local, key=lambda one: -strength(one))
    while strongest:
        strongest = strongest[: len(strongest) * 3 // 4]
        yield strongest


def levels_set(every: Sequence[Said]) -> list[Said]:
    """Unknown healthy levels set to the points of their grid that suit the row, place by place.

    A row that is alike everywhere suits several: all good at one level, all short by as much at another. Each reading
    is given its mean over them, so that neither is lost to the draws; how the places hang together weighs them after.
    """
    fit: dict[str, Array] = {}
    for said in every:
        if said.level:
            best = np.log(np.maximum(said.table, 1e-30)).max(axis=1)
            fit[said.level] = fit.get(said.level, np.zeros(len(best))) + best
    suits = {level: _peaks(log_fit) for level, log_fit in fit.items()}
    return [
        replace(said, table=said.table[suits[said.level]].mean(axis=0), level="") if said.level else said
        for said in every
    ]


def _peaks(log_fit: Array) -> NDArray[np.intp]:
    """The two tops that suit best, one where the other is hopelessly worse; of a flat stretch the first point.

    With more of them every reading picks its own in too many ways, and the draws are worth little.
    """
    padded = np.concatenate([[-np.inf], log_fit, [-np.inf]])
    tops = (log_fit > padded[:-2]) & (log_fit >= padded[2:])
    found = np.flatnonzero(tops & (log_fit >= log_fit.max() - HOPELESS_FIT))
    return found[np.argsort(-log_fit[found], kind="stable")[:2]]


def wide_ladders(model: Model) -> frozenset[str]:
    """Engine ladders that single cylinders reach."""
    acting, wide = model.acting, set[str]()
    for fault in model.library.faults.values():
        if fault.place in ONE_OR_TWO:
            wide.update(act.on for act in fault.acts)
    grown = True
    while grown:
        more = {one.id for one in tuple(acting.ladders.values()) if wide & set(one.inputs)} - wide
        wide |= more
        grown = bool(more)
    return frozenset(wide)


def strength(said: Said) -> float:
    """How far apart the most and least likely states are, in log."""
    return float(np.ptp(np.log(np.maximum(said.table, 1e-9))))
