"""The sheet to look at a car with before buying it: what to look at in order, boxes, the sum of the price."""

from __future__ import annotations

from knowngood.app.answer import Answer
from knowngood.app.buying import buying_of, price_words
from knowngood.app.gate_view import how_to_look
from knowngood.app.stages import BUY, stage_of
from knowngood.app.state import State
from knowngood.sheets.sheet import Items, Lines, Sheet, Table, Words
from knowngood.sheets.words import minutes

TYPED_BACK = (
    "Typed back as lines: a look by its words and good or bad ('papers and keys: bad'), the asked price as "
    "'asking 500', what it will be worth as 'worth 2400 when done'."
)


def buying_sheet(state: State, answer: Answer, date: str) -> Sheet:
    """Looks in order with boxes, stop items first; then the price and when to walk away."""
    stage, stands = state.library.stages[BUY], stage_of(state, BUY)
    rows, took = [], 0.0
    for look in stands.looks:
        kind = state.library.readings[look.kind]
        check = how_to_look(state, look.kind)
        took += check.minutes if check is not None else 1.0
        said = look.state if look.state != "not looked" else ""
        walk = "walk away" if look.kind in stage.walk_away else "stop item" if look.stop else "off the price"
        rows.append((kind.says[0], (check.how if check is not None else "") or look.name, walk, said))
    price = price_words(buying_of(state, answer))
    return Sheet(
        title="Look before buying",
        car=state.name,
        date=date,
        blocks=(
            Words(f"About {minutes(took)} of looking, a lamp, no other tool. Engine off; the seller holds the key."),
            Table("In this order", ("look", "how", "if bad", "good or bad"), tuple(rows), to_fill=True),
            Items("What it may cost", tuple(price)),
            Lines("Asked; worth when done; what the seller says was done last, by whom, and which parts are new", 2),
        ),
        foot=TYPED_BACK,
    )
