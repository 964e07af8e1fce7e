"""From entries to clues: which ladder a reading stands on, and what it says there."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from knowngood.belief.acting import Acting, Regime
from knowngood.belief.elimination import Array
from knowngood.belief.faces import Target
from knowngood.belief.likelihood import (
    CALLED_GOOD,
    CALLED_GOOD_WHEN_BAD,
    METER_SHARE,
    OPEN,
    bell_below,
    level_grid,
    number_table,
    odd_kept,
    spread_chance,
    sum_table,
    with_gross_errors,
    word_table,
)
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE, WITH_LEVELS, Car, Layout, Place
from knowngood.evidence import Reading, Value
from knowngood.library.healthy import DENIED, JUDGED_GOOD, UNTOLD
from knowngood.library.records import MODIFIERS, REGIMES, Code, Ladder, Library, ReadingKind
from knowngood.library.steps import at_level

IDLES, ON_THE_ROAD = ("cold idle", "hot idle"), ("cruise", "pull", "high speed", "overrun")
RUNNING = (*IDLES, *ON_THE_ROAD)
MISSED_AGAIN = 0.1  # who noticed a complaint once and says it is gone, though it is there; from memory
IT_RAN = {
    "fires and dies": 0.1,
    "cranks dead": 0.02,
    "no crank": 0.02,
}  # chance to be running all the same; from memory
OWN_LADDER = "reading "  # what the ladder of one reading alone is called, before its id
WEATHER = frozenset(("wet",))
THAT_IT_RAN = "it ran"  # how a reading that says, besides, that the engine ran is known
GRID_POINTS, EDGE_POINTS, MOST_GRID_POINTS = 36, 72, 160  # at least; at least where there is an edge; at most
EDGE_SPREADS = 2.5  # so near to healthy, in its spreads, an end of an even span is an edge
POINTS_PER_SPREAD = 2.5  # a row of eight narrows a spread by nearly three
_AT_SPEED = re.compile(r"at (?:about )?\d+ (?:mph|km/h|kmh|kph)")
SEEN = np.array([1e-12, 1.0])  # a finding: the fault is there beyond doubt, whatever readings deny it
HERE = ("measured here", "shown by the ECU", "here")
HEARSAY = 0.5  # weight, in log odds, of what was told by others against what was measured here; from memory
ABSENT_SHARE = 0.6  # how far "not among the codes that were read" counts; from memory
SET_FOR_NOTHING = 0.003  # chance that a code is set at a level for which none is told; from memory
LOOK_SHOWS = 0.97  # chance that a look at all of it shows a fault that is there; from memory
SUM_BANDS = {"well below": (-math.inf, -1.5), "about right": (-1.5, 1.5), "well above": (1.5, math.inf)}
"""How a number on a signed sum is judged: bands of its steps."""


@dataclass(frozen=True)
class Said:
    """What one entry says of one ladder: its table over the ladder's states, or over (healthy level, state).

    ``same`` is equal for readings that repeat each other: a word said twice counts once, a number read twice with one
    meter shares its bias. ``share`` is how far this one counts, in log odds.
    """

    entry: int
    target: Target
    table: Array
    level: str = ""
    same: str = ""
    share: float = 1.0

    @property
    def counted(self) -> Array:
        """The table as far as it counts."""
        return self.table if self.share == 1.0 else np.power(self.table, self.share)


def as_noticed(said: Said) -> Said:
    """``no`` from somebody who noticed the complaint before, or under other conditions: it would have been noticed."""
    table = said.table
    likeliest, there = table.max(), np.where(table < table.max(), table, 0.0)
    missed = there * min(1.0, MISSED_AGAIN * likeliest / max(there.max(), 1e-12))  # what shows more is missed less
    return replace(said, table=np.where(table < likeliest, missed, table), same=f"{said.same} again")


@dataclass
class Ladders:
    """Ladders of readings and codes, own ones added to ``acting`` on first use."""

    acting: Acting
    library: Library
    known: dict[str, Ladder] = field(default_factory=dict)

    def of(self, record: ReadingKind | Code) -> Ladder:
        """The ladder a kind of reading or a code stands on."""
        ladder = self.known.get(record.id)
        if ladder is None:
            if record.on:
                ladder = self.acting.ladders[record.on]
            else:
                ladder = Ladder(
                    id=f"{OWN_LADDER}{record.id}",
                    name=record.name,
                    place=record.place if record.place in WITH_LEVELS else "engine",
                    levels=record.levels,
                    inputs=record.inputs,
                )
                self.acting.add_direct(ladder, record.direct)
            self.known[record.id] = ladder
        return ladder


def regime_of(conditions: Sequence[str], usual: str) -> Regime:
    """The regime and modifiers a reading was taken under; the kind's own where none was said."""
    name = next((word for word in conditions if word in REGIMES), "")
    if not name:
        name = "cruise" if any(_AT_SPEED.fullmatch(word) for word in conditions) else usual
    return Regime(name, frozenset(word for word in conditions if word in MODIFIERS))


