"""Parts from wanted to fitted; sums; whether going on pays."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import msgspec
import pytest

from knowngood.app.money import _verdict, money_of, money_words, part_words
from knowngood.app.to_finish import Sums
from knowngood.app.workshop import Workshop
from knowngood.car import Car
from knowngood.evidence import Entry, Stock
from knowngood.library.load import load

CAR = ("petrol", "V6, coil on plug, port injection, flow meter, 180000 km", "misses on 3", "P0303 now")


@pytest.fixture
def shop(tmp_path: Path) -> Workshop:
    """A car that misses."""
    workshop = Workshop(tmp_path, load())
    workshop.new("six")
    _say(workshop, *CAR)
    return workshop


def _say(shop: Workshop, *lines: str) -> None:
    for line in lines:
        assert shop.say(shop.jobs()[0].code, line).counts, line


def _told(shop: Workshop) -> tuple[list[str], float, float]:
    code = shop.jobs()[0].code
    told = money_of(shop.state(code), shop.answer(code))
    return [part_words(line) for line in told.parts], told.spent, told.promised


def test_part_goes_from_wanted_to_fitted_and_is_paid_once(shop: Workshop) -> None:
    """Promised while it is on its way, spent when it is here, off the shelf when it is fitted."""
    _say(shop, "want a coil", "ordered coil 38 two days from the breaker")
    assert _told(shop) == (["ignition coil: ordered, 2 days, 38, from breaker"], 0.0, 38.0)
    _say(shop, "coil arrived")
    assert _told(shop) == (["ignition coil: arrived, 38, from breaker"], 38.0, 0.0)
    assert shop.state(shop.jobs()[0].code).stock.lying("coil") == 1
    _say(shop, "replaced coil 3")
    assert _told(shop) == (["ignition coil: fitted, 38, from breaker"], 38.0, 0.0)
    assert shop.state(shop.jobs()[0].code).stock.lying("coil") == 0


def test_one_piece_of_four_is_fitted_and_three_stay_here(shop: Workshop) -> None:
    """Each with its share of the price; pieces fitted on one day stand together; the last leaves nothing here."""
    _say(shop, "ordered 4 coils 80 two days", "coils arrived", "replaced coil 3")
    assert _told(shop)[0] == ["ignition coil: fitted, 20", "3 x ignition coil: arrived, 60"]
    assert shop.state(shop.jobs()[0].code).stock.lying("coil") == 3
    _say(shop, "replaced coil 1")
    assert _told(shop) == (["2 x ignition coil: fitted, 40", "2 x ignition coil: arrived, 40"], 80.0, 0.0)
    _say(shop, "replaced coil 2, 4")
    assert _told(shop) == (["4 x ignition coil: fitted, 80"], 80.0, 0.0)


def test_part_sent_back_costs_nothing_and_tool_stays_paid(shop: Workshop) -> None:
    """Money back for the part; the tester is kept."""
    _say(shop, "bought a coil 30", "bought compression tester 45", "returned coil")
    words, spent, promised = _told(shop)
    assert words == ["ignition coil: returned, 30", "compression gauge: arrived, 45"]
    assert (spent, promised) == (45.0, 0.0)


def test_part_without_a_price_is_counted_as_such(shop: Workshop) -> None:
    """A sum that lacks a line says so."""
    _say(shop, "ordered coil, 2 days")
    code = shop.jobs()[0].code
    told = money_of(shop.state(code), shop.answer(code))
    assert told.unpriced == 1
    assert "No price was said for 1 part: it is in no sum." in money_words(told, None)


@pytest.mark.parametrize(
    ("worth", "stop", "words"), [(5000, False, "It pays to go on"), (60, True, "Stop here: to finish costs about")]
)
def test_stop_here_is_said_when_it_no_longer_pays(shop: Workshop, worth: int, stop: bool, words: str) -> None:
    """What the car gains by being finished against what it is expected to cost; what was spent does not count."""
    _say(shop, f"worth {worth} when done", "paid 3000")
    code = shop.jobs()[0].code
    told = money_of(shop.state(code), shop.answer(code))
    assert told.stop is stop
    assert told.verdict.startswith(words)
    assert told.found is not None and told.whole is not None
    for sums in (told.found, told.whole.repairs):
        assert sums.low < sums.expected < sums.high


def test_entry_of_an_older_journal_still_reads() -> None:
    """A part of before it had stages, as its JSON stood on disk."""
    text = (
        b'{"id":"a","at":"2026-01-01T00:00:00.000000","entered":"2026-01-01T00:00:00.000000",'
        b'"body":{"type":"stock","part":"coil","count":1,"price":38.0,"wait_days":2.0}}'
    )
    assert msgspec.json.decode(text, type=Entry).body == Stock(part="coil", price=38.0, wait_days=2.0)


@pytest.mark.parametrize(
    ("worth", "now", "begins", "stop"),
    [
        (1000.0, None, "It pays to go on: to finish costs about 500 (300 to 800); it is worth 1000 when done.", False),
        (700.0, None, "It pays on average, not surely: to finish costs about 500 (300 to 800); it is worth 700", False),
        (400.0, None, "Stop here: to finish costs about 500 (300 to 800) and it is worth 400 when done.", True),
        (1000.0, 450.0, "It pays on average, not surely: to finish costs about 500 (300 to 800); it is worth 1000 when "
         "done against 450 as it stands.", False),
        (1000.0, 600.0, "Stop here: ", True),
        (None, 600.0, "", False),
    ],
)  # fmt: skip
def test_going_on_is_weighed_against_what_it_gains(
    worth: float | None, now: float | None, begins: str, stop: bool
) -> None:
    """What it is worth as it stands is there already; what was spent is not asked about."""
    state = SimpleNamespace(car=Car(worth_done=worth, worth_now=now))
    words, stops = _verdict(state, Sums(low=300.0, expected=500.0, high=800.0))  # type: ignore[arg-type]
    assert words.startswith(begins) and bool(words) == bool(begins)
    assert stops is stop
