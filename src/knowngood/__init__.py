"""knowngood: the bench companion that brings a neglected car back, one proven part at a time.

What a program of one's own needs stands here, each name loaded when it is first asked for
(docs/reference/python.md). What is worked out from measured numbers stands in ``knowngood.measure``, a topic a module.
"""

import importlib
import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from knowngood.app.answer import Answer
    from knowngood.app.weigh import weigh_notes
    from knowngood.app.workshop import Workshop
    from knowngood.car import Car
    from knowngood.errors import KnownGoodError, NotMeasurable, Refused
    from knowngood.library.load import load
    from knowngood.library.records import Library
    from knowngood.lines import read_line

__version__ = "0.1.0"
__all__ = [
    "Answer",
    "Car",
    "KnownGoodError",
    "Library",
    "NotMeasurable",
    "Refused",
    "Workshop",
    "load",
    "read_line",
    "weigh_notes",
]

# Before numpy is loaded: our matrices are small, and threads that wait for each other take longer than one alone.
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

_HOME = {
    "Answer": "app.answer",
    "Car": "car",
    "KnownGoodError": "errors",
    "Library": "library.records",
    "NotMeasurable": "errors",
    "Refused": "errors",
    "Workshop": "app.workshop",
    "load": "library.load",
    "read_line": "lines",
    "weigh_notes": "app.weigh",
}


def __getattr__(name: str) -> object:
    """A name of the face, from the module it lives in, so that a door pays only for what it opens."""
    if name not in _HOME:
        raise AttributeError(f"There is no {name!r} in knowngood. Its names: {', '.join(__all__)}.")
    return getattr(importlib.import_module(f"knowngood.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return [*__all__, "__version__"]
