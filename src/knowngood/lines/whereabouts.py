"""Where on the engine something was smelt, heard or seen, kept beside a reading that is of the whole engine."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import weighs

NEAR = frozenset(
    [
        "near",
        "at",
        "by",
        "next",
        "next to",
        "on",
        "in",
        "all over",
        "over",
        "inside",
        "behind",
        "around",
        "under",
        "below",
        "above",
        "beside",
        "from",
    ]
)

SPOTS = frozenset(["top", "bottom", "rear", "front", "back", "left", "right", "side", "middle", "underneath", "end"])


def note_whereabouts(reader: Reader, run: Sequence[Token], before: int) -> None:
    """``fuel smell near cyl 3 injector``: the place is kept with the reading, not lost and not taken for a number."""
    seen = [i for i in range(before, len(reader.bodies)) if _is_of_the_engine(reader, i)]
    if len(seen) != 1 or len(reader.bodies) != seen[0] + 1:
        return
    for index, token in enumerate(run):
        if token.plain not in NEAR:
            continue
        end = index + 1
        while end < len(run) and (_is_where(run[end]) or _is_named_there(run, index, end)):
            end += 1
        said = run[index:end]
        if not any(reader.is_unread(other) and weighs(other) for other in said):
            continue
        if not any(
            o.means("part") or o.means("mark", "cylinder", "bank") or o.plain in SPOTS or o.kind == "word" for o in said
        ):
            continue
        body = reader.bodies[seen[0]]
        assert isinstance(body, Reading)
        conditions = (*body.conditions, reader.words(said))
        reader.bodies[seen[0]] = msgspec.structs.replace(body, conditions=conditions)
        reader.use_turned(said)
        return


def _is_of_the_engine(reader: Reader, index: int) -> bool:
    body = reader.bodies[index]
    return isinstance(body, Reading) and body.value is None and body.kind != "code" and body.place.kind == "engine"


def _is_named_there(run: Sequence[Token], start: int, index: int) -> bool:
    """A word that is not known, right behind "on top of the": the name of a spot."""
    before = run[start:index]
    return run[index].kind == "word" and any(token.plain in ("the", "of", *SPOTS) for token in before)


def _is_where(token: Token) -> bool:
    known = token.means("part") or token.means("mark", "cylinder", "bank", "left", "right")
    return (
        known
        or token.plain in SPOTS
        or token.means("area")
        or token.is_sign("#")
        or token.kind in ("num", "numword")
        or token.plain in ("the", "of", "and", "to")
    )
