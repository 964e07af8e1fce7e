"""What was left as it must not stay, by the entries alone."""

from __future__ import annotations

import pytest

from knowngood.app.left_undone import left_undone
from knowngood.car import Place
from knowngood.evidence import Body, Entry, Undone, Work

RAG = Undone(what="rag in the intake")
COIL = Undone(what="coil off", part="coil")


def left(*bodies: Body) -> list[str]:
    """What is left undone after these, in their order."""
    stamps = [f"2026-05-01T09:0{index}:00.000000Z" for index in range(len(bodies))]
    entries = [Entry(id=stamp, at=stamp, entered=stamp, body=body) for stamp, body in zip(stamps, bodies, strict=True)]
    return [one.what for one in left_undone(entries)]


@pytest.mark.parametrize(
    ("work", "still"),
    [
        (Work(do="repaired", part="coil"), ["rag in the intake"]),
        (Work(do="repaired", part="coil", who="owner"), ["rag in the intake", "coil off"]),
        (Work(do="repaired", words="the radio"), ["rag in the intake", "coil off"]),
    ],
)
def test_work_puts_right_what_was_left_of_its_part(work: Work, still: list[str]) -> None:
    """Here, and of that part: work on no part that is known puts no rag right."""
    assert left(RAG, COIL, work) == still


def test_put_right_by_its_words() -> None:
    """What has no part is known by its words."""
    assert left(RAG, COIL, Undone(what="rag in the intake", put_right=True)) == ["coil off"]


@pytest.mark.parametrize(
    ("right", "still"),
    [
        (Undone(what="coil on", part="coil", place=Place("cylinder", "3"), put_right=True), ["coil off", "plug out"]),
        (Undone(what="coils on", part="coil", put_right=True), ["plug out"]),
        (Undone(what="plug in", part="plug", place=Place("cylinder", "3"), put_right=True), ["coil off", "coil off"]),
    ],
)
def test_what_is_right_again_is_known_by_its_part_and_place(right: Undone, still: list[str]) -> None:
    """At one cylinder, it is right there; where none is named, wherever it was left."""
    cylinder = [Place("cylinder", number) for number in ("3", "4")]
    coils = [Undone(what="coil off", part="coil", place=place) for place in cylinder]
    assert left(*coils, Undone(what="plug out", part="plug", place=cylinder[0]), right) == still
