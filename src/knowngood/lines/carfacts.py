"""Lines that say what the car is: cylinders, ignition, injection, what was done last, how long it stood."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from functools import cache

from knowngood.car import MOST_CYLINDERS
from knowngood.evidence import CarFact, Work
from knowngood.lines.carwords import FITTED, NOT_KNOWN, NUMBERS, Facts, Pattern
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

_N = rf"(?:\d+(?:[.,]\d+)?|{'|'.join(NUMBERS)})"
_AMOUNT = (
    r"(?:about |around |approx\.? |~|circa |some |over |nearly |almost |roughly |at least |more than "
    r"|the last |the past )*"
    rf"({_N} ?(?:-|to|or) ?{_N}|{_N} and a half|{_N}|half an?|an?|(?:a )?couple of|a few|several)"
)
_YEARS = {
    "year": 1.0,
    "yr": 1.0,
    "winter": 1.0,
    "summer": 1.0,
    "season": 1.0,
    "month": 1 / 12,
    "mth": 1 / 12,
    "week": 7 / 365.25,
    "day": 1 / 365.25,
    "decade": 10.0,
}
_SPANS = r"((?:year|yr|winter|summer|season|month|mth|week|day|decade)s?)"
_VAGUE = {"couple of": 2.0, "a couple of": 2.0, "a few": 3.0, "several": 3.0}
_WHERE = (
    r"(?: (?:in|under|at|on|outside|behind|by|next to) (?:(?:a|an|the|some|my|his|her) )?[a-z']+"
    r"(?: (?!behind|under|in\b|at\b|on\b|by\b|next|outside|outdoors|unused\b|dry\b|damp\b)[a-z']+)?"
    r"| outside| outdoors| unused| dry| damp)*"
)
_SCALED = r"(\d{1,3}(?:[.,]\d{3})+|\d+(?:[.,]\d+)?)( ?(?:k|t|thousand|万))?"
_STOOD = (
    r"(?:stand(?:ing)? time:?|stood|standing|sat|sitting"
    r"|parked up|parked|laid up|unused|idle|off the road|out of use|in storage|dry stored"
    r"|(?:not|never|hasn't|has not|wasn't|was not|hadn't)(?: been)? (?:driven|run|running|started|used|moved)"
    r"|barn stored|mothballed)"
)
_FROM_SEASON = r"(?: since| over| through| all| the| last| this| whole)+ (?:spring|summer|autumn|fall|winter)"
_DECADES = {
    "twenties": 20,
    "seventies": 70,
    "eighties": 80,
    "nineties": 90,
    "noughties": 0,
    "sixties": 60,
    "fifties": 50,
}
_PART_OF = {"early": (0, 3), "mid": (4, 6), "middle": (4, 6), "late": (7, 9), "end": (8, 9), "start": (0, 2)}
_SOMETIME = (
    r"(?:the )?(?:early|mid|middle|late|end|start)(?: of)?(?:(?: to |[-/]| or )(?:early|mid|late))?[ -]?(?:the )?"
)
_DECADE = (
    rf"(?:(?:{_SOMETIME}|the )?(?:(?:19[5-9]|20[0-4])0'?s|'[05-9]0s|[05-9]0'?s(?= [a-z])|{'|'.join(_DECADES)})"
    rf"|(?:{_SOMETIME}|the )[05-9]0'?s)"
)
_YEAR = r"(?:19[5-9]|20[0-4])\d"
_TO = r" ?(?:-|–|/|to|or|till|until) ?"
_MADE = r"(?:(?:about|around|circa|ca\.?|~|year|built|build|made|from|model year|approx\.?|of|in) ?)*"


def _number(text: str) -> float:
    text = text.replace(",", ".").strip()
    if text in _VAGUE:
        return _VAGUE[text]
    if text.endswith(" and a half"):
        return _number(text.removesuffix(" and a half")) + 0.5
    ends = re.split(r" ?(?:-|\bto\b|\bor\b) ?", text)
    if len(ends) == 2:
        return (_number(ends[0]) + _number(ends[1])) / 2
    if text in ("a", "an"):
        return 1.0
    return 0.5 if text.startswith("half") else float(NUMBERS.get(text, text))


def _kilometres(match: re.Match[str]) -> Facts:
    number, scale, unit = match.group(1), match.group(2) or "", match.group(3) or ""
    grouped = re.fullmatch(r"\d{1,3}(?:[.,]\d{3})+", number)
    value = float(number.replace(",", "").replace(".", "")) if grouped else _number(number)
    value *= 1000.0 if scale.strip() in ("k", "thousand", "t") else 10_000.0 if scale.strip() == "万" else 1.0
    return [("mileage_km", round(value * (1.609344 if unit.strip().startswith("m") else 1.0), 1))]


def _stood(match: re.Match[str]) -> Facts:
    unit = match.group(2)
    span = next(years for name, years in _YEARS.items() if unit.startswith(name))
    return [("standing_years", round(_number(match.group(1)) * span, 3))]


def _decade(text: str) -> tuple[int, int]:
    """First and last year of a decade or a part of it (``late 1990s``: 1997 and 1999)."""
    digits = re.search(r"\d+", text)
    word = next((number for name, number in _DECADES.items() if name in text), 0)
    first = int(digits.group()) if digits else word
    if first < 100:
        first += 1900 if first >= 50 else 2000
    parts = [span for name, span in _PART_OF.items() if re.search(rf"\b{name}\b", text)]
    low, high = (min(p[0] for p in parts), max(p[1] for p in parts)) if parts else (0, 9)
    return first + low, first + high


def _ends(text: str) -> tuple[int, int]:
    """First and last year of one end of a span."""
    text = text.strip()
    if re.fullmatch(r"\d{4}", text):
        return int(text), int(text)
    if re.fullmatch(r"'\d\d", text):
        year = int(text[1:]) + (1900 if int(text[1:]) >= 50 else 2000)
        return year, year
    return _decade(text)


def _years(match: re.Match[str]) -> Facts:
    """The middle of a year, a decade or a span of them."""
    ends = [_ends(text) for text in match.groups() if text]
    return [("year", (min(low for low, _ in ends) + max(high for _, high in ends) + 1) // 2)]


def _short_span(match: re.Match[str]) -> Facts:
    """``1998-02``: the second year is the next that ends so."""
    first = int(match.group(1))
    last = first - first % 100 + int(match.group(2))
    return [("year", (first + last + (100 if last < first else 0) + 1) // 2)]


_TOLD: tuple[Pattern, ...] = (
    (
        r"(?:(?:about|around|approx\.?|~|circa) )?"
        rf"{_SCALED}( ?(?:kms?|miles?|mi|kilometers?|kilometres?|キロ))(?: on (?:the )?clock| on it)?",
        _kilometres,
    ),
    (
        rf"(?:mileage|odometer|clock)(?: is| at|:)? ?(?:about |around |~)?{_SCALED}( ?(?:kms?|miles?|mi))?",
        _kilometres,
    ),
    (r"(\d{2,3})( ?k)()", _kilometres),
    (rf"(?:mileage|odometer|kilometres|km) {NOT_KNOWN}", lambda m: [("mileage_km", None)]),
    (
        rf"(?:(?:it |car |has |was |been |now )*{_STOOD}(?: still| up)?{_WHERE}(?: for| since| in)?) "
        rf"{_AMOUNT} {_SPANS}{_WHERE}",
        _stood,
    ),
    (
        rf"{_AMOUNT} {_SPANS} (?:of )?{_STOOD}{_WHERE}",
        _stood,
    ),
    (
        rf"(?:it |car |has |was |been )*{_STOOD}(?: still| up)?{_WHERE}{_FROM_SEASON}",
        lambda m: [("standing_years", 0.5)],
    ),
    (rf"{_MADE}({_YEAR}|'\d\d)(?: model| car)?", _years),
    (rf"first reg(?:ulator|istered|istration)?:? (?:\d\d?[/.])?({_YEAR})", _years),
    (rf"{_MADE}({_DECADE})(?: model| car)?", _years),
    (rf"{_MADE}({_YEAR}|'\d\d|{_DECADE}){_TO}({_YEAR}|'\d\d|{_DECADE})(?: model| car)?", _years),
    (rf"{_MADE}({_YEAR})[-/–]([0-9]\d)(?: model| car)?", _short_span),
    (rf"(?:model )?year {NOT_KNOWN}", lambda m: [("year", None)]),
    (
        r"(\d[.,]\d{1,2})[ -]?(?:l|litres?|liters?|ltr)(?:[ -]engine)?",
        lambda m: [("displacement_l", _number(m.group(1)))],
    ),
    (
        r"([0-8][.,]\d)(?= (?:turbo|v-?\d|i\d|inline|straight|flat|petrol|gasoline|supercharged|naturally))",
        lambda m: [("displacement_l", _number(m.group(1)))],
    ),
    (
        r"([1-8]|one|two|three|four|five|six)[ -](?:litre|liter|ltr)(?:[ -]engine)?",
        lambda m: [("displacement_l", _number(m.group(1)))],
    ),
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
_COMPILED = tuple((re.compile(rf"(?:{pattern})(?!\w)"), facts) for pattern, facts in FITTED + _TOLD)


@cache
def words_of_cars() -> frozenset[str]:
    """The words descriptions of cars are made of: none of them is short for another."""
    return frozenset(re.findall(r"(?<!\\)[a-z]{3,}", " ".join(pattern for pattern, _ in FITTED + _TOLD)))


_BETWEEN = re.compile(
    r"(?:\s|,|;|\.|:|/|\+|&|\(|\)|- |\b(?:and|with|plus|has|a|an|the|it|it's|car|engine|engined|is|old)\b)+"
)
_TAKEN = (
    (re.compile(rf"^(?!.*{_FROM_SEASON}).*\b(?:winters?|summers?)\b"), "a winter taken as a year"),
    (re.compile(rf"{_STOOD}.*{_FROM_SEASON}"), "standing since a season taken as half a year"),
    (re.compile(r"\b(?:a few|several) (?:years|months|weeks|days|winters)\b"), "a few taken as three"),
    (re.compile(r"(?<!\d )\bcoil packs\b(?! (?:and|with))"), "coil packs taken as one coil on each plug"),
)


_SIZE = re.compile(r"\s*([0-8][.,]\d)(?![\d.,])")
"""``v6 3.0``, ``2.4 petrol 4 cyl``: litres, beside the plan of the engine."""
_VALVES = re.compile(r"\d+ ?v")
"""``16v``: valves, or volts."""
BUILT = frozenset(["cylinders", "form", "drive", "injection", "ignition", "turbo", "mileage_km", "year"])
"""What a bare number of litres may stand beside."""


def car_facts(text: str) -> Facts | None:
    """The facts of a clause that says nothing but what the car is; None for any other clause."""
    rest = text.casefold().replace("’", "'").strip()
    found: Facts = []
    bare = False
    while rest:
        gap = _BETWEEN.match(rest)
        if gap and gap.end() == len(rest):
            break
        best: tuple[int, Facts] = (0, [])
        valves = False
        for start in (gap.end() if gap else 0, 0):
            for pattern, facts in _COMPILED:
                match = pattern.match(rest, start)
                if match and match.end() > best[0]:
                    valves = bool(_VALVES.fullmatch(match.group()))
                    best = (match.end(), facts(match))
            if best[0]:
                break
        size = _SIZE.match(rest)
        if not best[0] and size:
            best, bare = (size.end(), [("displacement_l", _number(size.group(1)))]), True
        if not best[0]:
            return None
        bare = bare or valves
        found += best[1]
        rest = rest[best[0] :]
    return None if bare and not BUILT & {field for field, _ in found} else found or None


def read_car(reader: Reader, tokens: Sequence[Token]) -> bool:
    """Read a clause as facts of the car, if it says nothing else."""
    words = reader.plain(tokens).casefold().replace("’", "'")
    facts = car_facts(words)
    if facts is None and _SIZE.fullmatch(words) and _is_of_the_plan(reader):
        facts = [("displacement_l", _number(words))]
    if facts is None or _is_worked_on(reader, tokens) or _is_cut_off(reader, tokens) or _is_driven(facts):
        return False
    if [field for field, _ in facts] == ["displacement_l"] and reader.bodies and isinstance(reader.bodies[-1], Work):
        return False  # "oil changed, 4.2 l": how much went in
    for field, value in facts:
        if field == "cylinders" and value is not None and not 1 <= value <= MOST_CYLINDERS:
            why = f"{value} cylinders is outside 1 to {MOST_CYLINDERS}"
            reader.doubt(tokens, why, "How many cylinders has the engine?")
            return True
        reader.put(CarFact(field, json.dumps(value)))
    for pattern, guess in _TAKEN:
        if pattern.search(words):
            reader.suppose(guess)
    reader.assumed[:] = [guess for guess in reader.assumed if not _is_respelled(guess, words)]
    reader.use_turned(tokens)
    return True


def _is_of_the_plan(reader: Reader) -> bool:
    """The statement before told how the engine is built (``4 cyl, 1.6, distributor``)."""
    before = reader.bodies[-1] if reader.bodies else None
    return isinstance(before, CarFact) and before.field in BUILT


def _is_cut_off(reader: Reader, tokens: Sequence[Token]) -> bool:
    """A number cut out of a clause (``2000 at night``): a year by itself stands between commas."""
    if len(tokens) != 1 or tokens[0].kind != "num":
        return False
    at = next(index for index, token in enumerate(reader.tokens) if token.start == tokens[0].start)
    beside = reader.tokens[max(at - 1, 0) : at] + reader.tokens[at + 1 : at + 2]
    return any(token.kind != "sign" for token in beside)


LEAST_KM = 1000.0
"""A distance by itself under this is a drive, and no odometer of a car that has stood; a convention of ours."""


def _is_driven(facts: Facts) -> bool:
    """``codes wiped, 30 km, nothing came back``: a distance that is no odometer's."""
    return len(facts) == 1 and facts[0][0] == "mileage_km" and (facts[0][1] or LEAST_KM) < LEAST_KM


