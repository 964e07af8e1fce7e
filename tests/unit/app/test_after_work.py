"""What a repair asks for before it shows anything; the base service as one piece."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.after_work import still_to_settle
from knowngood.app.closing import touched_words
from knowngood.app.pieces import repairs_made
from knowngood.app.proof import NOT_YET, UPKEEP, proofs_of
from knowngood.app.sheets import sheet_of
from knowngood.app.state import State
from knowngood.app.story import story_of
from knowngood.app.time_line import chapter_words
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text

CAR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter"


def told(folder: Path, *lines: str) -> State:
    """A car told line by line."""
    with Workshop(folder, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, *lines):
            assert shop.say(job, line).counts, line
        return shop.state(job)


def asked(state: State) -> list[str]:
    """What is still to settle after all the work."""
    return still_to_settle(state, [index for indexes in repairs_made(state) for index in indexes])


# cooling bled, throttle learned, trims cleared: common practice
@pytest.mark.parametrize(
    ("work", "asks", "settled"),
    [
        ("replaced thermostat", "bleed the cooling system", "bled coolant"),
        ("cleaned throttle", "let it learn throttle and idle", "relearned throttle"),
        ("replaced air meter", "clear the learned trims", "cleared codes"),
        ("replaced crank sensor", "let it learn the pattern of the crank wheel", "relearned crank sensor"),
    ],
)
def test_work_asks_for_what_settles_it(tmp_path: Path, work: str, asks: str, settled: str) -> None:
    """It is asked for until it was done after the work; done before, it settles nothing."""
    (words,) = asked(told(tmp_path / "open", settled, work))
    assert words.startswith(asks)
    assert asked(told(tmp_path / "settled", work, settled)) == []


def test_proof_and_closing_sheet_name_it(tmp_path: Path) -> None:
    """Where the repair is not proved, and where the page is ticked off."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, "idles high", "cleaned throttle"):
            shop.say(job, line)
        state = shop.state(job)
        (proof,) = proofs_of(state)
        text = as_text(sheet_of("closing", state, shop.answer(job), "2026-05-01"))
    assert any(words.startswith("let it learn throttle and idle") for words in proof.needs)
    assert "[ ] let it learn throttle and idle" in text


def test_base_service_is_one_piece_with_nothing_to_prove(tmp_path: Path) -> None:
    """Nothing was read before it: upkeep, in one sentence."""
    state = told(tmp_path, "base service done")
    ((proof,), (chapter,)) = proofs_of(state), story_of(state)
    assert proof.verdict == UPKEEP
    assert proof.needs == []
    assert chapter_words(chapter, proof) == (
        "base service: engine oil, oil filter, air filter, fuel filter, coolant, brake fluid, spark plug, fuel; "
        "upkeep, nothing was read before it that it would change."
    )


def test_what_the_base_service_changed_stays_open_between_its_parts(tmp_path: Path) -> None:
    """It runs better: which part of it did that is not said."""
    state = told(tmp_path, "shakes at cold idle", "base service done, better")
    ((proof,), (chapter,)) = proofs_of(state), story_of(state)
    assert proof.verdict == NOT_YET
    assert "better; which part of it did that is open" in chapter_words(chapter, proof)


def test_what_was_touched_is_told_by_what_is_looked_at(tmp_path: Path) -> None:
    """Plugs are clicked, hoses pushed home, oil is looked up at the mark; each once."""
    rows = touched_words(told(tmp_path, "replaced vacuum hose", "refilled oil", "cleaned engine ground"))
    assert any(row.startswith("pushed home, clip or clamp on: vacuum hose") for row in rows)
    assert any(row.startswith("up to the mark, no leak when it runs: engine oil") for row in rows)
    assert any(row.startswith("on bare metal, tight: engine ground strap") for row in rows)
    assert len(rows) == len(set(rows))
