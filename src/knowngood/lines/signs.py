"""A notebook's signs and abbreviations put into words: dates and clocks in front, arrows, rows told by their ends."""

from __future__ import annotations

import re

_ABBREVIATED = (
    r"\b(int|exh|rad|st|pend|hist|ord|poss|prob|repl|insp|batt|eng|cyl|conn|ign|inj|temp|press|volt|gen|alt|dist|therm"
    r"|approx|incl|max|min|std|cap|conf|perm|perf|adj|meas|recond|diff|fwd|rev)\.(?= ?[a-z(]|, | ?$|\))"
)
_SHORT = {"st": "stored", "pend": "pending", "hist": "history", "ord": "ordered", "int": "intake", "exh": "exhaust"}

_SIGNS: tuple[tuple[str, str], ...] = (
    (r"^(?:on )?\d{1,2}\.\d{1,2}\.(?:\d{2,4})?,? (?=\D|\d{1,2}:\d\d)", ""),
    (r"\b\d{1,2}:\d{2}(?: ?h| hrs)?(?: ?->)?(?![\d:.]) ?", ""),
    (r"(?:=>|->|==>|→) ?(?=[a-z][a-z /]*\??$)", ", maybe "),
    (r" = (?=(?:ignore|irrelevant|my fault|my doing)\b)", ", maybe "),
    (r"(?<=%) ?(?:@|at) ?[\d.,]+ ?(?:bar|psi|kpa)\b", ""),
    (r"\b(?:(?:ground|earth) )?(?:point )?G\d{3}\b", "ground"),
    (
        r"\b(?:1|one|once|one time)(?: time)?(?: start)? (?:of|in|out of) (?:\d+|ten|five|four|three|twenty)\b",
        "now and then",
    ),
    (r"\bevery (?:second|third|fourth|fifth|other|few|2nd|3rd) (?:time|start|try|attempt)\b", "now and then"),
    (r"\b[\d.,]+ ?(?:mm|cm) (?:over|above) (?:the )?max\w*(?: mark)?", "over max"),
    (r"\b[\d.,]+ ?(?:mm|cm) (?:under|below) (?:the )?min\w*(?: mark)?", "low"),
    (r"\boil on (?:the )?(?:dip)?stick\b(?= (?:over|low|right|at|below|above|ok|good|half))", "oil level"),
    (r"> ?(\d{4})(?: ?rpm)?(?=[ :,.;]|$)", r"above \1 rpm"),
    (
        r"\b(?:w/|with|when|if|once|at) ?(?:ect|clt|cts|coolant)? ?(?:>|over|above) ?[789]\d(?: ?°? ?c)?(?=[ ,.;]|$)",
        "when hot",
    ),
    (r"\b(odo\w*|clock(?: says| reads)?|mileage|km stand)(:? )(\d{2,3}) (\d{3})\b", r"\1\2\3\4"),
    (
        r"\b(relay|sensor|fuse|valve) (pump|fan|main|maf|map|cam|crank|ckp|cmp|o2|lambda|knock|idle|egr|purge)\b"
        r"(?! (?:relay|sensor|fuse|valve))",
        r"\2 \1",
    ),
    (
        r"\bboot (?:between )?(?:the )?(?:maf|meter|air meter) ?(?:-|/|\+|&|and|to) ?(?:the )?"
        r"(?:tb|throttle(?: body)?)\b",
        "intake boot",
    ),
    (
        r"\b(?:int|intake|inlet) boot between (?:the )?\w+ ?(?:-|/|\+|&|and|to) ?(?:the )?(?:tb|throttle(?: body)?)\b",
        "intake boot",
    ),
    (r"\b(\d+) (coil|plug|injector|lead|sensor|relay|pump|battery)(s?) (used|new|spare)\b", r"\1 \4 \2\3"),
    (r"^car (?:in|arrived|came in|collected|picked up)\b[.:,]? ?", ""),
    (
        r"\b(comp\w*|lead|plug|coil|injector|inj|ld|leakdown|gap|cyl\w*|c) (\d{1,2})"
        r"(?: is| now| reads| measures| was| at)+ ?:? ?(?=[\d.]+)",
        r"\1 #\2 ",
    ),
    (r"\b(coils?[ -]on[ -]plugs?|cop)(?: ignition)?(?: ?(?:x ?\d+|\d+ ?x))?\b", "coil on plug"),
    (r"\b\d+ (?:coils on plugs?|coil[- ]on[- ]plugs?)\b", "coil on plug"),
    (r"\b(?:hot[- ](?:film|wire) (?:maf|air (?:mass )?meter)|maf(?: sensor)? hot[- ](?:film|wire))\b", "maf"),
    (r"\bfiring(?: order)?:? (?=\d ?- ?\d ?- ?\d)", "firing order "),
    (r"\bv/cover\b", "valve cover"),
    (r"\bgasket (valve cover|rocker cover|cam cover|head|sump|inlet|exhaust|throttle)\b", r"\1 gasket"),
    (r"(?<=\d),-(?= |$)", " eur"),
    (r"\bB\+", "battery positive"),
)
_COMPILED = tuple((re.compile(pattern, re.IGNORECASE), plain) for pattern, plain in _SIGNS)
_ROW_ENDS = re.compile(r"\b1 ?- ?(\d{1,2})(?: ?[:=]) ?(?P<row>[^;]*)")
_LISTED = re.compile(r"(?<![\d.])(\d(?:[/+]\d)+) ?[:=] ?([\d.,]+(?:/[\d.,]+)+)(?= ?(%|[a-zA-Z°]+)?)")
_HEADED = re.compile(
    r"^(?P<head>on hand|in stock|on the shelf|on (?:the )?bench|ordered|off(?: at present| now| at the moment)?|missing"
    r"|not avail\w*|lent|lent out|have|got|apart|stored|pending) ?: (?P<items>.+)$",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"(?<![\w.,])(?:\d+(?:[.,]\d+)?|[.,]\d+)(?![\w]*:)")


