"""Names that only say where something is: ``hose behind the throttle``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.token import Token

BEHIND = frozenset(["behind", "under", "below", "above", "beside"])
"""Behind these stands never what something is, only where."""
LEADS = BEHIND | {"at", "near", "by", "from", "to"}


def is_location(name: Token, tokens: Sequence[Token], leads: frozenset[str] = LEADS) -> bool:
    """Behind "at" or "near", a small word between them passed over, a name says where, not what."""
    near = [token.plain for token in tokens if token.end <= name.start][-2:]
    return any(word in leads for word in near)
