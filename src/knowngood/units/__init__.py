"""Kinds of measurement, numbers as mechanics write them, units at the doors.

Inside the program a value is a bare float in the base unit of its kind, with the unit in its name
(``pressure_kpa``). Only the doors read and show a mechanic's units, through this package.

Kinds
-----
``kinds()`` is every kind by name, read once from ``kinds.toml``; ``kind_named("compression")`` one of them.
A kind has ``base``, ``units``, ``usual`` (base units; outside is kept and questioned) and ``family`` (the kind it
takes its units from: ``compression`` is of the family ``pressure``). ``kind.spelled("Kohm")`` gives the units a
spelling may mean, empty when it is none: use it to see where a number ends and a unit begins.

Numbers
-------
``parse_number(text) -> Amount`` reads a number alone. ``split_amounts(text)`` reads the number at the start of a
longer text and gives back what is left behind it.

======================================  ==========  ============================================================
typed                                   sense       value, low, high
======================================  ==========  ============================================================
``175``, ``12,4``, ``.039``, ``１７５``     exact       all three the same
``~165``, ``about 75``, ``30 or so``    about       5 % either way, at least half the last digit
``500+``, ``over 16``, ``>5``, ``min``  over        low is the number, high is None
``<5``, ``under 5``, ``max 5``          under       high is the number, low is None
``1.5-2``, ``45 to 50``, ``12.x``       range       value is the middle
``none``, ``nil``, ``zero``, ``dead``   none_seen   0 (a typed ``0`` is exact)
======================================  ==========  ============================================================

``+8`` is a signed number, ``8+`` is "over 8". ``amount.decimals`` and ``amount.step`` tell how finely it was
written. ``-`` between two numbers is a range: split a row of cylinders (``175-175-170-40``) before calling.

Readings
--------
``read_quantity(text, kind, prefer="") -> Quantity``: ``value`` in the base unit, ``amount`` and ``unit`` as typed,
``guessed`` True when the unit was taken from the size of the number, ``others`` the readings that are as lawful
(``candidates`` = this one and the others). ``prefer`` is the unit last used at this place. ``OL``, ``open`` and
``infinite`` on a resistance are "over 1 MΩ". What cannot be read raises ``Refused``, which says why.
``read_row(texts, kind)`` reads a row taken with one meter: one unit for all bare numbers.
``is_usual(quantity)`` is False for a value to be kept and questioned.
``show(quantity, unit="") -> str``: ``175 psi (12.1 bar)``; without ``unit`` it reads back as the same quantity.
``in_unit(quantity, unit)`` is the same reading in another unit.

>>> reading = read_quantity("~5.1k", "lead_resistance")
>>> reading.value, reading.amount.sense, show(reading)
(5100.0, 'about', 'about 5.1 kΩ')
"""

from knowngood.units.amount import NONE_SEEN, Amount, Sense, exactly, parse_number, plain_text, split_amounts
from knowngood.units.kind import Guess, Kind, Unit, kind_named, kinds
from knowngood.units.quantity import Quantity, is_usual, read_quantity, read_row
from knowngood.units.show import in_unit, show

__all__ = [
    "NONE_SEEN",
    "Amount",
    "Guess",
    "Kind",
    "Quantity",
    "Sense",
    "Unit",
    "exactly",
    "in_unit",
    "is_usual",
    "kind_named",
    "kinds",
    "parse_number",
    "plain_text",
    "read_quantity",
    "read_row",
    "show",
    "split_amounts",
]
