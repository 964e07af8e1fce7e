"""What the car's own diagram hangs on a branch, as it is read off: ``fuse 5 feeds coils, pump``.

Only a whole line of nothing else. What hangs there is known by the words of the library's consumers; those of one bank
are left out, since a branch of the car's own is one for the whole engine.
"""

from __future__ import annotations

import json
import re

from knowngood.evidence import CarFact
from knowngood.library.branch_records import KINDS_OF_BRANCH
from knowngood.lines.reader import Reader

_LINE = re.compile(
    rf"(?:the )?(?P<name>(?:[a-z]+ ){{0,3}}(?:{'|'.join(KINDS_OF_BRANCH)})(?: (?:no\.? ?)?[a-z]?\d{{1,3}}[a-z]?)?)"
    r" (?:feeds|supplies|is for|serves|grounds)[ :]+(?:the )?(?P<feeds>.+)"
)


def read_own_branches(reader: Reader) -> bool:
    """The whole line as what one branch of this car feeds or grounds."""
    match = _LINE.fullmatch(reader.text.casefold().strip(" ."))
    if match is None:
        return False
    fed = {name for one in reader.library.branches.values() if one.place == "engine" for name in one.feeds}
    consumers = [one for one in reader.library.consumers.values() if one.id in fed]
    known = {said: one.id for one in consumers for said in (one.name, *one.says)}
    words = [word.strip().removeprefix("the ") for word in re.split(r",|\band\b|\+|&", match["feeds"]) if word.strip()]
    odd = [word for word in words if word not in known]
    if odd:
        names = ", ".join(one.says[0] for one in consumers if one.says)
        reader.doubt(reader.tokens, f"'{odd[0]}' is nothing known to hang on a branch", f"Which of these: {names}?")
        return True
    feeds = list(dict.fromkeys(known[word] for word in words))
    reader.put(CarFact("branches", json.dumps({match["name"].replace("no. ", "").replace("no ", ""): feeds})))
    reader.use_turned(reader.tokens)
    return True
