"""Where the cylinders sit, how they are numbered, in which order they fire.

What the car does not say is assumed from what is usual for its form and count,
and every assumption is listed so that it can be shown and corrected.
Firing orders and numberings offered here are common practice; the car's own
data win.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field

from knowngood.car.car import Car
from knowngood.car.place import ENGINE, ONE_OR_TWO, Place
from knowngood.errors import Problem, Refused

MOST_CYLINDERS = 12
"""No engine read here has more."""

USUAL_FIRING_ORDERS: dict[tuple[str, str, int], tuple[int, ...]] = {
    ("inline", "", 1): (1,),
    ("inline", "", 2): (1, 2),
    ("inline", "", 3): (1, 3, 2),
    ("inline", "", 4): (1, 3, 4, 2),
    ("inline", "", 5): (1, 2, 4, 5, 3),
    ("inline", "", 6): (1, 5, 3, 6, 2, 4),
    ("inline", "", 8): (1, 6, 2, 5, 8, 3, 7, 4),
    ("V", "by bank", 2): (1, 2),
    ("V", "by bank", 4): (1, 3, 4, 2),
    ("V", "by bank", 6): (1, 4, 2, 5, 3, 6),
    ("V", "by bank", 8): (1, 5, 4, 8, 6, 3, 7, 2),
    ("V", "by bank", 10): (1, 6, 5, 10, 2, 7, 3, 8, 4, 9),
    ("V", "by bank", 12): (1, 7, 5, 11, 3, 9, 6, 12, 2, 8, 4, 10),
    ("V", "alternating", 2): (1, 2),
    ("V", "alternating", 6): (1, 2, 3, 4, 5, 6),
    ("V", "alternating", 8): (1, 8, 4, 3, 6, 5, 7, 2),
    ("V", "alternating", 10): (1, 10, 9, 4, 3, 6, 5, 8, 7, 2),
    ("flat", "by bank", 2): (1, 2),
    ("flat", "by bank", 4): (1, 4, 3, 2),
    ("flat", "by bank", 6): (1, 6, 2, 4, 3, 5),
    ("flat", "alternating", 2): (1, 2),
    ("flat", "alternating", 4): (1, 3, 2, 4),
    ("flat", "alternating", 6): (1, 6, 3, 2, 5, 4),
}
"""The usual order by form, numbering (empty inline) and count: common practice, from memory. Others exist; the engine's
own plate or data win."""

ASSUMED_CYLINDERS = 4
LONGEST_NAME = 8
"""Signs of a cylinder's name that are read and shown: an import may hold any, and no number of 5,000 digits is one."""
LEAST_TO_TELL = 6
"""Cylinders from which an order goes from bank to bank; four of them may fire two and two."""


