"""When a repair is proved, and what is still asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.asks import asks_of
from knowngood.app.old_codes import old_codes
from knowngood.app.proof import (
    CAME_BACK,
    NOT_YET,
    NOTHING,
    PROVED,
    STILL_THERE,
    WANTED,
    Proof,
    all_proved,
    proofs_of,
    proved_words,
)
from knowngood.app.read_again import not_yet_read, to_read_again
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from tests.told import state_after

CAR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter"
COIL = ("shakes at cold idle", "P0303 stored", "coil 3>1, miss moved", "replaced coil 1")


def proofs(folder: Path, *lines: str, wanted: float = WANTED) -> list[Proof]:
    """Tell a car and ask how its repairs stand."""
    with Workshop(folder, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, *lines):
            said = shop.say(job, line)
            assert said.counts, (line, said.why)
        return proofs_of(shop.state(job), wanted)


def test_repair_without_a_look_after_it_is_not_proved(tmp_path: Path) -> None:
    """What was bad before is to be read again, after the old code is cleared."""
    (proof,) = proofs(tmp_path, *COIL)
    assert proof.verdict == NOT_YET
    assert proof.shown == []
    assert any(words.startswith("read again: shakes, runs unevenly (was yes)") for words in proof.needs)


def test_fact_that_is_gone_proves(tmp_path: Path) -> None:
    """The miss is gone after the coil, as the swap said: proved, and what showed it is named."""
    (proof,) = proofs(tmp_path, *COIL, "cleared codes", "runs well, no shake", "no codes")
    assert proof.verdict == PROVED
    assert proof.left < 0.02
    assert "shakes, runs unevenly: yes before, no after" in proof.shown
    assert proof.needs == []


def test_codes_looked_for_right_after_they_were_cleared_prove_nothing(tmp_path: Path) -> None:
    """No code comes back before the engine has run: the coil waits until it was driven and they are read again."""
    told = (*COIL[:2], "replaced coil 3", "runs well, no shake", "cleared codes", "no codes")
    (proof,) = proofs(tmp_path, *told)
    assert proof.verdict == NOT_YET
    assert any(words.startswith("read again: code P0303") for words in proof.needs)
    (proof,) = proofs(tmp_path / "driven", *told, "drove 15 km town and motorway, all good", "no codes")
    assert proof.verdict == PROVED


def test_code_that_was_not_read_again_leaves_it_open(tmp_path: Path) -> None:
    """It runs well, but what the car came with is looked at again before it counts: the code, too."""
    told = ("shakes at cold idle", "P0303 stored", "coil plug loose 3", "reseated coil connector 3", "cleared codes")
    (proof,) = proofs(tmp_path, *told, "runs well, no shake")
    assert proof.verdict == NOT_YET
    assert proof.left < WANTED
    assert any(words.startswith("read again: code P0303") for words in proof.needs)


@pytest.mark.parametrize(
    ("after", "verdict"),
    [
        (("shakes at cold idle",), STILL_THERE),
        (("runs well, no shake", "shakes at cold idle"), CAME_BACK),
    ],
)
def test_same_complaint_after_the_work_speaks_against_it(tmp_path: Path, after: tuple[str, ...], verdict: str) -> None:
    """It still shakes, or it shook again after it ran well."""
    (proof,) = proofs(tmp_path, *COIL, *after)
    assert proof.verdict == verdict
    (words,) = proof.needs
    assert words.startswith("look again: the next step weighs it with all that was read before; most likely now: ")


@pytest.mark.parametrize(("after", "verdict"), [("plug 3 dry", PROVED), ("plug 3 wet", STILL_THERE)])
def test_plug_that_was_wet_and_is_dry_is_not_wet_still(tmp_path: Path, after: str, verdict: str) -> None:
    """Looks of a plug are no degrees of one fault: only the look it had before says that the trouble is there still."""
    told = (*COIL[:2], "plug 3 wet", "replaced coil 3", "cleared codes", "runs well, no shake")
    (proof,) = proofs(tmp_path, *told, "no codes", after)
    assert proof.verdict == verdict


def test_level_never_proves_in_one_drive(tmp_path: Path) -> None:
    """A trim back to normal once asks for two more drives; three times is enough."""
    told = ("lt b1 +19 idle", "vacuum hose chewed", "replaced vacuum hose")
    (once,) = proofs(tmp_path / "once", *told, "lt b1 +2 idle")
    (thrice,) = proofs(tmp_path / "thrice", *told, "lt b1 +2 idle", "lt b1 +1 idle", "lt b1 +2 idle")
    assert once.verdict == NOT_YET
    assert once.needs == [
        "clear the learned trims, or drive until they have settled: until then they are those from before",
        "read on 2 more drives: long trim (hot idle), bank 1 (a level proves nothing in one)",
    ]
    assert thrice.verdict == PROVED


def test_level_is_not_asked_for_again_where_a_fact_tells(tmp_path: Path) -> None:
    """It cranks well and the drop is gone: nobody drives out to read the drop a third time while a code is open."""
    strap = (
        "slow crank",
        "clicks at the key",
        "drop engine to body while cranking 0.9 V",
        "replaced engine ground strap",
    )
    (proof,) = proofs(tmp_path, *strap, "cranks well", "drop engine to body while cranking 0.05 V")
    assert proof.verdict == NOT_YET
    assert any(words.startswith("read again: only clicks at the key") for words in proof.needs)
    assert not [words for words in proof.needs if words.startswith("read on")]


def test_repair_on_suspicion_of_nothing_read_says_so(tmp_path: Path) -> None:
    """There is nothing to read again where nothing was read."""
    (proof,) = proofs(tmp_path, "replaced thermostat")
    assert proof.verdict == NOT_YET
    assert proof.needs[-1].startswith("nothing was read before the work that it would change")


def test_fault_that_comes_and_goes_asks_for_drives_like_those_it_showed_on(tmp_path: Path) -> None:
    """It shook on two of six cold mornings: more clean drives than for one of one, under that condition."""
    often = ("shakes at cold idle", "replaced coil 3")
    seldom = ("shakes at cold idle", *["no shake at cold idle"] * 4, "shakes at cold idle", "replaced coil 3")
    (sure,) = proofs(tmp_path / "often", *often, wanted=0.002)
    (rare,) = proofs(tmp_path / "seldom", *seldom, wanted=0.002)
    assert sure.clean_drives is not None and rare.clean_drives is not None
    assert rare.clean_drives > sure.clean_drives
    assert any(words.endswith("under the conditions it came with (cold idle)") for words in rare.needs)


def test_work_that_changed_nothing_is_not_proved_by_what_later_work_cured(tmp_path: Path) -> None:
    """New plugs that changed nothing, as it was said or as the next reading shows, take no credit for the coil."""
    cured = ("replaced coil 1", "cleared codes", "runs well, no shake", "no codes")
    for told in (("replaced plug 1, no change",), ("replaced plug 1", "shakes at cold idle")):
        plug, coil = proofs(tmp_path / told[0], *COIL[:3], *told, *cured)
        assert (plug.verdict, plug.shown, plug.needs) == (NOTHING, [], [])
        assert coil.verdict == PROVED
        assert "shakes, runs unevenly: yes before, no after" in coil.shown


def test_nothing_is_asked_again_for_a_repair_that_is_proved(tmp_path: Path) -> None:
    """The look that is still missing is asked for until the repair is proved without it, and then no more."""
    told = (
        "petrol, 4 cylinders inline, coil on plug",
        "shakes at cold idle",
        "P0303 stored",
        "plug 3 wet",
        "replaced coil 3",
    )
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in told:
            assert shop.say(job, line).counts, line
        asked = [one.name for one in to_read_again(shop.state(job)).words]
        for line in ("cleared codes", "runs well, no shake", "no codes"):
            shop.say(job, line)
        state = shop.state(job)
    assert "look of the spark plug, cylinder 3" in asked
    assert [proof.verdict for proof in proofs_of(state)] == [PROVED]
    assert to_read_again(state).words == ()


def test_old_code_is_cleared_before_it_says_anything_of_the_work(tmp_path: Path) -> None:
    """Asked for until it was done after the work; clearing it before the work is none."""
    ask = "write the codes down, then clear them: an old code says nothing of the work"
    told = ("shakes at cold idle", "P0303 stored")
    (before,) = proofs(tmp_path / "before", *told, "cleared codes", "replaced coil 3")
    (after,) = proofs(tmp_path / "after", *told, "replaced coil 3", "cleared codes")
    assert ask in before.needs
    assert ask not in after.needs


def test_numbers_and_codes_are_led_back_to(tmp_path: Path) -> None:
    """A number leads to the check that reads it; codes are asked for, also those that name no cylinder."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, "P0171 stored", "charging voltage 12.2 V", "replaced alternator"):
            assert shop.say(job, line).counts, line
        state = shop.state(job)
        again = to_read_again(state)
        assert [(one.was, one.check) for one in again.numbers] == [("12.2 V", "charging_measured")]
        assert again.codes
        shop.say(job, "no codes")
        assert not not_yet_read(again, state, shop.entries(job)).codes
        assert not to_read_again(shop.state(job)).codes


