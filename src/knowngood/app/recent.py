"""What was spoken of last on a car: what the next line may leave out."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

import msgspec

from knowngood.evidence import Body, Entry, Reading
from knowngood.lines import Recent, Understood, recent_after


def recent_of(entries: Sequence[Entry]) -> Recent:
    """What the next line may leave out, from the lines that stand, in the order they were typed."""
    recent = Recent()
    lines: dict[tuple[str, str], list[Body]] = {}
    for entry in sorted(entries, key=lambda entry: entry.entered):
        lines.setdefault((entry.entered, entry.line), []).append(entry.body)
    for bodies in lines.values():
        recent = recent_after(recent, Understood(tuple(bodies), echo=""))
    return msgspec.structs.replace(recent, trims_asked=trims_about_100(entries))


def trims_about_100(entries: Sequence[Entry]) -> bool:
    """Whether a trim was typed on the scale about 100: then it was asked which trim of this car is neutral."""
    return any(_is_about_100(entry) for entry in entries)


def _is_about_100(entry: Entry) -> bool:
    body = entry.body
    if not isinstance(body, Reading) or "trim" not in body.kind or body.value is None:
        return False
    typed = re.findall(r"\d+(?:[.,]\d+)?", entry.line)
    return any(math.isclose(float(number.replace(",", ".")), body.value.number + 100.0) for number in typed)
