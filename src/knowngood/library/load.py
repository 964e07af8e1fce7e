"""Reads the knowledge files into one :class:`Library`.

Our own files come with the package. A shop may keep a folder of its own, whose
records add to ours or take the place of the ones with the same id.
"""

from __future__ import annotations

import gc
import hashlib
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec

from knowngood.errors import LibraryInvalid, Problem, Refused
from knowngood.library.branching import spread
from knowngood.library.records import Library
from knowngood.library.rules import check_library
from knowngood.library.shape import did_you_mean, mistakes
from knowngood.library.tables import KIND_OF, KINDS, Kind
from knowngood.library.ways import lay
from knowngood.library.where import Origin, Where, shown

_TOML_WORDS = {
    "Cannot overwrite a value": "a key stands here twice",
    "Invalid value": "no value can be read here",
    "Invalid statement": "this is neither a [[table]] nor key = value",
    "Unclosed array": "a list is not closed",
    "Expected '=' after a key in a key/value pair": "a key without =",
    "Expected newline or end of document after a statement": "the line goes on behind its value",
}


@dataclass
class Draft:
    """What was read so far: records, where they came from, and every problem of their form."""

    tables: dict[str, dict[str, Any]] = field(default_factory=lambda: {kind.place: {} for kind in KINDS})
    where: Where = field(default_factory=Where)
    problems: list[Problem] = field(default_factory=list)

    def library(self) -> Library:
        """The records as a library, with the hash of what they say."""
        encoder = msgspec.json.Encoder(order="deterministic")
        digest = hashlib.sha256(encoder.encode([list(self.tables[kind.place].values()) for kind in KINDS]))
        return Library(hash=digest.hexdigest(), **self.tables)


def load(extra: Path | None = None) -> Library:
    """The library, with a shop's own folder laid over it.

    Parameters
    ----------
    extra : Path, optional
        Folder of the shop's own ``*.toml`` files, of the same form as ours. With it every rule is run on the whole,
        because what a shop writes has not been through our tests.

    Returns
    -------
    Library

    Raises
    ------
    LibraryInvalid
        Carries all problems of all files.
    Refused
        ``extra`` is not a folder.
    """
    if extra is None:
        return _ours()
    draft = read(extra)
    problems = every_problem(draft)
    if problems:
        raise LibraryInvalid(problems)
    return draft.library()


SHOP = "library"
"""Folder of a workshop that holds its own knowledge files."""


def load_for(home: Path) -> Library:
    """The library of a workshop: ours, with the folder ``library`` of its home laid over it, when there is one.

    Raises
    ------
    LibraryInvalid
        As :func:`load`.
    """
    folder = home / SHOP
    return load(folder) if folder.is_dir() else load()


def every_problem(draft: Draft) -> list[Problem]:
    """Problems of form and of the rules, in the order of the files and their lines."""
    problems = draft.problems + check_library(draft.library(), draft.where)
    return sorted(problems, key=lambda problem: (problem.file, problem.line))


@cache
def _ours() -> Library:
    draft = read()
    if draft.problems:
        raise LibraryInvalid(draft.problems)
    library = draft.library()
    gc.freeze()  # it stays for good: looking through it for what is free again took a tenth of a second, often
    return library


def read(extra: Path | None = None) -> Draft:
    """All records that can be read, and every problem of form of those that cannot.

    Raises
    ------
    Refused
        ``extra`` is not a folder.
    """
    draft = Draft()
    add_texts(draft, _own_texts())
    if extra is not None:
        if not extra.is_dir():
            raise Refused(f"'{extra}' is not a folder.", "Make it, or name the folder that holds the shop's own files.")
        add_texts(draft, _texts_in(draft, extra))
    ways = lay(draft.tables)
    for table, name, of, origin in [*ways, *spread(draft.tables, draft.tables["branches"].values())]:
        draft.where.origins[table, name] = replace(draft.where.origins[of, origin], table=of)
    return draft


