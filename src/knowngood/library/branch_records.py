"""Records of the supply: branches (fuse, relay, splice, ground point) and what hangs on them."""

from __future__ import annotations

from knowngood.library.record import Record

KINDS_OF_BRANCH = ("fuse", "relay", "splice", "ground")
BRANCH_LEVELS = ("good", "poor", "none")


class Consumer(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What hangs on a branch: which ladders suffer, and how, where its feed or ground is poor or not there.

    ``lost`` maps a ladder's id to a table from ``poor`` and ``none`` to levels of that ladder.
    """

    id: str
    name: str
    lost: dict[str, dict[str, str]]
    says: tuple[str, ...] = ()


class Branch(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A fuse, relay, splice or ground point: a place of its own, between the battery and what hangs on it.

    It becomes two ladders, each ``good``, ``poor`` or ``none``: ``id``, how it is itself, and ``id`` with
    ``_carries``, what is left behind it and every branch it comes ``after``. Its consumers hang on the second. A
    branch of a ``bank`` is one on each bank.
    """

    id: str
    name: str
    kind: str
    source: str
    place: str = "engine"
    part: str = ""
    after: tuple[str, ...] = ()
    feeds: tuple[str, ...] = ()
    needs: dict[str, tuple[str, ...]] = {}
    says: tuple[str, ...] = ()

    @property
    def carries(self) -> str:
        """Id of the ladder of what is left behind it."""
        return f"{self.id}_carries"
