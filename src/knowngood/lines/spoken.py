"""How a line is said when it is spoken: openers that carry nothing, contractions, numbers in words, corrections.

Only the way of saying it is changed, never what is said; the line itself is kept as typed.
"""

from __future__ import annotations

import re

from knowngood.lines.carwords import NUMBERS

_ONES = {**NUMBERS, "a": 1}
_TEENS = ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_VALUES = {
    **_ONES,
    **{word: 13 + index for index, word in enumerate(_TEENS)},
    **{word: 20 + 10 * index for index, word in enumerate(_TENS)},
}
_WORD = "|".join(sorted(_VALUES.keys() - {"a"}, key=len, reverse=True))
_THOUSANDS = re.compile(
    rf"\b((?:(?:{_WORD}|a|hundred|and)[ -])*(?:{_WORD}|a|hundred)) thousand\b"
    rf"(?: (?!and )((?:(?:{_WORD}|a(?= hundred)|hundred|and)\b[ -]?)+))?",
    re.IGNORECASE,
)
_CONTRACTED = (
    (r"\b(i|we|you|they)'ve\b", r"\1 have"),
    (r"\b(i|we|you|they|it|he|she)'ll\b", r"\1 will"),
    (r"\b(it|there|that|he|she|here|what)'s\b", r"\1 is"),
    (r"\bi'm\b", "i am"),
    (r"\b(we|you|they)'re\b", r"\1 are"),
)
_BEGIN = r"(?:^|(?<=[.;,:] )|(?<=\band )|(?<=\bbut )|(?<=\bso ))"
_OPENERS = (
    rf"{_BEGIN}(?:i|we|you)(?: still| also| just)?(?: have| had)? "
    r"(?:got|get|can hear|can see|could hear|could see|hear|see"
    r"|saw|noticed|measured|counted|read|can smell|smell|smelled)(?: that)?(?: an?\b| the\b| some\b)? ",
    rf"{_BEGIN}there (?:is|are|was|were|has been|have been)(?: still| also| now)?(?: an?\b| some\b| the\b)? ",
    rf"{_BEGIN}(?:i|we) (?:also |just |then |now |still )*"
    r"(?=(?:[a-z]+ed|put|have|found|bought|did|lent|took|cut|set)\b)",
    rf"{_BEGIN}it (?:is|has) (?:got )?(?:an?\b|some\b) ",
    rf"{_BEGIN}it has (?=no\b)",
    rf"{_BEGIN}(?:i|we) (?=don'?t have|do not have|have no\b|haven'?t got)",
    rf"{_BEGIN}(?:as far as i (?:know|can (?:tell|see))|to be honest|i think that|by the way|for what it is worth),? ",
)
_CORRECTED = re.compile(
    r"\b(?P<a>p[0-3][0-9a-f]{3}|\d+(?:[.,]\d+)?)(?P<unit> ?[a-z]{1,4})?,? "
    r"(?:no,? (?:sorry|wait|i mean|make that)|sorry|i mean"
    r"|no wait|wait,? no|correction|make that|or rather|rather),? (?:it is |it was |that is |make that )?"
    r"(?P<b>p[0-3][0-9a-f]{3}|\d+(?:[.,]\d+)?)\b",
    re.IGNORECASE,
)
_SMALL = (
    (r"\bhalf an? (?=hour|minute|turn|lit)", "0.5 "),
    (r"\bminus (?=\d)", "-"),
    (r"\bplus (?=\d)", "+"),
    (r"\b(?:maybe|perhaps|possibly) (?=(?:(?:a|slightly|bit|little|tiny|some) )*(?:better|worse|improved))", ""),
    (r"\b(timing chain),? not (?:a )?belt\b", r"\1 not belt"),
    (r"\bright now\b", "now"),
    (r"\bput ([^,;]+?) right\b(?! hand| bank| side)", r"repaired \1"),
    (r"\b(?:blink|flash) (codes?)\b", r"\1"),
    (
        r"(?<!idle )(?<!rpm )(?<!revs )\b(hunts?|hunting|surges?|surging|fluctuates?|wanders?) (?:between |from )?"
        r"(\d{3,4}) ?(?:to|-|and) ?(\d{3,4})\b",
        r"idle \2 to \3 \1",
    ),
    (
        r"^(.+?) (?:came|come|is|was) back (?:after )?(\d+ ?(?:km|miles|min\w*|days?)) after (?:i |we )?clear(?:ed|ing)"
        r"(?: them| it| the codes?)?",
        r"cleared, \1 came back after \2",
    ),
    (r"\b(p[0-3][0-9a-f]{3}),? not p[0-3][0-9a-f]{3}\b", r"\1"),
    (
        r"\b(?:is |are )?(?:at|with) (?:my|a|his|her)"
        r" (brother|mate|friend|neighbou?r|dad|father|uncle|colleague)(?:'?s)?"
        r"(?= (?:till|until|back)|,|$)",
        r"lent to \1",
    ),
    (r"\b(?:dunno|no idea of|don'?t know)(?: the)? (mileage|year)\b", r"\1 unknown"),
    (r"\blast (?:job|work|repair) (?:done )?was ", "last done "),
    (r"\b(?:looks?|(?:is|are) (?:like|as good as|almost|nearly|practically)) new\b", "looks good"),
    (r"\b(?:does not|doesn'?t|do not|don'?t|did not|didn'?t) (?:look|seem|sound|appear)(?: to be)? ", "not "),
    (
        r"\b(?:i |we |you )?(?:can ?not|can'?t|could not|couldn'?t|do not|don'?t|did not|didn'?t)"
        r" (?:see|find|hear|smell)"
        r"(?: any| a)?\b",
        "no",
    ),
    (r"\b(?:i |you |we )?(?:can |could )?hear (?:it|air|the air) ", "heard "),
    (
        r"\bbetween (?:the )?(?:battery )?(?:negative|minus|neg)(?: terminal| post| pole)? (?:and|to) (?:the )?"
        r"(?:engine block|engine|block|head|body|chassis)\b",
        "ground",
    ),
    (
        r"(?<!lead from )\bbattery (?:negative|minus|neg)(?: terminal| post| pole)? to (?:the )?"
        r"(?:engine block|engine|block|head|body|chassis)\b",
        "ground",
    ),
    (
        r"\bcranks? for (?:about |around |some )?([\w.]+) sec(?:ond)?s? before"
        r" (?:it )?(?:fires|starts|catches|firing|starting)"
        r"(?: up)?\b",
        r"hard to start \1 seconds",
    ),
    (r"\b(vac(?:uum)?\b[^,;]*?\d) ?\"(?! ?hg)", r"\1 inhg"),
    (r"\b(vac(?:uum)?\b[^,;]*?\d) ?inch(?:es)?\b(?! of)", r"\1 inhg"),
    (
        r"(?:^|(?<=[.;] ))(?:the )?(?:very )?last (?:thing|job|work|repairs?)(?: that)?(?: was| were| got)? done"
        r"(?: before [^,:]*?)?(?: was| were|:) ",
        "last done: ",
    ),
)
_AND_A_HALF = re.compile(rf"\b(\d+|{'|'.join(NUMBERS)}) and a half\b", re.IGNORECASE)
_TRIM = re.compile(r"\b(?:trims?|term|ltft|stft|lt|st)\b", re.IGNORECASE)
_SIGNED = re.compile(rf"\b(plus|minus) ((?:{_WORD})(?:[ -](?:{_WORD}))?)\b", re.IGNORECASE)
_SIGNS = {"plus": "+", "minus": "-"}
_HALF_THOUSAND = re.compile(r"(?<![\d.,])(\d)\.5 (?:thousand|grand)\b(?: revs| rpm)?", re.IGNORECASE)
_WARMTH = re.compile(r"\b(?:coolant|temp\w*|ect|clt|iat|outside|thermostat|ambient|gauge|freeze|ff)\b", re.IGNORECASE)
_DEGREES = re.compile(
    r"(?<=\d)() ?(?:degrees|deg)\b(?! ?(?:[cf]\b|celsius|fahrenheit|[ab]tdc|before|after|of|advance|crank|dwell))",
    re.IGNORECASE,
)
"""Degrees of warmth, of which scale is not said; an angle names what it is of."""
_OIL_ADDED = re.compile(
    r"\b(?:i |we )?(?:squirted|squirt|added|put|poured|dripped|sprayed)(?: in)?"
    r" (?:some |a (?:bit|squirt|drop|spoon|little)"
    r"(?: of)? )?oil (?:in|into|down|to|onto|on) (?:the )?(?:cylinder |number |no\.? |cyl\.? |#|c)*(?P<at>[a-z]+|\d+)"
    r"(?:,| and| then| ->| :| =)* (?:it |then |now |that )*(?:came up to|came to|went up to|went to|rose to|climbed to"
    r"|jumped to|goes to|goes up to|is now|is|was|reads|gives|gave|got|made)? ?(?=\d)",
    re.IGNORECASE,
)


