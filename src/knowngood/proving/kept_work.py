"""Results of a long run kept one by one, so that a run that was stopped goes on where it was.

One line of JSON a result, in a file named for the source it was worked out with: other code, other file.
"""

from __future__ import annotations

import hashlib
import json
from functools import cache
from pathlib import Path
from typing import Any, Generic, TypeVar

import msgspec

import knowngood

FOLDER = Path("build/kept")
SUFFIXES = (".py", ".toml", ".lark")
Result = TypeVar("Result")


@cache
def source() -> str:
    """What names the code and the knowledge this runs with, as it was when first asked."""
    return source_of(Path(knowngood.__file__).parent)


def source_of(root: Path) -> str:
    """What names the code and the knowledge below a folder: other content or another name, other source."""
    digest = hashlib.sha256()
    for file in sorted(each for each in root.rglob("*") if each.suffix in SUFFIXES):
        digest.update(f"{file.relative_to(root)}\n".encode() + file.read_bytes())
    return digest.hexdigest()[:12]


class Kept(Generic[Result]):
    """Results by job.

    Parameters
    ----------
    name : str
        Of the run.
    kind : type
        Of a result.
    folder : Path
    """

    def __init__(self, name: str, kind: type[Result], folder: Path = FOLDER) -> None:
        self.file = folder / f"{name}-{source()}.jsonl"
        self.known: dict[str, Result] = {}
        self._half = False
        if self.file.exists():
            text = self.file.read_text(encoding="utf-8")
            self._half = bool(text) and not text.endswith("\n")
            for line in text.splitlines():
                try:
                    job, result = json.loads(line)
                except json.JSONDecodeError:
                    continue  # the line that was being written when the run was stopped
                self.known[job] = msgspec.convert(result, kind)

    def get(self, job: tuple[Any, ...]) -> Result | None:
        """What is known of a job."""
        return self.known.get(repr(job))

    def add(self, job: tuple[Any, ...], result: Result) -> None:
        """Keep a result."""
        self.file.parent.mkdir(parents=True, exist_ok=True)
        with self.file.open("a", encoding="utf-8") as out:
            # a line begun before the run was stopped must not swallow this one
            out.write(("\n" if self._half else "") + json.dumps([repr(job), msgspec.to_builtins(result)]) + "\n")
        self._half = False
        self.known[repr(job)] = result
