"""Files named on the command line: read and written whole, what the disk will not have said in words."""

from __future__ import annotations

from pathlib import Path

from knowngood.errors import Problem, Refused


def read_file(file: Path) -> bytes:
    """All of a file.

    Raises
    ------
    Refused
        There is none of that name, or it cannot be read.
    """
    try:
        return file.read_bytes()
    except (FileNotFoundError, ValueError):  # ValueError: a name that no disk can hold
        raise Refused(Problem(f"There is no file {file}.", "Check the name.")) from None
    except OSError as refused:
        why = f"{file} cannot be read: {refused.strerror}."
        raise Refused(Problem(why, "Name a file that you may read.")) from None


def write_file(file: Path, content: bytes) -> None:
    """Write a file whole.

    Raises
    ------
    Refused
        The disk did not take it.
    """
    try:
        file.write_bytes(content)
    except OSError as refused:
        raise Refused(Problem(f"{file} cannot be written: {refused.strerror}.", "Name another file.")) from None