def _texts_in(draft: Draft, folder: Path) -> dict[str, str]:
    """The texts of a shop's folder by file; one that is not UTF-8 is a problem of its own."""
    texts = {}
    for path in sorted(folder.glob("*.toml")):
        content = path.read_bytes()
        try:
            texts[str(path)] = content.decode("utf-8")
        except UnicodeDecodeError as error:
            fact = f"the byte 0x{content[error.start]:02x} here is not UTF-8."
            line = content[: error.start].count(b"\n") + 1
            fix = "Save the file as UTF-8; nothing of it is read until then."
            draft.problems.append(Problem(fact, fix, str(path), line))
    return texts


def _own_texts() -> dict[str, str]:
    folder = files("knowngood.library").joinpath("data")
    found = sorted((item for item in folder.iterdir() if item.name.endswith(".toml")), key=lambda item: item.name)
    return {f"data/{item.name}": item.read_text(encoding="utf-8") for item in found}


def add_texts(draft: Draft, texts: dict[str, str]) -> None:
    """Lays the records of one set of files (by file name) over what was read before; an id may stand once in a set."""
    draft.where.texts.update(texts)
    taken: set[tuple[str, str]] = set()
    for file, text in texts.items():
        try:
            content = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            draft.problems.append(_not_toml(file, text, error))
            continue
        for kind, index, table in _tables(draft, file, content):
            _add(draft, kind, file, index, table, taken)


def _not_toml(file: str, text: str, error: tomllib.TOMLDecodeError) -> Problem:
    words, _, place = str(error).partition(" (at ")
    line = place.removeprefix("line ").partition(",")[0]
    number = int(line) if line.isdigit() else len(text.splitlines())
    fact = _TOML_WORDS.get(words, f"the text cannot be read here ({words})")
    return Problem(f"{fact}.", "Correct it; nothing of this file is read until then.", file, number)


def _tables(draft: Draft, file: str, content: dict[str, Any]) -> Iterator[tuple[Kind, int, dict[str, Any]]]:
    for name, tables in content.items():
        line = draft.where.line
        if name not in KIND_OF:
            fix = did_you_mean(name, KIND_OF, "Kinds of records")
            fact = f"no kind of record is called '{name}'."
            draft.problems.append(Problem(fact, fix, file, line(file, (name,)), name))
        elif not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            fact = f"'{name}' is not a list of records."
            draft.problems.append(Problem(fact, f"Write [[{name}]].", file, line(file, (name,)), name))
        else:
            for index, table in enumerate(tables):
                yield KIND_OF[name], index, table


def _add(draft: Draft, kind: Kind, file: str, index: int, table: dict[str, Any], taken: set[tuple[str, str]]) -> None:
    name = table.get(kind.key)
    where = draft.where
    try:
        record = msgspec.convert(table, kind.form)
    except msgspec.ValidationError as misfit:
        label = name if isinstance(name, str) else f"#{index + 1}"
        where.unread.add((kind.table, label))
        found = list(mistakes(table, kind.form)) or [((), f"{misfit}.", "Write it as the head of our files says.")]
        for keys, fact, fix in found:
            line = where.line(file, (kind.table, index, *keys))
            draft.problems.append(Problem(fact, fix, file, line, f"{kind.table}[{label}]{shown(keys)}"))
        return
    assert isinstance(name, str)
    if (kind.table, name) in taken:
        line = where.line(file, (kind.table, index, kind.key))
        before = where.problem(kind.table, name, (kind.key,), "")
        fact = f"'{name}' is there already, in {before.file}:{before.line}."
        fix = "Give one of them another name, or drop it."
        draft.problems.append(Problem(fact, fix, file, line, f"{kind.table}[{name}]"))
        return
    taken.add((kind.table, name))
    where.origins[kind.table, name] = Origin(file, index)
    draft.tables[kind.place][name] = record
