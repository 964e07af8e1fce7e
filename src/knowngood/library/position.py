"""In which line of a TOML text each key stands.

The parser of the standard library does not tell. This one reads text that the
former has already accepted, and only when a problem has to be shown.
"""

from __future__ import annotations

import contextlib
import re

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:\s|#[^\n]*)*")
_KEY = re.compile(r"""\s*(?:"((?:[^"\\\n]|\\.)*)"|'([^'\n]*)'|([\w-]+))\s*""")
_STRING = re.compile(r'''"""(?:[^\\]|\\.)*?"""|\'\'\'.*?\'\'\'|"(?:[^"\\\n]|\\.)*"|'[^'\n]*\'''', re.DOTALL)
_SCALAR = re.compile(r"[^\s,\]}#]+")


def positions(text: str) -> dict[Path, int]:
    """Line (from 1) of every table, key and list item: ``("fault", 2, "acts", 0, "on")`` -> 57.

    Stops without complaint where the text uses something this reader does not know; what was found so far is kept.
    """
    reader = _Reader(text)
    with contextlib.suppress(_NotRead):
        reader.document()
    return reader.found


class _NotRead(Exception):
    """The text goes on in a way this reader does not know."""


class _Reader:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.last: dict[Path, int] = {}
        self.found: dict[Path, int] = {}

    def document(self) -> None:
        base: Path = ()
        while self.skip_blank() < len(self.text):
            if self.take("[["):
                base = self.array_header()
            elif self.take("["):
                start = self.line
                base = self.resolve(self.keys())
                self.need("]")
                self.found.setdefault(base, start)
            else:
                self.pair(base)

    def array_header(self) -> Path:
        start = self.line
        parts = self.keys()
        self.need("]]")
        path = (*self.resolve(parts[:-1]), parts[-1])
        self.last[path] = self.last.get(path, -1) + 1
        self.found.setdefault(path, start)
        path = (*path, self.last[path])
        self.found[path] = start
        return path

    def resolve(self, parts: list[str]) -> Path:
        """A header's keys with the index of the table each array of tables is at now."""
        path: Path = ()
        for part in parts:
            path = (*path, part)
            self.found.setdefault(path, self.line)
            if path in self.last:
                path = (*path, self.last[path])
        return path

    def pair(self, base: Path) -> None:
        start = self.line
        path = base
        for part in self.keys():
            path = (*path, part)
            self.found.setdefault(path, start)
        self.need("=")
        self.value(path)

    def keys(self) -> list[str]:
        parts: list[str] = []
        while True:
            match = self.match(_KEY)
            parts.append(next(group for group in match.groups() if group is not None))
            if not self.take("."):
                return parts

    def value(self, path: Path) -> None:
        self.skip_blank()
        if self.take("["):
            index = 0
            while self.skip_blank() < len(self.text) and not self.take("]"):
                self.found[(*path, index)] = self.line
                self.value((*path, index))
                index += 1
                self.skip_blank()
                self.take(",")
        elif self.take("{"):
            while self.skip_blank() < len(self.text) and not self.take("}"):
                self.pair(path)
                self.skip_blank()
                self.take(",")
        elif self.text[self.at : self.at + 1] in ('"', "'"):
            self.match(_STRING)
        else:
            self.match(_SCALAR)

    def skip_blank(self) -> int:
        match = _BLANK.match(self.text, self.at)
        assert match is not None
        self.move(match.end())
        return self.at

    def take(self, mark: str) -> bool:
        if not self.text.startswith(mark, self.at):
            return False
        self.move(self.at + len(mark))
        return True

    def need(self, mark: str) -> None:
        if not self.take(mark):
            raise _NotRead

    def match(self, pattern: re.Pattern[str]) -> re.Match[str]:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise _NotRead
        self.move(match.end())
        return match

    def move(self, to: int) -> None:
        self.line += self.text.count("\n", self.at, to)
        self.at = to
