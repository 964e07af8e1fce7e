"""What is advised on problems small enough to count out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.errors import Refused
from knowngood.planner.advice import advise
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, Problem, swapped
from knowngood.planner.steps import PROVE
from tests.naive.toy_belief import Toy, fault, independent, one_of, sets_of
from tests.unit.planner.small import check, nothing, repair, shows, told, which

THREE = {"A": 0.5, "B": 0.3, "C": 0.2}
COSTS = {"A": 30.0, "B": 40.0, "C": 50.0}


def three(*checks: CheckAt, **more: object) -> Problem:
    """One of three faults; readings that tell all, one of them, or nothing."""
    readings = {
        "which": which("A", "B", "C"),
        "a": shows("A", 0.9, 0.05),
        "b": shows("B", 0.9, 0.05),
        "coin": (("yes", "no"), nothing),
    }
    return told(one_of(THREE, readings), [repair(name, cost) for name, cost in COSTS.items()], checks, **more)


def test_free_check_that_settles_it_is_first() -> None:
    """What is left is the one right repair: .5 x 30 + .3 x 40 + .2 x 50 = 37."""
    advice = advise(three(check("which", 0.0), check("a", 0.0)))
    assert advice.step.action.id == "which"
    assert advice.step.cost == pytest.approx(37.0)
    assert {after.outcome: after.repair.id for after in advice.step.after if after.repair} == {
        "A": "A",
        "B": "B",
        "C": "C",
    }
    assert [after.chance for after in advice.step.after] == pytest.approx([0.5, 0.3, 0.2])
    assert [(str(after.leading.at.fault), after.leading.chance) for after in advice.step.after] == [
        ("A", pytest.approx(1.0)),
        ("B", pytest.approx(1.0)),
        ("C", pytest.approx(1.0)),
    ]


@pytest.mark.parametrize("minutes", [0.0, 0.01, 10.0])
def test_useless_check_is_never_first(minutes: float) -> None:
    """A coin tells nothing: it is not even listed, at no price."""
    advice = advise(three(check("coin", minutes)))
    assert "coin" not in [step.action.id for step in advice.steps]
    assert advice.step.cost == pytest.approx(advice.replace_now)


def test_repairing_without_looking_is_counted_out() -> None:
    """A, then B, then C: 30 + .5 x 40 + .2 x 50 = 60; the advice saves what the check saves."""
    advice = advise(three(check("which", 5.0)))
    assert advice.replace_now == pytest.approx(60.0)
    assert [each.id for each in advice.order] == ["A", "B", "C"]
    assert advice.saves == pytest.approx(60.0 - 37.0 - 5.0)


def test_check_dearer_than_what_it_saves_is_not_first() -> None:
    """It saves 23: below that it is first, above it the repair is."""
    assert advise(three(check("which", 22.9))).step.action.id == "which"
    assert advise(three(check("which", 23.1))).step.action.id == "A"


def test_steps_are_ranked_by_money() -> None:
    """Cheapest to the end first, and the first is no dearer than repairing without looking."""
    advice = advise(three(check("which", 5.0), check("a", 2.0), check("b", 2.0)))
    costs = [step.cost for step in advice.steps]
    assert costs == sorted(costs)
    assert costs[0] <= advice.replace_now


@pytest.mark.parametrize(
    ("checks", "then"),
    [
        ((check("which", 5.0),), "A"),
        ((check("which", 5.0), check("a", 2.0)), "a"),
        ((check("a", 2.0), check("b", 3.0)), None),
    ],
)
def test_flip_minutes_by_recomputation(checks: tuple[CheckAt, ...], then: str | None) -> None:
    """A hair under the flip minutes the first step is still first, a hair over it is not."""
    advice = advise(three(*checks))
    first, flip = advice.step, advice.step.flip_minutes
    assert isinstance(first.action, CheckAt)
    assert flip is not None and flip > first.minutes
    others = tuple(each for each in checks if each.id != first.action.id)
    assert advise(three(*others, replace(first.action, minutes=flip - 0.01))).step.action.id == first.action.id
    over = advise(three(*others, replace(first.action, minutes=flip + 0.01))).step.action.id
    assert over == (then or over) != first.action.id
    named = next(each for each in advice.flips if each.action is first.action and each.quantity == "minutes")
    assert (named.now, named.at, named.then.id) == (first.minutes, flip, over)


def test_flip_minutes_of_a_repair_by_recomputation() -> None:
    """A (.5, 30) goes before B (.3, 40) by chance over cost until it takes 40 x .5 / .3 = 66.7."""
    problem = three()
    flip = advise(problem).step.flip_minutes
    assert flip == pytest.approx(40.0 * 0.5 / 0.3)

    def first_at(minutes: float) -> str:
        repairs = (repair("A", minutes), *problem.repairs[1:])
        return advise(replace(problem, repairs=repairs)).step.action.id

    assert (first_at(flip - 0.1), first_at(flip + 0.1)) == ("A", "B")


def test_flip_money_by_recomputation() -> None:
    """The same for what a check costs in money."""
    paid = check("which", 5.0, money=4.0)
    flip = advise(three(paid)).step.flip_money
    assert flip == pytest.approx(18.0)
    assert advise(three(replace(paid, money=flip - 0.01))).step.action.id == "which"
    assert advise(three(replace(paid, money=flip + 0.01))).step.action.id == "A"


def test_price_at_which_one_repairs_without_looking() -> None:
    """The flip of the first repair's price: a hair cheaper and it is done at once, a hair dearer and one looks."""

    def at(money: float) -> Problem:
        problem = three(check("which", 15.0))
        first = repair("A", 10.0, money=money)
        return replace(problem, repairs=(first, *problem.repairs[1:]))

    (flip,) = (each for each in advise(at(20.0)).flips if each.quantity == "money" and each.action.id == "A")
    assert 0.0 < flip.at < 20.0
    assert advise(at(flip.at - 0.01)).step.action.id == "A"
    assert advise(at(flip.at + 0.01)).step.action.id == "which"


