"""What to look over before what is apart goes together: what the work touched, by what is done about each."""

from __future__ import annotations

from knowngood.app.bay_time import bay_day
from knowngood.app.state import State
from knowngood.evidence import Work
from knowngood.library.find import part_name

# a word of a part's name -> what is looked at; the first that fits; common practice
LOOKS = (
    (
        (
            "plug of",
            "connector",
            "sensor",
            "coil",
            "wire",
            "loom",
            "relay",
            "fuse",
            "lead",
            "switch",
            "module",
            "meter",
        ),
        "clicked on, pulled once, routed clear of heat and edges",
    ),
    (("ground", "clamp", "cable", "strap"), "on bare metal, tight"),
    (("hose", "duct", "line", "pipe", "breather"), "pushed home, clip or clamp on"),
    (("filter", "drain plug", "cap", "gasket", "cover", "seal", "thermostat"), "seated, tight, no leak when it runs"),
    (("oil", "coolant", "fluid", "fuel"), "up to the mark, no leak when it runs"),
)
REST = "fitted, tight, nothing left over"


def touched_words(state: State) -> list[str]:
    """What the work of the last day of work touched, and what moves when one works there, by what is looked at."""
    worked = [
        (bay_day(entry.at), entry.body.part)
        for entry in state.entries
        if isinstance(entry.body, Work) and entry.body.who == "here" and entry.body.part
    ]
    groups: dict[str, dict[str, None]] = {}
    for day, part in worked:
        if day == worked[-1][0]:
            for name in _disturbed(state, part):
                groups.setdefault(_look(name), {})[name] = None
    return [f"{look}: {', '.join(names)}" for look, names in groups.items()]


def _look(name: str) -> str:
    return next((look for words, look in LOOKS if any(word in name for word in words)), REST)


def _disturbed(state: State, part: str) -> list[str]:
    record = state.library.parts.get(part)
    area = state.library.areas.get(record.area) if record is not None else None
    ids = (part, *(area.disturbs if area is not None else ()))
    return [part_name(state.library, one) for one in ids]
