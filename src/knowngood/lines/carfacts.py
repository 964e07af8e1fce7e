"""Lines that say what the car is: cylinders, ignition, injection, what was done last, how long it stood."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from typing import Any

from knowngood.evidence import CarFact
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

Facts = list[tuple[str, Any]]
_NUMBERS = {
    word: number
    for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], start=1
    )
}
_N = rf"(\d+|{'|'.join(_NUMBERS)})"
_AMOUNT = (
    rf"(?:about |around |approx\.? |~|circa |some |over |nearly )?(\d+(?:[.,]\d+)?|{'|'.join(_NUMBERS)}|a|an|half a)"
)
_NOT_KNOWN = r"(?:not known|unknown|not sure|dont know|don't know|\?)"
_YEARS = {
    "year": 1.0,
    "yr": 1.0,
    "winter": 1.0,
    "summer": 1.0,
    "season": 1.0,
    "month": 1 / 12,
    "week": 7 / 365.25,
    "day": 1 / 365.25,
}
_WHERE = (
    r"(?: (?:in|under|at|on|outside|behind|by|next to) (?:(?:a|an|the|some|my|his|her) )?[a-z']+(?: [a-z']+)?"
    r"| outside| outdoors| unused| dry| damp)*"
)
_SCALED = r"(\d{1,3}(?:[.,]\d{3})+|\d+(?:[.,]\d+)?)( ?(?:k|t|thousand|万))?"
_STOOD = r"(?:stood|standing|sat|sitting|parked up|parked|laid up|not driven|unused|idle)"


def _number(text: str) -> float:
    text = text.replace(",", ".")
    if text in ("a", "an"):
        return 1.0
    return 0.5 if text == "half a" else float(_NUMBERS.get(text, text))


def _count(text: str) -> int:
    return int(_NUMBERS.get(text, text))


def _kilometres(match: re.Match[str]) -> Facts:
    number, scale, unit = match.group(1), match.group(2) or "", match.group(3) or ""
    grouped = re.fullmatch(r"\d{1,3}(?:[.,]\d{3})+", number)
    value = float(number.replace(",", "").replace(".", "")) if grouped else _number(number)
    value *= 1000.0 if scale.strip() in ("k", "thousand", "t") else 10_000.0 if scale.strip() == "万" else 1.0
    return [("mileage_km", round(value * (1.609344 if unit.strip().startswith("m") else 1.0), 1))]


def _stood(match: re.Match[str]) -> Facts:
    unit = match.group(2)
    return [
        (
            "standing_years",
            round(_number(match.group(1)) * next(y for name, y in _YEARS.items() if unit.startswith(name)), 3),
        )
    ]


def _form(letter: str) -> str:
    return {"v": "V", "vee": "V", "flat": "flat", "boxer": "flat", "h": "flat", "f": "flat"}.get(
        letter.strip(), "inline"
    )


_FORM = r"(?:inline|in-line|in line|straight|v|vee|flat|boxer)"
_END = r"(?![\w])"
_PATTERNS: tuple[tuple[str, Callable[[re.Match[str]], Facts]], ...] = (
    (
        rf"{_N}[ -]?(?:cyl|cyls|cylinder|cylinders)\.?[ -]?({_FORM})(?: engine)?",
        lambda m: [("cylinders", _count(m.group(1))), ("form", _form(m.group(2)))],
    ),
    (
        rf"({_FORM})[ -]?{_N}(?:[ -]?(?:cyl|cylinder|cylinders))?(?: engine)?",
        lambda m: [("cylinders", _count(m.group(2))), ("form", _form(m.group(1)))],
    ),
    (rf"{_N}[ -]?(?:cyl|cyls|cylinder|cylinders)\.?(?: engine)?", lambda m: [("cylinders", _count(m.group(1)))]),
    (r"(?:i|l|r)(\d)(?: engine)?", lambda m: [("cylinders", int(m.group(1))), ("form", "inline")]),
    (r"v[ -]?engine|vee engine", lambda m: [("form", "V")]),
    (r"inline(?: engine)?|straight engine", lambda m: [("form", "inline")]),
    (r"flat engine|boxer(?: engine)?", lambda m: [("form", "flat")]),
    (rf"cylinders? {_NOT_KNOWN}", lambda m: [("cylinders", None)]),
    (
        r"firing order:? ?((?:\d{1,2}[- ,]){2,}\d{1,2})",
        lambda m: [("firing_order", [int(n) for n in re.findall(r"\d+", m.group(1))])],
    ),
    (r"firing order:? ?([1-9]{3,9})", lambda m: [("firing_order", [int(n) for n in m.group(1)])]),
    (r"(?:numbered|numbering) (by bank|alternating)(?: banks?)?", lambda m: [("numbering", m.group(1))]),
    (
        r"(?:cyl|cylinder|number|no\.?|#) ?1 (?:is )?(?:in |on )?(?:the )?(left|right)(?: bank)?",
        lambda m: [("first_bank", m.group(1))],
    ),
    (r"bank (?:1|one) (?:is )?(?:on )?(?:the )?(left|right)", lambda m: [("first_bank", m.group(1))]),
    (
        r"(?:coil on plug|coils on plugs?|cop|coil per plug|individual coils|coil per cylinder|one coil each)",
        lambda m: [("ignition", "coil on plug")],
    ),
    (
        r"(?:coil and leads?|coils? and leads?|coil per cylinder with leads?|coil near plug)",
        lambda m: [("ignition", "coil and lead")],
    ),
    (
        r"(?:pair coils?|wasted spark|waste spark|double coils?|coil packs? and leads|coil pack with leads)",
        lambda m: [("ignition", "pair coil")],
    ),
    (r"(?:distributor(?: and leads| and plug leads| ignition)?|dizzy)", lambda m: [("ignition", "distributor")]),
    (rf"ignition(?: kind)? {_NOT_KNOWN}", lambda m: [("ignition", "")]),
    (
        r"(?:port injection|multi[ -]?point(?: injection)?|mpi|mpfi|port injected|sequential injection)",
        lambda m: [("injection", "port")],
    ),
    (
        r"(?:single point(?: injection)?|throttle body injection|tbi|central injection|mono injection)",
        lambda m: [("injection", "single point")],
    ),
    (r"(?:direct injection|gdi|direct injected)", lambda m: [("injection", "direct")]),
    (r"(?:mechanical injection)", lambda m: [("injection", "other")]),
    (rf"injection(?: kind)? {_NOT_KNOWN}", lambda m: [("injection", "")]),
    (r"(?:carburettor|carburetor|carb|carburetted|carbureted|carbs)", lambda m: [("drive", "carburettor")]),
    (r"(?:flow meter and manifold pressure|maf and map|both meters|map and maf)", lambda m: [("air_meter", "both")]),
    (
        r"(?:flow meter|air flow meter|air mass meter|maf|maf sensor|air meter|mass air flow)",
        lambda m: [("air_meter", "flow meter")],
    ),
    (
        r"(?:manifold pressure(?: sensor)?|map sensor|map|speed density|no flow meter|no air meter|no maf)",
        lambda m: [("air_meter", "manifold pressure")],
    ),
    (rf"air meter {_NOT_KNOWN}", lambda m: [("air_meter", "")]),
    (
        r"(?:no turbo|not turbo|naturally aspirated|n/a engine|na engine|non turbo|non-turbo|atmo)",
        lambda m: [("turbo", False)],
    ),
    (r"(?:turbo|turbocharged|turbo charged|turbo engine)", lambda m: [("turbo", True)]),
    (r"(?:hybrid)", lambda m: [("drive", "hybrid")]),
    (
        r"(?:gas conversion|lpg|cng|lpg conversion|converted to gas|autogas|gas converted)",
        lambda m: [("drive", "gas conversion")],
    ),
    (r"(?:petrol|petrol engine|petrol only|gasoline engine|plain petrol)", lambda m: [("drive", "petrol")]),
    (rf"(?:drive|fuel) {_NOT_KNOWN}", lambda m: [("drive", "")]),
    (
        r"(?:automatic|automatic gearbox|automatic transmission|auto box|auto gearbox|automatic box)",
        lambda m: [("systems", ["automatic"])],
    ),
    (
        r"(?:manual gearbox|manual box|manual transmission|stick shift|five speed|5 speed|manual)",
        lambda m: [("systems", ["manual"])],
    ),
    (r"(?:secondary air|air pump fitted)", lambda m: [("systems", ["secondary air"])]),
    (r"(?:egr fitted|with egr|exhaust gas return|exhaust return)", lambda m: [("systems", ["exhaust return"])]),
    (r"(?:cam phasers?|variable valve timing|vvt)", lambda m: [("systems", ["cam phaser"])]),
    (r"(?:immobiliser|immobilizer)(?: fitted)?", lambda m: [("systems", ["immobiliser"])]),
    (r"(?:air conditioning|aircon|air con|a/c)(?: fitted)?", lambda m: [("systems", ["air conditioning"])]),
    (
        r"(?:(?:about|around|approx\.?|~|circa) )?"
        rf"{_SCALED}( ?(?:kms?|miles?|mi|kilometers?|kilometres?|キロ))(?: on the clock| on it)?",
        _kilometres,
    ),
    (
        rf"(?:mileage|odometer|clock)(?: is| at|:)? ?(?:about |around |~)?{_SCALED}( ?(?:kms?|miles?|mi))?",
        _kilometres,
    ),
    (r"(\d{2,3})( ?k)()", _kilometres),
    (rf"(?:mileage|odometer|kilometres|km) {_NOT_KNOWN}", lambda m: [("mileage_km", None)]),
    (
        rf"(?:(?:it |car |has |was |been )*{_STOOD}(?: still| up)?{_WHERE}(?: for| since)?) {_AMOUNT} "
        rf"(years?|yrs?|winters?|summers?|seasons?|months?|weeks?|days?){_WHERE}",
        _stood,
    ),
    (rf"{_AMOUNT} (years?|yrs?|winters?|months?) (?:standing|of standing|stood|parked|laid up){_WHERE}", _stood),
    (
        r"(?:(?:about|around|circa|ca\.?|~|year|built|made|from|model year|approx\.?) ?)*"
        r"((?:19[5-9]|20[0-4])\d)(?: model| car)?",
        lambda m: [("year", int(m.group(1)))],
    ),
    (r"(\d[.,]\d{1,2})[ -]?(?:l|litres?|liters?|ltr)(?: engine)?", lambda m: [("displacement_l", _number(m.group(1)))]),
    (r"(\d{3,4}) ?(?:cc|ccm|cm3|cm³)(?: engine)?", lambda m: [("displacement_l", float(m.group(1)) / 1000.0)]),
    (
        r"(?:signs of |traces of )?(?:animals|mice|rats|rodents|martens?|mouse droppings|droppings|rodent damage)"
        r"(?: (?:seen|in it|about|were in it|in the car|in the bay|under the bonnet|in the engine bay))?",
        lambda m: [("animals", True)],
    ),
    (r"no (?:animals|mice|rats|rodents|signs of animals|sign of animals)(?: seen)?", lambda m: [("animals", False)]),
    (
        r"(?:flood car|flooded car|was flooded|been under water|stood in water|flood damage|flood line(?: seen)?)",
        lambda m: [("flood", True)],
    ),
    (r"no flood(?: line)?", lambda m: [("flood", False)]),
    (r"nickname:? (\w[\w -]*)", lambda m: [("nickname", m.group(1).strip())]),
)
_COMPILED = tuple((re.compile(pattern + _END), facts) for pattern, facts in _PATTERNS)
_BETWEEN = re.compile(r"(?:\s|,|;|\.|:|\band\b|\bwith\b|\ba\b|\ban\b|\bit is\b|\bcar\b|\bengine\b|\bis\b)+")


def car_facts(text: str) -> Facts | None:
    """The facts of a clause that says nothing but what the car is; None for any other clause."""
    rest, found = text.casefold().replace("’", "'").strip(), []
    while rest:
        gap = _BETWEEN.match(rest)
        if gap and gap.end() == len(rest):
            break
        best: tuple[int, Facts] = (0, [])
        for start in (gap.end() if gap else 0, 0):
            for pattern, facts in _COMPILED:
                match = pattern.match(rest, start)
                if match and match.end() > best[0]:
                    best = (match.end(), facts(match))
            if best[0]:
                break
        if not best[0]:
            return None
        found += best[1]
        rest = rest[best[0] :]
    return found or None


def read_car(reader: Reader, tokens: Sequence[Token]) -> bool:
    """Read a clause as facts of the car, if it says nothing else."""
    facts = car_facts(reader.words(tokens))
    if facts is None:
        return False
    for field, value in facts:
        if field == "cylinders" and value is not None and not 1 <= value <= 12:
            reader.doubt(tokens, f"{value} cylinders is outside 1 to 12", "How many cylinders has the engine?")
            return True
        reader.put(CarFact(field, json.dumps(value)))
    if re.search(r"\b(?:winters?|summers?)\b", reader.words(tokens).casefold()):
        reader.suppose("a winter taken as a year")
    reader.use_turned(tokens)
    return True


HISTORY = re.compile(
    r"^(?:(?:work )?done last|last done|last work(?: done)?|last repairs?|earlier work|history)\s*[:=-]?\s*",
    re.IGNORECASE,
)
NEW_PARTS = re.compile(r"^new parts?(?: (?:are|fitted))?\s*[:=-]\s*", re.IGNORECASE)
AGO = re.compile(
    r"\b(?:ago|(?:done|replaced|changed|renewed) (?:at|in|last|this)\b|last (?:year|month|summer|winter|spring|autumn)"
    r"|previous owner|last owner|prior owner|before i bought|when bought|by (?:a |the |his |my )?"
    r"(?:neighbour|neighbor|friend|owner|garage|shop|dealer|workshop|mechanic|seller|brother|mate))\b",
    re.IGNORECASE,
)


def read_history(reader: Reader) -> bool:
    """``done last: ...`` and ``new parts: ...``: the whole line is told history."""
    for pattern, field in ((HISTORY, "last_done"), (NEW_PARTS, "new_parts")):
        match = pattern.match(reader.text)
        if match and (told := reader.text[match.end() :].strip()):
            unknown = re.fullmatch(_NOT_KNOWN, told.casefold())
            pieces = ["not known"] if unknown else [piece.strip() for piece in re.split(r"[,;]", told) if piece.strip()]
            reader.put(CarFact(field, json.dumps(pieces)), reader.tokens)
            return True
    return False


def read_told_work(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``head gasket 2000 km ago by previous owner``: work as told, of a part or an area that is known."""
    words = reader.words(tokens)
    if not AGO.search(words) or any(token.means("effect") for token in tokens):
        return False
    if not any(token.means("part") or token.means("area") for token in tokens):
        return False
    reader.put(CarFact("last_done", json.dumps([words])), tokens)
    return True
