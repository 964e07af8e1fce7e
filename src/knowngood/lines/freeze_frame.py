"""``ff 820 rpm ect 24``: what was stored with a code, kept with that code and counted as no reading of now."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

HEADS = ("ff", "freeze frame", "freezeframe", "stored frame", "frozen frame")


def read_freeze_frame(reader: Reader, run: Sequence[Token]) -> bool:
    """Read a run that begins with a word for a freeze frame, behind the codes it belongs to."""
    words = reader.plain(run).casefold()
    head = next((name for name in HEADS if words.startswith((f"{name} ", f"{name}:"))), "")
    codes = [i for i, body in enumerate(reader.bodies) if isinstance(body, Reading) and body.code]
    if not head or not codes:
        return False
    told = reader.plain(run)[len(head) :].strip(" :")
    last = reader.bodies[codes[-1]]
    assert isinstance(last, Reading)
    reader.bodies[codes[-1]] = msgspec.structs.replace(last, conditions=(*last.conditions, f"stored with it: {told}"))
    reader.use_turned(run)
    return True
