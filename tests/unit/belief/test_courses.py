"""The ways a fault can go: shares, faces, and what both sum to."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from knowngood.belief import courses
from knowngood.belief.courses import Course, courses_of, plain, root_of, there
from knowngood.belief.timeline import Birth, Instance
from knowngood.car import ENGINE
from tests.unit.belief.tiny import fault

ROOT = Instance("wire", ENGINE)
CURED = Instance("wire", ENGINE, generation=1)


def test_there_or_not_is_one_way() -> None:
    """Its chance is that of the fault itself."""
    course = plain(ROOT)
    assert course.faces == (ROOT,)
    assert course.chances(np.array([0.2, 0.9])) == pytest.approx(np.array([[0.2], [0.9]]))
    assert course.spread(0.2) == pytest.approx((0.2,))


def test_ways_mix_what_was_there_and_what_came() -> None:
    """0.2 there at first: 0.2 x 0.75 and 0.2 x 0.25; not there: 0.8 x 0.5 of the second way came later."""
    course = Course(ROOT, (0.75, 0.25), (frozenset({ROOT}), frozenset({CURED})), (0.0, 0.5))
    assert course.spread(0.2) == pytest.approx((0.15, 0.05 + 0.4))
    assert course.chances(np.array(0.2)) == pytest.approx(np.array([0.15, 0.45]))
    assert course.table.tolist() == [[True, False], [False, True]]


def test_work_that_cures_and_now_and_then_breaks() -> None:
    """It works in 0.9 and brings the fault about in 0.1: by hand, way by way."""
    course = courses_of(
        [ROOT, CURED], {"wire": fault("wire", 200)}, {CURED: Birth("left", ROOT, works=0.9, comes=0.1)}
    )[ROOT]
    by_way = dict(zip(course.holds, zip(course.shares, course.later, strict=True), strict=True))
    assert by_way == {
        frozenset({ROOT, CURED}): pytest.approx((0.1, 0.0)),
        frozenset({ROOT}): pytest.approx((0.9, 0.0)),
        frozenset({CURED}): pytest.approx((0.0, 0.1)),
    }
    assert sum(course.shares) == pytest.approx(1.0)


def test_grades_share_out_a_fault() -> None:
    """Each grade is a way of its own; the fault itself is true in all of them."""
    mild, severe = (Instance("wire", ENGINE, grade=grade) for grade in ("mild", "severe"))
    graded = fault("wire", 200, grades={"mild": 0.7, "severe": 0.3})
    course = courses_of([mild, severe], {"wire": graded}, {})[ROOT]
    assert sorted(course.shares) == pytest.approx([0.3, 0.7])
    assert all(ROOT in holds for holds in course.holds)
    assert course.table[course.faces.index(mild)].astype(float) @ np.array(course.shares) == pytest.approx(0.7)


@pytest.mark.parametrize("look", [("", 1), ()])
def test_every_face_leads_back_to_its_fault(look: tuple) -> None:
    """Whatever its generation, grade and look; what is there after a cure keeps its generation."""
    face = Instance("wire", ENGINE, generation=1, grade="mild", look=look)
    assert root_of(face) == ROOT
    assert there(face) == CURED
    assert root_of(ROOT) == ROOT


def test_very_many_works_on_one_part_come_to_an_end() -> None:
    """Forty works in vain: shares still sum to 1, and the last face is as likely as the chain of works says.

    By hand: there at first, each work leaves it in 0.8 of cases and brings it about in 0.02, so the chance p after the
    next work is 0.8 p + 0.02 (1 - p).
    """
    stages = [Instance("wire", ENGINE, generation=number) for number in range(41)]
    births = {after: Birth("left", before, works=0.2, comes=0.02) for before, after in itertools.pairwise(stages)}
    course = courses_of(stages, {"wire": fault("wire", 200)}, births)[ROOT]
    assert len(course.shares) <= courses.MOST_PATHS
    assert sum(course.shares) == pytest.approx(1.0)
    chance = 1.0
    for stage in stages:
        held = float(course.table[course.faces.index(stage)].astype(float) @ np.array(course.shares))
        assert held == pytest.approx(chance, abs=0.15)
        chance = 0.8 * chance + 0.02 * (1.0 - chance)


def test_few_works_keep_every_path() -> None:
    """Six works: all 127 paths but the one on which it never was there, each with its chance by hand."""
    stages = [Instance("wire", ENGINE, generation=number) for number in range(7)]
    births = {after: Birth("left", before, works=0.3, comes=0.1) for before, after in itertools.pairwise(stages)}
    course = courses_of(stages, {"wire": fault("wire", 200)}, births)[ROOT]
    by_way = dict(zip(course.holds, zip(course.shares, course.later, strict=True), strict=True))
    assert len(by_way) == 127
    assert by_way[frozenset(stages)] == pytest.approx((0.7**6, 0.0))
    assert by_way[frozenset(stages[1::2])] == pytest.approx((0.0, 0.1 * 0.3 * 0.1 * 0.3 * 0.1 * 0.3))


def test_very_many_looks_come_to_an_end() -> None:
    """Thirty looks: the last eight each by itself, the earlier ones alike; shares sum to 1, each shows as often."""
    looks = [("", number, 0) for number in range(30)]
    faces = [Instance("wire", ENGINE, look=look) for look in looks]
    now_and_then = fault("wire", 200, shows={"": 0.3})
    course = courses_of(faces, {"wire": now_and_then}, {})[ROOT]
    assert len(course.shares) == 2 ** (courses.MOST_LOOKS + 1)
    assert sum(course.shares) == pytest.approx(1.0)
    often = [float(course.table[course.faces.index(face)].astype(float) @ np.array(course.shares)) for face in faces]
    assert often == pytest.approx([often[0]] * 30)
    assert 0.0 < often[0] < 1.0
