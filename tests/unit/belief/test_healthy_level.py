"""Rows without a specification: the healthy level is unknown, shared, and summed out on a grid."""

from __future__ import annotations

import math

import numpy as np
import pytest
from msgspec import structs

from knowngood.belief import clues
from knowngood.belief.exact import ExactBelief
from knowngood.belief.likelihood import METER_SHARE, ODD, odd_kept
from knowngood.car import Car, Place
from knowngood.evidence import Reading, Value
from knowngood.library.load import load
from knowngood.library.records import Library, Spread
from tests.unit.belief.tiny import after

CAR = Car(cylinders=4, form="inline", ignition="coil on plug", injection="port", air_meter="flow meter", turbo=False)
SHAPES = ((1.0, 1.02, 0.97, 1.01), (1.0, 1.02, 0.6, 1.01), (1.0, 1.0, 0.7, 0.72))
FINE = 720


@pytest.fixture(scope="module")
def library() -> Library:
    """The library that is shipped."""
    return load()


def row(library: Library, kind: str, values: tuple[float, ...]) -> ExactBelief:
    """Four numbers, one a cylinder, nothing else known."""
    step = 0.01 * max(values)
    return after(
        library,
        *(
            Reading(kind=kind, place=Place("cylinder", str(number)), value=Value(value, step=step))
            for number, value in enumerate(values, start=1)
        ),
        car=CAR,
    )


def middles(library: Library, kind: str, count: int) -> list[float]:
    """Healthy levels over the span of a kind."""
    healthy = library.readings[kind].healthy
    assert healthy is not None
    return [float(level) for level in np.geomspace(healthy.low, healthy.high, count + 2)[1:-1]]


@pytest.mark.parametrize(
    ("kind", "most"),
    [
        ("compression", 1e-3),
        ("injector_balance", 1e-3),
        ("header_temperature", 1e-3),
        ("injector_resistance", 1e-3),
        ("plug_gap", 1e-3),
        ("coil_primary", 1e-3),
        ("coil_secondary", 1e-3),
    ],
)
def test_grid_is_fine_enough(kind: str, most: float, library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """All alike, one far off, two and two: chances on the grid against those on one at least five times as fine."""
    off = 0.0
    for middle in middles(library, kind, 4):
        for shape in SHAPES:
            values = tuple(middle * part for part in shape)
            coarse = row(library, kind, values).chances()
            with monkeypatch.context() as finer:
                finer.setattr(clues, "grid_points", lambda _: FINE)
                fine = row(library, kind, values)
            assert len(fine.known.levels[kind]) == FINE
            off = max(off, float(np.abs(coarse - fine.chances()).max()))
    assert 0.0 < off <= most


def leaks(belief: ExactBelief) -> list[float]:
    """Chance that a cylinder seals badly by itself: any of its own faults that act on the seal."""
    faults = belief.model.library.faults
    own = [at for at in belief.faults if any(act.on == "seal" for act in faults[at.fault].acts)]
    places = [Place("cylinder", str(number)) for number in (1, 2, 3, 4)]
    return [belief.chance_of_any([at for at in own if at.place == place]) for place in places]


def test_one_against_three_is_accused(library: Library) -> None:
    """Three alike and one far lower: that one, without any specification."""
    of_each = leaks(row(library, "compression", (1150.0, 1130.0, 600.0, 1140.0)))
    assert of_each[2] > 0.7
    assert max(of_each[0], of_each[1], of_each[3]) < 0.1


def test_three_alike_are_cleared(library: Library) -> None:
    """Four alike: none is more suspect than before, whatever the level."""
    before = leaks(after(library, car=CAR))
    for level in (900.0, 1150.0, 1400.0):
        of_each = leaks(row(library, "compression", (level, 1.01 * level, 0.99 * level, level)))
        assert all(now < was for now, was in zip(of_each, before, strict=True))


def test_number_outside_every_span_speaks_for_none(library: Library) -> None:
    """Ten thousand kPa in one cylinder is odd and leaves the others' row to be judged as it was."""
    with_it = leaks(row(library, "compression", (1150.0, 1130.0, 600.0, 10_000.0)))
    assert with_it[2] > 0.65
    assert max(with_it[0], with_it[1]) < 0.1
    assert with_it[3] == pytest.approx(leaks(after(library, car=CAR))[3], abs=0.05)


def test_odd_numbers_keep_a_least_share() -> None:
    """Where some level explains a number, the others keep a millionth of its chance; where none does, all are alike."""
    assert odd_kept(np.array([[0.2, 0.0], [0.0, 0.0]])) == pytest.approx(np.array([[0.2, 0.2 * ODD], [0.2 * ODD] * 2]))
    assert odd_kept(np.zeros((2, 2))) == pytest.approx(np.ones((2, 2)))
    assert math.isclose(ODD, 1e-6)


def test_healthy_levels_are_as_fine_as_the_narrowest_spread_asks(library: Library) -> None:
    """So many points to a spread, with the meter's own in it; never fewer than the least, more at an edge."""
    kind = library.readings["compression"]
    assert kind.healthy is not None
    levels, span = list(kind.spread), 4.0
    kind = structs.replace(kind, healthy=structs.replace(kind.healthy, high=math.exp(span) * kind.healthy.low))

    def points(*spreads: Spread) -> int:
        named = dict(zip(levels, spreads, strict=False))
        return clues.grid_points(structs.replace(kind, spread=named))

    narrow = span / 50.0
    wanted = math.ceil(clues.POINTS_PER_SPREAD * span / math.hypot(narrow, METER_SHARE))
    assert clues.EDGE_POINTS < wanted < clues.MOST_GRID_POINTS
    assert points(Spread(at=1.0, spread=narrow), Spread(at=0.5, spread=10.0 * narrow)) == wanted
    assert points(Spread(at=1.0, spread=span)) == clues.GRID_POINTS
    wide = span / 10.0
    near, far = (math.exp(-share * clues.EDGE_SPREADS * wide) for share in (0.9, 1.1))
    assert points(Spread(at=1.0, spread=wide), Spread(low=0.1, high=near)) == clues.EDGE_POINTS
    assert points(Spread(at=1.0, spread=wide), Spread(low=0.01, high=far)) == clues.GRID_POINTS