def test_what_was_tapped_a_moment_ago_is_not_asked_again(tmp_path: Path) -> None:
    """While the answer to it is still being worked out."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, *COIL):
            shop.say(job, line)
        state = shop.state(job)
        again = to_read_again(state)
        assert "word|shakes|engine" in [one.field for one in again.words]
        shop.say(job, "shakes: no")
        left = not_yet_read(again, state, shop.entries(job))
        assert "word|shakes|engine" not in [one.field for one in left.words]


def test_no_spark_test_is_asked_for_after_a_clean_drive(tmp_path: Path) -> None:
    """The code is gone and little is left: the shake that was told is looked at again, the tester stays in its box."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        told = ("shakes cold idle", "P0303 stored", "spark 3: weak", "replaced coil 3, cured")
        for line in (CAR, *told):
            shop.say(job, line)
        (proof,) = proofs_of(shop.state(job))
        assert any("spark at a grounded tester" in words for words in proof.needs)
        for line in ("cleared codes", "drove 15 km town and motorway, all good", "no codes"):
            shop.say(job, line)
        state = shop.state(job)
        (proof,) = proofs_of(state)
        assert proof.needs == ["read again: shakes, runs unevenly (was yes)"]
        assert [one.field for one in to_read_again(state).words] == ["word|shakes|engine"]


