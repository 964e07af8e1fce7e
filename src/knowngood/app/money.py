"""Parts from wanted to fitted, and money: spent, promised, expected to the end, against what the car will be worth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from knowngood.app.answer import Answer
from knowngood.app.bay_time import bay_day
from knowngood.app.state import State
from knowngood.app.to_finish import Sums, WholeCar, to_finish, whole_car
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Stock, Tool, Work
from knowngood.library.find import part_name
from knowngood.library.records import Library
from knowngood.sheets.words import money

WANTED, ORDERED, ARRIVED, FITTED, RETURNED = "wanted", "ordered", "arrived", "fitted", "returned"
GETS_FITTED = ("replaced", "fitted")


class PartLine(msgspec.Struct, kw_only=True):
    """One thing bought or to be bought, and where it stands.

    Parameters
    ----------
    at : str
        Day of the last change.
    stage : str
        ``wanted``, ``ordered``, ``arrived``, ``fitted`` or ``returned``.
    price : float or None
        Of all pieces of the line together; None where it was not said.
    """

    at: str
    part: str
    name: str
    stage: str
    count: int = 1
    price: float | None = None
    wait_days: float = 0.0
    source: str = ""


class Money(msgspec.Struct, frozen=True, kw_only=True):
    """What a car has cost and will cost.

    Parameters
    ----------
    spent : float
        Parts here or fitted, tools bought, money noted with work; without the price of the car.
    promised : float
        Parts ordered and not here.
    unpriced : int
        Lines without a price; they are in no sum.
    found : Sums or None
        What was found takes from here on, time and parts; None while nothing was.
    whole : WholeCar or None
        The same of all that may be wrong with the car, and the base service; None while nothing was found.
    verdict : str
        Empty unless what the car is worth when done was said.
    """

    parts: list[PartLine]
    spent: float
    promised: float
    unpriced: int
    found: Sums | None
    whole: WholeCar | None
    verdict: str
    stop: bool


def parts_of(library: Library, entries: Sequence[Entry]) -> list[PartLine]:
    """Every part and tool that was wanted or bought, in the order it was first spoken of."""
    lines: list[PartLine] = []
    for entry in entries:
        match entry.body:
            case Stock() as stock:
                _next_stage(library, lines, entry, stock)
            case Tool(price=price, name=name) if price is not None:
                tool = library.tools.get(name)
                label = tool.name if tool is not None else name.replace("_", " ")
                lines.append(PartLine(at=bay_day(entry.at), part="", name=label, stage=ARRIVED, price=price))
            case Work(do=do, who="here") as work if do in GETS_FITTED:
                _fit(lines, work.part, _pieces(library, work), bay_day(entry.at))
    return lines


def _pieces(library: Library, work: Work) -> int | None:
    """How many pieces a work takes; None for all there are, where the part has places and none was named."""
    part = library.parts.get(work.part)
    return None if part is not None and part.place != "engine" and work.places == (ENGINE,) else len(work.places)


def _fit(lines: list[PartLine], part: str, pieces: int | None, day: str) -> None:
    """Pieces go from the lines that are here to those fitted; what is not used up stays, with its share of the price.

    Pieces of one line that are fitted on one day stand together.
    """
    here = _latest(lines, part, (ARRIVED,))
    if here is None or pieces == 0:
        return
    at = next(index for index, line in enumerate(lines) if line is here)
    taken = here.count if pieces is None else min(pieces, here.count)
    share = None if here.price is None else here.price * taken / here.count
    before = lines[at - 1] if at else None
    if before is not None and (before.part, before.stage, before.at, before.source) == (part, FITTED, day, here.source):
        before.count += taken
        before.price = None if before.price is None or share is None else before.price + share
    else:
        lines.insert(at, msgspec.structs.replace(here, count=taken, price=share, stage=FITTED, at=day))
    here.count -= taken
    here.price = None if here.price is None or share is None else here.price - share
    if here.count == 0:
        lines[:] = [line for line in lines if line is not here]
    if pieces is not None:
        _fit(lines, part, pieces - taken, day)


def _next_stage(library: Library, lines: list[PartLine], entry: Entry, stock: Stock) -> None:
    stage = stock.state or (ORDERED if stock.wait_days else ARRIVED)
    came_from = {ORDERED: (WANTED,), ARRIVED: (ORDERED, WANTED), RETURNED: (FITTED, ARRIVED, ORDERED)}.get(stage, ())
    line = _latest(lines, stock.part, came_from)
    if line is None:
        if stage == RETURNED or (not stock.state and stage == ARRIVED and stock.price is None):
            return  # on the shelf all along, or nothing known that could go back
        name = part_name(library, stock.part)
        line = PartLine(at="", part=stock.part, name=name, stage=stage, count=stock.count)
        lines.append(line)
    line.at, line.stage, line.wait_days = bay_day(entry.at), stage, stock.wait_days
    line.price = stock.price if stock.price is not None else line.price
    line.source = stock.source or line.source


def _latest(lines: Sequence[PartLine], part: str, stages: Iterable[str]) -> PartLine | None:
    stages = tuple(stages)
    return next((line for line in reversed(lines) if part and line.part == part and line.stage in stages), None)


def money_of(state: State, answer: Answer) -> Money:
    """Sums of what was said, what is still expected, and whether going on pays."""
    parts = parts_of(state.library, state.entries)
    noted = [entry.body.price for entry in state.entries if isinstance(entry.body, Work)]
    spent = _sum(parts, (ARRIVED, FITTED)) + sum(price or 0.0 for price in noted)
    found = to_finish(state, answer)
    whole = whole_car(state, answer) if found is not None else None
    verdict, stop = _verdict(state, whole.all) if whole is not None else ("", False)
    return Money(
        parts=parts,
        spent=spent,
        promised=_sum(parts, (ORDERED,)),
        unpriced=sum(line.price is None and line.stage in (ORDERED, ARRIVED, FITTED) for line in parts),
        found=found,
        whole=whole,
        verdict=verdict,
        stop=stop,
    )


def part_words(line: PartLine) -> str:
    """``ignition coil: ordered, 2 days, 38, from the breaker``."""
    count = f"{line.count} x " if line.count != 1 else ""
    wait = f", {line.wait_days:g} {'day' if line.wait_days == 1 else 'days'}" if line.stage == ORDERED else ""
    price = f", {money(line.price)}" if line.price is not None else ", no price said" if line.stage != WANTED else ""
    return f"{count}{line.name}: {line.stage}{wait}{price}{f', from {line.source}' if line.source else ''}"


def money_words(told: Money, paid: float | None) -> list[str]:
    """Sums in sentences: spent and promised, what is expected, whether it pays."""
    lines = []
    if told.spent or told.promised or paid is not None:
        car = f" and {money(paid)} for the car" if paid is not None else ""
        lines.append(f"Spent {money(told.spent)} on parts and tools{car}; ordered and not here {money(told.promised)}.")
    if told.unpriced:
        one = told.unpriced == 1
        lines.append(f"No price was said for {told.unpriced} {'part: it is' if one else 'parts: they are'} in no sum.")
    if told.found is not None and told.whole is not None:
        lines += [
            f"Expected for what was found, time and parts: {spread(told.found)}.",
            f"Expected for the whole car, with what may still be found and the base service: {spread(told.whole.all)}.",
        ]
    if told.verdict:
        lines.append(told.verdict)
    return lines


def _sum(parts: Sequence[PartLine], stages: Sequence[str]) -> float:
    return sum(line.price or 0.0 for line in parts if line.stage in stages)


def spread(sums: Sums) -> str:
    """``about 400 (100 to 1260, 8 times in 10)``."""
    return f"about {money(sums.expected)} ({money(sums.low)} to {money(sums.high)}, 8 times in 10)"


def _verdict(state: State, whole: Sums) -> tuple[str, bool]:
    """Whether to go on, by what all of the car takes: it is worth what was said when all of it is done."""
    worth, now = state.car.worth_done, state.car.worth_now or 0.0
    if worth is None:
        return "", False
    gains = f"{money(worth)} when done" + (f" against {money(now)} as it stands" if now else "")
    cost = f"about {money(whole.expected)} ({money(whole.low)} to {money(whole.high)})"
    if whole.expected > worth - now:
        return f"Stop here: to finish costs {cost} and it is worth {gains}. What was spent does not come back.", True
    if whole.high > worth - now:
        return f"It pays on average, not surely: to finish costs {cost}; it is worth {gains}.", False
    return f"It pays to go on: to finish costs {cost}; it is worth {gains}.", False
