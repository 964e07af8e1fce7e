"""The card of a job: names, plates, numbers of people. It stands outside the journal, so that it can be erased."""

from __future__ import annotations

from sqlalchemy import delete, insert, select

from knowngood.errors import Problem, Refused
from knowngood.jobs.schema import CARD, ENTRY
from knowngood.jobs.store import Store


def read_card(store: Store, job: str) -> dict[str, str]:
    """What the card of a job says, by field; empty when there is none."""
    query = select(CARD.c.field, CARD.c.text).where(CARD.c.job == job).order_by(CARD.c.field)
    with store.reading() as connection:
        return {row.field: row.text for row in connection.execute(query)}


def write_card(store: Store, job: str, field: str, text: str) -> None:
    """Write one field of a card; what stood there before is erased, an empty text erases the field.

    Parameters
    ----------
    store : Store
    job : str
        Code of a job that is there.
    field, text : str
        ``owner``, ``plate``, ``telephone``, or whatever the mechanic calls it, and what is kept under it.

    Raises
    ------
    Refused
        There is no such job, the words cannot be written down, or as in :func:`erase_card`.
    """
    try:
        f"{field}{text}".encode()
    except UnicodeEncodeError:
        raise Refused(Problem(f"The field {field!a} cannot be written down.", "Type it again.")) from None
    with store.writing() as connection:
        if connection.execute(select(ENTRY.c.id).where(ENTRY.c.job == job).limit(1)).first() is None:
            raise Refused(Problem(f"There is no job '{job}'.", "A card belongs to a job; begin the job first."))
        had = connection.execute(delete(CARD).where(CARD.c.job == job, CARD.c.field == field)).rowcount
        if text:
            connection.execute(insert(CARD).values(job=job, field=field, text=text))
    if had:
        _leave_no_bytes(store)


def erase_card(store: Store, job: str) -> None:
    """Erase the card of a job, in the file and in its log: its bytes are overwritten.

    Erasing a card that is not there does it again for the log. Copies made earlier keep the card:
    :func:`knowngood.jobs.copies.erase_card_in_copies`. What a disk keeps of overwritten blocks is out of reach here.

    Raises
    ------
    Refused
        Another program was reading, so the log could not be cut: the card is gone, its old bytes may not be.
    """
    with store.writing() as connection:
        connection.execute(delete(CARD).where(CARD.c.job == job))
    _leave_no_bytes(store)


def _leave_no_bytes(store: Store) -> None:
    if not store.cut_log():
        fact = (
            f"The old words are off the card, but another program holds {store.file.name}-wal, where they may still be."
        )
        raise Refused(Problem(fact, "Close the other program, then erase the card again."))
