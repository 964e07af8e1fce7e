"""What a reading should be by the car's data, told by itself: ``compression should be 150 to 190 psi``.

A line that holds no number but that is no reading, also where the name stands behind ("spec compression 150-190").
"""

from __future__ import annotations

from dataclasses import replace

from knowngood.lines.amounts import quantity_of
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.kinds import Segment, conditions_of, kind_for
from knowngood.lines.reader import Reader
from knowngood.lines.series import put_window
from knowngood.lines.states import series_elements

_BESIDE = ("FILL", "MUTE", "EQUALS", "COND", "COMMA", "DASH", "NAME", "SPEC", "CELL")


def read_window(reader: Reader) -> bool:
    """The whole line as the span a reading should lie in, if it says nothing else."""
    elements = series_elements(reader, elements_of(reader, reader.tokens))
    kinds = [element.kind for element in elements]
    if kinds.count("SPEC") != 1 or "NAME" not in kinds or any(kind not in _BESIDE for kind in kinds):
        return False
    window = _one_number(elements)
    if window is None or ("CELL" in kinds[: kinds.index("SPEC")]):
        return False
    rest = [element for element in elements if element.kind not in ("CELL", "DASH", "SPEC")]
    segment = Segment([*rest, window])
    kind = kind_for(reader, segment, conditions_of(segment.elements))
    if not kind or not put_window(reader, kind, quantity_of(reader, kind), window):
        return False
    reader.use_turned(reader.tokens)
    return True


def _one_number(elements: list[Element]) -> Element | None:
    """The one number or span; None where there are others."""
    cells = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    if len(cells) == 1:
        return elements[cells[0]]
    if len(cells) == 2 and cells[1] == cells[0] + 2 and elements[cells[0] + 1].kind == "DASH":
        low, high = elements[cells[0]], elements[cells[1]]
        first = low.text.removesuffix(low.unit).strip()
        return replace(low, text=f"{first} to {high.text}", unit=high.unit or low.unit, ranged=True)
    return None
