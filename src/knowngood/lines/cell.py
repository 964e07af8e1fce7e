"""One number with its place, and the small questions asked of runs of numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from knowngood.car import ENGINE, Place
from knowngood.lines.elements import Element


@dataclass(frozen=True)
class Cell:
    """One number with the place and the conditions it was read at."""

    element: Element
    place: Place = ENGINE
    conditions: tuple[str, ...] = ()
    doubt: str = ""


def dash_between(elements: Sequence[Element], index: int) -> bool:
    """Whether the element at ``index`` is a dash between two numbers."""
    return (
        elements[index].kind == "DASH"
        and 0 < index < len(elements) - 1
        and elements[index - 1].kind == "CELL"
        and elements[index + 1].kind == "CELL"
    )


def dash_signs(elements: Sequence[Element]) -> set[str]:
    """The signs that stand between two numbers somewhere in the run."""
    return {elements[index].text for index in range(len(elements)) if dash_between(elements, index)}


def as_cell(element: Element) -> Element:
    """An element that says that nothing was read, as the number it stands for."""
    return replace(element, kind="CELL", text="none")


def groups_of(elements: Sequence[Element]) -> list[list[Element]]:
    """Cut at commas."""
    groups: list[list[Element]] = [[]]
    for element in elements:
        if element.kind == "COMMA":
            groups.append([])
        else:
            groups[-1].append(element)
    return [group for group in groups if group]


def conditions_in(elements: Iterable[Element]) -> tuple[str, ...]:
    """Conditions and speeds named among the elements, in order."""
    return tuple(name for element in elements if element.kind in ("COND", "SPEED") for name in element.names)
