"""Names, plates and numbers of people: kept beside the journal, and erased for good when asked."""

from __future__ import annotations

from knowngood.app.workshop import Workshop
from knowngood.errors import Problem, Refused
from knowngood.jobs.card import erase_card, read_card, write_card
from knowngood.jobs.copies import erase_card_in_copies

USUAL = ("owner", "telephone", "plate")
"""Fields that stand ready to be written; any other may be named."""
LONGEST_FIELD, LONGEST_TEXT = 60, 1000  # characters


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
        There is no such car, the field has no name, name or text is too long, or as
        :func:`knowngood.jobs.card.write_card` says.
    """
    if not field:
        raise Refused(Problem("The field has no name.", "Name it: owner, plate, telephone, or any word."))
    for what, said, most in (("name of the field", field, LONGEST_FIELD), ("text", text, LONGEST_TEXT)):
        if len(said) > most:
            raise Refused(Problem(f"The {what} has {len(said)} characters; {most} are the most.", "Shorten it."))
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


def erased_words(copies: int) -> str:
    """What is said of an erased card, by how many copies held it."""
    return f"Erased, here and in {copies} {'daily copy' if copies == 1 else 'daily copies'}."
