"""The branches of one car, as told or as its diagram has them, laid over the usual table."""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec.structs import replace

from knowngood.car import Car
from knowngood.library.branch_records import KINDS_OF_BRANCH, Branch
from knowngood.library.branching import with_branches
from knowngood.library.records import Library

_KEPT: dict[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]], tuple[Library, Library]] = {}
"""Of a library by its hash and what was told: the library, and the one with it."""
_MOST_KEPT = 8


def library_of(library: Library, car: Car) -> Library:
    """The library with the car's own branches in it; the same one where nothing was told of them.

    A branch that was told takes the place of the usual one of its kind that feeds the same: "fuse 5 feeds the pump" is
    the fuse of the fuel pump, with all that is known of it, under its number. What no usual one of its kind feeds gets
    a branch of its own, beside what it hangs on anyhow.

    Parameters
    ----------
    library : Library
    car : Car
        ``branches``: name -> ids of consumers.
    """
    told = tuple(sorted((name, tuple(feeds)) for name, feeds in car.branches.items()))
    if not told:
        return library
    key = (library.hash, told)
    if key not in _KEPT or _KEPT[key][0] is not library:
        while len(_KEPT) >= _MOST_KEPT:
            _KEPT.pop(next(iter(_KEPT)))
        own = with_branches(library, _laid_over(library, dict(told)))
        _KEPT[key] = library, _named(own, dict(told))
    return _KEPT[key][1]


def _named(library: Library, told: Mapping[str, tuple[str, ...]]) -> Library:
    """The same, the faults that are written down of a usual branch known by the number the car gives it, too."""
    faults = dict(library.faults)
    for branch in library.branches.values():
        for fault in library.faults.values():
            dead = any(act.on == branch.id and act.level == "none" and not (act.when or act.only) for act in fault.acts)
            if dead and fault.part == branch.part and branch.says and branch.says[0] in told:
                faults[fault.id] = replace(fault, words=tuple(dict.fromkeys((branch.says[0], *fault.words))))
    return replace(library, faults=faults)


def kind_of(name: str) -> str:
    """The kind of a branch by its name, which ends with it but for a number; empty where it is none.

    >>> kind_of("fuse box relay 2"), kind_of("relay fuse 3")
    ('relay', 'fuse')
    """
    return next((word for word in reversed(name.split()) if word in KINDS_OF_BRANCH), "")


def _laid_over(library: Library, told: Mapping[str, tuple[str, ...]]) -> list[Branch]:
    """Branches that are new or changed: those told, and the usual ones that lost something to them."""
    changed: dict[str, Branch] = {}
    taken: set[str] = set()
    for name, feeds in told.items():
        kind, known = kind_of(name), tuple(feed for feed in feeds if feed in library.consumers)
        alike = [one for one in library.branches.values() if one.kind == kind and set(one.feeds) & set(known)]
        called = [one for one in library.branches.values() if name in (one.name, *one.says)]
        usual = next((one for one in [*called, *alike] if one.id not in taken and one.place == "engine"), None)
        for one in alike:
            left = changed.get(one.id, one)
            changed[one.id] = replace(left, feeds=tuple(feed for feed in left.feeds if feed not in known))
        if usual is not None:
            taken.add(usual.id)
            named, says = f"{name} ({usual.name})", (name, *usual.says)
            if called:
                named, says = usual.name, usual.says
            changed[usual.id] = replace(usual, name=named, feeds=known, says=says)
        else:
            own = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")
            own += "_of_this_car" * (own in library.branches)
            changed[own] = Branch(id=own, name=name, kind=kind, source="common practice", feeds=known, says=(name,))
    return list(changed.values())
