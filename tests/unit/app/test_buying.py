"""Looking before buying: the order of looks, the top price as a sum, walking away; the stages of the job."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from knowngood.app.buying import Buying, buying_of, price_words
from knowngood.app.money import money_of
from knowngood.app.service import base_service
from knowngood.app.sheets_buying import buying_sheet
from knowngood.app.stages import look_words, stage_of, stage_words, stages_of
from knowngood.app.state import State
from knowngood.app.to_finish import repairs_of_draws
from knowngood.app.weigh import at_once, is_understood
from knowngood.app.workshop import Workshop
from knowngood.errors import Refused
from knowngood.library.load import load
from knowngood.lines import Recent, read_line
from knowngood.sheets.sheet import Table

CAR = ("petrol, 4 cylinders inline, coil on plug, port injection, flow meter, 187000 km, about 2002", "stood 2 years")


def told(folder: Path, *lines: str) -> State:
    """A car with what was said of it."""
    with Workshop(folder, load()) as shop:
        job = shop.new("grey").code
        for line in (*CAR, *lines):
            said = shop.say(job, line)
            assert said.counts, (line, said.why)
        return shop.state(job)


def price_of(state: State) -> Buying:
    """What it may cost."""
    return buying_of(state, at_once(state).answer)


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> State:
    """Nothing looked at yet."""
    return told(tmp_path_factory.mktemp("fresh"), "worth 2400 when done", "asking 200")


def test_top_price_is_worth_less_repairs_less_service(fresh: State) -> None:
    """The sum that is shown is the sum; the dear end gives the price that is right nine times in ten."""
    buy = price_of(fresh)
    assert buy.low < buy.expected < buy.high
    assert buy.top == pytest.approx(2400 - buy.expected - buy.service)
    assert buy.surely == pytest.approx(2400 - buy.high - buy.service)


def test_what_the_service_renews_is_paid_once(fresh: State) -> None:
    """Plugs are due on a car of unknown upkeep: a worn plug is no repair beside the service."""
    assert "plugs" in {one.name for one in base_service(fresh).due}
    sums, _ = repairs_of_draws(fresh, fresh.scenarios.present)
    plugs = np.array([fresh.library.faults[at.fault].part == "plug" for at in fresh.belief.faults])
    without_plugs, _ = repairs_of_draws(fresh, fresh.scenarios.present & ~plugs)
    assert price_of(fresh).expected <= without_plugs.mean() < sums.mean()


def test_one_car_has_one_price(tmp_path: Path) -> None:
    """What all of it takes is the same before it is bought and in the bay; what was found is a part of that."""
    state = told(tmp_path, "shakes at cold idle", "P0302 stored", "worth 2400 when done")
    answer = at_once(state).answer
    buy, bay = buying_of(state, answer), money_of(state, answer)
    assert bay.found is not None and bay.whole is not None
    assert bay.whole.all.expected == pytest.approx(buy.expected + buy.service)
    assert bay.whole.all.high == pytest.approx(buy.high + buy.service)
    assert bay.found.expected < bay.whole.all.expected
    assert f"to finish costs about {bay.whole.all.expected:.0f} " in bay.verdict


def test_looking_takes_twenty_minutes_and_begins_with_what_ends_it(fresh: State) -> None:
    """The looks that say walk away stand first but for none; all of them in twenty minutes (trade: 20 minutes)."""
    stage = fresh.library.stages["buy"]
    assert set(stage.looks[: len(stage.walk_away)]) == set(stage.walk_away)
    checks = [
        min((c for c in fresh.library.checks.values() if look in c.reads), key=lambda c: len(c.reads))
        for look in stage.looks
    ]
    assert sum(check.minutes for check in checks) <= 20.0


def test_what_a_look_finds_is_in_the_price(fresh: State, tmp_path: Path) -> None:
    """Rust that holds the car together takes its hours and money off the price; one look less is not made."""
    looked = told(tmp_path, "jacking points: bad", "worth 2400 when done")
    rusted = fresh.library.faults["structure_rusted"].cures[0]
    before, after = price_of(fresh), price_of(looked)
    at_rate = rusted.minutes / 60.0 * fresh.settings.rate_per_hour
    assert after.expected > before.expected + 0.4 * at_rate  # 0.6 of it over many sets of draws, 0.06 either way in one
    assert after.unlooked == before.unlooked - 1


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("jacking points: bad", "load-bearing body sound: bad; rust where the car is held together"),
        ("engine moves: bad", "engine turns: not seized: bad; a seized engine is another engine"),
        ("papers and keys: bad", "papers and keys complete, the number on the body agrees: bad; a car without papers"),
        ("flood line: bad", "no flood line: bad; flood water goes on spoiling"),
        ("worth 300 when done", "to put it right takes more than the 300 it will be worth"),
    ],
)
def test_what_says_walk_away(tmp_path: Path, line: str, reason: str) -> None:
    """Each with its reason, said first."""
    buy = price_of(told(tmp_path, line))
    assert buy.walk_away[0].startswith(reason)
    assert price_words(buy)[0].startswith(f"Walk away: {reason}")


def test_asked_price_over_the_top_price_says_by_how_much() -> None:
    """Word for word, with invented figures."""
    buy = Buying(
        walk_away=["900 is asked, 300 over what it may cost"],
        low=500.0,
        expected=1000.0,
        high=1700.0,
        minutes=1200.0,
        service=400.0,
        worth=2000.0,
        asked=900.0,
        top=600.0,
        surely=-100.0,
        unlooked=1,
    )
    assert price_words(buy) == [
        "Walk away: 900 is asked, 300 over what it may cost.",
        "Top price 600: 2000 when done, less repairs about 1000 (500 to 1700, 8 times in 10) and base service 400, "
        "in all about 20 h 00 of work.",
        "No price is safe: when the repairs come dear it does not pay even as a gift.",
        "1 look is not made yet; what they may find is in the range.",
    ]


def test_without_a_worth_there_is_no_top_price(tmp_path: Path) -> None:
    """What it takes is said all the same, and what to say for a price."""
    buy = price_of(told(tmp_path))
    assert buy.top is None and buy.walk_away == []
    assert price_words(buy)[0].endswith("Say what it will be worth, such as 'worth 2400 when done', for a top price.")


def test_looks_of_the_sheet_are_understood_typed_back(fresh: State) -> None:
    """Each look's words with good or bad make a line that counts."""
    with_words = [words for words in look_words(fresh, "buy") if "say '" in words]
    assert len(with_words) == len(fresh.library.stages["buy"].looks)
    lines = [words.split("say '")[1].rstrip("'") for words in with_words]
    (table,) = [
        block for block in buying_sheet(fresh, at_once(fresh).answer, "2026-05-01").blocks if isinstance(block, Table)
    ]
    words = [row[0] for row in table.rows if row[2] != "off the price"]
    lines += [f"{name}: bad" for name in words if name not in ("nest", "drive look")]  # their words are others
    for line in lines:
        understood = read_line(line, fresh.car, fresh.library, Recent())
        assert is_understood(understood) and understood.bodies, line


def test_stages_stand_in_the_order_of_the_job(fresh: State) -> None:
    """From looking before buying to the car that comes back (design: stages)."""
    assert [stage.id for stage in stages_of(fresh)] == [
        "buy",
        "battery",
        "crank",
        "start",
        "idle",
        "yard",
        "road",
        "fifty",
        "handed_over",
        "back_again",
    ]
    assert stage_words(fresh)[1] == "before the battery: not looked yet (0 of 7 looks good)"


def test_stage_says_what_was_bad(tmp_path: Path) -> None:
    """A bad stop item shuts the stage and is named."""
    state = told(tmp_path, "papers and keys: bad")
    assert stage_words(state)[0] == (
        "look before buying: shut (0 of 13 looks good; "
        "not good: papers and keys complete, the number on the body agrees)"
    )


def test_unknown_stage_is_refused(fresh: State) -> None:
    """Those there are, are named."""
    with pytest.raises(Refused) as refused:
        stage_of(fresh, "moon")
    assert str(refused.value.problems[0]).startswith("There is no stage 'moon'. Stages: buy, battery, crank,")
