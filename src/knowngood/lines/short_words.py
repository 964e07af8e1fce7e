"""Words written short: their vowels left out (``othrs``, ``gskt``, ``crnkg``), or cut off (``manif``).

A word that is not known is read as the one known word whose consonants it keeps; where two would do, the one that
stands beside its neighbour in a known phrase (``coil pks``); where that does not tell, it stays as typed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from itertools import pairwise

from knowngood.lines.carfacts import car_facts, words_of_cars
from knowngood.lines.scan import raw_tokens
from knowngood.lines.spelling import is_known, spelled
from knowngood.lines.vocabulary import Vocabulary, stem, table

LEAST = 3
LEAST_CUT = 5
"""A word cut off keeps at least so many letters; a convention of ours."""
_VOWELS = re.compile(r"(?<=.)[aeiouy]+")


@cache
def skeleton(word: str) -> str:
    """A word's first letter and its other consonants, doubled ones once, ``ck`` as ``k``."""
    return re.sub(r"(.)\1+", r"\1", _VOWELS.sub("", word).replace("ck", "k"))


class Shortened:
    """The words of a vocabulary by what is left of them when they are written short."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.by_skeleton: dict[str, list[str]] = {}
        self.beside: set[tuple[str, str]] = set()
        self.found: dict[str, list[str]] = {}
        own = {word for word in table()["filler"] if word.isalpha()}
        self.words = sorted({*vocabulary.words, *own})
        for word in self.words:
            self.by_skeleton.setdefault(skeleton(word), []).append(word)
        for phrase in vocabulary.phrases:
            self.beside.update(pairwise(phrase))

    def meant(self, word: str, before: str, behind: str) -> str:
        """The known word an unknown one is short for, or the word as it is."""
        if len(word) < LEAST or not (word.isascii() and word.isalpha()) or is_known(word, self.vocabulary):
            return word
        if word not in self.found:
            self.found[word] = self._without_vowels(word) or self._cut_off(word)
        found = self.found[word]
        if len({stem(one) for one in found}) > 1:
            near = [one for one in found if self._stands_beside(one, before, behind)]
            found = near or [one for one in found if stem(one) not in _passed_over()] if len(found) < 4 else near
        return min(found, key=len) if found and len({stem(one) for one in found}) == 1 else word

    def _stands_beside(self, word: str, before: str, behind: str) -> bool:
        return (stem(before), stem(word)) in self.beside or (stem(word), stem(behind)) in self.beside

    def _without_vowels(self, word: str) -> list[str]:
        bones = [skeleton(word)]
        if bones[0].endswith("g") and not bones[0].endswith("ng"):
            bones.append(f"{bones[0][:-1]}ng")
        known = [one for bone in bones for one in self.by_skeleton.get(bone, ()) if _keeps(word, one)]
        bare = not _VOWELS.search(word.removesuffix("e"))
        return [one for one in known if bare or len(word) > LEAST + 1 or _nearly(word, one)]

    def _cut_off(self, word: str) -> list[str]:
        if len(word) < LEAST_CUT:
            return []
        return [one for one in self.words if one.startswith(word) and len(one) > len(word) + 1]


@cache
def _passed_over() -> frozenset[str]:
    return frozenset(stem(word) for word in (*table()["filler"], *table()["story"]))


def _keeps(word: str, whole: str) -> bool:
    """Whether the letters of a word stand in another in that order; it is shorter."""
    letters = iter(whole)
    return len(whole) > len(word) and all(letter in letters for letter in word)


def _nearly(word: str, whole: str) -> bool:
    """A short word with its vowels: a doubled letter or the last "e" left out (``clik``, ``topd``)."""
    return _plainly(word) in (_plainly(whole), re.sub(r"e(?=[dsrln]$)", "", _plainly(whole)))


def _plainly(word: str) -> str:
    return re.sub(r"(.)\1+", r"\1", word.replace("ck", "k"))


_BUILT: dict[int, Shortened] = {}


def shortened(vocabulary: Vocabulary) -> Shortened:
    """The short forms of a vocabulary; built once for each."""
    found = _BUILT.get(id(vocabulary))
    if found is None or found.vocabulary is not vocabulary:
        _BUILT.clear()
        found = _BUILT[id(vocabulary)] = Shortened(vocabulary)
    return found


PRESSED = frozenset(["the", "clutch", "brake", "pedal", "it", "on", "down", "every", "each", "all"])
"""Words behind "press" where it is no short form of pressure."""


def written_out(words: Sequence[str], vocabulary: Vocabulary) -> list[str]:
    """Each of some words; those written short, and those with a slip of typing, as the words they stand for."""
    forms = shortened(vocabulary)
    short = table()["short"]
    out: list[str] = []
    for index, word in enumerate(words):
        behind = words[index + 1] if index + 1 < len(words) else ""
        behind = short.get(behind, behind)
        before = out[-1] if out else ""
        pressed = word == "press" and (behind in PRESSED or before in ("can", "to", "not"))
        meant = (
            word
            if pressed
            else short.get(word) or (word if word in words_of_cars() or word in table()["as_typed"] else None)
        )
        if meant is None:
            meant = forms.meant(word, out[-1].split()[-1] if out else "", behind)
            meant = short.get(meant, meant) if meant != word else spelled(word, vocabulary)
            meant = word if meant != word and car_facts(word) is not None else meant
        out.append(meant)
    return out


def written(text: str, vocabulary: Vocabulary) -> tuple[str, list[tuple[str, str]]]:
    """A plain line with its short words written out, and each word read as another: as typed, and as read."""
    tokens = [token for token in raw_tokens(text) if token.kind == "word"]
    meant = written_out([token.plain for token in tokens], vocabulary)
    taken: dict[str, str] = {}
    for token, word in reversed(list(zip(tokens, meant, strict=True))):
        if word != token.plain:
            text = text[: token.start] + word + text[token.end :]
            taken[token.plain] = word
    short = table()["short"]
    return text, [(typed, word) for typed, word in reversed(taken.items()) if typed not in short]
