"""Where the tables hold only part of the evidence, draws weighed by the rest answer as the enumeration does."""

from __future__ import annotations

import numpy as np
import pytest

import knowngood.belief.exact as exact
from knowngood.belief.common_causes import causes_in_state
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask, FaultAt
from knowngood.car import ENGINE
from tests.twins.test_common_causes import CHEWED_SEEN, MISS, ROUGH, told
from tests.unit.belief.tiny import TWO

NEAR = 0.05  # three thousand draws: four standard errors of one half are 0.037, and the weighing costs some


@pytest.fixture(name="pair")
def both_ways(monkeypatch: pytest.MonkeyPatch) -> tuple[ExactBelief, ExactBelief]:
    """The same evidence, exact and with the complaint of the whole engine left to the draws."""
    belief = told(CHEWED_SEEN, MISS, ROUGH, animals=True)
    monkeypatch.setattr(exact, "smaller_parts", lambda said, model: iter([said[:1]]))
    return belief, ExactBelief(belief.model, belief.known)


def test_chances_and_bound(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """Every chance within the bound that is told, common causes among what is drawn."""
    whole, drawn = pair
    assert whole.exact and not drawn.exact
    assert 0.0 < drawn.error_bound < 0.2
    assert np.abs(drawn.chances() - whole.chances()).max() <= drawn.error_bound
    assert drawn.log_chance == pytest.approx(whole.log_chance, abs=0.1)
    states = [drawn.draws.kept[causes_in_state(state)] for state in range(drawn.built.common.states)]
    assert np.sum(states, axis=0) == pytest.approx(1.0)


def test_chance_draw_by_draw_of_what_no_draw_holds(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """A loom nobody read anything of follows the common causes, draw by draw; over the draws it has its chance."""
    _, drawn = pair
    loom = FaultAt("loom_chewed", ENGINE)
    assert drawn.instance_now(loom) not in drawn.draws.kept
    (there,) = drawn.there_in_draws([drawn.model.column[loom]])
    assert there.mean() == pytest.approx(drawn.chance_of_any([loom]), abs=1e-9)
    assert len(np.unique(there)) == drawn.built.common.states


def test_any_of_some_faults(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """Faults that are drawn and one that nothing was read of."""
    whole, drawn = pair
    wanted = [FaultAt("loom_chewed", ENGINE), FaultAt("coil_wire_chewed", TWO)]
    assert drawn.chance_of_any(wanted) == pytest.approx(whole.chance_of_any(wanted), abs=NEAR)
    alone = wanted[:1]
    assert drawn.chance_of_any(alone) == pytest.approx(whole.chance_of_any(alone), abs=NEAR)


def test_without_a_line(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """Taking the complaint away, or the miss."""
    whole, drawn = pair
    for entry in (1, 2):
        assert drawn.chances_without(entry) == pytest.approx(whole.chances_without(entry), abs=NEAR)


def test_size_of_a_surprise(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """Of the miss, which the draws hold; to a tenth, as two thousand draws tell it."""
    whole, drawn = pair
    for entry in sorted(whole.entries_in()):
        assert drawn.surprise(entry) == pytest.approx(whole.surprise(entry), rel=0.1)
    assert abs(whole.surprise(1) - 1.0) > 0.2


def test_size_of_a_surprise_with_all_outside(
    pair: tuple[ExactBelief, ExactBelief], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Miss and complaint both weigh draws of what was found; alone in the tables, the finding surprises none."""
    whole, _ = pair
    monkeypatch.setattr(exact, "smaller_parts", lambda said, model: iter([said[:0]]))
    drawn = ExactBelief(whole.model, whole.known)
    for entry in (1, 2):
        assert drawn.surprise(entry) == pytest.approx(whole.surprise(entry), rel=0.15)
    assert drawn.surprise(0) == pytest.approx(1.0, abs=1e-9)


def test_what_a_check_would_show(pair: tuple[ExactBelief, ExactBelief]) -> None:
    """Chances of the outcomes, and the belief after each."""
    whole, drawn = pair
    ask = Ask("loom_look", TWO)
    for ours, theirs in zip(drawn.outcome_chances(ask), whole.outcome_chances(ask), strict=True):
        assert ours == pytest.approx(theirs, abs=2.0 * NEAR)
    assert len(drawn.scenarios(500, np.random.default_rng(1)).weight) == 500
