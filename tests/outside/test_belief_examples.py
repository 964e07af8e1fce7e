"""Chances against published and worked examples, and the judge of the chances against published numbers."""

from __future__ import annotations

import gzip
import itertools
import math
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.belief.elimination import Pass, Tree
from knowngood.belief.likelihood import METER_SHARE, spread_chance
from knowngood.car import Car, layout_of
from knowngood.evidence import Entry, Reading
from knowngood.library.records import Act, Chance, Code, Fault, Ladder, Library, Spread
from knowngood.measure.meter import meter_limit, meter_se
from tests.naive.agrum_belief import gum

PRIORS = (0.1, 0.2, 0.05)
LINKS = ((0.8, 0.6, 0.0), (0.0, 0.7, 0.9), (0.5, 0.0, 0.4))
LEAKS = (0.01, 0.02, 0.05)
SEEN = (True, True, False)  # f1+, f2+, f3-


def noisy_or(links: tuple[float, ...], leak: float, there: tuple[bool, ...]) -> float:
    """Chance that a finding shows: unless the leak and each link of each fault that is there stay quiet."""
    quiet = 1.0 - leak
    for link, present in zip(links, there, strict=True):
        quiet *= 1.0 - link if present else 1.0
    return 1.0 - quiet


def noisy_or_library() -> Library:
    """Three faults, three findings.

    A ladder here has no dice of its own, so a noisy link is written into the finding: each finding stands on a counting
    ladder to which the faults add 1, 2 and 4, so that its count names the set of faults that is there, and the
    finding's chance at each count is that set's noisy-or. A finding that stayed away is the finding of its absence.
    """
    ladders, codes = {}, {}
    sets = list(itertools.product((False, True), repeat=3))
    for index, (links, leak, seen) in enumerate(zip(LINKS, LEAKS, SEEN, strict=True)):
        ladders[f"set{index}"] = Ladder(id=f"set{index}", name="set", place="engine", combine="sum", low=0, high=7)
        chance = {}
        for there in sets:
            count = sum(2**position for position, present in enumerate(there) if present)
            shows = noisy_or(links, leak, there)
            chance[f"{count}..{count}"] = shows if seen else 1.0 - shows
        codes[f"P100{index}"] = Code(id=f"P100{index}", name="finding", source="memory", on=f"set{index}", set=chance)
    faults = {
        f"d{number}": Fault(
            id=f"d{number}",
            name=f"fault {number}",
            part="part",
            place="engine",
            chance=Chance(per_1000=1000.0 * prior, low=1.0, high=900.0, source="memory"),
            acts=tuple(Act(on=ladder, shift=2**number) for ladder in ladders),
        )
        for number, prior in enumerate(PRIORS)
    }
    empty = ("sources", "readings", "checks", "parts", "access", "cautions", "gates", "tools", "areas", "fitted")
    return Library(hash="noisy-or", ladders=ladders, faults=faults, codes=codes, **{name: {} for name in empty})


def test_noisy_or_of_three_faults() -> None:
    """Priors .1 .2 .05; f1 and f2 show, f3 does not: P(e) .0801205052, posteriors .0939267 .9785476 .0533185.

    Worked by enumeration (our own arithmetic) on the quickscore model: Heckerman, A tractable inference algorithm for
    diagnosing multiple diseases, UAI 1989, section 2 (title from memory).
    """
    library = noisy_or_library()
    car = Car(cylinders=1)
    entries = [
        Entry(id=code, at=code, entered=code, line=code, body=Reading(kind="code", code=code)) for code in library.codes
    ]
    belief = believe(library, car, layout_of(car), entries)
    assert math.exp(belief.log_chance) == pytest.approx(0.0801205052, abs=5e-11)
    assert belief.chances() == pytest.approx([0.0939267, 0.9785476, 0.0533185], abs=5e-8)


def test_conformance_with_two_limits() -> None:
    """JCGM 106:2012, 7.4: measured 13.6, standard uncertainty 1.8, limits 12.5 and 16.3: conforming with 66 %.

    The example's inputs are the guide's; the fourth digit, .6626, is our own arithmetic.
    """
    conforming = spread_chance(Spread(at=13.6, spread=1.8), 12.5, 16.3, noise=0.0)
    assert conforming == pytest.approx(0.6626, abs=5e-5)


@pytest.mark.parametrize(
    ("reading", "percent", "digits", "resolution", "limit"),
    [
        pytest.param(120.0, 1.0, 3, 0.1, 1.5, id="120.0 V"),
        pytest.param(2.0, 0.5, 10, 0.0001, 0.0110, id="2.0000 V"),
        pytest.param(2.0, 0.08, 2, 0.001, 0.0036, id="2.000 V"),
    ],
)
def test_no_meter_is_trusted_more_than_its_maker_says(
    reading: float, percent: float, digits: int, resolution: float, limit: float
) -> None:
    """Accuracy notes of makers of meters (percent of reading plus digits): the share taken here is the wider one.

    A true value read anywhere inside the printed limits keeps a chance close to that of the middle.
    """
    given = {"percent": percent, "digits": digits, "resolution": resolution}
    assert meter_limit(reading, **given) == pytest.approx(limit)
    assert METER_SHARE * reading > meter_se(reading, **given)
    exact = Spread(at=reading, spread=0.0)
    half = resolution / 2.0
    middle = spread_chance(exact, reading - half, reading + half)
    edge = spread_chance(exact, reading + limit - half, reading + limit + half)
    assert 0.75 * middle < edge < middle


