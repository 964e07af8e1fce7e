"""A car talked through, its codes, any check as a step, put away: as the lines and entries that say it."""

from __future__ import annotations

import pytest

from knowngood.app.check_step import TO_TAP, find_checks, find_faults, step_of_check
from knowngood.app.complaints import USUAL, complaints
from knowngood.app.put_away import is_away, note_of
from knowngood.app.talk import ASKS, line_of_codes, lines_of_talk
from knowngood.car import Car, layout_of
from knowngood.errors import Refused
from knowngood.evidence import CarFact, Entry
from knowngood.library.load import load
from knowngood.lines import read_line

LIBRARY = load()
STAMP = "2026-05-01T09:30:00.000000Z"


@pytest.mark.parametrize("ask", [ask for ask in ASKS if ask.answers], ids=lambda ask: ask.field)
def test_every_answer_reads_back(ask: object) -> None:
    """Each as one fact of the car at least, and nothing of it is left unread."""
    for answer in ask.answers:  # type: ignore[attr-defined]
        (line,) = lines_of_talk([(ask.field, answer)])  # type: ignore[attr-defined]
        understood = read_line(line, Car(), LIBRARY)
        assert understood.left == (), line
        assert understood.bodies and all(isinstance(body, CarFact) for body in understood.bodies), line


def test_all_answers_together_read_back() -> None:
    """As three lines: what it is and went through, what was done, what is new."""
    answers = {ask.field: ask.answers[0] if ask.answers else "1999" if ask.number else "not known" for ask in ASKS}
    for form in ("inline", "V", "flat"):
        lines = lines_of_talk([*{**answers, "form": form}.items()])
        assert len(lines) == 3
        for line in lines:
            assert read_line(line, Car(), LIBRARY).left == (), line


def test_nothing_answered_is_refused() -> None:
    """In words."""
    with pytest.raises(Refused, match=r"Nothing was answered\. Answer what you know"):
        lines_of_talk([("drive", "")])
    with pytest.raises(Refused, match=r"'steam' is no answer to 'What drives it\?' Answers: petrol"):
        lines_of_talk([("drive", "steam")])


def test_codes_are_written_with_their_letter() -> None:
    """From their digits alone."""
    assert line_of_codes("0302 0171", "stored") == "P0302, P0171 stored"
    assert line_of_codes("p0302, 01710301", "") == "P0302, P0171, P0301"


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("  ", "'  ' holds no code. Type the four digits of each, such as 0302 0171."),
        ("30", "'30' is no code of four digits."),
        ("0302 017", "'017' is no code of four digits."),
        ("0302 P0A0F", "'P0A0F' is no code of four digits."),
        ("0302 " + "1" * 301, f"'{'1' * 20}...' is no code of four digits."),
    ],
)
def test_no_code_is_dropped_from_a_row_of_them(typed: str, message: str) -> None:
    """What is none of four digits is said, and nothing of the row is kept until then."""
    with pytest.raises(Refused) as refused:
        line_of_codes(typed, "stored")
    assert refused.value.problems[0].fact + " " + refused.value.problems[0].fix == (
        message
        if "holds" in message
        else f"{message} Type the four digits of each, such as 0302 0171; others are said as a line."
    )


def test_usual_complaints_are_in_the_library() -> None:
    """Each by its id, and none of the others is lost."""
    usual, others = complaints(LIBRARY)
    assert tuple(kind.id for kind in usual) == USUAL
    assert len(others) > 30


def test_check_is_made_at_every_place() -> None:
    """A row for cylinders, both banks of a V, once for the engine."""
    layout = layout_of(Car(cylinders=6, form="V"))
    assert len(step_of_check(LIBRARY, layout, "compression_row").reads) == 6
    assert [str(place) for place in layout.places("bank")] == ["bank 1", "bank 2"]
    assert [str(place) for place in layout.places("pair")] == ["pair 1-2", "pair 2-3", "pair 4-5", "pair 5-6"]
    assert [ask.place for ask in step_of_check(LIBRARY, layout, "pair_plugs_looked").reads] == [
        "companions 1-5",
        "companions 2-6",
        "companions 3-4",
    ]
    with pytest.raises(Refused, match="There is no check 'nosuch'"):
        step_of_check(LIBRARY, layout, "nosuch")


def test_odd_cylinders_have_no_companions() -> None:
    """On five cylinders no two stand 360 degrees of crank apart: none is offered to be looked at."""
    layout = layout_of(Car(cylinders=5))
    assert step_of_check(LIBRARY, layout, "pair_plugs_looked").reads == []
    assert layout.places("companions") == ()
    assert [str(place) for place in layout.places("wheel")] == ["engine"]


def test_checks_are_found_by_words() -> None:
    """Of their names, readings and tools."""
    found, count = find_checks(LIBRARY, "comp gauge", Car())
    assert "compression_row" in [check.id for check in found]
    assert count < len(LIBRARY.checks)


def test_a_word_finds_what_begins_with_it() -> None:
    """A word of oil is none of a coil; those that can be tapped each find something, in both lists."""
    found, _ = find_checks(LIBRARY, "oil", Car())
    assert "oil_there_looked" in [check.id for check in found]
    assert [check.name for check in found if "oil" not in check.name.replace("coil", "")] != [
        check.name for check in found
    ]
    assert not any(check.id.startswith("coil_") for check in found)
    for word in TO_TAP:
        assert find_checks(LIBRARY, word, Car())[1] or find_faults(LIBRARY, word, Car(), {})[1], word


def test_every_check_is_reached_page_by_page() -> None:
    """No list ends before its last."""
    reached = []
    while len(reached) < find_checks(LIBRARY, "", Car())[1]:
        found, _ = find_checks(LIBRARY, "", Car(), len(reached))
        assert found
        reached += [check.id for check in found]
    assert len(set(reached)) == len(reached)


def test_nothing_is_listed_that_the_car_cannot_have() -> None:
    """A car with a flow meter has no hose of a pressure sensor to pull off, and no fault of one."""
    metered, pressure = Car(air_meter="flow meter"), Car(air_meter="manifold pressure")
    words = "pressure metered"
    assert find_faults(LIBRARY, words, metered, {}) == ([], 0)
    assert find_faults(LIBRARY, words, pressure, {})[1] > 0
    assert find_checks(LIBRARY, "", metered)[1] < len(LIBRARY.checks)


def test_likeliest_fault_stands_first() -> None:
    """What is suspected comes before the alphabet; what hardly is stands by its name."""
    likely = {"vacuum_hose_chewed": 0.3, "plug_worn": 0.6, "coil_dead": 0.001}
    found, _ = find_faults(LIBRARY, "", Car(), likely)
    assert [fault.id for fault in found[:2]] == ["plug_worn", "vacuum_hose_chewed"]
    rest = [fault.name.casefold() for fault in found[2:]]
    assert rest == sorted(rest)


def test_put_away_until_taken_up() -> None:
    """The last word counts."""
    notes = [note_of(True), note_of(False), note_of(True)]
    entries = [Entry(id=str(index), at=STAMP, entered=STAMP, body=note) for index, note in enumerate(notes)]
    assert [is_away(entries[:count]) for count in range(4)] == [False, True, False, True]
