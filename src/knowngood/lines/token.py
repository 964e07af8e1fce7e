"""One piece of a line."""

from __future__ import annotations

from dataclasses import dataclass, field

from knowngood.lines.vocabulary import Sense

HIGHEST = 16
"""The highest number heard as a cylinder's; which of them the engine has is asked where it has fewer."""


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
    _by_kind: dict[str, tuple[str, ...]] | None = field(default=None, init=False, repr=False, compare=False)

    def ids(self, kind: str) -> tuple[str, ...]:
        """What the token may be as that kind of sense, best first."""
        return self._senses().get(kind, ())

    def _senses(self) -> dict[str, tuple[str, ...]]:
        """The senses by their kind; a small word may have a hundred, and each is asked for many times."""
        found = self._by_kind
        if found is None:
            found = {}
            for kind, name in self.senses:
                found[kind] = (*found.get(kind, ()), name)
            object.__setattr__(self, "_by_kind", found)
        return found

    def means(self, kind: str, *ids: str) -> bool:
        """Whether the token may be that kind of sense (and one of ``ids``, where given)."""
        found = self._senses().get(kind)
        return found is not None and (not ids or any(name in found for name in ids))

    def is_sign(self, *signs: str) -> bool:
        """Whether it is one of these signs."""
        return self.kind == "sign" and self.text in signs

    def whole(self) -> int | None:
        """The number when it is a whole one written without sign or decimals."""
        return (
            int(self.plain)
            if self.kind in ("num", "numword") and self.plain.isdigit() and len(self.plain) < 9
            else None
        )
