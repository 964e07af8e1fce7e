"""One line of the journal."""

from __future__ import annotations

import msgspec

from knowngood.evidence.bodies import Body

BODY_VERSION = 1


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """An envelope around one body.

    Parameters
    ----------
    id : str
        Random, unique over devices.
    at : str
        When it happened, ISO 8601 in UTC. ``at`` before ``entered`` is lawful ("before the swap").
    entered : str
        When it was typed.
    line : str
        The original words; several entries may share one line.
    look : str
        Entries of one moment under one set of conditions share it.
    body : Body
    version : int
        Version of the body's form.
    """

    id: str
    at: str
    entered: str
    body: Body
    line: str = ""
    look: str = ""
    version: int = BODY_VERSION
