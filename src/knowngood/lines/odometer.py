"""What the odometer says now: ``odo now 182400``, ``182 400 km``. Only a whole line of nothing else."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence

from knowngood.evidence import CarFact
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

KM_A_MILE = 1.609344
_NUMBER = r"(?P<{0}>\d{{1,3}}(?:[ .,]\d{{3}})+|\d{{3,7}}|\d{{2,3}} ?k)"
_MILES = r"(?:miles?|mi)"
_UNIT = rf"(?P<{{0}}> ?(?:kms?|kilometres?|kilometers?|{_MILES}))"
_HEAD = r"(?:the |it |now )*(?:odo(?:meter)?|mileage|clock|kms?)(?: meter)?"
_SAYS = r"(?:[ :=]+(?:now|reads|reading|says|shows|stands at|at|is|today))*[ :=]+"
_ODO = rf"{_HEAD}{_SAYS}{_NUMBER.format('a')}{_UNIT.format('unit_a')}?(?: now| today)?"
_NAMED = re.compile(_ODO)
_LINE = re.compile(
    rf"{_ODO}"
    rf"|(?:now (?:at )?)?{_NUMBER.format('b')}{_UNIT.format('unit_b')}(?: now| today| on the clock)?"
)


def read_odometer(reader: Reader) -> bool:
    """The whole line as the mileage of this moment; less than was told before is shown as such."""
    return _read(reader, _LINE.fullmatch(reader.text.casefold().strip(" .")), reader.tokens)


def read_odometer_said(reader: Reader, clause: Sequence[Token]) -> bool:
    """The same as one clause of a line, where the odometer is named (``odo now 142 310, drove 30 km``)."""
    return _read(reader, _NAMED.fullmatch(reader.plain(clause).casefold().strip(" .")), clause)


def _read(reader: Reader, match: re.Match[str] | None, tokens: Sequence[Token]) -> bool:
    if match is None:
        return False
    told_by = match.groupdict()
    number, unit = told_by.get("a") or told_by["b"], told_by.get("unit_a") or told_by.get("unit_b") or ""
    assert number is not None
    digits = re.sub(r"\D", "", number)
    scale = (1000.0 if number.endswith("k") else 1.0) * (KM_A_MILE if re.search(_MILES, unit) else 1.0)
    told = round(float(digits) * scale, 1)
    before = reader.car.mileage_km
    if before is not None and told < before:
        reader.suppose(f"less than the {before:.0f} km told before")
    reader.put(CarFact("mileage_km", json.dumps(told)))
    reader.use_turned(tokens)
    return True
