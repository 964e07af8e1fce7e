"""The next step fits a phone held upright; the rest is one option away."""

from __future__ import annotations

import msgspec

from knowngood.app.answer import AfterAnswer, Answer, Because, NextStep, Suspect
from knowngood.cli.show import WIDTH, cut, first_sentence, next_lines, step_lines, suspect_lines
from knowngood.library.load import load

LOOKS = "look; " * 30
STEP = NextStep(
    do="measure",
    what="look",
    name="listen to each injector through a long screwdriver held at the ear, cylinder 4",
    place="cylinder 4",
    minutes=3.0,
    money=0.0,
    cost=100.0,
    why="It tells a dead coil, cylinder 4 (about 4 in 10) from an injector that is gummed shut (about 2 in 10).",
    answers=[AfterAnswer(f"answer {n}", 0.2, f"something likely; cylinder {n}; then {LOOKS}", LOOKS) for n in range(5)],
    cautions=["Fans start by themselves: battery negative off before hands go near. Keep sleeves away."] * 4,
    tools=["screwdriver"],
    opens=["engine cover", "coil cover"],
    against_replace="This way about 100 to the end; replace this, then that without looking about 150: 50 saved.",
    flips=["If this took over 12 min, this would come first: another look.", "If it cost over 20, too."],
)


def answer(*steps: NextStep) -> Answer:
    """An answer of steps alone."""
    empty = {"car": {}, "understood": [], "not_understood": [], "suspects": [], "unlisted": 0.0, "asks": []}
    return Answer(**empty, next=list(steps), library="")


def lines_of(*said: str) -> list[str]:
    """Lines as they stand on the screen."""
    return [line for text in said for line in text.split("\n")]


def test_first_step_fits_twenty_lines() -> None:
    """A long step with five answers and four cautions: at most 20 lines of 78 columns."""
    lines = lines_of(*step_lines(STEP, 1, full=False))
    assert len(lines) <= 20
    assert max(map(len, lines)) <= WIDTH


def test_brief_says_of_an_answer_what_is_done_then() -> None:
    """Whatever stands in it by way of punctuation; what it makes likely is told in full, or where nothing else is."""
    said = " ".join(" ".join(step_lines(STEP, 1, full=False)).split())
    assert "answer 0 (about 2 in 10): then look; look;" in said
    assert "something likely" not in said
    unknown = msgspec.structs.replace(STEP, answers=[AfterAnswer("no", 0.2, "a gummed injector; a dead coil")])
    assert "no (about 2 in 10): a gummed injector; a dead coil" in " ".join(step_lines(unknown, 1, full=False))


def test_every_caution_keeps_its_first_sentence() -> None:
    """Brief leaves out words of a caution, and no caution."""
    said = list(step_lines(STEP, 1, full=False))
    assert sum("Caution: Fans start by themselves: battery" in text for text in said) == 4
    assert sum("Keep sleeves away." in text for text in step_lines(STEP, 1)) == 4


def test_all_shows_every_answer_and_the_others_at_length() -> None:
    """Two steps: brief names the second, in full it is told."""
    brief, full = (
        list(next_lines(answer(STEP, STEP), full=False, most=3)),
        list(next_lines(answer(STEP, STEP), full=True, most=3)),
    )
    assert sum("answer 4" in text for text in brief) == 0
    assert sum("answer 4" in text for text in full) == 2
    assert brief[-1] == "   All answers and cautions in full: --all"
    assert any(text.startswith("   Else: ") for text in brief)
    assert all(text.startswith(("1.", "2.", "   ")) for text in full)


def test_cut_ends_at_a_word() -> None:
    """Nothing is broken in two, and what fits is left alone."""
    assert cut("one two three", 13) == "one two three"
    assert cut("one two three four", 13) == "one two..."


def test_first_sentence_keeps_what_to_do() -> None:
    """Up to the first full stop: the order behind a colon is not cut off; a text without one is kept whole."""
    assert [first_sentence(text) for text in ("A: b. C.", "A; b", "A b")] == ["A: b.", "A; b", "A b"]


def test_no_caution_of_ours_loses_its_order() -> None:
    """Each with a colon keeps what stands behind it: "Oil lamp with the engine running: engine off now."."""
    texts = [caution.text for caution in load().cautions.values()]
    assert sum(": " in text for text in texts) > 10
    for text in texts:
        first = text.split(". ")[0]
        assert first_sentence(text).removesuffix(".") == first.removesuffix(".")
    oil = first_sentence(load().cautions["oil_lamp_off"].text)
    assert oil == "Oil lamp with the engine running: engine off now."


def test_line_of_unknown_weight_is_named_where_no_other_speaks_for_the_suspect() -> None:
    """Beside a line that was weighed it is left to 'why'; alone it is the reason."""
    suspect = Suspect(
        fault="crank_wire_loose", name="crank sensor plug loose", part="wire", chance=0.5, low=0.2, high=0.7,
        behind=0.5, shown=0.5, stand_out=0, held=0.0, several=False, places=[], because=[],
        unweighed=[Because(59, 0.0, "P0335")],
    )  # fmt: skip
    alone = msgspec.structs.replace(answer(), suspects=[suspect])
    assert "because of line 59 (how far is not known)" in " ".join(" ".join(suspect_lines(alone)).split())
    weighed = msgspec.structs.replace(suspect, because=[Because(4, 6.0, "cuts out")])
    beside = msgspec.structs.replace(answer(), suspects=[weighed])
    assert "because of line 4 +6.0" in " ".join(suspect_lines(beside))
    assert "line 59" not in " ".join(suspect_lines(beside))


def test_suspect_beside_the_complaint_is_told_as_such() -> None:
    """A flat battery is nearly sure and stands below the brakes that are complained of: the order is said, once."""
    brakes = Suspect(
        fault="brakes_unsafe", name="brakes unsafe", part="brakes", chance=0.3, low=0.2, high=0.5,
        behind=0.3, shown=0.3, stand_out=0, held=0.0, several=False, places=[], because=[],
    )  # fmt: skip
    battery = msgspec.structs.replace(brakes, fault="battery_dead", name="battery dead", chance=0.99, shown=0.99)
    order = "First what can be behind what it does, then what is there beside it."
    marked = [line.strip() for line in suspect_lines(msgspec.structs.replace(answer(), suspects=[brakes, battery]))]
    assert marked.count(order) == 1
    plain = [line.strip() for line in suspect_lines(msgspec.structs.replace(answer(), suspects=[battery, brakes]))]
    assert order not in plain


def test_names_of_checks_go_on_in_a_sentence() -> None:
    """ "Else: look for soot", "then look for soot"; an abbreviation keeps its capitals."""
    other = msgspec.structs.replace(STEP, name="Look for soot")
    then = msgspec.structs.replace(STEP, answers=[AfterAnswer("sooty", 0.5, "x", "MAP hose off")])
    text = " ".join(" ".join(next_lines(answer(then, other), full=False, most=5)).split())
    assert "Else: look for soot (3 min)" in text
    assert "then MAP hose off" in text
