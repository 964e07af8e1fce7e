"""A reading by word beside words that were not understood may say something else: kept, asked, not counted."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import matters, weighs


def doubt_half_heard(reader: Reader, run: Sequence[Token], before: int) -> None:
    """Put in doubt what a clause was taken for, where words of it were not understood.

    A complaint stands by itself, whatever the driver says around it, unless a part or a number of it is not understood.
    """
    unread = [token for token in run if reader.is_unread(token) and weighs(token)]
    if not unread:
        return
    tells = any(matters(token) for token in unread)
    why = f"'{', '.join(token.text for token in unread)}' was not understood"
    for index in range(before, len(reader.bodies)):
        body = reader.bodies[index]
        if not isinstance(body, Reading) or body.value is not None or body.kind == "code" or body.doubt:
            continue
        record = reader.kind_record(body.kind)
        if tells or record is None or not record.complaint:
            reader.bodies[index] = msgspec.structs.replace(body, doubt=why)
            reader.ask(f"{reader.words(run)}: {body.kind.replace('_', ' ')} {body.word}?")
