"""What the odometer says now: ``odo now 182400``, ``182 400 km``. Only a whole line of nothing else."""

from __future__ import annotations

import json
import re

from knowngood.evidence import CarFact
from knowngood.lines.reader import Reader

KM_A_MILE = 1.609344
_NUMBER = r"(?P<{0}>\d{{1,3}}(?:[ .,]\d{{3}})+|\d{{3,7}}|\d{{2,3}} ?k)"
_MILES = r"(?:miles?|mi)"
_UNIT = rf"(?P<{{0}}> ?(?:kms?|kilometres?|kilometers?|{_MILES}))"
_HEAD = r"(?:the |it |now )*(?:odo(?:meter)?|mileage|clock|kms?)(?: meter)?"
_SAYS = r"(?:[ :=]+(?:now|reads|reading|says|shows|stands at|at|is|today))*[ :=]+"
_LINE = re.compile(
    rf"{_HEAD}{_SAYS}{_NUMBER.format('a')}{_UNIT.format('unit_a')}?(?: now| today)?"
    rf"|(?:now (?:at )?)?{_NUMBER.format('b')}{_UNIT.format('unit_b')}(?: now| today| on the clock)?"
)


def read_odometer(reader: Reader) -> bool:
    """The whole line as the mileage of this moment; less than was told before is shown as such."""
    match = _LINE.fullmatch(reader.text.casefold().strip(" ."))
    if match is None:
        return False
    number, unit = match.group("a") or match.group("b"), match.group("unit_a") or match.group("unit_b") or ""
    digits = re.sub(r"\D", "", number)
    scale = (1000.0 if number.endswith("k") else 1.0) * (KM_A_MILE if re.search(_MILES, unit) else 1.0)
    told = round(float(digits) * scale, 1)
    before = reader.car.mileage_km
    if before is not None and told < before:
        reader.suppose(f"less than the {before:.0f} km told before")
    reader.put(CarFact("mileage_km", json.dumps(told)))
    reader.use_turned(reader.tokens)
    return True