def published_network(name: str, folder: Path) -> object:
    """A network of the collection that the package pgmpy (MIT) carries as text, read without starting the package."""
    found = find_spec("pgmpy")
    assert found is not None and found.origin is not None
    packed = Path(found.origin).parent / "utils" / "example_models" / f"{name}.bif.gz"
    text = folder / f"{name}.bif"
    text.write_bytes(gzip.decompress(packed.read_bytes()))
    return gum.loadBN(str(text))


def summed_out(net: object, seen: dict[str, str]) -> tuple[Pass, dict[str, int]]:
    """The same network through our own elimination, with evidence."""
    variables = {net.variable(node).name(): position for position, node in enumerate(net.nodes())}
    sizes = [net.variable(node).domainSize() for node in net.nodes()]
    scopes, tables = [], []
    for node in net.nodes():
        cpt = net.cpt(node)
        names = list(cpt.names)
        # the library tells names with the fastest axis first, its array has that axis last
        scopes.append(tuple(variables[name] for name in reversed(names)))
        tables.append(np.array(cpt.toarray(), dtype=float))
    for name, label in seen.items():
        scopes.append((variables[name],))
        tables.append(np.eye(sizes[variables[name]])[net.variable(name).index(label)])
    tree = Tree(scopes, sizes)
    return Pass(tree, [tree.arrange(index, table) for index, table in enumerate(tables)]), variables


PRINTER = {
    "PTROFFLINE": ("Offline", 0.338604),
    "FllCrrptdBffr": ("Full_or_Corrupt", 0.277974),
    "NetPrint": ("Yes__Network_printer_", 0.252256),
    "PrtMpTPth": ("Incorrect", 0.202894),
    "PrtOn": ("No", 0.184208),
    "PrtDriver": ("No", 0.166820),
    "PrtTimeOut": ("Too_Short", 0.108808),
}


@pytest.mark.parametrize("who", ["judge", "ours"])
def test_printer_network(who: str, tmp_path: Path) -> None:
    """win95pts, 76 nodes, faults of printing (public Bayesian network repository): six digits of the posteriors.

    The numbers were computed once with two general-purpose libraries, which agreed. Judge and our own elimination both
    give them.
    """
    net = published_network("win95pts", tmp_path)
    assert (net.size(), net.sizeArcs()) == (76, 112)

    def posterior(name: str, label: str, seen: dict[str, str]) -> float:
        index = net.variable(name).index(label)
        if who == "ours":
            run, variables = summed_out(net, seen)
            return float(run.marginal(variables[name])[index])
        engine = gum.LazyPropagation(net)
        engine.setEvidence(seen)
        engine.makeInference()
        return float(engine.posterior(name)[index])

    assert posterior("Problem1", "No_Output", {}) == pytest.approx(0.427446, abs=5e-7)
    seen = {"Problem1": "No_Output"}
    for name, (label, chance) in PRINTER.items():
        assert posterior(name, label, seen) == pytest.approx(chance, abs=5e-7)
    seen["PrtStatOff"] = "No_Error"
    assert posterior("PTROFFLINE", "Offline", seen) == pytest.approx(0.350525, abs=5e-7)
    assert posterior("FllCrrptdBffr", "Full_or_Corrupt", seen) == pytest.approx(0.318723, abs=5e-7)
    if who == "ours":
        assert math.exp(summed_out(net, seen)[0].log_chance) == pytest.approx(0.346007, abs=5e-7)


def test_chest_clinic(tmp_path: Path) -> None:
    """Chances before evidence of the "Asia" example.

    Lauritzen and Spiegelhalter 1988, J. R. Stat. Soc. B 50, 157-224; the values from memory.
    """
    net = published_network("asia", tmp_path)
    run, variables = summed_out(net, {})
    known = {"tub": 0.0104, "lung": 0.055, "bronc": 0.45, "either": 0.0648, "xray": 0.1103, "dysp": 0.4360}
    for name, chance in known.items():
        assert run.marginal(variables[name])[net.variable(name).index("yes")] == pytest.approx(chance, abs=5e-5)


@pytest.mark.parametrize("name", ["alarm", "water", "insurance", "hepar2"])
def test_sums_over_published_networks(name: str, tmp_path: Path) -> None:
    """Every marginal of four networks of the public repository, with every fourth leaf seen, equals the judge's."""
    net = published_network(name, tmp_path)
    leaves = [node for node in net.nodes() if not net.children(node)]
    seen = {net.variable(node).name(): net.variable(node).label(0) for node in leaves[::4]}
    engine = gum.LazyPropagation(net)
    engine.setEvidence(seen)
    engine.makeInference()
    run, variables = summed_out(net, seen)
    for one, position in variables.items():
        assert run.marginal(position) == pytest.approx(np.array(engine.posterior(one).toarray()), abs=1e-9)
