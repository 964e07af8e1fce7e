"""The plug of a coil, an injector or a sensor: a connector, not a spark plug.

Whose plug it is decides: ``injector 3 plug`` and ``plug on coil 2`` are connectors, unless the word beside it is one
for how a spark plug looks (``coil 2 plug black``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.lines.token import Token
from knowngood.lines.vocabulary import PASSED_OVER, Sense, Vocabulary

FED = frozenset(["sensor", "valve", "meter", "relay", "pump", "ecu", "module", "alternator", "fan", "maf"])
"""Last words of the ids of parts that hang on a plug."""
OF_CYLINDERS = ("injector", "coil", "pair_coil", "main_coil")
"""Parts with a plug of their own beside the spark plug of the same cylinder."""
CONNECTORS = frozenset(["plug", "plugs", "connector", "connectors", "con", "socket", "pins", "terminals", "contacts"])
TO = frozenset(["to", "at", "of", "for", "on"])
CONNECTOR = Sense("mark", "connector")


def with_connectors(tokens: Sequence[Token], vocabulary: Vocabulary) -> list[Token]:
    """Tokens in which a part and its plug are named once: the part by its plug, the word for it passed over."""
    out = _opened(tokens)
    stopped = any(token.means("mark", "cut") for token in out)  # "pull inj plugs": each cylinder stopped in turn
    for index, token in enumerate(out):
        if any(part.endswith("_connector") for part in token.ids("part")):
            out[index] = replace(token, senses=(*token.senses, CONNECTOR))
        if token.plain not in CONNECTORS or _looks(out, index):
            continue
        at = _owner(out, index)
        if at is not None and not (stopped and any(part in OF_CYLINDERS for part in out[at].ids("part"))):
            out[at] = _by_plug(out[at], vocabulary)
            out[index] = replace(token, kind="term", senses=(Sense("filler", "in"),), parts=(), plain="the")
    return out


def _opened(tokens: Sequence[Token]) -> list[Token]:
    """A phrase of a plug and its state (``plug off``), and one of a part and its plug before a state, by its words."""
    out: list[Token] = []
    for index, token in enumerate(tokens):
        parts = token.parts
        state = bool(parts) and parts[0].plain in CONNECTORS and all(_is_state(part) for part in parts[1:])
        owned = len(parts) > 1 and parts[-1].plain in CONNECTORS and _is_fed(parts[0]) and not token.means("part")
        opened = owned and _has_state(tokens, index)
        opened = opened or (state and _owner([*out, *parts, *tokens[index + 1 :]], len(out)) is not None)
        out += parts if opened else (token,)
    return out


def _has_state(tokens: Sequence[Token], index: int) -> bool:
    """Whether a state of a plug, or work on one, is said in the same statement."""
    first = max((i + 1 for i in range(index) if tokens[i].is_sign(",", ";", ".")), default=0)
    last = next((i for i in range(index, len(tokens)) if tokens[i].is_sign(",", ";", ".")), len(tokens))
    words = {word for token in tokens[first:last] for word in token.plain.split()}
    return bool(words & STATE_WORDS) or any(token.means("work") for token in tokens[first:last])


def _is_state(token: Token) -> bool:
    return token.plain in STATE_WORDS or token.plain in PASSED_OVER or token.means("mark", "bad")


STATE_WORDS = frozenset(["off", "loose", "on", "in", "unplugged", "disconnected", "hanging", "out", "not", "slack"])


def _owner(tokens: Sequence[Token], index: int) -> int | None:
    """Where the part stands that a word for a plug belongs to: before it, a cylinder between them, or behind "of"."""
    at = index - 1
    while at >= 0 and _is_numbering(tokens[at]):
        at -= 1
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    numbered = behind is not None and behind.kind == "num"
    listed = tokens[at + 1].plain in ("and", "&")  # "coils and plugs" are two parts, "injector 3 and 4 plugs" is one
    if at >= 0 and _is_fed(tokens[at]) and not listed and not (numbered and at < index - 1):
        return at
    at = index + 1
    while at < len(tokens) and (tokens[at].plain in STATE_WORDS or tokens[at].plain in PASSED_OVER):
        at += 1
    led = at > index + 1 or (at < len(tokens) and tokens[at].plain in TO)
    while at < len(tokens) and (tokens[at].plain in TO or _is_numbering(tokens[at])):
        at += 1
    return at if led and at < len(tokens) and _is_fed(tokens[at]) else None


def _is_numbering(token: Token) -> bool:
    """A number of a cylinder, or what stands between a part and its number."""
    return bool(token.whole()) or token.means("mark", "cylinder") or token.is_sign("#") or token.plain in ("and", "&")


def _parts_called(vocabulary: Vocabulary, words: str, part: str) -> list[Sense]:
    return [sense for sense in vocabulary.look_up(words.replace("_", " ")) if sense == Sense("part", part)]


def _is_fed(token: Token) -> bool:
    return any(part.split("_")[-1] in FED or part in OF_CYLINDERS for part in token.ids("part"))


def _looks(tokens: Sequence[Token], index: int) -> bool:
    """A word for how a spark plug looks, or its gap, in the same statement."""
    first = max((i + 1 for i in range(index) if tokens[i].is_sign(",", ";", ".")), default=0)
    last = next((i for i in range(index, len(tokens)) if tokens[i].is_sign(",", ";", ".")), len(tokens))
    names = [name for t in tokens[first:last] for sense in ("word", "outcome") for name in t.ids(sense)]
    return any(name.startswith("plug_look=") for name in names) or any(
        t.plain in ("gap", "gapped", "spark") for t in tokens[first:last]
    )


def _by_plug(token: Token, vocabulary: Vocabulary) -> Token:
    """The plug as a part of its own where the library has it, else the wire it ends, else the part it belongs to."""
    parts = token.ids("part")
    name = "coil" if any(part in OF_CYLINDERS[1:] for part in parts) else (parts[0] if parts else "")
    plug = f"{name}_connector"
    own = _parts_called(vocabulary, f"{name} connector", plug)
    wires = [f"{part.removesuffix('_sensor')}_wire" for part in parts]
    own += [sense for wire in wires for sense in _parts_called(vocabulary, wire, wire)]
    senses = own or [sense for sense in token.senses if sense.kind == "part"]
    return replace(token, kind="term", senses=(*senses, CONNECTOR), parts=())
