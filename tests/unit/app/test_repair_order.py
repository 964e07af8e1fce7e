"""What is decided, in order; what waits for a part; what is worth doing while it is apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.repair_order import DECIDED, Offer, _offers, repair_order
from knowngood.app.workshop import Workshop
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.errors import Refused
from knowngood.library.load import load
from knowngood.planner.problem import AccessGraph, AccessTime, Repair
from knowngood.sheets.words import minutes

LINES = (
    "petrol",
    "V6, coil on plug, port injection, flow meter, 180000 km",
    "plug cracked 5",
    "plug cracked 4",
    "injector stuck open 4",
)


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Workshop:
    """One car with three findings behind shared access."""
    folder: Path = tmp_path_factory.mktemp("order")
    shop = Workshop(folder, load())
    job = shop.new("six").code
    for line in LINES:
        assert shop.say(job, line).counts, line
    return shop


def test_findings_are_planned_with_shared_access_opened_once(workshop: Workshop) -> None:
    """Both plugs and the injector are done, nothing comes off twice, all goes back, and it beats one by one."""
    order = repair_order(workshop.state(workshop.jobs()[0].code))
    off = [line for line in order.lines if line.startswith("take off")]
    back = [line for line in order.lines if line.startswith("put back")]
    assert len(off) == len(set(off)) == len(back)
    assert sum("spark plug of cylinder" in line for line in order.lines) == 2
    assert any("injector of cylinder 4" in line for line in order.lines)
    assert order.minutes < order.one_by_one
    assert order.gap == 0.0


def test_part_that_must_come_is_named_and_done_last(workshop: Workshop) -> None:
    """What can be done today is done today; the part that comes later is to be ordered now."""
    order = repair_order(workshop.state(workshop.jobs()[0].code))
    (named,) = [words for words in order.waits_for if "injector" in words]
    assert named == "replace injector of cylinder 4: part in 2 d"
    assert max(order.lines.index(line) for line in order.lines if "replace spark plug of" in line) < min(
        order.lines.index(line) for line in order.lines if line.startswith("wait")
    )


def test_nothing_is_planned_before_anything_is_decided(tmp_path: Path) -> None:
    """A car of which nothing is known has no order of repairs."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("new").code
        order = repair_order(shop.state(job))
    assert order.lines == []
    assert order.minutes == 0.0


def test_what_is_only_likely_on_such_a_car_is_not_decided(tmp_path: Path) -> None:
    """Mice under the bonnet and old brake fluid take nothing off: no dashboard comes out for a fault nobody noticed."""
    lines = (
        "petrol",
        "6 cylinders inline, coil on plug, port injection, flow meter, 187000 km, stood 2 years",
        "mouse droppings under the bonnet",
        "P0302 stored",
        "seen: coil wire cylinder 2 chewed through",
        "hesitates when pulling away",
    )
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("mice").code
        for line in lines:
            shop.say(job, line)
        state = shop.state(job)
        order = repair_order(state)
    old = state.belief.model.column[FaultAt("brake_fluid_old", ENGINE)]
    assert state.belief.chances()[old] >= DECIDED  # likely on any car that stood: it would have been taken for decided
    told = " / ".join(order.lines)
    assert "coil of cylinder 2" in told
    assert "cabin filter" not in told
    assert "brake fluid" not in told
    assert not [line for line in order.lines if "dashboard" in line]


def test_each_repair_says_what_it_is_for(workshop: Workshop) -> None:
    """A line of the order that is a repair ends with the fault and its chance: nothing is done without its reason."""
    order = repair_order(workshop.state(workshop.jobs()[0].code))
    (plug,) = [line for line in order.lines if line.startswith("replace spark plug of cylinder 5")]
    assert plug.endswith(": insulator of the spark plug cracked, nearly sure")


def test_cooling_is_told_whole(tmp_path: Path) -> None:
    """A hot engine is not cold after the minutes that are counted: how long it takes is said, as beside the advice."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("hot").code
        for line in ("petrol", "4 cylinders", "rough idle at hot idle"):
            shop.say(job, line)
        order = repair_order(shop.state(job), checks=("oxygen_heater_measured",))
    (cooling,) = [line for line in order.lines if line.startswith("let it cool")]
    assert cooling == "let it cool, about 2 h 00; other work goes on beside it, 30 min are counted"


def test_checks_join_the_order_with_their_engine_and_their_tools(workshop: Workshop) -> None:
    """What can be measured now comes now, what needs a tool that is lent out on the day it is back, in one teardown."""
    job = workshop.jobs()[0].code
    before = repair_order(workshop.state(job))
    said = workshop.say(job, "leak-down tester lent till tomorrow")
    checks = ("charging_measured", "leakdown_check")
    order = repair_order(workshop.state(job), checks=checks)
    workshop.undo(job)
    assert said.counts
    charging, leakdown, wait = (
        next(index for index, line in enumerate(order.lines) if line.startswith(words))
        for words in ("charging voltage", "Leak-down at top dead centre", "wait until day 1")
    )
    assert charging < wait < leakdown
    assert order.tools_back == ["leak-down at top dead centre, at each place: tool back in 1 d"]
    each = workshop.library.checks["leakdown_check"].minutes
    assert order.lines[leakdown] == f"Leak-down at top dead centre, at each place ({minutes(6 * each)})"
    assert before.minutes < order.minutes < order.one_by_one


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (
            "horoscope",
            "No check of this car goes by 'horoscope'. `knowngood library --list checks` names them all.",
        ),
        (
            "leak-down",
            "2 checks go by 'leak-down'. Name one: neighbour_air_check (Leak-down, hand over the neighbour's hole); "
            "leakdown_check (Leak-down at top dead centre).",
        ),
    ],
)
def test_check_that_is_none_or_two_is_asked_about(workshop: Workshop, words: str, message: str) -> None:
    """The error says which there are."""
    with pytest.raises(Refused) as refused:
        repair_order(workshop.state(workshop.jobs()[0].code), checks=(words,))
    assert str(refused.value.problems[0]) == message


@pytest.mark.parametrize(
    ("chance", "offered"),
    [
        # 15 min and 20 in parts are 30 now; later 30 and 2 h of access at 40 an hour are 110 times the chance
        (0.26, False),
        (0.28, True),
    ],
)
def test_offer_is_made_where_the_sum_says_so(chance: float, offered: bool) -> None:
    """Now against chance of later times what it costs later, worked out by hand: even at 30 / 110."""
    access = AccessGraph({"cover": AccessTime(60.0, 60.0)})
    repair = Repair(id="r", name="r", fixes=(FaultAt("x", ENGINE),), minutes=15.0, money=20.0, access=("cover",))
    offers = _offers(access, frozenset({"cover"}), [repair], {"r": chance}, 40.0)
    assert bool(offers) is offered
    assert all(isinstance(offer, Offer) and offer.now == pytest.approx(30.0) for offer in offers)
    assert _offers(access, frozenset(), [repair], {"r": 1.0}, 40.0) == []