def _abbreviated(match: re.Match[str]) -> str:
    return _SHORT.get(match[1].casefold(), match[1])


def _row(match: re.Match[str]) -> str:
    """``1-6: 150 155 150 60 150 155``: where as many numbers stand behind as the ends say, the ends are not of them."""
    many = int(match[1])
    head = re.split(r",(?= ?[A-Za-z])|[a-zA-Z%]", match["row"])[0]
    return match["row"] if len(_NUMBER.findall(head)) == many else match.group()


def _paired(match: re.Match[str]) -> str:
    """``1/2/3 = 8/9/8 %``: as many numbers as cylinders, each with its own."""
    places, numbers = re.split(r"[/+]", match[1]), match[2].split("/")
    unit = match[3] or ""
    return (
        ", ".join(f"#{p} {n} {unit}".strip() for p, n in zip(places, numbers, strict=True))
        if len(places) == len(numbers)
        else match.group()
    )


def _distributed(match: re.Match[str]) -> str:
    """``on hand: 6 plugs, 1 used coil``: what stands in front is said of each."""
    head = re.sub(r" (?:at present|now|at the moment)$", "", match["head"], flags=re.IGNORECASE)
    items = [item.strip() for item in re.split(r"[,;] ?(?![\d.]*\d-?\d*(?:[,;]|$))", match["items"]) if item.strip()]
    return ", ".join(f"{item} {head}" for item in items)


def without_signs(text: str) -> str:
    """The line with its notebook signs in words.

    Parameters
    ----------
    text : str
        As ``plain_line`` has it so far.
    """
    text = re.sub(_ABBREVIATED, _abbreviated, text, flags=re.IGNORECASE)
    for pattern, plain in _COMPILED:
        text = pattern.sub(plain, text)
    text = _ROW_ENDS.sub(_row, text)
    text = _LISTED.sub(_paired, text)
    return _HEADED.sub(_distributed, text)
