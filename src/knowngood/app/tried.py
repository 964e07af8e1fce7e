"""Cures that were tried: what a cleaning did not put right, the same cleaning does not put right either.

The library says how often a cure works. That is a matter of the part, not of luck: a meter with a burnt wire is not
cleaned into order by cleaning it three times. So a cure made here is not planned again while another is left.
"""

from __future__ import annotations

from knowngood.app.state import State
from knowngood.belief.timeline import PUTS_NEW
from knowngood.car import Place
from knowngood.evidence import Reading, Work
from knowngood.library.healthy import DENIED, UNTOLD

Tried = tuple[str, str, Place]


def tried(state: State) -> frozenset[Tried]:
    """What was done to which part, where, since the part is in and the complaint was last said to be gone.

    A new part may be cleaned as the old one was; and what helped once may help again.
    """
    done: dict[Tried, None] = {}
    complained: set[str] = set()
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work) and body.who == "here":
            for place in body.places:
                at = state.layout.by_number(place)
                if at is None:
                    continue  # of another engine
                if body.do in PUTS_NEW:
                    done = {each: None for each in done if each[1:] != (body.part, at)}
                else:
                    done[(body.do, body.part, at)] = None
        elif isinstance(body, Reading) and not body.doubt:
            kind = state.library.readings.get(body.kind)
            if kind is not None and kind.complaint and body.word in DENIED and body.kind in complained:
                done.clear()
            elif body.word not in UNTOLD:
                complained.add(body.kind)
    return frozenset(done)
