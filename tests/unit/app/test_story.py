"""The story of a car: what came in, what was done, and what shows that it worked."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.pieces import piece_words, repairs_made
from knowngood.app.repair_order import OrderWords, RepairOrder, order_words
from knowngood.app.state import State
from knowngood.app.story import Chapter, came_in_with, is_bad, name_of, story_of
from knowngood.app.time_line import days_of, time_line
from knowngood.app.workshop import Workshop
from knowngood.evidence import Reading
from knowngood.library.load import load
from tests.told import kept_after, state_after

CAR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter, 180000 km"


def told(folder: Path, *lines: str) -> State:
    """A car of which these lines were said."""
    return kept_after(folder, CAR, *lines)


def test_came_in_with_what_was_said_before_anything_was_put_right_here(tmp_path: Path) -> None:
    """Clearing codes and taking something apart put nothing right; what is said twice stands once."""
    lines = ("shakes at cold idle", "P0303 stored", "shakes at cold idle", "cleared codes", "no power")
    state = told(tmp_path, *lines, "replaced coil 3", "stalls at idle")
    assert came_in_with(state) == ["shakes at cold idle", "P0303 stored", "no power"]


def test_chapter_is_shown_by_what_the_work_can_have_changed(tmp_path: Path) -> None:
    """The plug of cylinder 3 was wet and is dry; that of 1 is another matter, and what says the same shows nothing."""
    before = ("plug look 3: wet with fuel", "plug look 1: black", "P0303 stored")
    after = ("plug look 3: normal", "plug look 1: normal", "P0303 stored")
    (chapter,) = story_of(told(tmp_path, *before, "replaced coil 3", *after))
    assert chapter.done == "replaced ignition coil cylinder 3"
    assert chapter.was == ""
    assert [words.split(":")[0] for words in chapter.shown_by] == ["look of the spark plug, cylinder 3"]


def test_bundle_names_what_was_renewed_and_leaves_open_which_part_did_it(tmp_path: Path) -> None:
    """All of it is one chapter."""
    state = told(tmp_path, "shakes at cold idle", "base service done, better")
    (indexes,) = repairs_made(state)
    (chapter,) = story_of(state)
    assert isinstance(chapter, Chapter)
    assert piece_words(state, indexes).startswith("base service: engine oil")
    assert chapter.done == f"{piece_words(state, indexes)}: better; which part of it did that is open"


def test_work_elsewhere_and_clearing_codes_are_no_repairs_made_here(tmp_path: Path) -> None:
    """They stand in the journal all the same."""
    state = told(tmp_path, "shakes at cold idle", "P0303 stored", "cleared codes", "reseated coil connector 3")
    assert [piece_words(state, indexes) for indexes in repairs_made(state)] == ["reseated plug of the coil cylinder 3"]


def test_order_is_told_with_what_it_saves_and_waits_for() -> None:
    """What is ordered comes before what is not sooner; equal minutes save nothing."""
    plan = RepairOrder(
        lines=["take off: cover (5 min)"],
        minutes=30.0,
        one_by_one=40.0,
        gap=2.0,
        waits_for=["replace coil: part in 2 d"],
        tools_back=["leak-down: tool back in 1 d"],
        offers=[],
    )
    assert order_words(plan) == OrderWords(
        ["take off: cover (5 min)"],
        [
            "30 min this way, at most 2 min from the best order; one by one 40 min.",
            "Order now: replace coil: part in 2 d.",
            "Not sooner: leak-down: tool back in 1 d.",
        ],
    )


def test_leads_found_crossed_are_what_was_put_right_at_both(tmp_path: Path) -> None:
    """Found at the pair, mended at each: no repair on suspicion."""
    found = "found: plug leads 3 and 4 crossed"
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("leads").code
        for line in ("4 cylinders inline, port injection, pair coil", found, "leads 3 and 4 put right, smooth now"):
            shop.say(job, line)
        (chapter,) = story_of(shop.state(job))
    assert chapter.was == "plug leads 3 and 4 crossed"


def test_condition_that_the_name_has_is_not_said_again(tmp_path: Path) -> None:
    """A drop while cranking is not "while cranking (cranking)"."""
    state = told(tmp_path, "drop engine to body while cranking 0.7 V", "reseated engine ground strap")
    drop = next(one.body for one in state.entries if isinstance(one.body, Reading))
    assert name_of(state, drop) == "drop from engine to battery minus while cranking"


def test_word_found_stands_once_in_the_story_of_a_day(tmp_path: Path) -> None:
    """A line that begins with it stands under it."""
    moments = time_line(told(tmp_path, "found: vacuum hose split"))
    assert days_of(moments)[-1][1].endswith("Found: vacuum hose split")


@pytest.mark.parametrize("word", ["good", "as it should be", "no", "could not tell"])
def test_judged_good_is_not_bad_whatever_the_words_of_its_kind(word: str) -> None:
    """A kind that is said by yes and no is not bad where it was judged good."""
    state = state_after("4 cylinders inline, coil on plug, port injection")
    assert not is_bad(state, Reading(kind="shakes", word=word))
    assert is_bad(state, Reading(kind="shakes", word="bad"))
