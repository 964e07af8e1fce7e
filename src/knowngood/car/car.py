"""What is known of the vehicle. Every field may be unknown (``None`` or empty)."""

from __future__ import annotations

import msgspec


class Window(msgspec.Struct, frozen=True):
    """A specification value of this car, in the base unit of its kind of reading, with where it comes from."""

    low: float | None
    high: float | None
    source: str


class Tightening(msgspec.Struct, frozen=True, kw_only=True):
    """How tight the car's data want a fastener: newton metres, then by angle, with where it comes from."""

    low_nm: float
    high_nm: float
    then_deg: tuple[float, ...] = ()
    source: str = ""


class Car(msgspec.Struct, frozen=True, kw_only=True):
    """The vehicle as far as it is known.

    Parameters
    ----------
    nickname : str
        What the mechanic calls it. Never a brand: it is his word.
    drive : str
        ``petrol``, ``hybrid``, ``gas conversion``, ``carburettor`` (petrol without injection) or empty (not known: one
        look is asked for before the battery).
    cylinders : int or None
        1 to 12.
    cylinders_doubtful : bool
        The count was only inferred from a row of numbers.
    form : str
        ``inline``, ``V``, ``flat`` or empty.
    firing_order : tuple of int
        A permutation of 1..cylinders, or empty.
    numbering : str
        ``by bank`` (1-2-3 / 4-5-6), ``alternating`` (1-3-5 / 2-4-6) or empty.
    first_bank : str
        ``left`` or ``right``: the side that holds cylinder 1, seen standing at the flywheel end.
    ignition : str
        ``coil on plug``, ``coil and lead``, ``pair coil``, ``distributor`` or empty.
    injection : str
        ``port``, ``single point``, ``direct``, ``other`` or empty.
    air_meter : str
        ``flow meter``, ``manifold pressure``, ``both`` or empty.
    turbo : bool or None
    systems : tuple of str
        Further systems said to be fitted (``automatic``, ``secondary air``, ...).
    mileage_km, displacement_l, standing_years : float or None
        Driven, swept by all cylinders together, and stood before this job.
    year : int or None
        Made or first registered; the middle where a span was told.
    animals, flood : bool or None
        Signs of animals seen in or on the car; whether it stood in water.
    last_done : tuple of str
        What was done last and by whom, as told. ``not known`` is an answer.
    new_parts : tuple of str
        Which parts are new, as told.
    worth_done, worth_now, price_paid, price_asked : float or None
        Money, in the shop's own currency: what it will be worth when done, is worth as it stands, did cost, is to cost.
    neutral_trim : float or None
        What the computer's fuel trims show where nothing is corrected: 0 or 100 [%].
    windows : dict
        Kind of reading -> :class:`Window`.
    branches : dict
        What the car's diagram hangs on which branch: its name (``fuse 5``) -> what it feeds, by id.
    tightening : dict
        What is tightened, in the words it was told with -> :class:`Tightening`.
    """

    nickname: str = ""
    drive: str = ""
    cylinders: int | None = None
    cylinders_doubtful: bool = False
    form: str = ""
    firing_order: tuple[int, ...] = ()
    numbering: str = ""
    first_bank: str = ""
    ignition: str = ""
    injection: str = ""
    air_meter: str = ""
    turbo: bool | None = None
    systems: tuple[str, ...] = ()
    mileage_km: float | None = None
    displacement_l: float | None = None
    standing_years: float | None = None
    year: int | None = None
    animals: bool | None = None
    flood: bool | None = None
    last_done: tuple[str, ...] = ()
    new_parts: tuple[str, ...] = ()
    worth_done: float | None = None
    worth_now: float | None = None
    price_paid: float | None = None
    price_asked: float | None = None
    neutral_trim: float | None = None
    windows: dict[str, Window] = {}
    branches: dict[str, tuple[str, ...]] = {}
    tightening: dict[str, Tightening] = {}
