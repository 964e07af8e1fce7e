"""Tightening values from the car's own data, as the mechanic reads them off: ``plugs 25 Nm``.

None is made up here: what is not told is not there. Only a whole line of nothing else.
"""

from __future__ import annotations

import json
import re

from knowngood.evidence import CarFact
from knowngood.lines.reader import Reader

MOST_NM = 1000.0  # no fastener of a car asks for more; from memory
_NUMBER = r"\d+(?:[.,]\d+)?"
# NIST SP 811, Appendix B.9: foot pound-force, inch pound-force and kilogram-force metre in newton metres
_UNITS = (
    (r"n ?[·.*-]? ?m|newton[ -]?met(?:re|er)s?", 1.0),
    (r"ft[ -]?lbf?s?|lbf?s?[ .-]?ft|foot[ -]?pounds?", 1.355818),
    (r"in[ -]?lbf?s?|lbf?s?[ .-]?in|inch[ -]?pounds?", 0.1129848),
    (r"kgf?[ .-]?m|mkg", 9.80665),
)
_ANGLES = r"(?:[ ,]*(?:\+|then|and|plus) ?\d+ ?(?:°|deg(?:rees)?)?)*"
_LINE = re.compile(
    r"(?:(?:tighten(?:ing)?|torque)(?: value)?(?: of| for|:)? (?:the )?)?(?P<what>[a-z][a-z -]*?)"
    r"(?:[ :=]+(?:torque|tightening(?: value)?|to|at|should be|by the book))*[ :=]+"
    rf"(?P<low>{_NUMBER})(?: ?(?:-|–|to) ?(?P<high>{_NUMBER}))? ?(?P<unit>{'|'.join(unit for unit, _ in _UNITS)})"
    rf"(?P<angles>{_ANGLES})"
)
_DONE = re.compile(r"\b(?:tightened|torqued|done|retightened)\b")


def read_tightening(reader: Reader) -> bool:
    """The whole line as a tightening value of this car, kept under the words it was told with."""
    text = reader.text.casefold().strip(" .")
    match = _LINE.fullmatch(text)
    if match is None or _DONE.search(text):
        return False
    factor = next(factor for unit, factor in _UNITS if re.fullmatch(unit, match.group("unit")))
    low = _newton_metres(match.group("low"), factor)
    high = _newton_metres(match.group("high") or match.group("low"), factor)
    if not 0.0 < low <= high <= MOST_NM:
        reader.doubt(reader.tokens, f"{high:g} N·m is no tightening value of a car", "What does the car's data say?")
        return True
    angles = [float(angle) for angle in re.findall(r"\d+", match.group("angles"))]
    told = {"low_nm": low, "high_nm": high, "then_deg": angles, "source": "as told"}
    reader.put(CarFact("tightening", json.dumps({match.group("what").strip(): told})))
    reader.use_turned(reader.tokens)
    return True


def _newton_metres(text: str, factor: float) -> float:
    return round(float(text.replace(",", ".")) * factor, 1)
