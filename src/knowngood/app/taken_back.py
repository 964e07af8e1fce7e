"""What comes back for a part that was fitted and turned out not to be needed."""

from __future__ import annotations

from knowngood.app.state import State


def comes_back(state: State, part: str, price: float, minutes: float) -> float:
    """Money a part is worth once it is out again and back at the shop; 0 where nobody said that it is taken back.

    The share of the price that is paid back, less the way, and the work to take it out and put the old one in once
    more. Where that is nothing or less, it stays in.

    Parameters
    ----------
    part : str
    price : float
        What is paid for it now; 0 for one on the shelf.
    minutes : float [min]
        Of the work, without what comes off: that is open when it is found out.
    """
    record = state.library.parts.get(part)
    if record is None or record.taken_back is None:
        return 0.0
    hands = (minutes + record.taken_back.minutes) * state.settings.rate_per_hour / 60.0
    return max(0.0, record.taken_back.share * price - hands)