def is_habit(kind: ReadingKind, moment: int) -> bool:
    """Whether a reading is what the car does at times, not what it did in one look: what the driver complains of."""
    return kind.complaint and moment == 0


def comparable(usual: str, taken: str) -> bool:
    """Whether a value taken under one regime may be judged by what is healthy under another."""
    return not ({usual, taken} & set(IDLES) and {usual, taken} & set(ON_THE_ROAD))


def tempered(table: Array, reading: Reading) -> Array:
    """What others told weighs less than what was measured here."""
    if reading.who in HERE:
        return table
    return np.power(table, HEARSAY)


def numeric_confusion(kind: ReadingKind, levels: tuple[str, ...]) -> Array:
    """Chance that a number taken at each level would be judged as each level (level, judged).

    A number is judged as the level at which it is likeliest; numbers are taken in 60 even steps over all spreads, and
    at nought and at an open circuit. Of a relative kind the healthy level is taken as 1.
    """
    spans: list[float] = []
    for spread in kind.spread.values():
        if spread.at is not None and spread.spread is not None:
            spans += [spread.at - 4 * spread.spread, spread.at + 4 * spread.spread]
        if spread.low is not None and spread.high is not None:
            spans += [spread.low, spread.high]
    low, high = min(spans, default=0.0), max(spans, default=1.0)
    edges = np.linspace(low, high, 61)
    bins = [(float(a), float(b)) for a, b in itertools.pairwise(edges)]
    bins += [(-1e-9, 1e-9), (0.1 * OPEN, 1e3 * OPEN)]
    chances = np.array([[spread_chance(kind.spread[level], a, b) for a, b in bins] for level in levels])
    chances = with_gross_errors(chances, kind.gross)
    judged = chances.argmax(axis=0)
    table = np.zeros((len(levels), len(levels)))
    for column, winner in enumerate(judged):
        table[:, winner] += chances[:, column]
    total = table.sum(axis=1, keepdims=True)
    return np.where(total > 0, table / np.where(total > 0, total, 1.0), 1.0 / len(levels))


def outcome_names(kind: ReadingKind, ladder: Ladder) -> tuple[str, ...]:
    """Outcomes a reading of this kind can have."""
    if kind.words:
        return kind.words
    if ladder.combine == "sum":
        return tuple(SUM_BANDS)
    return ladder.levels


def outcome_table(kind: ReadingKind, ladder: Ladder) -> Array:
    """Chance of each outcome at each state of the ladder: (state, outcome)."""
    if kind.words:
        return np.array([[kind.chance[level].get(word, 0.0) for word in kind.words] for level in ladder.levels])
    if ladder.combine == "sum":
        rows = []
        sigma = max(kind.noise / abs(kind.per_step) if kind.per_step else 1.0, 0.2)
        for step in range(ladder.low, ladder.high + 1):
            rows.append(
                [bell_below((b - step) / sigma) - bell_below((a - step) / sigma) for a, b in SUM_BANDS.values()]
            )
        return with_gross_errors(np.array(rows), kind.gross)
    return numeric_confusion(kind, ladder.levels)


