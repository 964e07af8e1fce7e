"""Figures kept in the docs, with date and commit, and their pictures."""

from __future__ import annotations

import datetime
import json
import os
from pathlib import Path
from typing import Any

from knowngood.proving.figures import commit

FOLDER = Path("docs/figures")
OTHERWISE = Path("build")


def command_line() -> str:
    """How this run was asked for."""
    given = [f"{name}={os.environ[name]}" for name in ("FULL", "ONLY", "WAYS", "CARS", "FIRST") if os.environ.get(name)]
    return " ".join(["make prove", *given])


def keep(name: str, content: dict[str, Any], *, full: bool) -> Path:
    """Write a table as JSON: a full run's into the docs, a short run's beside the figures; its picture with it."""
    folder = FOLDER if full else OTHERWISE
    folder.mkdir(parents=True, exist_ok=True)
    content = {
        "command": command_line(),
        "date": datetime.date.today().isoformat(),
        "commit": commit(),
        **content,
    }
    file = folder / f"{name}.json"
    file.write_text(json.dumps(content, indent=1) + "\n", encoding="utf-8")
    PICTURES[name](content, folder / f"{name}.svg")
    return file


def picture_of_chances(content: dict[str, Any], file: Path) -> None:
    """Chance said against share there, one line a world."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(6.0, 5.0))
    axes = figure.add_subplot()
    axes.plot([0.005, 1.0], [0.005, 1.0], color="0.7", linewidth=1.0)
    for world, bins in content["bins"].items():
        axes.plot(bins["said"], bins["there"], marker="o", markersize=3.0, linewidth=1.0, label=world)
    axes.set(xscale="log", yscale="log", xlabel="chance said (mean of a tenth of the suspects)", ylabel="share there")
    axes.legend(frameon=False)
    figure.savefig(file, metadata={"Date": None})


def picture_of_ways(content: dict[str, Any], file: Path) -> None:
    """What each way of working costs: mean, median and 90 % point."""
    from matplotlib.figure import Figure

    ways = content["ways"]
    figure = Figure(figsize=(6.5, 0.5 * len(ways) + 1.2), layout="constrained")
    axes = figure.add_subplot()
    for mark, name in (("o", "mean"), ("|", "median"), (">", "p90")):
        axes.plot([row[name] for row in ways.values()], range(len(ways)), mark, color="black", label=name)
    axes.set(xscale="log", xlabel="money for a car")
    axes.set_yticks(range(len(ways)), [name.replace("_", " ") for name in ways])
    axes.invert_yaxis()
    axes.legend(frameon=False)
    figure.savefig(file, metadata={"Date": None})


PICTURES = {"chances": picture_of_chances, "ways": picture_of_ways}
