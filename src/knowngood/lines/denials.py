"""What is denied, before or behind what is named, and what is over."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.library.healthy import healthy_word
from knowngood.library.records import ReadingKind
from knowngood.lines.outcomes import faulty_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

GONE = frozenset(
    [
        "gone",
        "cured",
        "fixed",
        "solved",
        "disappeared",
        "vanished",
        "went away",
        "cleared up",
        "away",
        "stopped",
        "ceased",
    ]
)
STANDS_BETWEEN = frozenset(["has", "have", "had", "is", "was", "now", "then", "all", "just", *PASSED_OVER])
DARK = frozenset(["out", "off", "goes out", "went out", "goes off", "went off", "goes", "extinguished"])
"""Of a lamp: it is not lit."""
NOT = frozenset(["no", "not", "never", "doesnt", "dont", "isnt", "didnt", "wont"])


def denied_word(reader: Reader, record: ReadingKind, word: str) -> str:
    """What is the case when a word is denied: well where it says bad, bad where it says well."""
    if set(record.words) == {"yes", "no"}:
        return "no" if word == "yes" else word
    if not record.words:
        return word
    good = healthy_word(reader.library, record)
    return faulty_word(reader, record) if word == good else good


def is_denied(token: Token, tokens: Sequence[Token]) -> bool:
    """A negation stands right before a phrase, small words passed over, or ends it: ``shakes no``."""
    behind = [other for other in tokens if other.start >= token.end and not other.is_sign(":", "=", "-")]
    if len(behind) == 1 and behind[0].plain in ("no", "not", "none", "never", "no longer"):
        return True
    for before in reversed([other for other in tokens if other.end <= token.start]):
        if before.means("mark", "negation"):
            return True
        if not before.means("filler"):
            return False
    return False


def is_denied_behind(token: Token, tokens: Sequence[Token]) -> bool:
    """``engine lamp does not blink``, ``shakes not when hot``: what is denied stands behind, and is not just a "no"."""
    behind = [t for t in tokens if t.start >= token.end and t.plain not in PASSED_OVER]
    behind = behind[1:] if behind and behind[0].plain in ("does", "do", "did", "will") else behind
    return len(behind) > 1 and behind[0].means("mark", "negation") and behind[0].plain in NOT


def gone_behind(token: Token, tokens: Sequence[Token]) -> Token | None:
    """``misfire cured``, ``hesitation gone``: the word that says that what is named was there and is no more."""
    behind = next((t for t in tokens if t.start >= token.end and t.plain not in STANDS_BETWEEN), None)
    lamp = {"lamp", "light"} & set(token.plain.split())
    says = behind is not None and (
        behind.plain in GONE or "cured" in behind.ids("effect") or (lamp and behind.plain in DARK)
    )
    return behind if says else None
