"""What came off and is on again, in the words it came off by: ``plenum off``, ``plenum back on``."""

from __future__ import annotations

import re

STATE = re.compile(r" (off|out|free|open|opened|removed|lifted|lowered|drained|disconnected|aside|up|down)$")
"""What ends a phrase that says that something is off."""
BACK = {
    "out": "back in",
    "open": "shut again",
    "opened": "shut again",
    "lifted": "back in place",
    "lowered": "back up",
    "drained": "full again",
    "disconnected": "back on",
    "up": "down again",
}
AGAIN = re.compile(rf" (?:{'|'.join(sorted({*BACK.values(), 'back on'}))})$")


def back_on(says: str) -> str:
    """The phrase that says that it is on again; empty where the one for off names no state.

    Examples
    --------
    >>> back_on("tank lowered"), back_on("plenum off"), back_on("engine supported")
    ('tank back up', 'plenum back on', '')
    """
    state = STATE.search(says)
    return STATE.sub(f" {BACK.get(state[1], 'back on')}", says) if state else ""
