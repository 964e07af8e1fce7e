"""Slips of typing: a word that is not known read as the known word one slip away."""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_lowercase

from knowngood.lines.vocabulary import PASSED_OVER, Vocabulary, stem

LEAST = 5
"""A shorter word may be anything; a convention of ours."""
LEAST_TURNED = 4
"""Of four letters only two turned round are a slip (``opne``)."""
LEAST_CHANGED = 7
"""A word with one letter changed for another needs this length: shorter ones often are other words."""


def spelled(word: str, vocabulary: Vocabulary) -> str:
    """The word, or the known one it is a slip of: a letter too few or too many, two turned round, an ending cut.

    Only where exactly one known word is that near; forms of one word count as one.
    """
    if len(word) < LEAST_TURNED or not (word.isascii() and word.isalpha()) or is_known(word, vocabulary):
        return word
    if word not in vocabulary.slips:
        vocabulary.slips[word] = _nearest(word, vocabulary)
    return vocabulary.slips[word]


def is_known(word: str, vocabulary: Vocabulary) -> bool:
    """Whether a word needs no mending: the vocabulary has it, or its stem, or it is passed over."""
    return word in vocabulary.words or word in PASSED_OVER or stem(word) in vocabulary.stems


def _nearest(word: str, vocabulary: Vocabulary) -> str:
    whole = sorted(_endings(word), key=lambda other: other not in vocabulary.words)
    if known := [other for other in whole if is_known(other, vocabulary)]:
        return known[0]
    least = min(LEAST, len(word))
    tries = [_turned(word), _one_slip(word), _one_changed(word) if len(word) >= LEAST_CHANGED else ()]
    for others in tries[:1] if len(word) < LEAST else tries[1:]:
        near = {other for other in others if len(other) >= least and other in vocabulary.words}
        if near:
            return min(near) if len({vocabulary.words[other] for other in near}) == 1 else word
    return word


def _endings(word: str) -> Iterator[str]:
    """``drivin`` for driving, ``unplugd`` for unplugged, ``humms`` for hums."""
    for at in range(1, len(word)):
        if word[at] == word[at - 1]:
            yield word[:at] + word[at + 1 :]
    if word.endswith("in"):
        yield f"{word}g"
    if word.endswith("d") and word[-2] not in "aeiou":
        yield f"{word[:-1]}ed"
        yield f"{word[:-1]}{word[-2]}ed"


def _turned(word: str) -> Iterator[str]:
    """Words with two neighbours turned round; the first letter stays."""
    yield from (word[:at] + word[at + 1] + word[at] + word[at + 2 :] for at in range(1, len(word) - 1))


def _one_slip(word: str) -> Iterator[str]:
    """Words with one letter more or less, or two neighbours turned round; the first letter stays."""
    for at in range(1, len(word) + 1):
        head, tail = word[:at], word[at:]
        yield from (head + letter + tail for letter in ascii_lowercase)
        if tail:
            yield head + tail[1:]
    yield from _turned(word)


def _one_changed(word: str) -> Iterator[str]:
    for at in range(1, len(word)):
        yield from (word[:at] + letter + word[at + 1 :] for letter in ascii_lowercase)
