"""A cylinder stopped to see what changes: ``unplug inj 4, no change``, ``killed 1 drops 2 nothing``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import Place
from knowngood.evidence import Reading
from knowngood.lines.beside import no_such, outside
from knowngood.lines.elements import Element
from knowngood.lines.forms import Parsed, parsed
from knowngood.lines.outcomes import fitted_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.works import cylinders_named

CYLINDER_PARTS = ("coil", "plug", "lead", "injector", "pair_coil", "coil_connector", "injector_connector")


def _cut_terminal(element: Element) -> str:
    token = element.token
    if element.kind in ("CELL", "COMMA", "DASH", "EQUALS"):
        return element.kind
    if element.kind == "PLACE":
        return "PLACE"
    if token.means("mark", "cut"):
        return "CUT"
    if token.means("effect"):
        return "EFFECT"
    if any(name.startswith("injector_cut=") for name in token.ids("outcome")):
        return "OUTCOME"
    if token.means("part"):
        return "PART"
    if token.means("word"):
        return "OUTCOME"
    if token.means("mark", "negation"):
        return "NEGATION"
    return "" if element.kind in ("FILL", "MUTE", "COND") else "WORD"


def read_cut(reader: Reader, elements: Sequence[Element]) -> bool:
    """``unplug inj 4, no change``: one cylinder stopped, and whether the engine felt it."""
    form = parsed("cut", elements, _cut_terminal)
    if form is None:
        return False
    tokens = [token for element in elements for token in element.tokens]
    part = reader.part(form.of("PART")[0].token) if form.of("PART") else "injector"
    if part not in CYLINDER_PARTS:
        return False
    places = [place for element in form.under("at") for place in cylinders_named(element)]
    each = [(place, word) for found, says in _answers(form) if (word := _cut_word(says)) for place in found]
    if not each or {place for place, _ in each} != set(places):
        return False
    if wrong := outside(reader, places):
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    doubt = "no such kind" if reader.kind_record("injector_cut") is None else ""
    if part != "injector":
        reader.suppose(f"{part} of one cylinder stopped, read as a cylinder cut")
    how = (f"{part} unplugged",) if part != "injector" else ()
    for place, said in each:
        word = fitted_word(reader, "injector_cut", said)
        reader.put(Reading(kind="injector_cut", place=place, word=word, conditions=how, doubt=doubt))
    reader.use(tokens)
    reader.places, reader.kind = tuple(places), "injector_cut"
    return True


def _answers(form: Parsed) -> list[tuple[list[Place], list[Token]]]:
    """Cylinders and what was said of them, in order: ``1 drops 2 nothing``."""
    found: list[tuple[list[Place], list[Token]]] = []
    at, says = set(map(id, form.under("at"))), set(map(id, form.under("outcome")))
    for _, element in form.parts:
        if id(element) in at:
            if not found or found[-1][1]:
                found.append(([], []))
            found[-1][0].extend(cylinders_named(element))
        elif id(element) in says and found:
            found[-1][1].append(element.token)
    return found


def _cut_word(says: Sequence[Token]) -> str:
    """What one answer to a cut says; empty when nothing."""
    names = (name for token in says for name in token.ids("outcome"))
    word = next((name.partition("=")[2] for name in names if name.startswith("injector_cut=")), "")
    if not word:
        effects = (token.ids("effect")[0] for token in says if token.means("effect"))
        word = next(("no change" if effect == "no change" else "drops" for effect in effects), "")
    denied = any(token.means("mark", "negation") for token in says) and not word.startswith("no ")
    return "no change" if denied else word
