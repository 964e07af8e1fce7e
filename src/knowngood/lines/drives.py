"""A drive and its parts in one line: ``drove 25 km, cold start, town and hills, all fine``.

A part that was as it should be says of everything that shows in it that it did not, as a tap on the road test does.
Which parts were driven is never guessed: a drive without any is kept, and asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from knowngood.evidence import Note, Reading
from knowngood.library.drive import STRETCHES
from knowngood.lines.reader import Reader

WHICH = "Which parts were driven: cold start, idle, town, steady, hills, hot restart?"
HOW = "How did it go: as it should be, or what showed?"
NO_PARTS, NOT_SAID = "which parts of the drive it was is not said", "how it went is not said"
_DISTANCE = r"(?:about |some |another )?\d+(?:[.,]\d+)? ?(?:kms?|kilometres?|kilometers?|miles?|mi|min|minutes|m)"
_HEAD = re.compile(
    r"(?:(?:went for|took it (?:out )?for|did|had) )?(?:an? |the )?"
    r"(?:(?:first|second|third|last|long|short|clean|good) )?"
    r"(?:road ?test(?:ed)?|test ?drive|test ?drove|drive|drove|driven)"
    r"(?: it| the car)?(?: no\.?)?(?: \d{1,2}(?! ?[km]))?"
)
_TRIP = re.compile(rf"(?:of |over |for )?{_DISTANCE}")
_WELL = "good|fine|ok|okay|well|clean|right|normal|smooth|as it should be|without trouble"
_GOOD = rf"(?:(?:is|was|were|went|ran|all|both|each|still|now|very|quite|just) )*(?:{_WELL})"
_ALL_GOOD = re.compile(
    rf"{_GOOD}|no(?:thing)? (?:trouble|faults?|problems?|to find|found|wrong|unusual)"
    r"|(?:no|nothing to) complain\w*(?: of)?"
)
_NAMES = {
    "start": r"(?:the )?(?:cold start|started cold|start from cold|cold starting)",
    "idle": r"(?:the |hot |warm )?idle|idling",
    "town": r"(?:in )?(?:town|city|traffic|stop and go|stop-and-go)",
    "steady": r"(?:on the )?(?:steady(?: speed)?(?: 60 to 80 km/h)?|motorway|highway|dual carriageway|open road)",
    "pull": r"(?:the |up )?(?:hills?|hard pulls?|pulling hard|full throttle|hill climb)",
    "restart": r"(?:the )?(?:hot restart|restart(?:ed)? hot|warm restart|hot start)",
}
_PARTS = [(name, re.compile(rf"(?P<part>{said})(?: (?P<good>{_GOOD}))?")) for name, said in _NAMES.items()]
_CUT = re.compile(r" ?[,;:.&] ?| and (?!go\b)| then | - ")


def read_drive(reader: Reader) -> bool:
    """A whole line of a drive: its head first, then distance, parts and how they went in any order."""
    head = _HEAD.match(reader.text.casefold().strip(" ."))
    if head is None:
        return False
    rest = reader.text.casefold().strip(" .")[head.end() :]
    well: list[str] = []
    open_: list[str] = []  # parts that no word of how it went stands behind yet
    all_good = "clean" in head.group() or "good" in head.group()
    for piece in _pieces(rest):
        found = next(((name, match) for name, said in _PARTS if (match := said.fullmatch(piece))), None)
        if found is not None:
            open_.append(found[0])
            if found[1]["good"]:  # "cold start, idle and town good" is said of all three
                well, open_ = well + open_, []
        elif _ALL_GOOD.fullmatch(piece):
            all_good = True
        elif not _TRIP.fullmatch(piece):
            return False
    if all_good:
        well, open_ = well + open_, []
    if open_ or not well:
        why, ask = (NOT_SAID, HOW) if open_ else (NO_PARTS, WHICH)
        reader.put(Note(reader.text, why, ask))
        reader.ask(ask)
    for stretch in STRETCHES:
        if stretch.id in well:
            for kind in stretch.shown_in(reader.library):
                reader.put(Reading(kind=kind.id, word="no", conditions=(stretch.regime,)))
    reader.use_turned(reader.tokens)
    return True


def _pieces(text: str) -> Iterator[str]:
    """What stands between the signs; a distance and parts one behind the other without a sign come apart, too."""
    for piece in _CUT.split(f" {text} "):
        rest = piece.strip()
        while rest:
            known = (_TRIP, *(part for _, part in _PARTS))
            said = [match for part in known if (match := part.match(rest)) and _ends(rest, match.end())]
            longest = max(said, key=lambda match: match.end(), default=None)
            if longest is None:
                yield rest
                break
            yield longest.group()
            rest = rest[longest.end() :].strip()


def _ends(text: str, end: int) -> bool:
    return end == len(text) or text[end] == " "
