"""What was typed for a measurement, parted by field: words behind the verb, or the fields of a form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from knowngood.app.measuring_entry import NOT_MEASURED
from knowngood.app.measuring_topic import Field, Topic
from knowngood.errors import Problem, Refused
from knowngood.units import kind_named, kinds, split_amounts

WINDOW = "window"
NOT_SAID = "not said"  # a word that stands for none of a field's words
PLACE = "at place"
"""Field of a form that says where one reading was taken; no field of a topic has a blank in its name."""


def split_options(texts: Sequence[str], topic: Topic) -> tuple[list[str], dict[str, list[str]]]:
    """What stands in order, and what stands behind ``--name``: one reading, or all of a row.

    A text that is no number of its own, such as a unit typed apart, goes with the reading before it.
    """
    ordered: list[str] = []
    named: dict[str, list[str]] = {}
    into = ordered
    for text in texts:
        if text.startswith("--") and len(text) > 2:
            name, _, value = text[2:].partition("=")
            into = named.setdefault(name.casefold(), [])
            if value:
                into.append(value)
            continue
        field = topic.field(next((name for name, held in named.items() if held is into), ""))
        many = field is not None and (field.row or field.kind in ("word", "text"))
        if not many and any(_has_digit(held) for held in into) and _has_digit(text):
            into = ordered
        into.append(text)
    return ordered, named


def split_fields(typed: Mapping[str, str], topic: Topic) -> dict[str, list[str]]:
    """The texts by field, from the fields of a form.

    Parameters
    ----------
    typed : mapping of str to str
        ``drop``; ``cylinder|3`` for a place of a row of cylinders; ``unit|drop`` the unit that stands beside a bare
        number; ``window|low``, ``window|high``. Empty ones were left out.
    topic : Topic

    Returns
    -------
    named : dict of field to its texts, as `measure` takes them

    Raises
    ------
    Refused
        A place was left out of a row that cannot have gaps, or a window is of a topic that takes none.
    """
    named = {one.name: texts_of(one, typed) for one in topic.fields}
    if topic.window:
        named[WINDOW] = window_of(typed, topic.window)
    return {name: texts for name, texts in named.items() if texts}


def only_place(topic: Topic, typed: Mapping[str, str]) -> str:
    """``cylinder 3`` where that is the only one typed into a row; else empty."""
    for one in topic.fields:
        places = [name.partition("|")[2] for name, text in typed.items() if name.startswith(f"{one.name}|") and text]
        if one.cylinders and one.needed and len(places) == 1:
            return f"cylinder {places[0]}"
    return ""


def texts_of(one: Field, typed: Mapping[str, str]) -> list[str]:
    """The texts of one field; none where it was left out."""
    text = typed.get(one.name, "").strip()
    if one.kind == "word" and one.row:
        chosen = [word for word in one.words if typed.get(f"{one.name}|{word}")]
        return [", ".join(chosen)] if chosen else []
    if one.kind in ("word", "text"):
        return [text] if text and text != NOT_SAID else []
    texts = _row(one, typed) if one.cylinders else text.split() if one.row else [text] if text else []
    return _with_unit(texts, typed.get(f"unit|{one.name}", "").strip(), one.kind)


def _row(one: Field, typed: Mapping[str, str]) -> list[str]:
    """A row of cylinders: what was not measured at its end says nothing, before that it is a gap or refused."""
    numbers = [name.partition("|")[2] for name in typed if name.startswith(f"{one.name}|")]
    places = sorted((number for number in numbers if number.isdecimal()), key=int)
    texts = [typed[f"{one.name}|{place}"].strip() for place in places]
    if sum(bool(text) for text in texts) == 1:
        return [text for text in texts if text]
    while texts and not texts[-1]:
        texts.pop()
    if "" in texts and not one.gaps:
        fact = f"Cylinder {places[texts.index('')]} was left out of the row."
        raise Refused(Problem(fact, "Measure it as well, or type one cylinder alone."))
    return [text or NOT_MEASURED for text in texts]


def window_of(typed: Mapping[str, str], kind: str) -> list[str]:
    """The window by its two ends; none where neither was typed."""
    low, high = (typed.get(f"{WINDOW}|{end}", "").strip() for end in ("low", "high"))
    ends = _with_unit([text for text in (low, high) if text], typed.get(f"unit|{WINDOW}", "").strip(), kind)
    if low and high:
        return [f"{low} to {ends[1]}"]
    return [f"{'over' if low else 'under'} {ends[0]}"] if ends else []


def _with_unit(texts: list[str], beside: str, kind: str) -> list[str]:
    """The unit that stands beside a field, put behind its bare numbers; one that was typed wins."""
    if not beside or kind not in kinds():
        return texts
    splits = [split_amounts(text) for text in texts]
    behind = [split[0][1] if split else text for split, text in zip(splits, texts, strict=True)]
    if any(kind_named(kind).spelled(unit) for unit in behind if unit):
        return texts
    return [text if unit else f"{text} {beside}" for text, unit in zip(texts, behind, strict=True)]


def _has_digit(text: str) -> bool:
    return any(sign.isdigit() for sign in text)
