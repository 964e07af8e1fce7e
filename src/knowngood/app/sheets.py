"""Which sheets there are, and each made from a car's state."""

from __future__ import annotations

from knowngood.app.answer import Answer
from knowngood.app.photo_pairs import Photos, no_photos
from knowngood.app.sheets_bay import arrival_sheet, closing_sheet, next_sheet, road_sheet, row_sheet
from knowngood.app.sheets_buying import buying_sheet
from knowngood.app.sheets_record import cost_sheet, record_sheet, todo_sheet
from knowngood.app.state import State
from knowngood.errors import Problem, Refused
from knowngood.sheets.sheet import Sheet

SHEETS = {
    "buy": "looking before buying",
    "arrival": "empty boxes for a car that comes in",
    "row": "a line for each cylinder, to measure with",
    "next": "the next steps",
    "closing": "before what is apart goes together",
    "road": "the road test",
    "todo": "what is left, the most dangerous first",
    "record": "the hand-over record",
    "cost": "time and money",
}


def sheet_of(name: str, state: State, answer: Answer, date: str, photos: Photos = no_photos) -> Sheet:
    """One of :data:`SHEETS`, by name; ``photos`` hands out those that are printed.

    Raises
    ------
    Refused
        There is no such sheet; those there are, are named.
    """
    match name:
        case "buy":
            return buying_sheet(state, answer, date)
        case "arrival":
            return arrival_sheet(state, date)
        case "row":
            return row_sheet(state, date)
        case "next":
            return next_sheet(state, answer, date)
        case "closing":
            return closing_sheet(state, date)
        case "road":
            return road_sheet(state, answer, date)
        case "todo":
            return todo_sheet(state, date)
        case "record":
            return record_sheet(state, answer, date, photos)
        case "cost":
            return cost_sheet(state, answer, date)
    raise Refused(Problem(f"There is no sheet '{name}'.", f"Sheets: {', '.join(SHEETS)}."))
