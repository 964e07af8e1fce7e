"""The first steps there are, ranked by what they lead to, with as much effort as is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.planner.beginnings import beginnings, onward_from
from knowngood.planner.candidates import (
    Candidate,
    check_candidates,
    end_candidates,
    heads_of,
    repair_candidates,
    sure_of,
)
from knowngood.planner.later import price_later
from knowngood.planner.price_order import in_firm_order
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import Repair
from knowngood.planner.ties import firm_money


@dataclass(frozen=True)
class Effort:
    """How much is tried.

    Parameters
    ----------
    shortlist : int
        Checks that get plans of their own.
    first_of_pairs, second_of_pairs : int
        Checks tried with a second one after them, and how many second ones.
    later : int
        Checks priced after a repair or a proof, where all fault sets are known. On draws none: there it made parts
        swapping look cheap, and on simulated cars it cost more than plain one-step value of information.
    described : int
        Checks of which is said what each outcome leads to.
    """

    shortlist: int
    first_of_pairs: int
    second_of_pairs: int
    later: int
    described: int


FULL = Effort(shortlist=20, first_of_pairs=3, second_of_pairs=5, later=5, described=20)
LIGHT = Effort(shortlist=8, first_of_pairs=2, second_of_pairs=3, later=3, described=1)


def ranked(pricing: Pricing, effort: Effort = FULL) -> list[Candidate]:
    """First steps, the least money to the end first; of a check that could be made at several places, the best."""
    options = pricing.priced(pricing.shortlist(effort.shortlist))
    pricing.pair_up(options, effort.first_of_pairs, effort.second_of_pairs)
    options = sorted(options, key=lambda option: (firm_money(option.cost), option.index))
    heads = list(dict.fromkeys([*heads_of(pricing), *sure_of(pricing)]))
    later = price_later(pricing, options[: effort.later], heads) if pricing.scenarios.exact else []
    looking = min((option.cost for option in options), default=float("inf"))
    candidates = check_candidates(pricing, options, effort.described)
    onward = onward_from([(pricing, beginnings(pricing, heads))])[0] if pricing.looks_on else {}
    candidates += repair_candidates(pricing, heads, later, onward, looking)
    return _one_of_a_kind(in_firm_order(candidates + end_candidates(pricing, later, onward)))


def _one_of_a_kind(candidates: Sequence[Candidate]) -> list[Candidate]:
    """The best place of each check; the same look next door is no other step."""
    met: set[str] = set()
    result = []
    for candidate in candidates:
        action = candidate.step.action
        if isinstance(action, Repair) or action.id not in met:
            result.append(candidate)
            met.add(action.id)
    return result
