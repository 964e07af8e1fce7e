"""What a screen is sent: control characters in a line, typed or taken in from elsewhere, are shown, not obeyed.

A journal can hold signs that would clear the screen, colour it, or write from right to left. On a screen they stand as
pictures of themselves, and so they do in all that is laid out in lines for one. An export or JSON goes into a file or a
pipe as it is, so that it stays what was typed.
"""

from __future__ import annotations

import sys
from typing import Any, TextIO

KEPT = "\n\r\t"  # what the program itself lays out its lines with
TURNING = (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))
"""Marks that turn the direction of writing (the Unicode standard, annex 9, "Explicit directional formatting")."""
SHOWN = {
    **{code: chr(0x2400 + code) for code in range(0x20) if chr(code) not in KEPT},  # Unicode's "Control Pictures"
    0x7F: "\N{SYMBOL FOR DELETE}",
    **{code: f"<U+{code:04X}>" for code in (*range(0x80, 0xA0), *TURNING)},
}


def shown(text: str) -> str:
    """A text with pictures in place of the signs a screen would obey.

    Examples
    --------
    >>> shown("hose\\x1b[2J off")
    'hose␛[2J off'
    """
    return text.translate(SHOWN)


class Screen:
    """A stream that writes text as ``shown``; all else is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write a text."""
        return self._stream.write(shown(text))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def obey_no_signs() -> None:
    """Put output and errors behind a ``Screen`` where they are one."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream.isatty() and not isinstance(stream, Screen):
            setattr(sys, name, Screen(stream))
