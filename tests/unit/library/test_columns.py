"""Readings as tables of chances, and who sees whom by them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from knowngood.library import load
from knowngood.library.columns import rows
from knowngood.library.load import Draft
from knowngood.library.records import Library
from knowngood.library.separation import Separation, told_apart


def test_every_row_of_ours_sums_to_one() -> None:
    """Whatever the form of a reading, each level shares out one whole."""
    library = load()
    for kind in [*library.readings.values(), *library.codes.values()]:
        ladder = library.ladders.get(kind.on)
        levels = list(range(ladder.low, ladder.high + 1)) if ladder and ladder.combine == "sum" else ()
        table = rows(library, kind, levels or (ladder.levels if ladder else kind.levels))
        np.testing.assert_allclose(table.sum(axis=1), 1.0, atol=1e-9, err_msg=kind.id)
        assert (table >= 0).all(), kind.id


def test_bands_follow_the_bell(small: Library) -> None:
    """Two bells in bands keep the chance of a mistake of the two bells (normal distribution, scipy)."""
    reading = small.readings["long_trim"]
    table = rows(small, reading, [0, -3])
    likelier = np.minimum(table[0], table[1]).sum()
    overlap = 2 * stats.norm.cdf(-abs(3 * reading.per_step) / 2 / reading.noise)
    clean = (likelier - reading.gross) / (1 - reading.gross)
    assert clean == pytest.approx(overlap, abs=0.03)


def test_words_and_codes_are_their_own_bands(small: Library) -> None:
    """Words stand as written; a code is set or not."""
    assert rows(small, small.readings["spark_seen"], ["weak"]).tolist() == [[0.2, 0.7, 0.1]]
    np.testing.assert_allclose(rows(small, small.codes["P0171"], ["right", "lean"]), [[0.99, 0.01], [0.3, 0.7]])


def test_who_sees_whom(small: Library) -> None:
    """A dead coil is seen by the tester and by the codes; the split hose by its look and the trims."""
    separation = Separation(small)
    assert separation.seen_by["coil_dead"] == ("spark_test", "trims")
    assert separation.seen_by["hose_split"] == ("trims", "hose_looked")
    assert separation.seen_by_one() == {"coil_weak": "trims"}, "its codes: it acts under pull, the tester cranks"
    assert separation.unseen() == ()


def test_a_faint_table_sees_nothing(lay_over: Callable[..., Draft]) -> None:
    """An answer under three times as likely is no sight of a fault (common practice)."""
    faint = lay_over(
        """
[[reading]]
id = "compression"
name = "compression"
place = "cylinder"
source = "memory"
on = "seal"
words = ["good", "low"]
chance = { tight = { good = 0.7, low = 0.3 }, leaking = { good = 0.4, low = 0.6 } }

[[code]]
id = "P0301..P0304"
name = "misfire"
source = "made_up_table"
each = "cylinder"
place = "cylinder"
on = "burn"
set = { steady = 0.2, poor = 0.3, dead = 0.9 }
"""
    ).library()
    separation = Separation(faint)
    assert "valve_burnt" in separation.unseen()
    assert separation.seen_by_one() == {}


def test_rows_are_told_apart_by_one_answer() -> None:
    """Three to one in any answer that happens at least once in twenty."""
    assert told_apart(np.array([[0.97, 0.03], [0.88, 0.12]]))[0, 1]
    assert not told_apart(np.array([[0.99, 0.01], [0.96, 0.04]]))[0, 1]
    assert not told_apart(np.array([[0.6, 0.4], [0.4, 0.6]]))[0, 1]
