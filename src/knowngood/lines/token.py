"""One piece of a line."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.lines.vocabulary import Sense


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of a line.

    ``kind``: ``num``, ``numword`` (a number spoken as a word), ``unit``, ``code``, ``arrow``, ``sign``, ``word`` (not
    known) or ``term`` (known; ``senses`` says as what). ``plain`` is what stands for it when numbers are read.
    """

    kind: str
    text: str
    start: int
    end: int
    spaced: bool
    plain: str
    senses: tuple[Sense, ...] = ()
    parts: tuple[Token, ...] = ()

    def ids(self, kind: str) -> tuple[str, ...]:
        """What the token may be as that kind of sense, best first."""
        return tuple(sense.id for sense in self.senses if sense.kind == kind)

    def means(self, kind: str, *ids: str) -> bool:
        """Whether the token may be that kind of sense (and one of ``ids``, where given)."""
        return any(sense.kind == kind and (not ids or sense.id in ids) for sense in self.senses)

    def is_sign(self, *signs: str) -> bool:
        return self.kind == "sign" and self.text in signs

    def whole(self) -> int | None:
        """The number when it is a whole one written without sign or decimals."""
        return (
            int(self.plain)
            if self.kind in ("num", "numword") and self.plain.isdigit() and len(self.plain) < 9
            else None
        )