def plainly_spoken(text: str) -> str:
    """A line without its openers and contractions, numbers said in words of a thousand and more in digits.

    What is corrected in the saying ("95, no sorry, 90") stands as corrected.
    """
    for pattern, plain in _CONTRACTED:
        text = re.sub(pattern, plain, text, flags=re.IGNORECASE)
    for pattern, plain in _SMALL:
        text = re.sub(pattern, plain, text, flags=re.IGNORECASE)
    text = _AND_A_HALF.sub(lambda match: f"{_ONES.get(match[1].casefold(), match[1])}.5", text)
    text = _HALF_THOUSAND.sub(r"\g<1>500 rpm", text)
    text = _THOUSANDS.sub(_thousands, text)
    if _TRIM.search(text):
        text = _SIGNED.sub(lambda match: f"{_SIGNS[match[1].casefold()]}{_value(match[2])}", text)
    text = _CORRECTED.sub(_corrected, text)
    text = _OIL_ADDED.sub(lambda match: f"compression cylinder {match['at']} wet ", text)
    if _WARMTH.search(text):
        text = _DEGREES.sub(r"\1", text)
    for pattern in _OPENERS:
        plain = re.sub(pattern, "", text, flags=re.IGNORECASE)
        text = plain if plain.strip(" .,;") else text
    return text


def _corrected(match: re.Match[str]) -> str:
    """The later of two numbers, or of two codes; one of each is no correction."""
    first, second = match["a"], match["b"]
    if first[0].isalpha() != second[0].isalpha():
        return match.group()
    return second + (match["unit"] or "")


def _thousands(match: re.Match[str]) -> str:
    return str(1000 * _value(match[1]) + (_value(match[2]) if match[2] else 0)) + (
        " " if (match[2] or "").endswith(" ") else ""
    )


def _value(words: str) -> int:
    total = 0
    for word in re.split(r"[ -]+", words.strip().casefold()):
        if word == "hundred":
            total = (total or 1) * 100
        elif word != "and":
            total += _VALUES.get(word, 0)
    return total
