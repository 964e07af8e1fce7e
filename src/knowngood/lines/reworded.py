"""Turns of phrase put into the words the rest reads: the same said otherwise, whatever stands around it.

Each is a pattern of small words, never of a whole line; what it drops carries nothing that an entry keeps.
"""

from __future__ import annotations

import re

_TIME = r"(?:a|an|the first|about|around|some|\d+|one|two|three|five|ten|twenty|half|few|couple)"

_TURNS: tuple[tuple[str, str], ...] = (
    (r"(?<!fuse )(?<!relay )(?<!pin )\b(?:nr\.?|no\.) ?(?=\d{1,2}\b(?![.,]\d))", "#"),
    (
        r"\b(plug|coil|lead|injector|inj|cyl|cylinder|pot|leakdown|comp|compression|spark) no (?=\d{1,2}\b(?![.,]\d))",
        r"\1 #",
    ),
    (r"(?<=\d) ?(?:percent|per cent|pct|prcnt)\b", "%"),
    (r"\b(batt(?:ery)?|body|chassis) (?:minus|neg)\b(?! ?\d)", r"\1 negative"),
    (r"\bminus (?=[\d.,]+ ?v(?:olts?)?\b)", ""),
    (r"\b(at|@) (-?\d+) ?deg(?:rees?|s)?\b(?! ?(?:[cf]\b|celsius|fahr|[ab]tdc|before|after))", r"\1 \2 c"),
    (r"(?<![\d'/.,-])([0-9]\d) (?:model|reg|plate)\b(?! ?\d)", r"'\1 model"),
    (r"\b(?:model|reg|built in|built|from) '?([0-9]\d)(?=[,.;]|$| model| car)", r"'\1"),
    (
        r"(?:,? (?:and )?(?:then )?)(?:gone|goes|clears|clearing|disappears|stops|away|goes away) "
        rf"(?=(?:after|in|within) {_TIME} "
        r"?(?:s|sec\w*|min\w*|hours?|while|bit|moments?|miles?|km|drive)\b)",
        " ",
    ),
    (r"\b(?:right|just|as of) now\b", "now"),
    (
        r"\b(runs?|running|firing|fires|is) on all (?:four|five|six|eight|three|[3-8]|cylinders|of them|pots)\b",
        "runs on all",
    ),
    (r"\b(?:w|with|after|plus|\+) (?:a (?:squirt|bit|drop|spoon) of )?oil(?: in)?(?=:? \d|$|,? ?\d)", "wet"),
    (r"\bstarts (?:a bit |a lot |much |way )?(better|easier|quicker)\b", r"\1"),
    (
        r"\b(?:cranks|spins|turns over|turns) (?:now |much |a lot |way |lots )*(?:faster|quicker|better)\b",
        "better",
    ),
    (r"\b(fresh|new) (petrol|fuel|gas|oil|coolant)(?: put)? in\b", r"refilled \1 \2"),
    (
        r"\b(?:about |around |roughly |some )?(?:a|one) (l|litre|liter|pint|quart)s? (low|down|short|under)\b",
        r"1 \1 \2",
    ),
    (r"\b(?:about |around |roughly )?half an? (litre|liter|pint|quart) (low|down|short|under)\b", r"0.5 \1 \2"),
    (
        r"\b(light|pale|dark|nice|greyish|grayish|biscuit|coffee)[ -](tan|brown|grey|gray|beige|coloured|colored)\b",
        r"\2",
    ),
    (r"\b(grey|gray|tan|brown)(?:ish)?[- ](?:brown|grey|gray|tan|white)\b(?! smoke)", r"\1"),
    (r"\bdipstick tube\b", "dipstick"),
    (
        r"\b(?:at|on|near|to|just at|right at|just on) (?:the )?(?:lower |bottom )?"
        r"(?:min(?:imum)?)(?: mark| line)?\b(?! ?\d)",
        "low",
    ),
    (r"(?<!was )\b(?:below|under) (?:the )?min(?:imum)?(?: mark| line)?\b(?! ?\d)", "low"),
    (r"\b(?:at|on) (?:the )?(?:max(?:imum)?|full|upper)(?: mark| line)\b", "right"),
    (r"\b(air|hiss\w*|blow\w*|comes|coming|leak\w*|escap\w*) out of (?=the )", r"\1 at "),
    (
        r"\bafter (?:filling(?: up)?|(?:re)?fuell?ing|a fill[- ]?up|tanking)(?: the tank| with (?:petrol|fuel))?\b",
        "after fuelling",
    ),
    (
        r"\b(?:wait|leave it|let it sit|let it stand|sit|after|give it) (?:for )?(?:about )?(?:an? |half an? |\d+ ?)?"
        r"(?:mins?|minutes?|hours?|hr|h|while|bit)(?: or so)?,?(?: and| then| to)? (?:it )?"
        r"(?:goes|starts|fires|runs|cool)(?: up)?(?: again| fine| ok)?"
        r"(?=[,.;]|$)",
        "starts again when cool",
    ),
    (r"\bone coil pack for (?:all (?:four|six|4|6)|the lot|all of them)\b", "coil pack"),
)
_COMPILED = tuple((re.compile(pattern, re.IGNORECASE), plain) for pattern, plain in _TURNS)


def reworded(text: str) -> str:
    """The line with such turns in their plain words.

    Parameters
    ----------
    text : str
        As ``plain_line`` has it so far.
    """
    for pattern, plain in _COMPILED:
        text = pattern.sub(plain, text)
    return text
