"""The car worked by hand in ``docs/explanation/chances.md``: the page, the sums of the page, and the program agree."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path

import numpy as np
import pytest

from knowngood.app.ledger import log_odds
from knowngood.belief.exact import ExactBelief
from knowngood.car import ENGINE, Car
from knowngood.evidence import Reading, Work
from knowngood.library.records import Act, Ladder, Part
from tests.unit.belief.tiny import ONE, TWO, after, chance, fault, library, word

PAGE = (Path(__file__).parents[3] / "docs" / "explanation" / "chances.md").read_text(encoding="utf-8")
CAR = Car(cylinders=2, form="inline")
RECORDS = library(
    [
        Ladder(id="burn", name="burning", place="cylinder", levels=("steady", "poor", "dead")),
        Ladder(
            id="rough",
            name="running",
            place="engine",
            levels=("smooth", "shaking"),
            inputs={"burn": {"poor": "shaking", "dead": "shaking"}},
        ),
    ],
    [
        fault("coil_dead", 50, part="coil", place="cylinder", acts=[Act(on="burn", level="dead")]),
        fault("plug_worn", 200, part="plug", place="cylinder", acts=[Act(on="burn", level="poor")]),
    ],
    [
        word("shakes", "rough", {"smooth": 0.05, "shaking": 0.9}),
        word("miss", "burn", {"steady": 0.01, "poor": 0.6, "dead": 0.95}, place="cylinder"),
    ],
    parts=[Part(id="coil", name="coil", price=10, source="memory", place="cylinder", swaps=True, new_bad_per_1000=10)],
)
SWAP = Work(do="swapped", part="coil", places=(ONE,), to=TWO, effect="moved", effect_at=TWO)
LINES: dict[str, Reading | Work] = {
    "shakes": Reading(kind="shakes", place=ENGINE, word="yes"),
    "1 misses": Reading(kind="miss", place=ONE, word="yes"),
    "coil 1 to 2, the miss moved": Work(
        do="swapped", part="coil", places=(ONE,), to=TWO, effect="moved", effect_at=TWO
    ),
    "new coil in 2": Work(do="replaced", part="coil", places=(TWO,)),
}
SUSPECTS = (("coil_dead", ONE), ("coil_dead", TWO), ("plug_worn", ONE), ("plug_worn", TWO))


def so_far(count: int) -> ExactBelief:
    """The belief after the first lines of the page."""
    return after(RECORDS, *list(LINES.values())[:count], car=CAR)


def table_rows() -> list[list[str]]:
    """Rows of the page's table of chances: line, then the four suspects."""
    return [[cell.strip() for cell in line.strip("| \n").split("|")] for line in re.findall(r"(?m)^\| \d\. .*$", PAGE)]


@pytest.mark.parametrize("count", range(5))
def test_table_of_the_page(count: int) -> None:
    """Each row of the page is what the program says after that line, to the digits that are printed."""
    said, *printed = table_rows()[count]
    name = "nothing said" if count == 0 else list(LINES)[count - 1]
    assert said == f"{count}. {name}"
    belief = so_far(count)
    for cell, (fault_id, place) in zip(printed, SUSPECTS, strict=True):
        assert cell == f"{chance(belief, fault_id, place):.4f}"


def test_first_line_by_hand() -> None:
    """Worst wins is a product: steady 0.76, so smooth 0.5776; then one division."""
    steady = 0.95 * 0.8
    smooth = steady**2
    shakes = 0.05 * smooth + 0.9 * (1.0 - smooth)
    assert f"{steady:.2f}" == "0.76" and f"{smooth:.4f}" == "0.5776" and f"{shakes:.5f}" == "0.40904"
    assert all(number in PAGE for number in ("0.76", "0.5776", "0.40904"))
    assert math.exp(so_far(1).log_chance) == pytest.approx(shakes)
    assert chance(so_far(1), "coil_dead", ONE) == pytest.approx(0.05 * 0.9 / shakes)
    assert chance(so_far(1), "plug_worn", TWO) == pytest.approx(0.2 * 0.9 / shakes)


def test_second_line_by_hand() -> None:
    """By the level of cylinder 1: steady, poor, dead, each times the rest of the engine shaking times the miss."""
    shakes_if_steady = 0.05 * 0.76 + 0.9 * 0.24
    steady, poor, dead = 0.76 * shakes_if_steady * 0.01, 0.19 * 0.9 * 0.6, 0.05 * 0.9 * 0.95
    total = steady + poor + dead
    assert f"{shakes_if_steady:.3f}" in PAGE
    assert all(f"{part:.5f}" in PAGE for part in (steady, poor, dead, total))
    assert chance(so_far(2), "coil_dead", ONE) == pytest.approx(dead / total)
    assert chance(so_far(2), "plug_worn", ONE) == pytest.approx((poor + 0.2 * dead) / total)


def test_swap_by_hand() -> None:
    """All sixteen fault sets: the coils change cylinders, the plugs stay; four statements about two moments."""
    miss = {"steady": 0.01, "poor": 0.6, "dead": 0.95}
    weight = {}
    for coil_1, coil_2, plug_1, plug_2 in itertools.product((False, True), repeat=4):

        def level(coil: bool, plug: bool) -> str:
            return "dead" if coil else "poor" if plug else "steady"

        before, now = (level(coil_1, plug_1), level(coil_2, plug_2)), (level(coil_2, plug_1), level(coil_1, plug_2))
        chance_of_set = (0.05 if coil_1 else 0.95) * (0.05 if coil_2 else 0.95)
        chance_of_set *= (0.2 if plug_1 else 0.8) * (0.2 if plug_2 else 0.8)
        shakes = 0.05 if before == ("steady", "steady") else 0.9
        told = miss[before[0]] * (1 - miss[before[1]]) * (1 - miss[now[0]]) * miss[now[1]]
        weight[coil_1, coil_2, plug_1, plug_2] = chance_of_set * shakes * told
    total = sum(weight.values())
    belief = so_far(3)
    # the coil that was on 1 sits on 2 now, and the other way round
    for position, (fault_id, place) in enumerate(
        [("coil_dead", TWO), ("coil_dead", ONE), ("plug_worn", ONE), ("plug_worn", TWO)]
    ):
        there = sum(part for key, part in weight.items() if key[position]) / total
        assert chance(belief, fault_id, place) == pytest.approx(there)
    assert math.exp(belief.log_chance) == pytest.approx(total)


def test_weights_of_the_page() -> None:
    """Prior log odds and one weight a line are the present log odds, as the page adds them up for coil 1."""
    rows = log_odds(so_far(2).chances_by_entry([0, 1]))
    column = so_far(2).model.column[so_far(2).faults[0]]
    assert str(so_far(2).faults[0]) == "coil_dead @ cylinder 1"
    prior, first, second = rows[0, column], *np.diff(rows[:, column])
    sentence = f"{prior:.2f} + {first:.2f} + {second:.2f} = {rows[-1, column]:.2f}".replace("-", "−")
    assert sentence in PAGE
