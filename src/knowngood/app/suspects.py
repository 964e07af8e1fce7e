"""The suspects: parts, with the kinds of fault they may have, their places, and what moved them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from msgspec.structs import replace

from knowngood.app.answer import Because, KindShare, PlaceChance, Suspect
from knowngood.app.complained import behind_complaints
from knowngood.app.ledger import moved_by_line
from knowngood.app.not_weighed import not_weighed
from knowngood.app.raised import of_story
from knowngood.app.state import State
from knowngood.app.whereabouts import standing_out
from knowngood.belief.protocol import FaultAt
from knowngood.car import Place
from knowngood.evidence import Finding
from knowngood.library.find import part_name
from knowngood.library.records import Fault

UNLISTED = "unlisted"
SHOWN = 12
SEEN = 0.98  # a finding stands at 0.99 until it is put right
LEAST_BEHIND = 0.001  # shares of draws below this are one draw or two, and say nothing of the order
KIND_SHARE = 0.1  # a kind with less of its suspect than this is not named beside the others
KINDS_SHOWN = 4


@dataclass(frozen=True)
class Suspected:
    """Kinds of fault of one part, the likeliest behind a finding first, and their places.

    Parameters
    ----------
    kinds : tuple of str
        Fault ids; those with too small a share are left out.
    places : tuple of Place
        The likeliest first.
    at : dict place -> tuple of FaultAt
    behind, there : float
        Chance that any of them, anywhere, is behind what was found; that it is there at all.
    """

    kinds: tuple[str, ...]
    places: tuple[Place, ...]
    at: dict[Place, tuple[FaultAt, ...]]
    behind: float
    there: float

    @property
    def leading(self) -> FaultAt:
        """The likeliest kind at the likeliest place."""
        return next(at for kind in self.kinds for at in self.at[self.places[0]] if at.fault == kind)

    @property
    def every(self) -> tuple[FaultAt, ...]:
        """All kinds at all places."""
        return tuple(at for place in self.places for at in self.at[place])


def any_of(chances: Sequence[float]) -> float:
    """Chance of at least one, were they apart from each other."""
    return 1.0 - math.prod(1.0 - chance for chance in chances)


def suspected(state: State) -> list[Suspected]:
    """Parts that may be at fault, the likeliest behind what was found first, then the likeliest at fault at all.

    Where a complaint or a code was told, those that cannot be behind one come after those that can: a perished tyre
    that was found is certain, and no answer to why it shakes.
    Kinds of fault of the same part stand together: they are told apart, if ever, with the part in hand.
    """
    if state not in _KNOWN:
        _KNOWN[state] = _in_order(state)
    return _KNOWN[state]


_KNOWN: WeakKeyDictionary[State, list[Suspected]] = WeakKeyDictionary()


def _in_order(state: State) -> list[Suspected]:
    groups: dict[tuple[str, str], list[FaultAt]] = {}
    for at in state.belief.faults:
        if not at.fault.startswith(UNLISTED):
            fault = state.library.faults[at.fault]
            groups.setdefault((fault.part, fault.place), []).append(at)
    found = [_suspected(state, members) for members in groups.values()]
    complained = behind_complaints(state)

    def order(one: Suspected) -> tuple[bool, float, float, tuple[str, ...]]:
        beside = bool(complained) and complained.isdisjoint(one.kinds)
        return beside, -_worth(one.behind), -one.there, one.kinds

    return sorted(found, key=order)


def _worth(behind: float) -> float:
    return behind if behind >= LEAST_BEHIND else 0.0


def _suspected(state: State, members: Sequence[FaultAt]) -> Suspected:
    chances, column = state.belief.chances(), state.belief.model.column

    def behind(some: Sequence[FaultAt]) -> float:
        return state.behind_any([column[at] for at in some])

    def there(some: Sequence[FaultAt]) -> float:
        return any_of([float(chances[column[at]]) for at in some])

    def order(some: Sequence[FaultAt]) -> tuple[float, float]:
        return -_worth(behind(some)), -there(some)

    kinds: dict[str, list[FaultAt]] = {}
    at: dict[Place, list[FaultAt]] = {}
    for one in members:
        kinds.setdefault(one.fault, []).append(one)
        at.setdefault(one.place, []).append(one)
    all_behind, all_there = behind(members), there(members)
    ranked = sorted(kinds, key=lambda kind: (*order(kinds[kind]), kind))
    by_behind = all_behind >= LEAST_BEHIND
    named = [
        kind
        for kind in ranked
        if (
            behind(kinds[kind]) >= KIND_SHARE * all_behind
            if by_behind
            else there(kinds[kind]) >= KIND_SHARE * all_there
        )
    ]
    return Suspected(
        kinds=tuple(named[:KINDS_SHOWN]) or (ranked[0],),
        places=tuple(sorted(at, key=lambda place: (*order(at[place]), place))),
        at={place: tuple(some) for place, some in at.items()},
        behind=all_behind,
        there=all_there,
    )


def chance_unlisted(state: State) -> float:
    """Chance that something no listed fault explains is there."""
    wanted = [at for at in state.belief.faults if at.fault.startswith(UNLISTED)]
    return state.belief.chance_of_any(wanted) if wanted else 0.0


def _range(fault: Fault, chance: float) -> tuple[float, float]:
    """The chance with the fault's own prior at either end of its range: odds scale with prior odds."""
    if not 0.0 < chance < 1.0:
        return chance, chance
    odds = chance / (1.0 - chance)

    def scaled(per_1000: float) -> float:
        end, middle = per_1000 / 1000.0, fault.chance.per_1000 / 1000.0
        new = odds * (end / (1.0 - end)) / (middle / (1.0 - middle))
        return new / (1.0 + new)

    return scaled(fault.chance.low), scaled(fault.chance.high)