@dataclass(frozen=True)
class Layout:
    """The engine's plan.

    Parameters
    ----------
    cylinders : int
        How many.
    form : str
        ``inline``, ``V`` or ``flat``.
    banks : tuple of tuple of int
        Cylinder numbers per bank, counted from the pulley end; bank 1 holds cylinder 1.
    sides : tuple of str
        ``left``/``right`` per bank (``""`` inline), seen from the flywheel end.
    firing_order : tuple of int
        Empty when no usual order is known and none was given.
    assumed : tuple of str
        What was not said and is taken as usual.
    """

    cylinders: int
    form: str
    banks: tuple[tuple[int, ...], ...]
    sides: tuple[str, ...]
    firing_order: tuple[int, ...]
    assumed: tuple[str, ...] = field(default=())

    def numbers(self) -> range:
        """Cylinder numbers 1..n."""
        return range(1, self.cylinders + 1)

    def bank_of(self, number: int) -> int:
        """1-based bank of a cylinder number; `Refused` where there is no such cylinder."""
        for index, bank in enumerate(self.banks, start=1):
            if number in bank:
                return index
        raise Refused(
            Problem(
                f"There is no cylinder {number}: the engine has {self.cylinders}.", "Check the number or the count."
            )
        )

    def pairs(self) -> tuple[tuple[int, int], ...]:
        """Neighbours inside a bank, in order from the pulley end."""
        return tuple(pair for bank in self.banks for pair in itertools.pairwise(bank))

    def companions(self) -> tuple[tuple[int, int], ...]:
        """Cylinders 360 degrees of crank apart, which share a coil where one coil serves two; empty for odd counts."""
        half, odd = divmod(len(self.firing_order), 2)
        if odd or not half:
            return ()
        first, second = self.firing_order[:half], self.firing_order[half:]
        return tuple(sorted((min(a, b), max(a, b)) for a, b in zip(first, second, strict=True)))

    def leads(self) -> tuple[tuple[int, int], ...]:
        """Cylinders whose leads lie side by side, on the engine or in the cap, where they follow the firing order."""
        order = self.firing_order
        in_cap = zip(order, order[1:] + order[:1], strict=True) if len(order) > 1 else ()
        return tuple(sorted({(min(a, b), max(a, b)) for a, b in (*self.pairs(), *in_cap)}))

    def places(self, kind: str) -> tuple[Place, ...]:
        """Every place of a kind on this engine; of a kind that no plan of an engine tells of, the engine itself."""
        match kind:
            case "cylinder":
                return tuple(Place(kind, str(number)) for number in self.numbers())
            case "bank":
                return tuple(Place(kind, str(index + 1)) for index in range(len(self.banks)))
            case "pair":
                return tuple(Place(kind, f"{a}-{b}") for a, b in self.pairs())
            case "companions":
                return tuple(Place(kind, f"{a}-{b}") for a, b in self.companions())
            case "leads":
                return tuple(Place(kind, f"{a}-{b}") for a, b in self.leads())
        return (ENGINE,)

    def cylinders_at(self, place: Place) -> frozenset[int]:
        """Numbers of a cylinder, of two of them or of a bank, named by present numbers; none of any other place."""
        if place.kind == "bank":
            return frozenset(self.banks[int(place.name) - 1])
        return frozenset(map(int, place.name.split("-"))) if place.kind in ONE_OR_TWO else frozenset()

    def position(self, number: int) -> Place:
        """Where a cylinder number sits: ``L2`` is left bank, second from the pulley end (``I`` for inline)."""
        bank = self.bank_of(number)
        letter = {"left": "L", "right": "R"}.get(self.sides[bank - 1], "I")
        return Place("cylinder", f"{letter}{self.banks[bank - 1].index(number) + 1}")

    def number(self, place: Place) -> int:
        """The present number of a cylinder named by number or by position; `Refused` where there is none.

        Only the name is read, so that what a pair or a bank is called never gets here: ask for its kind first.
        """
        if place.by_position():
            for number in self.numbers():
                if self.position(number).name == place.name:
                    return number
            raise Refused(
                Problem(
                    f"There is no cylinder at {place.name}: the engine has {self.cylinders} "
                    f"in {len(self.banks)} bank(s).",
                    "Check the layout of the car.",
                )
            )
        if not place.name.isdecimal() or len(place.name) > LONGEST_NAME:
            shown = place.name if len(place.name) <= LONGEST_NAME else f"{place.name[:LONGEST_NAME]}..."
            fact = f"There is no cylinder {shown!r}: the engine has {self.cylinders}."
            raise Refused(Problem(fact, "Name it by its number, or by where it sits, such as L2."))
        number = int(place.name)
        self.bank_of(number)
        return number

    def by_number(self, place: Place) -> Place | None:
        """The place, a cylinder by its present number; ``None`` for a cylinder that this engine does not have."""
        if place.kind != "cylinder":
            return place
        try:
            return Place("cylinder", str(self.number(place)))
        except Refused:
            return None

    def bank_place(self, name: str) -> Place:
        """``left``, ``right``, ``1`` or ``2`` as the bank place this program computes with; `Refused` for others."""
        if name in self.sides and name:
            return Place("bank", str(self.sides.index(name) + 1))
        if name.isdecimal() and len(name) < 3 and 1 <= int(name) <= len(self.banks):
            return Place("bank", name)
        raise Refused(
            Problem(f"There is no bank {name!r}: the engine has {len(self.banks)}.", "Check the layout of the car.")
        )


