"""Work without a halt for what is free again."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def unswept() -> Iterator[None]:
    """Until the end, no look through all that stands for circles nothing points at any more.

    What somebody waits for makes none worth a look: what it drops is free at once without one. The look itself, at
    moments of its own, took a tenth and more of an answer; it is made up for afterwards.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
