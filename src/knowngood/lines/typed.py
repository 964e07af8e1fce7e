"""Where the words of a line in plain words stand in the line as it was typed.

A line is put into plain words before it is read; what is shown of it, kept as a note or asked about, is shown in the
words of who typed it. The two are laid side by side word by word: words alike belong together, and between two of
those whatever was typed belongs to whatever it was read as.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from difflib import SequenceMatcher
from functools import cached_property

_PIECE = re.compile(r"\w+|[^\w\s]")
_USED = re.compile(r"\d+ ?- ?\d+ ?[:=]?|\d/\d")
"""What is used up in the turning: the ends of a row ("1-6:"), a share in words."""
Span = tuple[int, int]


class Typed:
    """A line as typed, and the same in plain words.

    Parameters
    ----------
    typed : str
        As typed, blanks joined.
    plain : str
        What was made of it, in which tokens count their places.
    """

    def __init__(self, typed: str, plain: str) -> None:
        self.typed, self.plain = typed, plain

    def words(self, start: int, end: int) -> str:
        """What was typed for the plain text from one place to another; that text itself where nothing was."""
        if self.typed == self.plain:
            return self.plain[start:end]
        starts, spans = self._spans
        first, last = max(bisect_right(starts, start) - 1, 0), bisect_right(starts, end - 1)
        found = [span for span in spans[first:last] if span[0] < span[1]]
        if not found:
            return self.plain[start:end]
        words = self.typed[min(at for at, _ in found) : max(to for _, to in found)]
        return words.rstrip(" ,;:=") if self.plain[end - 1].isalnum() else words

    def dropped(self) -> list[str]:
        """What was typed with a number in it and left out of the plain text, number and all (``1 in 5``)."""
        typed, plain, blocks = self._blocks
        kept = {piece.group() for piece in plain}
        out = []
        for same, low, high, first, last in blocks:
            lost = [piece.group() for piece in typed[low:high] if piece.group()[0].isdigit()]
            turned = any(char.isdigit() for piece in plain[first:last] for char in piece.group())
            if same == "equal" or turned or all(number in kept for number in lost):
                continue
            words = self.typed[typed[low].start() : typed[high - 1].end()]
            if not _USED.fullmatch(words):
                out.append(words)
        return out

    @cached_property
    def _blocks(self) -> tuple[list[re.Match[str]], list[re.Match[str]], list[tuple[str, int, int, int, int]]]:
        """The pieces of both, and how runs of the one became runs of the other."""
        typed, plain = list(_PIECE.finditer(self.typed)), list(_PIECE.finditer(self.plain))
        a, b = ([piece.group().casefold() for piece in pieces] for pieces in (typed, plain))
        return typed, plain, list(SequenceMatcher(None, a, b, autojunk=False).get_opcodes())

    @cached_property
    def _spans(self) -> tuple[list[int], list[Span]]:
        """Where each plain piece starts, and the span of what was typed for it.

        What was typed and left out goes with the piece before it, at the head of the line with the piece behind.
        """
        typed, plain, blocks = self._blocks
        spans: list[Span] = [(0, 0)] * len(plain)
        left_out = 0
        for same, low, high, first, last in blocks:
            if same == "equal":
                spans[first:last] = [piece.span() for piece in typed[low:high]]
            elif same == "delete" and first:
                spans[first - 1] = (spans[first - 1][0], typed[high - 1].end())
            elif same == "delete":
                left_out = high
            elif same == "replace":
                spans[first:last] = [(typed[low].start(), typed[high - 1].end())] * (last - first)
        if left_out and spans:
            spans[0] = (0, max(spans[0][1], typed[left_out - 1].end()))
        return [piece.start() for piece in plain], spans