def grid_points(kind: ReadingKind) -> int:
    """How many healthy levels a kind is summed out over: so many to the narrowest spread about a level."""
    assert kind.healthy is not None
    narrowest = min(
        (one.spread for one in kind.spread.values() if one.at is not None and one.spread is not None), default=1.0
    )
    span = math.log(kind.healthy.high / kind.healthy.low)
    spread = math.hypot(narrowest, METER_SHARE)
    # an even span that begins where healthy values still fall has an edge that must be met
    edges = [end for one in kind.spread.values() for end in (one.low, one.high) if end is not None and end > 0.0]
    least = EDGE_POINTS if any(abs(math.log(end)) < EDGE_SPREADS * spread for end in edges) else GRID_POINTS
    return min(max(math.ceil(POINTS_PER_SPREAD * span / spread), least), MOST_GRID_POINTS)


class ClueMaker:
    """Turns readings into what they say of ladders.

    ``levels`` collects the unknown healthy levels met: name -> grid (point,).
    """

    def __init__(self, library: Library, car: Car, layout: Layout, ladders: Ladders) -> None:
        self.library = library
        self.car = car
        self.layout = layout
        self.ladders = ladders
        self.levels: dict[str, Array] = {}

    def from_reading(self, entry: int, reading: Reading, place: Place, moment: int, session: int = 0) -> list[Said]:
        """What a reading of a known kind says; nothing for an unknown one, or where nobody could tell.

        ``session``: the one it was taken in, 0 where that does not matter. What was read with the engine running says
        that it started, too.
        """
        kind = self.library.readings.get(reading.kind)
        if kind is None or reading.doubt or reading.word in UNTOLD:
            return []
        if is_habit(kind, moment) or reading.who not in HERE:
            session = 0
        own = self._own(entry, kind, reading, place, moment, session)
        return [*own, *self._it_ran(entry, kind, reading, moment, session)]

    def _it_ran(self, entry: int, kind: ReadingKind, reading: Reading, moment: int, session: int) -> list[Said]:
        ladder = self.library.ladders.get("start")
        died = kind.complaint and kind.on == "stall"  # what stopped it on the way may keep it from starting since
        usual = "" if kind.engine_off else kind.when
        if ladder is None or died or regime_of(reading.conditions, usual).name not in RUNNING:
            return []
        table = np.array([IT_RAN.get(level, 1.0) for level in ladder.levels])
        return [Said(entry, Target("start", ENGINE, Regime("cold start"), moment, session), table, same=THAT_IT_RAN)]

    def _own(
        self, entry: int, kind: ReadingKind, reading: Reading, place: Place, moment: int, session: int
    ) -> list[Said]:
        ladder = self.ladders.of(kind)
        regime = regime_of(reading.conditions, kind.when)
        if kind.complaint and kind.on == "start" and not regime.modifiers and reading.word not in DENIED:
            regime = Regime(regime.name, WEATHER)  # of a car that will not start nobody says that it was dry
        target = Target(ladder.id, self._ladder_place(ladder, place), regime, moment, session)
        if reading.value is None or (kind.words and not kind.spread):
            if ladder.combine == "sum":
                return self._sum_word(entry, ladder, reading, target)
            table = word_table(kind, ladder.levels, reading.word)
            return [Said(entry, target, tempered(table, reading), same=f"{kind.id} {reading.word}")]
        if ladder.combine == "sum":
            table = sum_table(kind, range(ladder.low, ladder.high + 1), reading.value)
            table = odd_kept(with_gross_errors(table, kind.gross))
            return [Said(entry, target, tempered(table, reading), same=f"{kind.id} #")]
        if kind.relative and kind.id not in self.car.windows and not comparable(kind.when, regime.name):
            return []  # what is healthy at idle says nothing of the road
        return [self._number(entry, kind, ladder, reading, reading.value, target)]

    @staticmethod
    def _sum_word(entry: int, ladder: Ladder, reading: Reading, target: Target) -> list[Said]:
        """A judgement of a sum; words of its own a reading of a sum has none (``library.rules.shows``)."""
        if reading.word not in JUDGED_GOOD:
            return []
        low, high = SUM_BANDS["about right"]
        steps = np.arange(ladder.low, ladder.high + 1)
        return [Said(entry, target, np.where((low < steps) & (steps < high), CALLED_GOOD, CALLED_GOOD_WHEN_BAD))]

    def _number(
        self, entry: int, kind: ReadingKind, ladder: Ladder, reading: Reading, value: Value, target: Target
    ) -> Said:
        window = self.car.windows.get(kind.id)
        if not kind.relative:
            table = with_gross_errors(number_table(kind, ladder.levels, value), kind.gross)
            return Said(entry, target, tempered(odd_kept(table), reading), same=f"{kind.id} #")
        if window is not None and (window.low is not None or window.high is not None):
            low = window.low if window.low is not None else window.high
            high = window.high if window.high is not None else window.low
            assert low is not None and high is not None
            middle = 0.5 * (low + high)
            table = with_gross_errors(number_table(kind, ladder.levels, value, middle), kind.gross)
            return Said(entry, target, tempered(odd_kept(table), reading), same=f"{kind.id} #")
        assert kind.healthy is not None
        if kind.id not in self.levels:
            self.levels[kind.id] = level_grid(kind.healthy.low, kind.healthy.high, grid_points(kind))
        grid = self.levels[kind.id]
        table = np.array(
            [with_gross_errors(number_table(kind, ladder.levels, value, float(level)), kind.gross) for level in grid]
        )
        return Said(entry, target, tempered(odd_kept(table), reading), level=kind.id, same=f"{kind.id} #")

    def _ladder_place(self, ladder: Ladder, place: Place) -> Place:
        if ladder.place == "engine":
            return ENGINE
        if ladder.place == "bank" and place.kind == "cylinder":
            return Place("bank", str(self.layout.bank_of(int(place.name))))
        if ladder.place == "bank" and place.kind != "bank":
            return Place("bank", "1")  # of which bank was not said: on most cars there is one
        return place

    def from_code(self, entry: int, code: Code, place: Place, moment: int, *, there: bool, share: float = 1.0) -> Said:
        """A code that is set, or one that was looked for and is not there (``share``: how far that counts)."""
        ladder = self.ladders.of(code)
        levels = ladder.levels if ladder.combine == "worst" else range(ladder.low, ladder.high + 1)
        chance = np.array([chance_set(code, level) for level in levels])
        table = chance if there else 1.0 - share * chance
        return Said(
            entry,
            Target(ladder.id, self._ladder_place(ladder, place), Regime(code.when, frozenset(MODIFIERS)), moment),
            table,
            same=f"{code.id} {there}",
        )


def chance_set(code: Code, level: str | int) -> float:
    """Chance that a code is set at a level, or at so many steps, of its ladder."""
    chance = at_level(code.set, level)
    return chance if chance is not None else SET_FOR_NOTHING


def finding_instances(faults: Iterable[Instance], seen: bool, looked_share: float) -> list[tuple[Instance, Array]]:
    """A finding as tables over its faults: seen beyond doubt, or looked for and not seen.

    Parameters
    ----------
    looked_share : float
        How much of where it can be was looked at, 0 to 1.
    """
    table = SEEN if seen else np.array([1.0, max(SEEN[0], 1.0 - LOOK_SHOWS * looked_share)])
    return [(instance, table) for instance in faults]
