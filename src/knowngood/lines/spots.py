"""Where something is, as tokens say it: a cylinder, several, a span of them, a bank, a side."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import Place, layout_of
from knowngood.lines.element import Element, cylinder
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.token import HIGHEST


def _numbers(tokens: Sequence[Token], index: int, most: int) -> tuple[list[int], int]:
    """Whole numbers joined by "and", commas or slashes from an index on, and the index behind them."""
    first = tokens[index].whole() if index < len(tokens) else None
    if first is None:
        return [], index
    found, index = [first], index + 1
    while index + 1 < len(tokens) and (
        tokens[index].is_sign(",", "/", "&", "+") or tokens[index].plain in ("and", "or")
    ):
        step = index + 2 if tokens[index].is_sign(",") and tokens[index + 1].plain in ("and", "or") else index + 1
        number = tokens[step].whole() if step < len(tokens) else None
        if number is None or not 1 <= number <= most:
            break
        behind = tokens[step + 1] if step + 1 < len(tokens) else None
        if behind is not None and (behind.kind in ("unit", "num") or behind.is_sign("=", ":", "-", "+")):
            break
        found.append(number)
        index = step + 1
    return found, index


def listed_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``on 1,3,4``, ``plugs 1, 2 and 4``: three small whole numbers or more behind what is of cylinders."""
    before = tokens[index - 1] if index else None
    if before is None or tokens[index].whole() is None:
        return None
    of_cylinder = before.plain.split()[-1] in ("on", "in", "of", "for") or (
        before.means("part") and any(reader.part_place(part) == "cylinder" for part in before.ids("part"))
    )
    if before.means("part") and (first := _to(reader, tokens, index)):
        return first
    numbers, end = _numbers(tokens, index, reader.most)
    behind = tokens[end] if end < len(tokens) else None
    joined = any(token.is_sign(",") or token.plain in ("and", "&") for token in tokens[index:end])
    least = 2 if joined else 3
    if not of_cylinder or len(numbers) < least or not reader.is_cylinder(numbers[0]) or numbers != sorted(set(numbers)):
        return None
    if behind is not None and (behind.kind in ("unit", "num") or behind.is_sign("=", "-", "+", "/", "%")):
        return None
    return Element("PLACE", tuple(tokens[index:end]), places=tuple(cylinder(number) for number in numbers)), end


def leading_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``2 and 4 dead on compression``: small whole numbers that begin a clause with a word for how they are behind."""
    if index or tokens[0].whole() is None:
        return None
    numbers, end = _numbers(tokens, 0, reader.most)
    behind = tokens[end] if end < len(tokens) else None
    told = behind is not None and (behind.means("mark", "dead") or behind.means("judge"))
    named = [kind for token in tokens for kind in token.ids("kind")]
    at_cylinder = any(reader.place_of_kind(kind) == "cylinder" for kind in named)
    if not told or not at_cylinder or not reader.is_cylinder(numbers[0]):
        return None
    return Element("PLACE", tuple(tokens[:end]), places=tuple(cylinder(number) for number in numbers)), end


def between_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``blown between 2 and 3``: two cylinders side by side, where no unit is said."""
    run = tokens[index : index + 5]
    if len(run) < 4 or run[0].plain != "between" or run[2].plain not in ("and", "&", "/"):
        return None
    first, last = run[1].whole(), run[3].whole()
    measured = len(run) > 4 and run[4].kind in ("unit", "num")
    if first is None or last is None or measured or not 1 <= first < last <= reader.most:
        return None
    if not any(token.means("mark", "bad") or token.means("fault") for token in tokens):
        return None
    return Element("PLACE", tuple(run[:4]), places=(cylinder(first), cylinder(last))), index + 4


def led_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``wet at inj 3``: behind "at" and a part of every cylinder, a small number that ends the clause is its place."""
    number = tokens[index].whole()
    if index < 2 or not reader.is_cylinder(number) or index + 1 < len(tokens):
        return None
    part, led = tokens[index - 1], tokens[index - 2]
    at_cylinder = any(reader.part_place(name) == "cylinder" for name in part.ids("part"))
    if led.plain not in ("at", "near", "by", "behind") or not at_cylinder:
        return None
    return Element("PLACE", (tokens[index],), places=(cylinder(number),)), index + 1


def _to(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``replaced coils 1 to 4``: behind a verb of work and a plural, from one to the other; a swap goes between two."""
    run = tokens[index : index + 3]
    worked = any(token.means("work") for token in tokens) and not any(
        token.means("mark", "swap", "move") for token in tokens
    )
    swaps = any(token.means("mark", "swap", "move") for token in tokens)
    seen = (
        len(run) > 2 and run[1].is_sign("-") and index + 3 < len(tokens) and tokens[index + 3].kind in ("word", "term")
    )
    joined = len(run) > 2 and ((run[1].plain == "to" and worked) or (seen and not swaps))
    if not joined or not tokens[index - 1].text.casefold().endswith("s"):
        return None
    first, last = run[0].whole(), run[2].whole()
    if first is None or last is None or not 1 <= first < last <= reader.most:
        return None
    reader.turned.update(token.start for token in run)
    return Element("PLACE", tuple(run), places=tuple(cylinder(n) for n in range(first, last + 1))), index + 3


