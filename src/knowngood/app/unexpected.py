"""What should not have happened, written down where it can be sent on from: a log of its own for each."""

from __future__ import annotations

import tempfile
import traceback


def log_of(error: BaseException) -> str:
    """Write an error and where it came from into a new log in the folder for temporary files; the path of that."""
    with tempfile.NamedTemporaryFile("w", prefix="knowngood-", suffix=".log", delete=False) as log:
        traceback.print_exception(error, file=log)
    return log.name
