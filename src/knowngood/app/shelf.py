"""What lies on the shelf for a car: put there, sent back, fitted."""

from __future__ import annotations

import msgspec

from knowngood.evidence import Stock


def on_shelf(stock: dict[str, Stock], said: Stock) -> None:
    """Take in what was said of a part: one that is only wanted is not there, one sent back no longer."""
    if said.state == "returned":
        take(stock, said.part, said.count)
    elif said.state != "wanted":
        stock[said.part] = said


def take(stock: dict[str, Stock], part: str, count: int) -> None:
    """Take pieces of a part off the shelf, as far as they lie there."""
    there = stock.get(part)
    if there is not None:
        stock[part] = msgspec.structs.replace(there, count=max(0, there.count - count))
