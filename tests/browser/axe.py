"""What axe-core calls serious or critical on a page."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

VENDOR = Path(__file__).parent / "vendor" / "axe-core-4.14.1"
GRAVE = ("serious", "critical")


@cache
def _source() -> str:
    return (VENDOR / "axe.min.js").read_text(encoding="utf-8")


def serious(page: Any) -> list[str]:
    """Rule and place of each grave finding."""
    page.evaluate(_source() + "; undefined")
    found = page.evaluate("async () => (await axe.run()).violations")
    return [f"{one['id']}: {node['target']}" for one in found if one["impact"] in GRAVE for node in one["nodes"]]
