"""How soon a typed line is read."""

from __future__ import annotations

import statistics
from functools import partial
from pathlib import Path

import msgspec

from benchmarks.timing import times_s
from knowngood.car import Car
from knowngood.library.records import Library
from knowngood.lines import read_line
from knowngood.proving.figures import Figure

LINES = Path(__file__).parent.parent / "tests" / "cases" / "lines_typed.toml"
FOUR = Car(cylinders=4, ignition="coil on plug", injection="port", air_meter="flow meter")


def line_figures(library: Library) -> dict[str, Figure]:
    """Median, least and most over the lines that are kept as cases, each the median of five [ms]."""
    texts = [str(text) for _, text, _ in msgspec.toml.decode(LINES.read_bytes())["heard"]]
    texts.append("xqzzrtw bvvnmkl pqrstuvw ghjkllm wrtzpsd unplugd vacum")  # nothing in it is a word of ours
    each = [1000.0 * statistics.median(times_s(partial(read_line, text, FOUR, library))) for text in texts]
    value, low, high = (round(ms, 2) for ms in (statistics.median(each), min(each), max(each)))
    return {"lines.read_ms": Figure(value, len(each), low, high)}
