"""Who says it: a reading told by the owner or made by another workshop is hearsay, and is kept as such."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading, Work
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

WHO = {"said_by_owner": "owner", "said_by_workshop": "other workshop"}


def note_who(reader: Reader, tokens: Sequence[Token], since: int) -> None:
    """Put who said it into the readings and the work that some words were made into."""
    said = [(token, name) for token in tokens for mark, name in WHO.items() if token.means("mark", mark)]
    if not said:
        return
    changed = False
    for index in range(since, len(reader.bodies)):
        body = reader.bodies[index]
        if (isinstance(body, Reading) and body.who == "measured here") or (
            isinstance(body, Work) and body.who == "here"
        ):
            reader.bodies[index] = msgspec.structs.replace(body, who=said[0][1])
            changed = True
    if changed:
        reader.use(token for token, _ in said)