def _is_worked_on(reader: Reader, tokens: Sequence[Token]) -> bool:
    """A part alone, and behind it what was done to it (``coil packs, 2 and 4 swapped``), with others or by itself."""
    if len(tokens) > 2 or not any(token.means("part") for token in tokens):
        return False
    behind = [token for token in reader.tokens if token.start >= tokens[-1].end]
    if all(token.means("part") for token in tokens) and any(token.means("work") for token in behind):
        return True
    signs = [index for index, token in enumerate(behind) if index and token.is_sign(",", ";", ".")]
    run = behind[: signs[0]] if signs else behind
    return any(t.means("work") or t.means("effect") for t in run) and not any(t.means("part") for t in run)


def _is_respelled(guess: str, words: str) -> bool:
    """A guess at the spelling of a word that was read as it was typed."""
    typed = re.match(r"'(.+?)' read as '", guess)
    return typed is not None and re.search(rf"\b{re.escape(typed.group(1))}\b", words) is not None


HISTORY = re.compile(
    r"^(?:(?:work )?done last|last done|last work(?: done)?|last repairs?|earlier work|history)\b\s*[:=-]?\s*",
    re.IGNORECASE,
)
NEW_PARTS = re.compile(r"^new parts?(?: (?:are|fitted))?\s*[:=-]\s*", re.IGNORECASE)
AGO = re.compile(
    r"\b(?:ago|(?:in|off) for(?! now)|done first|first (?:\w+ )?(?:start|drive|pull|run|crank) after"
    r"|(?:done|replaced|changed|renewed|fitted|new) (?:(?:at|in|last|this)\b"
    r"|(?:about |~|some )?(?:\d+|an?|one|two|three|four|five|six) ?[a-z]+ (?:before|back)\b)"
    r"|(?:previous|earlier|last|other|another|prior) (?:shop|garage|workshop|mechanic|dealer|owner|repairer)"
    r" (?:did|fitted|put|replaced|changed|renewed|swapped|cleaned|had)\b"
    r"|before (?:it )?(?:got |was |being )?(?:parked|laid up|put away)"
    r"|last (?:year|month|summer|winter|spring|autumn)"
    r"|previous owner|last owner|prior owner|before i bought|when bought|by (?:a |the |his |my )?"
    r"(?:neighbour|neighbor|friend|owner|garage|shop|dealer|workshop|mechanic|seller|brother|mate))\b",
    re.IGNORECASE,
)