def layout_of(car: Car) -> Layout:
    """The plan of a car's engine, with what had to be assumed.

    Raises
    ------
    Refused
        Cylinder count outside 1..12, or a firing order that is not a permutation.
    """
    assumed: list[str] = []
    count = _count(car, assumed)
    form = _form(car, count, assumed)
    if car.firing_order:
        _check_firing_order(car.firing_order, count)
    two_banks = form != "inline" and count > 1
    numbering = _numbering(car, form, count, assumed) if two_banks else ""
    banks = _banks(count, numbering)
    sides = _sides(car, assumed) if two_banks else ("",)
    order = car.firing_order or USUAL_FIRING_ORDERS.get((form, numbering, count), ())
    if order and not car.firing_order and count > 2:
        assumed.append(f"firing order {'-'.join(map(str, order))}")
    return Layout(count, form, banks, sides, order, tuple(assumed))


def _count(car: Car, assumed: list[str]) -> int:
    count = car.cylinders
    if count is None:
        count = ASSUMED_CYLINDERS
        assumed.append(f"{count} cylinders (not said)")
    elif car.cylinders_doubtful:
        assumed.append(f"{count} cylinders (from a row of readings)")
    if not 1 <= count <= MOST_CYLINDERS:
        raise Refused(Problem(f"{count} cylinders is outside 1 to {MOST_CYLINDERS}.", "Type the count again."))
    return count


def _form(car: Car, count: int, assumed: list[str]) -> str:
    if car.form:
        return car.form
    form = "inline" if count <= 5 else "V"
    if count > 1:
        assumed.append(f"{form} engine (not said)")
    return form


def _numbering(car: Car, form: str, count: int, assumed: list[str]) -> str:
    if car.numbering:
        return car.numbering
    usual = "alternating" if form == "flat" or (form == "V" and count in (2, 8)) else "by bank"
    numbering = _numbering_of(car.firing_order, usual) if count >= LEAST_TO_TELL else usual
    assumed.append(f"cylinders numbered {numbering}")
    return numbering


def _numbering_of(order: Sequence[int], usual: str) -> str:
    """The numbering under which an engine with this firing order goes from bank to bank most often."""

    def changes(numbering: str) -> int:
        first = _banks(len(order), numbering)[0]
        return sum((a in first) != (b in first) for a, b in zip(order, [*order[1:], *order[:1]], strict=True))

    return max(("by bank", "alternating"), key=lambda numbering: (changes(numbering), numbering == usual))


def _banks(count: int, numbering: str) -> tuple[tuple[int, ...], ...]:
    if not numbering:
        return (tuple(range(1, count + 1)),)
    if numbering == "alternating":
        return tuple(range(1, count + 1, 2)), tuple(range(2, count + 1, 2))
    half = (count + 1) // 2
    return tuple(range(1, half + 1)), tuple(range(half + 1, count + 1))


def _sides(car: Car, assumed: list[str]) -> tuple[str, str]:
    first = car.first_bank
    if not first:
        first = "left"
        assumed.append("cylinder 1 in the left bank")
    return first, "right" if first == "left" else "left"


def _check_firing_order(order: tuple[int, ...], cylinders: int) -> None:
    if sorted(order) != list(range(1, cylinders + 1)):
        raise Refused(
            Problem(
                f"Firing order {'-'.join(map(str, order))} does not name each of the {cylinders} cylinders once.",
                "Type it again, or leave it out.",
            )
        )
