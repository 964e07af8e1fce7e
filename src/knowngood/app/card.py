"""Names, plates and numbers of people: kept beside the journal, and erased for good when asked."""

from __future__ import annotations

from knowngood.app.workshop import Workshop
from knowngood.jobs.card import erase_card, read_card, write_card
from knowngood.jobs.copies import erase_card_in_copies


def card_of(workshop: Workshop, car: str) -> dict[str, str]:
    """What the card of a car says, by field; empty where nothing was written.

    Raises
    ------
    Refused
        There is no such car.
    """
    return read_card(workshop.store, workshop.job(car).code)


def put_on_card(workshop: Workshop, car: str, field: str, text: str) -> None:
    """Write one field of the card of a car; an empty text erases it.

    Raises
    ------
    Refused
        There is no such car, or as :func:`knowngood.jobs.card.write_card` says.
    """
    write_card(workshop.store, workshop.job(car).code, field, text)


def erase_everywhere(workshop: Workshop, car: str) -> int:
    """Erase the card of a car here and in the daily copies; how many copies held it.

    Raises
    ------
    Refused, StoreDamaged
        There is no such car, or the store or a copy cannot be written; what came before is erased.
    """
    code = workshop.job(car).code
    erase_card(workshop.store, code)
    return len(erase_card_in_copies(workshop.folder / "copies", code))
