"""Tools as the bay has them: what was said of each, else what a common kit holds."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.app.state import State

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


def tools_of(state: State) -> list[ToolView]:
    """Every tool: those lent out or missing first, then those on hand, each by name."""
    views = []
    for tool in state.library.tools.values():
        said = state.tools.get(tool.id)
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