def test_toss_up_is_named() -> None:
    """The check saves 23 money; within five minutes' worth, 5, of the next best it is a toss-up, else not."""
    assert advise(three(check("which", 18.5))).toss_up
    assert not advise(three(check("which", 17.5))).toss_up
    assert advise(three(check("which", 27.5))).toss_up
    assert not advise(three(check("which", 28.5))).toss_up


def test_toss_up_by_share_of_the_money() -> None:
    """All ten times as dear: 3 % of 600 is 18, more than five minutes' worth."""
    dear = three(check("which", 230.0 - 17.0))
    dear = replace(dear, repairs=tuple(repair(name, 10.0 * cost) for name, cost in COSTS.items()))
    assert advise(dear).toss_up
    assert not advise(replace(dear, checks=(check("which", 230.0 - 19.0),))).toss_up


def test_missing_tool_raises_the_price() -> None:
    """By the share of its price that this job bears; the same check with a tool at hand comes before."""
    without = check("without", 5.0, "which", tools_missing=("gauge",), tool_price=8.0)
    have = check("have", 5.0, "which")
    advice = advise(three(without, have, tool_share=0.5))
    cost = {step.action.id: step.cost for step in advice.steps}
    assert advice.step.action.id == "have"
    assert cost["without"] == pytest.approx(cost["have"] + 4.0)
    (step,) = (step for step in advice.steps if step.action.id == "without")
    assert step.money == pytest.approx(4.0)
    assert advise(three(without, tool_share=1.0)).step.cost == pytest.approx(37.0 + 5.0 + 8.0)


def test_access_is_in_the_price_and_named() -> None:
    """Opening and closing are paid with the check; what is open already is free."""
    graph = AccessGraph({"cover": AccessTime(2.0, 1.0), "duct": AccessTime(3.0, 1.5, after=("cover",))})
    behind = check("which", 5.0, access=("duct",))
    step = advise(three(behind, access=graph)).step
    assert (step.opens, step.minutes, step.cost) == (("cover", "duct"), 12.5, pytest.approx(37.0 + 12.5))
    step = advise(three(behind, access=AccessGraph(graph.steps, frozenset({"cover"})))).step
    assert (step.opens, step.minutes, step.cost) == (("duct",), 9.5, pytest.approx(37.0 + 9.5))


def test_access_nobody_described_is_refused() -> None:
    """The problem is not priced with a step left out."""
    with pytest.raises(Refused, match="There is no access step 'sump'"):
        advise(three(check("which", 5.0, access=("sump",))))


def test_one_step_of_a_kind() -> None:
    """The same look at two places is one step, at its better place; other looks stay."""
    advice = advise(three(check("look", 2.0, "b"), check("look", 2.0, "which"), check("a", 2.0)))
    looks = [step for step in advice.steps if step.action.id == "look"]
    assert [step.action.asks[0].reading for step in looks if isinstance(step.action, CheckAt)] == ["which"]
    assert "a" in [step.action.id for step in advice.steps]


def test_second_check_is_named_where_it_pays() -> None:
    """Three faults alike in chance and dear to mend; each look sees one: after a no, the other look comes."""
    readings = {"a": shows("A"), "b": shows("B")}
    belief = one_of({"A": 1.0, "B": 1.0, "C": 1.0}, readings)
    advice = advise(told(belief, [repair(name, 90.0) for name in "ABC"], [check("a", 1.0), check("b", 1.0)]))
    after = {each.outcome: each.check.id if each.check else None for each in advice.step.after}
    first = advice.step.action.id
    assert after == {"yes": None, "no": {"a": "b", "b": "a"}[first]}
    assert advice.step.cost == pytest.approx(90.0 + 1.0 + 2.0 / 3.0)


