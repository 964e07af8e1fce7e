"""Access as one engine has it: the minutes and the order of its layout laid over the ordinary ones."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from knowngood.car import Car
from knowngood.library.fitted_on import is_told
from knowngood.library.records import AccessStep, EngineLayout, Library


def layout_of(library: Library, car: Car) -> EngineLayout | None:
    """The layout that says most of what was told of the car; ``None`` when none fits all it needs.

    What was not told fits nothing: an unknown engine keeps the ordinary minutes. Of two that say as much the later
    counts: a shop's own stands behind ours.
    """
    fitting = [layout for layout in library.layouts.values() if is_told(layout.needs, car)]
    return max(reversed(fitting), key=lambda layout: len(layout.needs), default=None)


def access_on(library: Library, car: Car) -> dict[str, AccessStep]:
    """Every access step with the minutes, ranges and order it has on this car's layout."""
    layout = layout_of(library, car)
    return laid_over(library.access, layout) if layout is not None else dict(library.access)


def laid_over(access: Mapping[str, AccessStep], layout: EngineLayout) -> dict[str, AccessStep]:
    """The steps with what a layout says of some of them; steps that are not known are passed over."""
    result = dict(access)
    for name, on in layout.steps.items():
        if name in access:
            said = {key: value for key in on.__struct_fields__ if (value := getattr(on, key)) not in (None, ())}
            if on.after is not None:
                said["after"] = on.after
            result[name] = msgspec.structs.replace(access[name], **said)
    return result
