"""A plug found off or loose at the part it belongs to."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE, Place
from knowngood.evidence import Finding
from knowngood.library.records import Fault
from knowngood.lines.connectors import TO
from knowngood.lines.elements import elements_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER
from knowngood.lines.works import put_work

OFF = ("unplugged", "plug off", "connector off", "plug loose", "connector loose")
LOOSE = ("plug loose", "connector loose", "loose", "plug off", "unplugged")
STATES = {
    "off": OFF,
    "unplugged": OFF,
    "disconnected": OFF,
    "hanging": OFF,
    "hanging off": OFF,
    "not on": OFF,
    "not plugged in": OFF,
    "not connected": OFF,
    "fell off": OFF,
    "fallen off": OFF,
    "popped off": OFF,
    "pulled off": OFF,
    "pulled out": OFF,
    "came off": OFF,
    "loose": LOOSE,
    "half on": LOOSE,
    "not clicked": LOOSE,
    "not clicked on": LOOSE,
    "not seated": LOOSE,
    "slack": LOOSE,
}
"""How a plug was found, and what the library may call that, best first."""
FOUND = frozenset(["found", "was", "were", "is", "been", "had", "just", "completely", "hanging", "half", "totally"])


def read_plug_off(reader: Reader, clause: Sequence[Token]) -> bool:
    """``injector 3 plug off``, ``crank sensor plug was loose``: found so; "left off" is read as left undone."""
    plugs = [token for token in clause if token.means("mark", "connector")]
    if len(plugs) != 1:
        return False
    elements = elements_of(reader, clause)
    places = [place for e in elements if e.kind == "PLACE" for place in e.places]
    cells = [e.whole for e in elements if e.kind == "CELL"]
    if any(not reader.is_cylinder(whole) for whole in cells):
        return False
    places += [Place("cylinder", str(whole)) for whole in cells]
    at_places = {id(token) for e in elements if e.kind in ("PLACE", "CELL") for token in e.tokens}
    rest = [t for t in clause if t is not plugs[0] and id(t) not in at_places and t.kind != "sign"]
    said = " ".join(word for token in rest for word in token.plain.split() if word not in PASSED_OVER)
    state = " ".join(word for word in said.split() if word not in FOUND - {"hanging", "half"} and word not in TO)
    if state not in STATES:
        return False
    part = reader.part(plugs[0])
    fault = _fault(reader, part, STATES[state])
    for place in places or (ENGINE,):
        reader.put(
            Finding(
                fault=fault.id if fault else "",
                part=fault.part if fault else part,
                place=place,
                words=reader.words(clause),
            )
        )
    if fault is not None and fault.place == "cylinder" and not places and reader.cylinders != 1:
        reader.ask(f"{reader.words(clause)}: at which cylinder?")
    reader.places = tuple(places) if len(places) == 1 else reader.places
    reader.use(clause)
    return True


PUSHES = frozenset(["pushed", "pressed", "clicked", "clipped", "plugged", "connected", "snapped", "seated"])
HOME = frozenset(["on", "home", "in", "down", "tight", "properly"])


def read_pushed_on(reader: Reader, clause: Sequence[Token]) -> bool:
    """``pushed the crank sensor plug on``, ``clicked coil 3 plug home``: the plug was seated anew."""
    plugs = [token for token in clause if token.means("mark", "connector")]
    last = clause[-1].plain
    if len(plugs) != 1 or clause[0].plain not in PUSHES or last not in HOME:
        return False
    elements = elements_of(reader, clause)
    places = [place for e in elements if e.kind == "PLACE" for place in e.places]
    cells = [e.whole for e in elements if e.kind == "CELL"]
    known = {id(t) for e in elements if e.kind in ("PLACE", "CELL", "FILL") for t in e.tokens}
    known |= {id(clause[0]), id(clause[-1]), id(plugs[0])}
    if any(whole is None for whole in cells) or any(id(token) not in known for token in clause):
        return False
    places += [Place("cylinder", str(whole)) for whole in cells]
    part = reader.part(plugs[0])
    put_work(reader, "reseated", part, plugs[0].text, places, (), (), False, reader.words(clause))
    reader.use(clause)
    return True


def _fault(reader: Reader, part: str, names: Sequence[str]) -> Fault | None:
    """The fault the library has for a plug that is off, by the words for it."""
    owner = part.removesuffix("_connector").removesuffix("_wire")
    owners = (f"{owner}_sensor", owner) if owner != part.removesuffix("_connector") else (owner,)
    for said in (f"{name.replace('_', ' ')} {state}" for state in names for name in owners):
        for sense in reader.vocabulary.look_up(said):
            fault = reader.library.faults.get(sense.id) if sense.kind == "fault" else None
            if fault is not None and reader.fits(fault.needs):
                return fault
    return None