def test_swap_looks_at_the_fault_sets_it_makes() -> None:
    """With both coils and both places suspect, a miss before a swap tells nothing; after it, which of the two."""
    names = ("coil 1", "coil 2", "plug 1")

    def misses_at_1(there: frozenset[str]) -> tuple[float, float]:
        miss = float("coil 1" in there or "plug 1" in there)
        return miss, 1.0 - miss

    belief = one_of({"coil 1": 0.5, "plug 1": 0.5, "coil 2": 0.0}, {"miss": (("miss", "none"), misses_at_1)})
    column = {each.fault: each for each in belief.faults}
    moved = swapped(belief.faults, (column["coil 1"],), (column["coil 2"],))
    plain, swap = check("stay", 1.0, "miss"), check("swap", 1.0, "miss", after=moved)
    advice = advise(told(belief, [repair(name, 60.0) for name in names], [plain, swap]))
    assert advice.step.action.id == "swap"
    assert "stay" not in [step.action.id for step in advice.steps]
    assert {each.outcome: each.repair.id for each in advice.step.after if each.repair} == {
        "miss": "plug 1",
        "none": "coil 1",
    }
    assert advice.step.cost == pytest.approx(61.0)


def test_only_what_must_be_put_right_counts() -> None:
    """A fault nobody complains of is not repaired, nor looked for, nor named as leading."""
    readings = {"a": shows("A"), "b": shows("B")}
    belief = independent({"A": 0.5, "B": 0.5}, readings, bad=False)
    advice = advise(
        told(
            belief,
            [repair("A", 60.0), repair("B", 60.0)],
            [check("a", 1.0), check("b", 1.0)],
            must=frozenset({fault("A")}),
        )
    )
    ids = [step.action.id for step in advice.steps]
    assert "b" not in ids and "B" not in ids
    assert [at.fault for at, _ in advice.leading] == ["A"]


def test_proving_is_a_step_where_nothing_may_be_left() -> None:
    """At nine in ten sound the proof comes first; where something is surely there it is no step."""
    belief = sets_of({frozenset(): 0.9, frozenset({"A"}): 0.1})
    advice = advise(told(belief, [repair("A", 100.0)], proof_minutes=5.0))
    assert (advice.step.action.id, advice.step.cost) == (PROVE, pytest.approx(5.0 + 0.1 * 105.0))
    sure = advise(told(one_of({"A": 1.0}), [repair("A", 100.0)], proof_minutes=5.0))
    assert [step.action.id for step in sure.steps] == ["A"]
    assert sure.step.cost == pytest.approx(105.0)


def test_nothing_to_repair() -> None:
    """With no repair at all, what is left is to prove it."""
    advice = advise(told(one_of({"A": 1.0}), [], proof_minutes=5.0))
    assert advice.order == ()
    assert [step.action.id for step in advice.steps] == [PROVE]


def many(count: int) -> Toy:
    """Independent faults, too many sets to list with a few draws, each with a noisy reading."""
    rng = np.random.default_rng(5)
    names = [f"f{index}" for index in range(count)]
    chances = dict(zip(names, map(float, rng.uniform(0.05, 0.3, count)), strict=True))
    return independent(chances, {name: shows(name, 0.9, 0.05) for name in names})


def on_draws(seed: int) -> object:
    belief = many(10)
    names = [each.fault for each in belief.faults]
    problem = told(
        belief,
        [repair(name, 10.0 + 7.0 * index) for index, name in enumerate(names)],
        [check(name, 2.0 + index, name) for index, name in enumerate(names)],
        proof_minutes=15.0,
    )
    return advise(problem, seed=seed, most=200)


def test_same_seed_same_advice() -> None:
    """On draws: the same seed says the same to the last digit, another seed prices other draws."""
    assert on_draws(3) == on_draws(3)
    one, other = on_draws(3), on_draws(4)
    assert one != other


def test_draws_are_said_to_be_draws() -> None:
    """Exact only where every fault set was priced; either way no more than twelve steps."""
    problem = told(many(10), [repair(f"f{index}", 20.0) for index in range(10)])
    assert advise(problem, most=2000).exact
    assert not advise(problem, most=200).exact
    assert len(advise(problem, most=200).steps) <= 12


def test_draws_agree_with_all_sets() -> None:
    """A thousand draws price repairing within 5 % of what all 1,023 sets do."""
    problem = told(many(10), [repair(f"f{index}", 20.0 + 5.0 * index) for index in range(10)], proof_minutes=10.0)
    assert advise(problem, most=1000).replace_now == pytest.approx(advise(problem, most=2000).replace_now, rel=0.05)