def read_history(reader: Reader) -> bool:
    """``done last: ...`` and ``new parts: ...``: the whole line is told history."""
    for pattern, field in ((HISTORY, "last_done"), (NEW_PARTS, "new_parts")):
        match = pattern.match(reader.text)
        if match and (told := reader.text[match.end() :].strip()):
            unknown = re.fullmatch(NOT_KNOWN, told.casefold())
            pieces = ["not known"] if unknown else [piece.strip() for piece in re.split(r"[,;]", told) if piece.strip()]
            reader.put(CarFact(field, json.dumps(pieces)), reader.tokens)
            return True
    return False


def read_told_work(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``head gasket 2000 km ago by previous owner``: work as told, of a part or an area that is known."""
    if not AGO.search(reader.plain(tokens)) or any(token.means("effect") for token in tokens):
        return False
    if not any(_is_of_the_car(token) for token in tokens):
        return False
    reader.put(CarFact("last_done", json.dumps([reader.words(tokens)])), tokens)
    return True


def _is_of_the_car(token: Token) -> bool:
    """A part, an area of work, what comes off, a leak or a swap: what work can have been done on."""
    own = any(token.means(kind) for kind in ("part", "area", "access")) or token.means("mark", "swap")
    inside = not token.means("mark") and any(_is_of_the_car(part) for part in token.parts)
    return own or token.plain in ("leak", "leaks") or inside
