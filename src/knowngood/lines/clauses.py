"""A line cut into sentences and clauses."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import MOST_CYLINDERS
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

ABBREVIATIONS = frozenset(
    [
        "cyl",
        "no",
        "nr",
        "approx",
        "ca",
        "temp",
        "deg",
        "rev",
        "vs",
        "etc",
        "in",
        "min",
        "max",
        "comp",
        "abt",
        "vac",
        "volt",
        "c",
        "man",
        "auto",
    ]
)


def sentences_of(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at semicolons and full stops; the dot of an abbreviation is none."""
    found: list[list[Token]] = [[]]
    for index, token in enumerate(tokens):
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        before = tokens[index - 1] if index else None
        dot = (
            token.is_sign(".")
            and (behind is None or behind.spaced)
            and not (before is not None and before.plain in ABBREVIATIONS)
        )
        if token.is_sign(";") or dot or token.text in ("!", "|"):
            found.append([])
        elif found[-1] or not token.is_sign(",", "."):
            found[-1].append(token)
    return [sentence for sentence in found if sentence]


def clauses_of(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at commas and "then"."""
    found: list[list[Token]] = [[]]
    inside = _in_brackets(tokens) | _in_number_lists(tokens)
    for index, token in enumerate(tokens):
        if (
            (token.is_sign(",") and token.start not in inside)
            or (token.plain in ("then", "and then") and index > 0)
            or _begins_another(tokens, index)
            or _denies_another(tokens, index)
            or _finds_another(found[-1], tokens, index)
            or _is_well_elsewhere(found[-1], tokens, index)
            or (token.plain in FRAMES and index > 0)
            or (token.plain == "but" and found[-1] and not _excepts(tokens, index))
        ):
            keeps = token.plain in ("no", *FRAMES, *ELSEWHERE)
            found.append([token] if keeps else [])
        else:
            found[-1].append(token)
    return [clause for clause in found if clause]


GOES_ON = frozenset(["holds", "held", "drops", "dropped", "falls", "fell", "stays", "stayed", "goes", "went", "rises"])
"""Behind "and it" these go on with the reading before (``52 psi and it holds 50``)."""
SUBJECTS = frozenset(["looks", "smells", "it", "i", "we", "he", "she", "they", "now", "then", "there", "still"])


def _begins_another(tokens: Sequence[Token], index: int) -> bool:
    """``it shakes and it stalls``: "and" before who or what does something begins another statement."""
    behind = tokens[index + 1].plain.split()[0] if index + 1 < len(tokens) else ""
    if behind in ("it", "now", "then") and index + 2 < len(tokens) and tokens[index + 2].plain in GOES_ON:
        return False
    return tokens[index].plain in ("and", "because", "so") and index > 0 and behind in SUBJECTS


def _finds_another(before: Sequence[Token], tokens: Sequence[Token], index: int) -> bool:
    """``hose cracked and belt frayed``: a part and what is wrong with it, on both sides of "and"."""
    if tokens[index].plain != "and":
        return False
    ends = (at for at in range(index, len(tokens)) if tokens[at].is_sign(",", ".", ";"))
    return _names_wrong(before) and _names_wrong(tokens[index + 1 : next(ends, len(tokens))])


ELSEWHERE = frozenset(["fine", "ok", "okay", "good", "perfect", "alright", "not", "never", "gone"])


def _is_well_elsewhere(before: Sequence[Token], tokens: Sequence[Token], index: int) -> bool:
    """``gets hot on hills fine in traffic``, ``not at idle``: behind a complaint, the contrary and when."""
    behind = [token for token in tokens[index + 1 : index + 4] if not token.means("filler")]
    if tokens[index].plain not in ELSEWHERE or not behind or not behind[0].means("condition"):
        return False
    said = any(token.means("says") or token.means("alone") for token in before)
    when = any(piece.means("condition") for token in before for piece in (token, *token.parts))
    return said and when and not before[-1].means("filler")


def _names_wrong(tokens: Sequence[Token]) -> bool:
    """Begins with a part, and says behind it what is wrong with it; nothing is measured or done."""
    part = next((index for index, token in enumerate(tokens) if _is_thing(token)), len(tokens))
    led = all(token.means("filler") or token.kind == "num" or token.plain in PASSED_OVER for token in tokens[:part])
    outright = any(token.means("fault") and " " in token.plain for token in tokens)  # "nest in the airbox"
    wrong = outright or any(token.means("mark", "bad") or token.means("wrong") for token in tokens[part + 1 :])
    other = any(token.kind == "unit" or token.means("work") or token.means("effect") for token in tokens)
    return led and wrong and not other


def _is_thing(token: Token) -> bool:
    """A part, or a word that is not known and may be one (``belt frayed``)."""
    strange = token.kind == "word" and token.plain not in PASSED_OVER and not token.plain.endswith("ly")
    return token.means("part") or token.means("fault") or strange


FRAMES = ("ff", "freeze", "freezeframe")
"""What was stored with a code begins a statement of its own."""


def _denies_another(tokens: Sequence[Token], index: int) -> bool:
    """``oil ok no leaks``: behind a judgement, "no" and a name begin another statement."""
    before = tokens[index - 1] if index > 1 else None
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    judged = before is not None and before.means("judge") and not before.means("mark", "negation")
    return tokens[index].plain == "no" and judged and behind is not None and behind.kind == "term"


def _in_brackets(tokens: Sequence[Token]) -> set[int]:
    """Where tokens stand that are inside a closed bracket with no number in it: a remark, which is not cut."""
    found: set[int] = set()
    opened: list[Token] = []
    for token in tokens:
        if token.is_sign("("):
            opened = [token]
        elif token.is_sign(")") and opened:
            if not any(one.kind in ("num", "unit") for one in opened):
                found |= {one.start for one in opened}
            opened = []
        elif opened:
            opened.append(token)
    return found


def _excepts(tokens: Sequence[Token], index: int) -> bool:
    """``spark on all but 2``: behind "all" it takes cylinders out, and starts no other statement."""
    behind = tokens[index + 1].whole() if index + 1 < len(tokens) else None
    before = tokens[index - 1].plain.split()[-1] if index else ""
    return before in ("all", "every", "everything", "everywhere") and 1 <= (behind or 0) <= MOST_CYLINDERS


BEFORE_LIST = frozenset(["on", "in", "of", "at", "for", "from", "cyl", "cyls", "cylinder", "cylinders"])


def _in_number_lists(tokens: Sequence[Token]) -> set[int]:
    """Where the commas stand that join small whole numbers behind a word for where: ``on 1,3,4``, ``of 1, 2 and 5``."""
    found: set[int] = set()
    index = 0
    while index < len(tokens):
        index += 1
        before = tokens[index - 1]
        if before.plain.split()[-1:] == [] or before.plain.split()[-1] not in BEFORE_LIST:
            continue
        commas, end = _list_from(tokens, index)
        behind = tokens[end] if end < len(tokens) else None
        tight = all(not tokens[at].spaced and not tokens[at + 1].spaced for at in commas)
        closed = tokens[end - 2].plain in ("and", "&") if end - 2 > index else False
        if commas and (tight or closed) and (behind is None or behind.kind not in ("unit", "num")):
            found |= {tokens[at].start for at in commas}
        index = max(index, end)
    return found


def _list_from(tokens: Sequence[Token], start: int) -> tuple[list[int], int]:
    """Indices of the commas of a list of small whole numbers, and where it ends."""
    commas: list[int] = []
    at = start
    while at < len(tokens) and 0 < (tokens[at].whole() or 0) <= MOST_CYLINDERS:
        step = at + 1
        if step < len(tokens) and tokens[step].is_sign(","):
            commas.append(step)
            step += 1
        if step < len(tokens) and tokens[step].plain in ("and", "&", "+"):
            step += 1
        at, last = step, at + 1
    return [comma for comma in commas if comma < last], last if at > start else start


def run_of(tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int, end: int) -> list[Token]:
    """The tokens from one clause to another, the commas between them included."""
    first, last = clauses[start][0].start, clauses[end - 1][-1].end
    return [token for token in tokens if first <= token.start < last]


STRUCTURAL = ("part", "effect", "work", "origin", "state", "condition", "kind", "filler")
"""What a phrase of several words may be for the structured forms."""


def loosened(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with phrases that play no part in a structured form read as their words ("stayed on" as "stayed")."""
    found: list[Token] = []
    for token in tokens:
        counts = any(part.whole() is not None for part in token.parts)  # "runs on three" names no cylinder 3
        keeps = not token.parts or counts or any(token.means(kind) for kind in STRUCTURAL) or token.means("mark")
        found += [token] if keeps else loosened(token.parts)
    return found