def test_what_was_only_seen_and_put_right_holds_no_hand_over_up(tmp_path: Path) -> None:
    """A chewed hose that nothing was read of stays unproved for ever; alone it proves nothing either."""
    coil = (*COIL, "cleared codes", "runs well, no shake", "no codes")
    hose = ("vacuum hose chewed, seen", "replaced vacuum hose")
    told = proofs(tmp_path / "both", *coil, *hose)
    assert [(proof.verdict, proof.read_before) for proof in told] == [(PROVED, True), (NOT_YET, False)]
    assert all_proved(told)
    assert proved_words(told) == "Every repair is proved as far as it can be"
    assert proved_words([one for one in told if one.read_before]) == "Every repair is proved"
    assert not all_proved(proofs(tmp_path / "alone", *hose))
    assert not all_proved(proofs(tmp_path / "open", *COIL, *hose))


LEAN = (
    "P0171 stored",
    "hesitates when pulling away",
    "lt b1 +19 idle",
    "vacuum hose chewed",
    "replaced vacuum hose",
    "no hesitation",
    "lt b1 +2 idle",
)
OLD = "P0171 is from before the repair: write it down, clear, drive, and read the codes again."


def test_code_that_names_no_cylinder_is_read_again_before_it_is_proved(tmp_path: Path) -> None:
    """A lean code counts as one of a cylinder does: what can set it was put right, so it is looked for again."""
    (open_,) = proofs(tmp_path / "open", *LEAN)
    assert open_.verdict == NOT_YET
    assert open_.needs[0] == "write the codes down, then clear them: an old code says nothing of the work"
    assert "read again: code P0171 (was P0171 stored)" in open_.needs
    (gone,) = proofs(tmp_path / "gone", *LEAN, "cleared codes", "no hesitation", "no codes")
    assert gone.verdict == PROVED
    assert "code P0171: P0171 stored before, none after" in gone.shown


def test_code_read_again_and_never_cleared_speaks_neither_way(tmp_path: Path) -> None:
    """It is remembered from before the repair; once it was cleared and is there again, it came back."""
    (old,) = proofs(tmp_path / "old", *LEAN, "P0171 stored")
    assert old.verdict == NOT_YET
    (back,) = proofs(tmp_path / "back", *LEAN, "cleared codes", "no hesitation", "P0171 stored")
    assert back.verdict == STILL_THERE


def test_code_of_the_other_bank_does_not_wait_for_a_repair() -> None:
    """An injector of cylinder 2 makes no bank lean but its own; a bank the engine lacks waits for nothing."""
    for car, codes in (("V6, coil on plug, port injection, petrol", {"code P0171"}), (CAR, {"code P0171"})):
        state = state_after(car, "P0171 stored", "P0174 stored", "replaced injector 2")
        (proof,) = proofs_of(state)
        assert {words.split(": ")[1].split(" (")[0] for words in proof.needs if "read again: code" in words} == codes


def test_old_codes_are_asked_for_once_it_was_driven() -> None:
    """Not before it ran; then clear and read again; cleared, only what is there now; read again, nothing."""
    assert old_codes(state_after(CAR, *LEAN[:5])) == ""
    assert old_codes(state_after(CAR, *LEAN)) == OLD
    assert old_codes(state_after(CAR, *LEAN, "P0171 stored")) == OLD
    cleared = (*LEAN, "cleared codes")
    assert old_codes(state_after(CAR, *cleared)) == "P0171 was cleared: which codes are there now, after a drive?"
    assert old_codes(state_after(CAR, *cleared, "no hesitation", "no codes")) == ""
    assert OLD in asks_of(state_after(CAR, *LEAN), ())


def test_old_code_speaks_no_second_time_against_the_repair() -> None:
    """Read again and never cleared it moves no chance; cleared and there again it does."""

    def left(*more: str) -> float:
        return proofs_of(state_after(CAR, *LEAN, *more))[0].left

    assert left("P0171 stored") == left()
    assert left("cleared codes", "P0171 stored") > left("cleared codes")