def _span(tokens: Sequence[Token], index: int, most: int) -> tuple[list[int], int]:
    """``3-6`` behind a word for cylinders: all from the first to the last."""
    run = tokens[index : index + 4]
    first, last = (run[0].whole(), run[2].whole()) if len(run) > 2 and run[1].is_sign("-") else (None, None)
    behind = run[3] if len(run) > 3 else None
    if first is None or last is None or not 1 <= first < last <= most:
        return [], index
    if run[1].spaced != run[2].spaced or (behind is not None and (behind.kind == "unit" or behind.is_sign("-"))):
        return [], index
    return list(range(first, last + 1)), index + 3


def bank_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """A bank named at ``index`` by number or side, and where the next element begins; both banks for "both"."""
    token = tokens[index]
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    if token.means("mark", "side_unsure"):
        end = index + 2 if behind is not None and behind.means("mark", "bank") else index + 1
        return Element("SIDE", tuple(tokens[index:end]), text=token.text), end
    for side in ("left", "right"):
        if token.means("mark", side) and (
            "bank" in token.plain
            or (behind is not None and behind.means("mark", "bank"))
            or token.plain in ("lh", "rh")
        ):
            end = (
                index + 1 if "bank" in token.plain or behind is None or not behind.means("mark", "bank") else index + 2
            )
            return Element("PLACE", tuple(tokens[index:end]), places=(Place("bank", side),)), end
    if token.means("mark", "both") and ((behind is not None and behind.means("mark", "bank")) or "bank" in token.plain):
        end = index + 1 if "bank" in token.plain else index + 2
        return Element("PLACE", tuple(tokens[index:end]), places=(Place("bank", "1"), Place("bank", "2"))), end
    if (
        token.means("mark", "bank")
        and behind is not None
        and behind.whole() in (1, 2)
        and (token.plain != "b" or not behind.spaced)
    ):
        return Element("PLACE", (token, behind), places=(Place("bank", behind.plain),)), index + 2
    return None


def bank_by_cylinders(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``5~8 bank``: the bank that holds these cylinders."""
    if (
        index + 3 >= len(tokens)
        or not tokens[index + 1].is_sign("~", "-")
        or not tokens[index + 3].means("mark", "bank")
    ):
        return None
    first, last = tokens[index].whole(), tokens[index + 2].whole()
    if first is None or last is None or reader.cylinders is None or not 1 <= first < last <= reader.cylinders:
        return None
    for number, bank in enumerate(layout_of(reader.car).banks, start=1):
        if first in bank and last in bank:
            reader.turned.update(token.start for token in tokens[index : index + 3])
            return Element("PLACE", tuple(tokens[index : index + 4]), places=(Place("bank", str(number)),)), index + 4
    return Element("SIDE", tuple(tokens[index : index + 4])), index + 4


def place_at(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """Cylinders named at ``index`` by a word or sign before their numbers, and where the next element begins."""
    token = tokens[index]
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    start = index
    if token.is_sign("#") and behind is not None and behind.whole() is not None:
        index += 1
    elif token.plain in ("no", "nr") and behind is not None:
        dotted = behind.is_sign(".") and index + 2 < len(tokens) and tokens[index + 2].whole() is not None
        known = start > 0 and any(tokens[start - 1].means(kind) for kind in ("part", "kind", "fault", "says"))
        last = index + 2 == len(tokens) or tokens[index + 2].is_sign(",", ":")
        if not dotted and not ((token.text[0].isupper() or (known and last)) and start > 0 and behind.whole()):
            return None
        index += 2 if dotted else 1
    elif token.means("mark", "cylinder") and behind is not None:
        if token.plain == "c" and behind.spaced:
            return None
        index += 1
        while index < len(tokens) and (
            tokens[index].is_sign("#", ".") or tokens[index].plain in ("number", "no", "nr")
        ):
            index += 1
    else:
        return _outright(reader, tokens, index)
    many = token.means("mark", "cylinder") and token.plain.endswith("s")
    numbers, end = _span(tokens, index, reader.most) if many else ([], index)
    if numbers:
        reader.turned.update(piece.start for piece in tokens[index:end])
    numbers, index = (numbers, end) if numbers else _numbers(tokens, index, reader.most)
    if not numbers or numbers[0] > HIGHEST or numbers[0] < 1:
        return None
    return Element("PLACE", tuple(tokens[start:index]), places=tuple(cylinder(number) for number in numbers)), index


def _outright(reader: Reader, tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """A cylinder named without a word for cylinders before it: ``R2``, the rearmost, ``3 again``."""
    token = tokens[index]
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    if (
        token.plain in ("l", "r")
        and token.text.isupper()
        and behind is not None
        and behind.whole()
        and not behind.spaced
    ):
        place = Place("cylinder", f"{token.plain.upper()}{behind.plain}")
        return Element("PLACE", (token, behind), places=(place,)), index + 2
    if token.means("mark", "rearmost", "frontmost"):
        number = 1 if token.means("mark", "frontmost") else reader.cylinders
        if number is None:
            return None
        reader.suppose(f"{token.text} taken as cylinder {number}")
        return Element("PLACE", (token,), places=(cylinder(number),)), index + 1
    if token.whole() and behind is not None and behind.plain == "again" and index + 2 < len(tokens):
        if tokens[index + 2].kind != "num" or not reader.is_cylinder(token.whole()):
            return None
        return Element("PLACE", (token, behind), places=(cylinder(token.plain),)), index + 2
    if token.whole() and behind is not None and behind.plain in ("番", "番シリンダー", "気筒", "番気筒"):
        return Element("PLACE", (token, behind), places=(cylinder(token.plain),)), index + 2
    return None
