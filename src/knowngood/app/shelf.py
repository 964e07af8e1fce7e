"""What lies on the shelf for a car, and what is on its way there: put there, ordered, sent back, fitted."""

from __future__ import annotations

from dataclasses import dataclass, field

from msgspec.structs import replace

from knowngood.evidence import Stock


@dataclass
class Shelf:
    """Pieces of each part that lie here, and those that are ordered: an order takes nothing away of what lies here."""

    _here: dict[str, Stock] = field(default_factory=dict)
    _coming: dict[str, Stock] = field(default_factory=dict)

    def get(self, part: str) -> Stock | None:
        """What can be fitted first: what lies here, else what is ordered, with its wait; None where neither is."""
        found = [stock[part] for stock in (self._here, self._coming) if part in stock]
        return next((stock for stock in found if stock.count > 0), None)

    def lying(self, part: str) -> int:
        """How many pieces of a part lie here or are paid and on their way."""
        return sum(stock[part].count for stock in (self._here, self._coming) if part in stock)

    def put(self, said: Stock) -> None:
        """Take in what was said of a part.

        One that is only wanted is not there, one sent back no longer. What arrives joins what lies here, all that was
        ordered of it. Without a state the count is that of all that lie here, and an order before it has come, as
        :mod:`knowngood.app.money` counts it, too.
        """
        match said.state:
            case "wanted":
                pass
            case "returned":
                self.take(said.part, said.count)
            case "arrived":
                here, coming = self._here.get(said.part), self._coming.pop(said.part, said)
                lay = here.count if here is not None else 0
                self._here[said.part] = replace(said, count=lay + max(said.count, coming.count))
            case _ if said.state == "ordered" or said.wait_days:
                self._coming[said.part] = said
            case _:
                self._here[said.part] = said
                self._coming.pop(said.part, None)

    def take(self, part: str, count: int) -> None:
        """Take pieces of a part off the shelf as far as they lie there; what is over had been on its way."""
        there = self._here.get(part)
        lay = min(count, there.count) if there is not None else 0
        _less(self._here, part, lay)
        _less(self._coming, part, count - lay)


def _less(stock: dict[str, Stock], part: str, count: int) -> None:
    there = stock.get(part)
    if there is not None:
        stock[part] = replace(there, count=max(0, there.count - count))
