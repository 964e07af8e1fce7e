"""A fault with a variable of its own: alone, brought about by others, under common causes; every state counted out."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from knowngood.belief.courses import Course, plain
from knowngood.belief.fabric import Fabric
from knowngood.belief.lone import laid_alone
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE

WIRE, DRIVER, FUSE = (Instance(name, ENGINE) for name in ("wire", "driver", "fuse"))


def marginal(fabric: Fabric, variable: int) -> list[float]:
    """Chance of each state of a variable: the product of all tables, summed over all others."""
    result = [0.0] * fabric.sizes[variable]
    for states in itertools.product(*map(range, fabric.sizes)):
        tables = zip(fabric.scopes, fabric.tables, strict=True)
        chance = math.prod(
            float(table[tuple(states[one] for one in scope)]) for scope, table in tables if table is not None
        )
        result[states[variable]] += chance
    return result


def cause_of(fabric: Fabric, *chances: float) -> int:
    """A variable of common causes."""
    cause = fabric.variable(len(chances))
    fabric.table((cause,), np.array(chances))
    return cause


def test_by_itself() -> None:
    """Its own chance, or that of each state of the common causes: 0.9 x 0.1 + 0.1 x 0.5."""
    fabric = Fabric()
    cause = cause_of(fabric, 0.9, 0.1)
    same = laid_alone(fabric, cause, np.array([0.2, 0.2]), plain(WIRE), [], 0)
    raised = laid_alone(fabric, cause, np.array([0.1, 0.5]), plain(FUSE), [], 0)
    assert marginal(fabric, same) == pytest.approx([0.8, 0.2])
    assert marginal(fabric, raised) == pytest.approx([0.86, 0.14])


@pytest.mark.parametrize(("base", "there"), [(0.0, 0.15), (0.2, 1.0 - 0.8 * 0.85)])
def test_brought_about_by_another(base: float, there: float) -> None:
    """A wire in 0.3 that brings it about in half of them; besides, it may have been there before."""
    fabric = Fabric()
    cause = cause_of(fabric, 0.6, 0.4)
    wire = laid_alone(fabric, cause, np.array([0.3, 0.3]), plain(WIRE), [], 0)
    driver = laid_alone(fabric, cause, np.array([base, base]), plain(DRIVER), [(wire, plain(WIRE), 0.5)], 0)
    assert marginal(fabric, driver) == pytest.approx([1.0 - there, there])
    assert marginal(fabric, wire) == pytest.approx([0.7, 0.3])


@pytest.mark.parametrize("base", [0.0, 0.1])
def test_brought_about_by_either_of_two(base: float) -> None:
    """None of three ways: (1 - base)(1 - 0.3 x 0.5)(1 - 0.2 x 0.25)."""
    fabric = Fabric()
    cause = cause_of(fabric, 1.0)
    wire = laid_alone(fabric, cause, np.array([0.3]), plain(WIRE), [], 0)
    fuse = laid_alone(fabric, cause, np.array([0.2]), plain(FUSE), [], 0)
    brought = [(wire, plain(WIRE), 0.5), (fuse, plain(FUSE), 0.25)]
    driver = laid_alone(fabric, cause, np.array([base]), plain(DRIVER), brought, 0)
    spared = (1.0 - base) * 0.85 * 0.95
    assert marginal(fabric, driver) == pytest.approx([spared, 1.0 - spared])


def test_ways_of_what_was_brought_about() -> None:
    """There at first in 0.15, of which a cure leaves a quarter."""
    fabric = Fabric()
    cause = cause_of(fabric, 1.0)
    cured = Instance("driver", ENGINE, generation=1)
    course = Course(DRIVER, (0.75, 0.25), (frozenset({DRIVER}), frozenset({DRIVER, cured})), (0.0, 0.0))
    wire = laid_alone(fabric, cause, np.array([0.3]), plain(WIRE), [], 0)
    driver = laid_alone(fabric, cause, np.array([0.0]), course, [(wire, plain(WIRE), 0.5)], 0)
    assert marginal(fabric, driver) == pytest.approx([0.85, 0.15 * 0.75, 0.15 * 0.25])


def test_only_what_was_there_at_first_brings_another_about() -> None:
    """A wire that came with later work (0.7 x 0.2) is behind no old driver."""
    fabric = Fabric()
    cause = cause_of(fabric, 1.0)
    later = Instance("wire", ENGINE, generation=1)
    course = Course(WIRE, (1.0, 0.0), (frozenset({WIRE}), frozenset({later})), (0.0, 0.2))
    wire = laid_alone(fabric, cause, np.array([0.3]), course, [], 0)
    driver = laid_alone(fabric, cause, np.array([0.0]), plain(DRIVER), [(wire, course, 0.5)], 0)
    assert marginal(fabric, wire) == pytest.approx([0.56, 0.3, 0.14])
    assert marginal(fabric, driver) == pytest.approx([0.85, 0.15])
