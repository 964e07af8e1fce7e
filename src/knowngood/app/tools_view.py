"""Tools as the bay has them: what was said of each, else what a common kit holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.evidence import Entry, Tool
from knowngood.library.records import Library

ON_HAND = "on hand"


@dataclass(frozen=True)
class ToolView:
    """One tool: how it stands, whether that was said or is taken from the common kit, and when it is back."""

    id: str
    name: str
    state: str
    said: bool
    back: str = ""

    @property
    def at_hand(self) -> bool:
        """Whether it can be used now."""
        return self.state == ON_HAND


def tools_of(library: Library, entries: Sequence[Entry]) -> list[ToolView]:
    """Every tool by what stands: those lent out or missing first, then those on hand, each by name."""
    told = {entry.body.name: entry.body for entry in entries if isinstance(entry.body, Tool)}
    views = []
    for tool in library.tools.values():
        said = told.get(tool.id)
        at_hand = ON_HAND if tool.common else "missing"
        views.append(
            ToolView(
                tool.id,
                tool.name,
                said.state if said is not None else at_hand,
                said is not None,
                said.back if said is not None else "",
            )
        )
    order = {"lent": 0, "missing": 1, ON_HAND: 2}
    return sorted(views, key=lambda view: (order[view.state], not view.said, view.name))
