"""What the knowledge files say, as frozen records.

The form of each file is described, with one example, at its head; see ``data/00_ladders.toml`` for how faults reach
readings. Unknown keys are refused. All minutes are of one pair of hands, all prices in the currency of the shop's
settings. ``per_1000`` counts neglected cars per place; every other chance is 0 to 1. Defaults of numbers: from memory.
"""

from __future__ import annotations

from knowngood.library.branch_records import Branch, Consumer
from knowngood.library.fitted_records import Fitted
from knowngood.library.job_records import AfterWork, Breaks, Gate, Killed, Service, Stage, TakenBack, Tool, UntilThen
from knowngood.library.record import Record
from knowngood.library.way_records import Way

REGIMES = (
    "at rest",
    "key on",
    "cranking",
    "cold start",
    "cold idle",
    "hot idle",
    "hot restart",
    "cruise",
    "pull",
    "high speed",
    "overrun",
)
MODIFIERS = ("wet", "bump", "turn", "electrical load", "after standing", "hot soak")
CONDITIONS = ("any", "cold", "hot", "wet", "shaken", "load")
UNDER = "under"  # of a number, in ``bad_by``: under what is good


class Source(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A published source: ``title`` and ``section``."""

    id: str
    title: str
    section: str = ""


class Ladder(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A mechanism: its levels from good to worst, and how other ladders reach it.

    ``combine="worst"``: the worst contribution wins. ``combine="sum"``: signed steps add, clipped to ``low..high``.
    ``inputs`` maps another ladder's id to a table from its levels (or step ranges ``"-4..-3"``) to levels (or steps)
    of this one.
    An input on cylinders reaches a bank or engine ladder from every cylinder; one on the engine reaches every cylinder.
    ``unordered`` says why its levels are different things and not more of the same.
    ``cylinders``: only engines of so many cylinders have it; on others nothing reaches it.
    """

    id: str
    name: str
    place: str
    combine: str = "worst"
    levels: tuple[str, ...] = ()
    low: int = 0
    high: int = 0
    inputs: dict[str, dict[str, str | int]] = {}
    unordered: str = ""
    cylinders: tuple[int, ...] = ()


class Chance(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """In how many of 1,000 neglected cars of unknown history is the fault there now, per place; with a range."""

    per_1000: float
    low: float
    high: float
    source: str


class Raised(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What makes a fault likelier: its odds are multiplied by ``times``.

    ``by``: ``animals``, ``standing`` (half a year or more), ``flood``, ``high mileage`` (150,000 km or more),
    ``low mileage`` (under 60,000 km), ``after work`` (then ``on`` names the areas of work), ``new part`` (that part is
    new).
    """

    by: str
    times: float
    on: tuple[str, ...] = ()
    source: str = "memory"


class Act(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a fault does to one ladder: a ``level`` or a signed ``shift``, in which regimes, under which modifiers.

    ``grade``: only a fault of this grade does it; empty: a fault of any grade. ``steady``: a fault that comes and goes
    does it all the time (green pins are to be seen on a good day, too).
    """

    on: str
    level: str = ""
    shift: int = 0
    when: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    grade: str = ""
    steady: bool = False


class Cure(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How a fault is put right: what is done to which part, minutes without access, access, chance that it works."""

    do: str
    minutes: float
    source: str
    part: str = ""
    access: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    works: float = 0.95
    disturbs: tuple[str, ...] = ()


class Fault(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A thing that can be wrong at a place.

    ``left_by``: ``animals`` where nothing else leaves it behind; once it is found, the car's story has animals in it.
    ``leads_to`` names faults it brings about in time.
    ``silent`` says why no driver complains of it: only a look finds it.
    ``grades``: how bad it can be, from mild to severe, with the share of the cars that have it; they sum to 1.
    ``shows``: of a fault that comes and goes, the share of looks in which it shows, by condition (:data:`CONDITIONS`),
    ``any`` for those not named; the middle of cars that differ. Empty: it shows in every look.
    """

    id: str
    name: str
    part: str
    place: str
    chance: Chance
    acts: tuple[Act, ...] = ()
    cures: tuple[Cure, ...] = ()
    raised: tuple[Raised, ...] = ()
    needs: dict[str, tuple[str, ...]] = {}
    words: tuple[str, ...] = ()
    what: str = ""
    cautions: tuple[str, ...] = ()
    twins: tuple[str, ...] = ()
    aliases: tuple[str, ...] = ()
    stop: bool = False
    left_by: str = ""
    silent: str = ""
    grades: dict[str, float] = {}
    shows: dict[str, float] = {}
    leads_to: tuple[str, ...] = ()


class Spread(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How a value falls for one level of a ladder.

    ``at`` with ``spread``: bell-shaped (one standard deviation). ``low`` to ``high``: evenly, in log when both are
    over 0.
    ``zero``, ``open``: point masses (chance) at 0 and at no-end. All relative to the healthy level when the reading is
    ``relative``, else in the base unit.
    """

    at: float | None = None
    spread: float | None = None
    low: float | None = None
    high: float | None = None
    zero: float = 0.0
    open: float = 0.0


class Healthy(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The plausible span of the healthy level over cars, base unit, for a relative reading without a window."""

    low: float
    high: float
    source: str


class ReadingKind(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A kind of reading: on which ladder it stands, and what it shows at each level.

    Either ``on`` names a ladder, or ``levels`` are its own, reached from faults directly (``direct``: fault id ->
    level, at most three) and from ladders (``inputs``, as in :class:`Ladder`).
    A word reading has ``words`` and ``chance[level][word]``; a number has ``quantity`` and ``spread[level]``, or on a
    signed sum ``per_step``, ``offset`` and ``noise``. ``gross`` is the share of gross errors.
    ``complaint`` marks what a driver says; ``says`` are the words it is known by. ``unordered`` as in :class:`Ladder`.
    ``engine_off``: it is read without the engine running, too, so that it does not tell that the engine ran.
    ``taken``: where on a value's way it was taken, which its levels and inputs then come from.
    ``bad_by``, of a look: other readings that settle it as bad, each with the words that do, or :data:`UNDER`.
    """

    id: str
    name: str
    place: str
    source: str
    on: str = ""
    levels: tuple[str, ...] = ()
    direct: dict[str, str] = {}
    inputs: dict[str, dict[str, str | int]] = {}
    when: str = "any"
    quantity: str = ""
    words: tuple[str, ...] = ()
    chance: dict[str, dict[str, float]] = {}
    spread: dict[str, Spread] = {}
    relative: bool = False
    healthy: Healthy | None = None
    per_step: float = 0.0
    offset: float = 0.0
    noise: float = 0.0
    gross: float = 0.02
    complaint: bool = False
    stop: bool = False
    engine_off: bool = False
    taken: str = ""
    says: tuple[str, ...] = ()
    cannot: str = ""
    unordered: str = ""
    needs: dict[str, tuple[str, ...]] = {}
    aliases: tuple[str, ...] = ()
    bad_by: dict[str, tuple[str, ...]] = {}


class Check(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A way to get readings.

    ``minutes``: of one place; of a ``row`` it takes ``each_minutes`` more for each further place. ``engine``: what it
    does meanwhile, one of :data:`~knowngood.library.rules.work.ENGINE_STATES`. ``cannot``: what it cannot see.
    ``poor_form_of``: the check it stands in for where a shop lacks what that one needs.
    """

    id: str
    name: str
    reads: tuple[str, ...]
    minutes: float
    source: str
    each_minutes: float = 0.0
    money: float = 0.0
    tools: tuple[str, ...] = ()
    access: tuple[str, ...] = ()
    engine: str = "off"
    row: bool = False
    cautions: tuple[str, ...] = ()
    cannot: str = ""
    how: str = ""
    poor_form_of: str = ""
    needs: dict[str, tuple[str, ...]] = {}
    says: tuple[str, ...] = ()


class BranchFault(Fault, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A fault every branch of some kinds can have; ``BRANCH`` in its words stands for the name of the branch."""

    branches: tuple[str, ...]
    place: str = "branch"


class BranchReading(ReadingKind, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A reading that can be taken at every branch of some kinds, as :class:`BranchFault`."""

    branches: tuple[str, ...]
    place: str = "branch"


class BranchCheck(Check, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A check of every branch of some kinds, as :class:`BranchFault`; it reads readings of every branch."""

    branches: tuple[str, ...]


class Part(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A physical thing: what it costs, how long it takes to come, whether it can change places with its like.

    ``asked_as``, ``done_as``: kind of work -> how a mechanic says it of this part, where the kind and the name do not:
    a battery is charged, not refilled.
    """

    id: str
    name: str
    price: float
    source: str
    place: str = "engine"
    wait_days: float = 1.0
    swaps: bool = False
    swap_minutes: float = 0.0
    access: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    new_bad_per_1000: float = 10.0
    taken_back: TakenBack | None = None
    needs: dict[str, tuple[str, ...]] = {}
    area: str = ""
    asked_as: dict[str, str] = {}
    done_as: dict[str, str] = {}


class AccessStep(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What comes off: minutes to open and to close with their ranges over cars, which steps come before.

    The minutes are those of an ordinary inline four across the car; :class:`EngineLayout` says what other engines need.
    """

    id: str
    name: str
    open_minutes: float
    close_minutes: float
    source: str
    open_range: tuple[float, ...] = ()
    close_range: tuple[float, ...] = ()
    after: tuple[str, ...] = ()
    needs: dict[str, tuple[str, ...]] = {}
    before_closing: tuple[str, ...] = ()
    breaks: tuple[Breaks, ...] = ()
    says: tuple[str, ...] = ()


class StepOn(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How one access step differs on a layout; what is left out stays as it is."""

    open_minutes: float | None = None
    close_minutes: float | None = None
    open_range: tuple[float, ...] = ()
    close_range: tuple[float, ...] = ()
    after: tuple[str, ...] | None = None


class EngineLayout(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A kind of engine in its bay, by what is told of the car, and how its access differs: one file a layout."""

    id: str
    name: str
    needs: dict[str, tuple[str, ...]]
    source: str
    steps: dict[str, StepOn]


class Code(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A generic code: on which ladder it bears, its chance to be there per level, what it is often a consequence of.

    ``id`` may be a run ``P0301..P0312`` with ``each="cylinder"``.
    """

    id: str
    name: str
    source: str
    place: str = "engine"
    bank: int = 0
    each: str = ""
    on: str = ""
    levels: tuple[str, ...] = ()
    direct: dict[str, str] = {}
    inputs: dict[str, dict[str, str | int]] = {}
    when: str = "any"
    set: dict[str, float] = {}
    often_from: str = ""
    unordered: str = ""
    needs: dict[str, tuple[str, ...]] = {}


class Caution(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A safety line a check or a sheet must show."""

    id: str
    text: str
    source: str


class Area(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """An area of work, and the words by which a told repair is known to have touched it."""

    id: str
    name: str
    words: tuple[str, ...]
    disturbs: tuple[str, ...] = ()


class Library(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """All records by id, with the hash of the text they came from."""

    hash: str
    sources: dict[str, Source]
    ladders: dict[str, Ladder]
    faults: dict[str, Fault]
    readings: dict[str, ReadingKind]
    checks: dict[str, Check]
    parts: dict[str, Part]
    access: dict[str, AccessStep]
    codes: dict[str, Code]
    cautions: dict[str, Caution]
    gates: dict[str, Gate]
    tools: dict[str, Tool]
    areas: dict[str, Area]
    fitted: dict[str, Fitted]
    layouts: dict[str, EngineLayout] = {}
    killed: dict[str, Killed] = {}
    services: dict[str, Service] = {}
    stages: dict[str, Stage] = {}
    until_then: dict[str, UntilThen] = {}
    after_work: dict[str, AfterWork] = {}
    ways: dict[str, Way] = {}
    branches: dict[str, Branch] = {}
    consumers: dict[str, Consumer] = {}
    branch_faults: dict[str, BranchFault] = {}
    branch_readings: dict[str, BranchReading] = {}
    branch_checks: dict[str, BranchCheck] = {}