def suspects_of(state: State, first: int = 0, last: int = SHOWN) -> list[Suspect]:
    """The likeliest parts, from the ``first`` (counted from 0) to before the ``last``; what moved them is told by
    :func:`with_reasons`."""
    return [_in_words(state, one) for one in suspected(state)[first:last]]


def with_reasons(state: State, suspects: Sequence[Suspect], lines: dict[int, int]) -> list[Suspect]:
    """Suspects with the lines that moved their likeliest kind at their likeliest place.

    One that was seen beyond doubt has the line that says so, and no other: what can no more be moved, none moved.

    Parameters
    ----------
    lines : dict entry index -> line number
        How the door that asks numbers the lines.
    """
    leading = {one.leading.fault: one.leading for one in suspected(state)[: len(suspects)]}
    columns = [state.belief.model.column[leading[suspect.fault]] for suspect in suspects]
    settled = _settled(state)
    texts = {lines.get(entry, 0): state.entries[entry].line for entry in state.belief.entries_in() if entry >= 0}
    result, untold = [], not_weighed(state, lines)
    for suspect, moved in zip(suspects, moved_by_line(state, columns, lines), strict=True):
        found = settled.get(leading[suspect.fault])
        if found is not None:
            line = lines.get(found, 0)
            because = [Because(line, round(moved.get(line, 0.0), 2), state.entries[found].line, settled=True)]
        else:
            because = [Because(line, round(weight, 2), texts.get(line, "")) for line, weight in moved.items()]
        bearing = [line for line, seen in untold.items() if suspect.fault in seen and found is None]
        result.append(
            replace(suspect, because=because, unweighed=[Because(line, 0.0, texts.get(line, "")) for line in bearing])
        )
    return result


def _settled(state: State) -> dict[FaultAt, int]:
    """The entry that says last that a fault was seen at its place, where the belief has it there still."""
    chances, column = state.belief.chances(), state.belief.model.column
    found = {}
    for index, entry in enumerate(state.entries):
        body = entry.body
        if isinstance(body, Finding) and body.seen:
            at = FaultAt(body.fault, body.place)
            if at in column and float(chances[column[at]]) >= SEEN:
                found[at] = index
    return found


def _in_words(state: State, one: Suspected) -> Suspect:
    leading = one.leading
    chances, column, library = state.belief.chances(), state.belief.model.column, state.library
    fault = library.faults[leading.fault]
    part = part_name(library, fault.part)
    chance = state.belief.chance_of_any(one.every)
    found = one.behind >= LEAST_BEHIND
    shown = min(one.behind, chance) if found else chance
    low, high = _range(fault, shown)
    stand_out, held = _standing_out(state, one, found)
    kinds = [_share(state, one, kind, chance) for kind in one.kinds]
    return Suspect(
        fault=fault.id,
        name=_name(part, kinds),
        part=part,
        chance=round(chance, 6),
        behind=round(one.behind, 4),
        shown=round(shown, 6),
        stand_out=stand_out,
        held=round(held, 6),
        several=len(one.places) > 1,
        low=round(low, 6),
        high=round(high, 6),
        places=[
            PlaceChance(str(place), round(min(chance, any_of([float(chances[column[at]]) for at in one.at[place]])), 6))
            for place in one.places[:6]
        ],
        because=[],
        story=of_story(state, fault),
        what=fault.what,
        kinds=kinds,
    )


def _standing_out(state: State, one: Suspected, found: bool) -> tuple[int, float]:
    """How many of its places stand out, and the chance that it is one of these.

    By what is behind the findings; before any, by what is there.
    """
    chances, column = state.belief.chances(), state.belief.model.column
    worth = state.belief.draws_worth
    columns = [[column[at] for at in one.at[place]] for place in one.places]
    if not found:
        shares = [any_of([float(chances[at]) for at in some]) for some in columns]
        count = standing_out(shares, worth) if shares == sorted(shares, reverse=True) else 0
        return count, any_of(shares[:count])
    shares = [state.behind_any(some) for some in columns]
    count = standing_out(shares, min(float(len(state.scenarios.weight)), worth))
    leading = [at for some in columns[:count] for at in some]
    return count, state.behind_any(leading) if count else 0.0


def _name(part: str, kinds: Sequence[KindShare]) -> str:
    """``ignition coil (coil dead or coil fails when hot)``; of one kind its own name; more than two are not named."""
    if len(kinds) == 1:
        return kinds[0].name
    more = ", or other" if len(kinds) > 2 else ""
    return f"{part} ({' or '.join(kind.name for kind in kinds[:2])}{more})"


def _share(state: State, one: Suspected, kind: str, most: float) -> KindShare:
    chances, column = state.belief.chances(), state.belief.model.column
    there = min(most, any_of([float(chances[column[at]]) for at in one.every if at.fault == kind]))
    behind = state.kinds_behind.get(kind, 0.0)
    return KindShare(kind, state.library.faults[kind].name, round(there, 6), round(behind, 4))
