"""Of two names side by side the last is the thing: a ``water pump gasket`` is a gasket, ``alternator belt`` a belt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.lines.token import Token
from knowngood.lines.vocabulary import Sense

_NAMES = (
    "gasket bracket bolt nut screw stud housing belt mount mounting clip tray flange cover shield pipe line hose fuse "
    "spring washer cable tensioner bush"
)
PIECES = frozenset(f"{name}{many}" for name in (*_NAMES.split(), "heat shield") for many in ("", "s"))
"""What belongs to a part and is none of its own by that part's name; common practice."""
FASTENERS = frozenset(("bolt", "bolts", "nut", "nuts", "screw", "screws", "stud", "studs"))
JOINTS = ("ground", "cable", "clamps")
"""How the ids of parts end that are nothing but a joint: what holds them is the joint (common practice)."""


def with_compounds(tokens: Sequence[Token], text: str) -> list[Token]:
    """The tokens with a part in front of such a piece read as where the piece belongs, and as nothing else.

    A piece the library knows by itself stays what it is; of one it does not know, both are one word that is not known.
    The bolt of a joint is the joint: a ground bolt that is loose is a ground that is.
    """
    out: list[Token] = []
    for token in tokens:
        before = out[-1] if out else None
        if before is None or not _is_piece(token) or not _is_owner(before):
            out.append(token)
        elif token.plain in FASTENERS and all(part.endswith(JOINTS) for part in before.ids("part")):
            out[-1] = replace(before, text=text[before.start : token.end], end=token.end)
        elif token.means("part"):
            out[-1] = replace(before, senses=(Sense("filler", "in"),), parts=(), plain="the")
            out.append(token)
        else:
            plain = f"{before.plain} {token.plain}"
            whole = text[before.start : token.end]
            out[-1] = replace(before, kind="word", text=whole, end=token.end, plain=plain, senses=(), parts=())
    return out


def _is_piece(token: Token) -> bool:
    return token.kind in ("word", "term") and token.plain in PIECES


def _is_owner(token: Token) -> bool:
    """A part in the singular; behind one in the plural the next name is the next of a list."""
    return token.kind == "term" and token.means("part") and not token.plain.endswith("s")
