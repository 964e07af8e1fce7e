"""``base service done, no change``: the base service booked as one bundle.

What it changed is written at its last piece only, so that it stays open which of them did it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from knowngood.car import ENGINE
from knowngood.evidence import Work
from knowngood.evidence.bodies import EFFECTS
from knowngood.library.job_records import Service
from knowngood.lines.reader import Reader

BUNDLE = "base service"
_LINE = re.compile(
    rf"(?:did |done |the |a )*{BUNDLE}(?: is| was)?(?: done)?"
    r"(?: with (?P<with>.+?))?(?: (?:without|except|but not) (?P<without>.+?))?"
    rf"(?:[,;:] ?(?P<effect>{'|'.join(effect for effect in EFFECTS if effect)}))?"
    r"(?:[,;]? ?(?:took )?(?P<took>\d+(?:[.,]\d+)?) ?(?P<unit>min|mins|minutes|h|hours?|hrs?))?"
)


def read_service(reader: Reader) -> bool:
    """The whole line: every item but the belts and what is named after "without"; a belt named after "with" too."""
    match = _LINE.fullmatch(reader.text.casefold().strip(" ."))
    items = list(reader.library.services.values())
    if not match or not items:
        return False
    added, left_out = _named(items, match.group("with")), _named(items, match.group("without"))
    if added is None or left_out is None:
        return False
    done = [item for item in items if (not item.only_named or item in added) and item not in left_out]
    works = [
        Work(
            do=item.do if part == item.parts[0] else "replaced",
            part=part,
            places=reader.all_cylinders() if item.each else (ENGINE,),
            words=BUNDLE,
        )
        for item in done
        for part in item.parts
    ]
    if not works:
        return False
    took = _minutes(match, len(works))
    for work in works[:-1]:
        reader.put(msgspec.structs.replace(work, minutes=took))
    reader.put(msgspec.structs.replace(works[-1], minutes=took, effect=match.group("effect") or ""))
    reader.use_turned(reader.tokens)
    reader.suppose(f"{BUNDLE}: {', '.join(item.name for item in done)}")
    return True


def _named(items: Sequence[Service], words: str | None) -> list[Service] | None:
    """The items some words name; None when one of the words names none."""
    found: list[Service] = []
    for word in re.split(r"\s*(?:,|\band\b|&)\s*", words or ""):
        if not word:
            continue
        mine = [item for item in items if word in (item.name, f"{item.name}s", f"new {item.name}")]
        mine += [item for item in items if word == "belts" and item.only_named]
        if not mine:
            return None
        found += mine
    return found


def _minutes(match: re.Match[str], pieces: int) -> float | None:
    if not match.group("took"):
        return None
    scale = 60.0 if match.group("unit").startswith("h") else 1.0
    return float(match.group("took").replace(",", ".")) * scale / pieces
