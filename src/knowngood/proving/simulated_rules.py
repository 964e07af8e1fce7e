"""Ways of working without a planner: parts in some order, and a textbook's order of checks.

The three that only replace know the chances given the complaint, worked out once; after a failed road test what was
tried is out. The textbook is a competent one: it knows the library's chances and readings, makes the checks in the
order in which they find most for their minutes, keeps score of every cause as if there were only one, repairs as soon
as one cause is likelier than all others together, and passes over checks that can no longer tell anything. It trusts
no single reading more than twenty to one; at the end of its list it repairs by chance over cost.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from knowngood.app.tasks import problem_of
from knowngood.belief.clues import Ladders, outcome_table, regime_of
from knowngood.belief.evaluate import Evaluator, States
from knowngood.belief.likelihood import number_table, sum_table, with_gross_errors
from knowngood.belief.protocol import Array, Bools, FaultAt
from knowngood.car import Place
from knowngood.evidence import Reading
from knowngood.library.records import Check, ReadingKind
from knowngood.library.separation import TOLD_APART
from knowngood.planner.problem import CheckAt, Repair
from knowngood.proving.simulated_arrivals import Truth, place_on
from knowngood.proving.simulated_bay import Bay
from knowngood.proving.simulated_evidence import ALWAYS_MINUTES, asks_of, bearing_checks
from knowngood.proving.simulated_ours import gives_complaint, state_now

MORE_LIKELY_THAN_NOT = 0.5
LEAST_ODDS = 1e-6
TRUSTED = 20.0  # most that one reading counts for or against a cause
LIKELY = 0.2  # an outcome rarer than this with and without a cause is not what a check is made for
WORTH_A_PAGE = 0.02  # share of what is still suspected that a check must be able to speak for or against
LEAST_GROSS = 0.02  # gross errors of a number's reading, at least

Order = Callable[[Array, Array, Array], Array]


@dataclass
class Replacer:
    """One repair after another with a road test after each, in an order worked out from chances and prices.

    Parameters
    ----------
    order : callable
        From chance (repair,), price of all of it (repair,) and price of the part (repair,) to a worth (repair,).
    """

    order: Order
    repairs: list[Repair] | None = None
    covered: list[Bools] = field(default_factory=list)
    left: Bools = field(default_factory=lambda: np.zeros((0, 0), dtype=bool))

    def _begin(self, bay: Bay) -> None:
        state = state_now(bay)
        matters = state.scenarios.matters
        assert matters is not None
        faults = state.belief.faults
        columns = {at: matters[:, column] for column, at in enumerate(faults) if matters[:, column].any()}
        self.repairs = [repair for repair in problem_of(state).repairs if any(at in columns for at in repair.fixes)]
        self.covered = [np.array([at in repair.fixes for at in columns]) for repair in self.repairs]
        self.left = np.stack(list(columns.values()), axis=1) if columns else np.zeros((len(matters), 0), dtype=bool)
        self.left = self.left[self.left.any(axis=1)]

    def __call__(self, bay: Bay) -> None:
        """The next repair, and a road test."""
        if not self.repairs:  # at the start; and once more when everything was tried, as a repair may have failed
            self._begin(bay)
        if not self.repairs:
            bay.drive()
            return
        chance = np.ones(len(self.repairs))
        if len(self.left):
            chance = np.array([(self.left & covers).any(axis=1).mean() for covers in self.covered])
        price = np.array([bay.price_of(repair) for repair in self.repairs])
        part = np.array([repair.money for repair in self.repairs])
        chosen = int(np.argmax(np.where(chance > 0.0, self.order(chance, price, part), -np.inf)))
        bay.repair(self.repairs.pop(chosen))
        covers = self.covered.pop(chosen)
        bay.drive()
        self.left = self.left & ~covers
        self.left = self.left[self.left.any(axis=1)]


def chance_over_cost() -> Replacer:
    """The best chance for its money first."""
    return Replacer(lambda chance, price, part: chance / price)


def likeliest_first() -> Replacer:
    """What is likeliest first, whatever it costs."""
    return Replacer(lambda chance, price, part: chance)


def cheapest_part_first() -> Replacer:
    """Parts swapped by price: the cheapest that may be it first."""
    return Replacer(lambda chance, price, part: -part - 1e-3 * price)


@dataclass
class Textbook:
    """A fixed order of checks with stopping; then repairs by what was found.

    Parameters
    ----------
    pages : list of Check or None
        Those still to be made, in their order; ``None`` before the car was seen.

    Attributes
    ----------
    causes : list of FaultAt
        Each would give the complaint alone.
    odds : array (cause,)
        By what was read; 0 for what was tried.
    with_none_tried : array (cause,)
        The same, as if nothing had been tried yet: to begin again with when all was tried in vain.
    alone : Evaluator
        What each cause alone would show, and a good car, the last.
    state_of : dict
        Levels by kind of reading and place, once asked for.
    """

    pages: list[Check] | None = None
    causes: list[FaultAt] = field(init=False)
    odds: Array = field(init=False)
    with_none_tried: Array = field(init=False)
    alone: Evaluator = field(init=False)
    ladders: Ladders = field(init=False)
    state_of: dict[tuple[str, str], States] = field(init=False)

    def _begin(self, bay: Bay) -> None:
        state = state_now(bay)
        model = state.belief.model
        self.truth = Truth(model)
        gives = gives_complaint(state, bay.car.arrival.complaint)
        self.causes = [at for at, each in zip(model.faults, gives, strict=True) if each]
        self.odds = np.array([model.priors[at] for at in self.causes])
        self.with_none_tried = self.odds.copy()
        sets = np.zeros((len(self.causes) + 1, len(model.faults)), dtype=bool)
        for row, at in enumerate(self.causes):
            sets[row, model.column[at]] = True
        self.alone = self.truth.evaluator(sets)
        self.ladders = model.ladders
        self.state_of = {}
        checks = bearing_checks(bay.car, bay.library)
        worth = [self._finds(check, bay) / (ALWAYS_MINUTES + self._minutes(check, bay)) for check in checks]
        self.pages = [checks[i] for i in np.argsort(worth)[::-1] if worth[i] > 0.0]

    def _minutes(self, check: Check, bay: Bay) -> float:
        places = len({ask.place for ask in asks_of(check, bay.car, bay.library)})
        more = (check.each_minutes if check.row else check.minutes) * max(places - 1, 0)
        return check.minutes + more + bay.access_minutes(bay.fitting(check.access))

    def _states(self, kind: ReadingKind, place: Place) -> States:
        """Level of a reading with each cause alone, and with none (cause + 1,)."""
        key = (kind.id, str(place))
        if key not in self.state_of:
            ladder = self.ladders.of(kind)
            at = place_on(self.truth.model, ladder, place)
            self.state_of[key] = self.alone.states(ladder.id, at, regime_of((), kind.when))
        return self.state_of[key]

    def _finds(self, check: Check, bay: Bay) -> float:
        """Weight of the causes this check can speak for or against."""
        found = np.zeros(len(self.causes), dtype=bool)
        for ask in asks_of(check, bay.car, bay.library):
            kind = bay.library.readings[ask.reading]
            table = outcome_table(kind, self.ladders.of(kind))[self._states(kind, ask.place)]
            ratio = np.abs(np.log(np.maximum(table[:-1], LEAST_ODDS) / np.maximum(table[-1], LEAST_ODDS)))
            likely = np.maximum(table[:-1], table[-1]) > LIKELY
            found |= ((ratio > np.log(TOLD_APART)) & likely).any(axis=1)
        return float(self.odds[found].sum())

    def __call__(self, bay: Bay) -> None:
        """The next page, a repair with its road test, or the road test at the end."""
        if self.pages is None:
            self._begin(bay)
        assert self.pages is not None
        total = float(self.odds.sum())
        if total <= 0.0:  # everything was tried once: a repair may have failed, so once more
            self.odds, total = self.with_none_tried.copy(), float(self.with_none_tried.sum())
        leading = int(self.odds.argmax())
        if self.odds[leading] > MORE_LIKELY_THAN_NOT * total or not self.pages:
            repair = bay.cure(self.causes[leading])
            if not self.pages:
                cures = [
                    bay.cure(at) if odds > 0.0 else repair for at, odds in zip(self.causes, self.odds, strict=True)
                ]
                price = np.array([bay.price_of(cure) for cure in cures]) + bay.prices.road_test
                repair = cures[int((self.odds / price).argmax())]
            bay.repair(repair)
            self.odds[[index for index, cause in enumerate(self.causes) if cause in repair.fixes]] = 0.0
            bay.drive()
            return
        check = self.pages.pop(0)
        if self._finds(check, bay) > WORTH_A_PAGE * total:
            self._make(check, bay)

    def _make(self, check: Check, bay: Bay) -> None:
        asks = tuple(asks_of(check, bay.car, bay.library))
        access = bay.fitting(check.access)
        minutes = self._minutes(check, bay) - bay.access_minutes(access)
        page = CheckAt(id=check.id, name=check.name, asks=asks, minutes=minutes, money=check.money, access=access)
        if not bay.can_make(page):
            return
        for reading in bay.check(page):
            ratio = self._ratio(bay.library.readings[reading.kind], reading)
            self.odds *= ratio
            self.with_none_tried *= ratio

    def _ratio(self, kind: ReadingKind, reading: Reading) -> Array:
        """How much likelier the reading is with each cause alone than with none (cause,)."""
        ladder, states = self.ladders.of(kind), self._states(kind, reading.place)
        if reading.value is None:
            like = outcome_table(kind, ladder)[:, kind.words.index(reading.word)]
        elif ladder.combine == "sum":
            like = with_gross_errors(sum_table(kind, range(ladder.low, ladder.high + 1), reading.value), kind.gross)
        else:
            scale = 1.0 if kind.healthy is None else float(np.sqrt(kind.healthy.low * kind.healthy.high))
            like = number_table(kind, ladder.levels, reading.value, scale if kind.relative else 1.0)
            like = with_gross_errors(like, max(kind.gross, LEAST_GROSS))
        like = np.maximum(like, LEAST_ODDS * max(float(like.max()), LEAST_ODDS))
        result: Array = np.clip(like[states[:-1]] / like[states[-1]], 1.0 / TRUSTED, TRUSTED)
        return result
