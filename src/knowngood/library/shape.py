"""One table of a file as a record, with every mistake of its form at once."""

from __future__ import annotations

import difflib
import types
import typing
from collections.abc import Iterable, Iterator
from typing import Any

import msgspec

MOST_NAMED = 36
"""More names than this are not listed in a message."""

Keys = tuple[str | int, ...]
Mistake = tuple[Keys, str, str]

_FORM = {
    str: ("words in quotes", 'Write it as "...".'),
    float: ("a number", "Write it without quotes, with a point."),
    int: ("a whole number", "Write it without quotes and without a point."),
    bool: ("true or false", "Write true or false without quotes."),
}


def did_you_mean(name: str, known: Iterable[str], what: str = "Known here") -> str:
    """The fix for a name that is not known: the nearest one that is, or all of them where they are few."""
    names = list(known)
    near = difflib.get_close_matches(name, names, n=1)
    if near:
        return f"Did you mean '{near[0]}'?"
    if 0 < len(names) <= MOST_NAMED:
        return f"{what}: {', '.join(names)}."
    return "Write it down, or name one that is there."


def mistakes(value: Any, form: Any, keys: Keys = ()) -> Iterator[Mistake]:
    """Every place where ``value`` is not of the record or type ``form``: keys, fact, fix."""
    try:
        msgspec.convert(value, form)
        return
    except msgspec.ValidationError:
        pass
    form = _without_none(form)
    origin = typing.get_origin(form)
    if isinstance(form, type) and issubclass(form, msgspec.Struct):
        yield from _struct(value, form, keys)
    elif origin is tuple:
        yield from _list(value, typing.get_args(form)[0], keys)
    elif origin is dict:
        if isinstance(value, dict):
            for key, item in value.items():
                yield from mistakes(item, typing.get_args(form)[1], (*keys, key))
        else:
            yield keys, f"{value!r} is not a table.", "Write it as { key = value }."
    else:
        what, fix = _FORM.get(form, ("words in quotes or a whole number", 'Write "..." or a whole number.'))
        yield keys, f"{value!r} is not {what}.", fix


def leaves(record: Any, at: Keys = ()) -> Iterator[tuple[Keys, Any]]:
    """Every single value inside a record, with the keys that lead to it."""
    if isinstance(record, msgspec.Struct):
        for name in record.__struct_fields__:
            yield from leaves(getattr(record, name), (*at, name))
    elif isinstance(record, dict):
        for key, value in record.items():
            yield from leaves(value, (*at, key))
    elif isinstance(record, tuple):
        for index, value in enumerate(record):
            yield from leaves(value, (*at, index))
    else:
        yield at, record


def _struct(value: Any, form: type[msgspec.Struct], keys: Keys) -> Iterator[Mistake]:
    if not isinstance(value, dict):
        yield keys, f"{value!r} is not a table.", "Write it as { key = value }."
        return
    hints = typing.get_type_hints(form)
    fields = {item.name: item for item in msgspec.structs.fields(form)}
    for key, item in value.items():
        if key in fields:
            yield from mistakes(item, hints[key], (*keys, key))
        else:
            yield (*keys, key), f"no key is called '{key}'.", did_you_mean(key, fields, "Keys here")
    for name, item in fields.items():
        if item.required and name not in value:
            yield keys, f"'{name}' is missing.", "Add it."


def _list(value: Any, form: Any, keys: Keys) -> Iterator[Mistake]:
    if not isinstance(value, list):
        yield keys, f"{value!r} is not a list.", "Write it in square brackets, also when it is only one."
        return
    for index, item in enumerate(value):
        yield from mistakes(item, form, (*keys, index))


def _without_none(form: Any) -> Any:
    if typing.get_origin(form) in (types.UnionType, typing.Union):
        kept = [arg for arg in typing.get_args(form) if arg is not type(None)]
        return kept[0] if len(kept) == 1 else form
    return form
