"""The other things an entry can say: facts of the car, findings, work, what lies about."""

from __future__ import annotations

import msgspec

from knowngood.car import ENGINE, Place
from knowngood.evidence.reading import Reading

WORKS = (
    "replaced",
    "swapped",
    "tried",
    "reseated",
    "cleaned",
    "adjusted",
    "repaired",
    "refilled",
    "bled",
    "cleared",
    "relearned",
    "removed",
    "fitted",
)
EFFECTS = ("", "no change", "better", "worse", "cured", "moved", "stayed", "returned")
ORIGINS = ("original", "maker's new", "other new", "used", "rebuilt", "known-good spare", "unknown")
TOOL_STATES = ("on hand", "missing", "lent")
STOCK_STATES = ("wanted", "ordered", "arrived", "returned")
"""And empty: on the shelf, or ordered where there is a wait."""


class CarFact(msgspec.Struct, frozen=True, tag="car"):
    """One field of :class:`knowngood.car.Car` as told; ``value`` is JSON.

    A later fact replaces an earlier one; tuples add up.
    """

    field: str
    value: str


class Finding(msgspec.Struct, frozen=True, tag="finding", kw_only=True):
    """A fault seen or measured beyond doubt at its place; or a look that saw nothing.

    ``fault`` is an id of the library, empty when the words name no listed fault: the finding then asks what caused it.
    ``looked_share`` (0..1) says, for ``seen=False``, how much was looked at.
    """

    fault: str = ""
    part: str = ""
    place: Place = ENGINE
    words: str = ""
    seen: bool = True
    looked_share: float = 1.0


class Work(msgspec.Struct, frozen=True, tag="work", kw_only=True):
    """What was done, to which part, where; and what it changed, if that was said.

    ``do`` is one of :data:`WORKS`, ``origin`` of :data:`ORIGINS`, ``effect`` of :data:`EFFECTS`: it speaks of the
    complaint. ``to`` is the other place of a swap, or where a part was lent to; ``effect_at`` is where
    the fault is now (``moved`` to, ``stayed`` at).
    """

    do: str
    part: str = ""
    places: tuple[Place, ...] = (ENGINE,)
    to: Place | None = None
    origin: str = "unknown"
    effect: str = ""
    effect_at: Place | None = None
    minutes: float | None = None
    price: float | None = None
    conditions: tuple[str, ...] = ()
    who: str = "here"
    words: str = ""


class Access(msgspec.Struct, frozen=True, tag="access"):
    """Something came off (``open``) or went back on."""

    step: str
    open: bool


class Undone(msgspec.Struct, frozen=True, tag="undone", kw_only=True):
    """Something left as it must not stay (unplugged, bridged, loose, off, drained), or put right again.

    ``part`` is the id of the part it speaks of, empty where none is named: with the place it says what is put right.
    """

    what: str
    place: Place = ENGINE
    put_right: bool = False
    part: str = ""


class Tool(msgspec.Struct, frozen=True, tag="tool"):
    """A tool on hand, missing or lent out (``state``: one of :data:`TOOL_STATES`), and when it is back.

    ``price`` is what was paid for it, where it was bought for this car.
    """

    name: str
    state: str
    back: str = ""
    price: float | None = None


class Stock(msgspec.Struct, frozen=True, tag="stock", kw_only=True):
    """A part on the shelf or ordered, its price and the wait.

    ``state`` is one of :data:`STOCK_STATES`, or empty. ``price`` is of all pieces together.
    """

    part: str
    count: int = 1
    price: float | None = None
    wait_days: float = 0.0
    state: str = ""
    source: str = ""


class Clock(msgspec.Struct, frozen=True, tag="clock"):
    """The clock of work on this car started (``running``) or stopped."""

    running: bool


class Note(msgspec.Struct, frozen=True, tag="note"):
    """Words kept as they are. ``why`` says why they do not count; ``ask`` is the one question to put."""

    text: str
    why: str = ""
    ask: str = ""


class Strike(msgspec.Struct, frozen=True, tag="strike"):
    """Takes an entry back (``entry`` is its id) and says why. Striking a strike brings the entry back."""

    entry: str
    why: str


class Setting(msgspec.Struct, frozen=True, tag="setting"):
    """How the whole workshop likes it: a unit, the currency, the hourly rate. A later one replaces an earlier one."""

    name: str
    value: str


Body = Reading | CarFact | Finding | Work | Access | Undone | Tool | Stock | Clock | Note | Strike | Setting
