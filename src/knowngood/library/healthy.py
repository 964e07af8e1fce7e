"""What a reading by word says on a healthy car, and the words that say nothing."""

from __future__ import annotations

from knowngood.library.records import Library, ReadingKind

COULD_NOT_TELL = "could not tell"
AS_IT_SHOULD_BE, NOT_AS_IT_SHOULD_BE = "as it should be", "not as it should be"
JUDGED_GOOD, JUDGED_BAD = ("good", AS_IT_SHOULD_BE), ("bad", NOT_AS_IT_SHOULD_BE)  # in place of a word of the kind
UNTOLD = (COULD_NOT_TELL, "not measured")  # of a complaint, no word at all says that it is there
NOT_SEEN = (*UNTOLD, "")
DENIED = ("no", "starts")  # words that say of a complaint that it is not there


def healthy_word(library: Library, kind: ReadingKind) -> str:
    """The likeliest word of a healthy car, of what a driver says ``no``; empty for a kind without words.

    Mostly the first word; not where the test changes something on the car: what helps a sick car leaves a sound one
    the same.
    """
    if kind.complaint and set(kind.words) == {"yes", "no"}:
        return "no"
    ladder = library.ladders.get(kind.on)
    levels = kind.levels or (ladder.levels if ladder is not None else ())
    level = "0" if "0" in kind.chance else next((name for name in levels if name in kind.chance), "")
    if not level:
        return kind.words[0] if kind.words else ""
    return max(kind.words, key=lambda word: kind.chance[level].get(word, 0.0))
