"""Every computation of sealing, ignition, electrics and sensors names its source and loads nothing heavy."""

import importlib
import inspect
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import pytest

TOPICS = [
    "leakdown", "sealing_air", "sealing_flow", "sealing_hole", "sealing_path", "compression",
    "compression_expected", "compression_puffs", "ignition_breakdown", "plug_gap", "lead", "coil", "meter",
    "table", "joint", "joint_limits", "wire", "battery", "charging", "draw", "starter", "thermistor", "divider",
    "oxygen", "sensors_coolant", "sensors_open_short", "sensors_rail", "sensors_wheel",
]  # fmt: skip


def functions() -> list[Any]:
    """Every public function of the topics, with its name as id."""
    found = []
    for topic in TOPICS:
        module = importlib.import_module(f"knowngood.measure.{topic}")
        for name, thing in vars(module).items():
            if inspect.isfunction(thing) and thing.__module__ == module.__name__ and not name.startswith("_"):
                found.append(pytest.param(thing, id=f"{topic}.{name}"))
    return found


@pytest.mark.parametrize("function", functions())
def test_function_names_its_source(function: Callable[..., Any]) -> None:
    """Where its figures and formula come from."""
    assert "References\n----------" in (inspect.getdoc(function) or "")


def test_topics_load_nothing_heavy() -> None:
    """Bare arithmetic: no array or science library is loaded before it is needed."""
    code = f"import sys; from knowngood.measure import {', '.join(TOPICS)}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"numpy", "scipy"} & set(loaded)
