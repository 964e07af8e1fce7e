"""Whole sentences, as they are told or written at length, put into the order and the words of a short line.

Each turn is a frame of small words ("between A and B I measured N") with its facts left as they are.
"""

from __future__ import annotations

import re

from knowngood.lines.reworded import turned

_DIGITS = dict(
    zip(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"],
        range(1, 13),
        strict=True,
    )
)
_ONE = rf"(?:{'|'.join(_DIGITS)}|\d{{1,2}})"
_PARTS = r"(?:plugs?|spark plugs?|cylinders?|cyls?|coils?|leads?|injectors?|numbers?|pots)"
_LIST = re.compile(
    rf"\b({_PARTS}) ({_ONE}(?:(?:, ?| ?,? ?and | ?& ?){_ONE}){{2,}})(?![\d.,]*\d|[:%]| ?(?:psi|bar|ohm|k|v|mm)\b)",
    re.IGNORECASE,
)
_NUMBERED = re.compile(
    rf"\b((?:cyl(?:inder)?|number|plug|coil|lead|injector|piston)s? (?:number )?)({'|'.join(_DIGITS)})\b",
    re.IGNORECASE,
)
_AMOUNT = re.compile(
    rf"\b({'|'.join(_DIGITS)}) (litres?|liters?|pints?|quarts?|bar|psi|volts?|kilohms?|ohms?|years?|months?|yrs)\b",
    re.IGNORECASE,
)
_VALVES = {
    "eight": 8,
    "twelve": 12,
    "sixteen": 16,
    "twenty": 20,
    "twenty-four": 24,
    "twenty four": 24,
    "thirty-two": 32,
    "thirty two": 32,
}
_HEARD = re.compile(
    r"(?:,| and| but|;)* ?(?:i |you |we )?(?:can |could )?(?:clearly )?(?:hear|heard|feel|felt)"
    r"(?: it| the| some)?(?: air)?"
    r"(?: hissing| blowing| escaping| coming| bubbling| rushing)*(?: out)?(?: of| from| at| in| through)+ "
    r"(?=the |my |oil |exh|intake|filler|tail)",
    re.IGNORECASE,
)

_CUT = re.compile(r"\b(?:unplug|pull|disconnect|kill|cut)\w* (?:the )?(?:injector|coil|plug|lead|inj)\b", re.IGNORECASE)
_IDLE_DROPS = re.compile(
    r"\b(?:the )?(?:idle|revs|rpm|engine speed|engine|engine note) (drops?|falls?|changes?|stumbles?)\b", re.IGNORECASE
)

_BOOST = re.compile(
    r"\bboost\b(?: pressure)?(?: on the gauge| only| just| is| gets| peaks| makes| reaches| goes| at| to)* "
    r"(\d*\.?\d+) ?(bar|psi|)(?:,| where| when| but| and| i| it| would| they| book"
    r"| on a pull| at full throttle| flat out| under load)* "
    r"(?:wants?|should (?:be|make|reach|give|do)|expect\w*|spec|target|supposed to be)(?: to be)?(?: about)? "
    r"(\d*\.?\d+)(?: ?(bar|psi))?"
    r"(?![\w.]*\d)",
    re.IGNORECASE,
)
PSI_IN_BAR = 14.5038
"""NIST Special Publication 811, appendix B.8: 1 psi = 6.894757 kPa."""
SHORT = 0.8  # of the boost that is wanted: less is short, from there to as much over it reached; common practice


def told_shortly(text: str) -> str:
    """The sentence with such frames in the order and words of a short line.

    Parameters
    ----------
    text : str
        As typed or said.
    """
    text = re.sub(
        rf"\b({'|'.join(_VALVES)})[- ]valves?\b", lambda m: f"{_VALVES[m[1].casefold()]}v", text, flags=re.IGNORECASE
    )
    text = _NUMBERED.sub(lambda m: m[1] + str(_DIGITS[m[2].casefold()]), text)
    text = _LIST.sub(_listed, text)
    text = _AMOUNT.sub(lambda m: f"{_DIGITS[m[1].casefold()]} {m[2]}", text)
    text = turned(_BOOST.sub(_boost, text), "length")
    if re.search(r"\bleak-?down\b|\bld\b", text, re.IGNORECASE):
        text = _HEARD.sub(", air at ", text)
    return _IDLE_DROPS.sub("drops", text) if _CUT.search(text) else text


def _listed(match: re.Match[str]) -> str:
    """``plugs one, two and four``: the numbers of a list of three or more side by side; two are read as they stand."""
    numbers = re.findall(_ONE, match[2], re.IGNORECASE)
    return f"{match[1]} {' '.join(str(_DIGITS.get(n.casefold(), n)) for n in numbers)}"


def _boost(match: re.Match[str]) -> str:
    """``boost 0.4 wants 0.9``: short, reached, or over it; as it was typed where that is over by much."""
    reached, wanted = (float(match[at]) for at in (1, 3))
    units = [(match[at] or "").casefold() for at in (2, 4)]
    if not wanted > 0.0:
        return match.group()
    if sorted(units) == ["bar", "psi"]:
        reached *= PSI_IN_BAR if units[1] == "psi" else 1.0 / PSI_IN_BAR
    if reached < SHORT * wanted:
        return "boost short"
    return "boost reached" if reached <= wanted / SHORT else match.group()
