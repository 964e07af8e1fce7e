"""Records of the job: its gates, stages and tools, what waits until then, the base service, what work asks for."""

from __future__ import annotations

from knowngood.library.record import Record


class Gate(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What must have been looked at and be good before a step: ids of looks, and what may be done while limited."""

    id: str
    name: str
    looks: tuple[str, ...]
    limited: str = ""
    source: str = "common practice"


class Tool(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A tool: whether a common bay kit holds it, its price to buy, the words it is known by."""

    id: str
    name: str
    common: bool
    price: float
    source: str
    words: tuple[str, ...] = ()


class Breaks(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What may break while something comes off or goes on again: how often, and what it then costs."""

    what: str
    per_1000: float
    minutes: float
    source: str
    money: float = 0.0


class TakenBack(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a shop pays back for a part that was fitted and turned out not to be needed: a share of its price.

    ``minutes`` is the way there. A part without it stays paid for.
    """

    share: float
    minutes: float
    source: str


class Killed(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What kills a part: with ``faults`` the part is dead, and each fault of ``by`` would kill the new one, too."""

    id: str
    faults: tuple[str, ...]
    by: tuple[str, ...]
    why: str
    source: str


class Service(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One item of the base service, and the readings it destroys; the keys are told in ``data/32_service.toml``."""

    id: str
    name: str
    do: str
    parts: tuple[str, ...]
    minutes: float
    source: str
    each: bool = False
    only_named: bool = False
    access: tuple[str, ...] = ()
    months: float = 0.0
    km: float = 0.0
    after_years_stood: float = 0.0
    destroys: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    needs: dict[str, tuple[str, ...]] = {}


class Stage(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A stage of the job, in the order of the files.

    A stage that ends at a ``gate`` stands as the gate does; another has ``looks`` of its own, most important first.
    ``walk_away`` says of a bad look why the car is left where it is.
    """

    id: str
    name: str
    source: str
    gate: str = ""
    looks: tuple[str, ...] = ()
    walk_away: dict[str, str] = {}
    limited: str = ""


class UntilThen(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is not done to the car until one of ``faults`` is put right."""

    id: str
    faults: tuple[str, ...]
    say: str
    source: str


class AfterWork(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What must be cleared, learned or bled after work on some parts before it shows whether it was right."""

    id: str
    parts: tuple[str, ...]
    do: tuple[str, ...]
    settled_by: tuple[str, ...]
    say: str
    source: str
    settled_at: tuple[str, ...] = ()
