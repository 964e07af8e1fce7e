"""What a door may load before it knows what was asked: a slow start is felt on every line typed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src" / "knowngood"
HEAVY = {"scipy", "numpy", "sqlalchemy", "starlette", "uvicorn", "jinja2"}
# A door is held to it from the day it is there.
FACES = ["knowngood", "knowngood.errors", *(["knowngood.cli.main"] if (SOURCE / "cli" / "main.py").exists() else [])]


@pytest.mark.parametrize("face", FACES)
def test_face_loads_nothing_heavy(face: str) -> None:
    """Heavy libraries are imported by the verb that needs them."""
    ask = f"import sys, {face}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True).stdout.split()
    assert sorted(HEAVY & set(loaded)) == []


def test_package_has_its_typing_mark() -> None:
    """Whoever imports the package gets its types."""
    assert (SOURCE / "py.typed").exists()
