"""Every verb does what its help says, in words and as JSON."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from unittest import mock

import pytest

from knowngood.app.refined import Refined
from knowngood.app.settings import NAMES
from knowngood.app.sheets import SHEETS
from knowngood.cli import show
from knowngood.cli.main import VERBS
from knowngood.library.load import load
from knowngood.sheets.words import small
from tests.unit.cli.conftest import LINES
from tests.unit.cli.terminal import Terminal

CODE = re.compile(r"^wagon is ([a-z][0-9][a-z][0-9])\.$", re.MULTILINE)


def test_console_script_runs(tmp_path: Path) -> None:
    """The installed program answers, and its exit code reaches the shell."""
    script = Path(sys.executable).parent / "knowngood"
    home = ["--home", str(tmp_path)]
    for words, code in ((["new", "wagon"], 0), (["may", "wagon", "road"], 1), (["next", "van"], 2)):
        assert subprocess.run([script, *home, *words], capture_output=True, check=False).returncode == code


def test_version_is_told(terminal: Terminal) -> None:
    """One line, for whoever reports something."""
    assert re.fullmatch(r"knowngood, version \d+\.\d+\.\d+\n", terminal.done("--version").out)


@pytest.mark.parametrize("verb", VERBS)
def test_help_has_an_example(terminal: Terminal, verb: str) -> None:
    """Each verb's help says what it is for and shows one use of it at least."""
    text = " ".join(terminal.done(verb, "--help").out.split())
    assert re.search(rf"Examples?: .*knowngood {verb}\b", text), text


@pytest.mark.parametrize("verb", [verb for verb in VERBS if verb not in ("serve", "measure")])
def test_every_answer_is_offered_as_json(terminal: Terminal, verb: str) -> None:
    """``--json`` is there wherever something is answered."""
    assert "--json" in terminal.done(verb, "--help").out


def test_what_is_asked_as_json_is_json(told: Terminal) -> None:
    """Each verb that only asks, with the flag: one value that any reader of JSON takes, never the words."""
    asking = ("suspects", "next", "why", "work", "todo", "proof", "may", "export", "card")
    for words in (*((verb, "wagon") for verb in asking), ("sheet", "wagon", "row"), ("cars",), ("settings",)):
        result = told(*words, "--json")
        assert result.code == 0, words
        assert json.loads(result.out) is not None, words
        assert told(*words).out != result.out, words


def test_export_as_json_is_the_same_entries(told: Terminal) -> None:
    """One list; taken in again are the lines."""
    lines = told.done("export", "wagon").out.splitlines()
    assert told.done("export", "wagon", "--json").json == [json.loads(line) for line in lines]


def test_new_begins_a_car(terminal: Terminal) -> None:
    """It gets a code, and the first questions are put."""
    out = terminal.done("new", "wagon").out
    assert CODE.search(out)
    assert out.endswith("First: petrol only? What was done last, and by whom? Which parts are new?\n")


def test_new_takes_lines_as_json(terminal: Terminal) -> None:
    """What was understood of each line comes back in one shape."""
    told = terminal.done("new", "wagon", "6 cylinders inline", "frobnicate", "--json").json
    assert set(told) == {"code", "nickname", "said"}
    assert [(line["text"], line["counts"]) for line in told["said"]] == [
        ("6 cylinders inline", True),
        ("frobnicate", False),
    ]


def test_cars_say_what_they_wait_for(terminal: Terminal) -> None:
    """None, then one that nothing was said of."""
    assert terminal.done("cars").out == "No car yet. Begin one: knowngood new NICKNAME\n"
    assert terminal.done("cars", "--json").json == []
    code = terminal.done("new", "wagon", "--json").json["code"]
    assert terminal.done("cars").out == f"{code}  wagon  Nothing said yet.\n"
    assert terminal.done("cars", "--json").json == [
        {"code": code, "nickname": "wagon", "waits_for": "Nothing said yet."}
    ]


def test_car_with_complaint_waits_for_its_next_step(terminal: Terminal) -> None:
    """The list of cars names the very step that ``next`` puts first."""
    terminal.done("new", "van", "4 cylinders, coil on plug", "P0302", "shakes")
    step = terminal.done("next", "van", "--json").json["next"][0]["name"]
    (waits,) = [car["waits_for"] for car in terminal.done("cars", "--json").json]
    assert waits.startswith(f"Waits for: {small(step)}, ")


def test_what_was_left_off_comes_before_any_step(told: Terminal) -> None:
    """What must not stay as it is: the list of cars names it first."""
    assert [car["waits_for"] for car in told.done("cars", "--json").json] == [
        "Waits to be put right: left off: coil 3."
    ]


def test_nickname_is_found_in_any_case(told: Terminal) -> None:
    """By code and by nickname, however it is typed."""
    code = told.done("cars", "--json").json[0]["code"]
    assert told.done("work", "WAGON").out == told.done("work", code).out


def test_beginning_of_one_nickname_is_that_car(terminal: Terminal) -> None:
    """Of one car only: of two it is refused, and the code is asked for."""
    terminal.done("new", "wagon", "4 cylinders")
    assert terminal.done("work", "wag").out == terminal.done("work", "wagon").out
    terminal.done("new", "wagon two", "4 cylinders")
    assert terminal.done("work", "wagon").out == terminal.done("work", "WAGON").out  # all of its name
    refused = terminal("work", "wag")
    assert refused.code == 2
    assert "There is no car 'wag' here." in refused.err


def test_say_echoes_what_was_understood(terminal: Terminal) -> None:
    """Words may be quoted or not."""
    terminal.done("new", "wagon", "4 cylinders")
    wanted = "compression 1..4: 175 172 60 175 psi, counting order\n"
    assert terminal.done("say", "wagon", "comp 175 172 60 175 psi").out == wanted
    assert terminal.done("say", "wagon", "comp", "175", "172", "60", "175", "psi").out == wanted


def test_say_as_json(terminal: Terminal) -> None:
    """Text, echo, whether it counts, and the ids of the entries it became."""
    terminal.done("new", "wagon", "4 cylinders")
    said = terminal.done("say", "wagon", "comp 175 172 60 175 psi", "--json").json
    assert said["counts"] is True
    assert said["text"] == "comp 175 172 60 175 psi"
    assert len(said["entries"]) == 4


def test_say_at_an_earlier_time_is_put_before(terminal: Terminal) -> None:
    """What happened earlier stands earlier in the journal, whenever it is typed."""
    terminal.done("new", "wagon")
    terminal.done("say", "wagon", "new plugs all")
    terminal.done("say", "wagon", "coil 1 replaced", "--at", "2001-05-01T09:30")
    done = terminal.done("work", "wagon", "--json").json["done"]
    assert len(done) == 2
    assert done[0]["at"] == "2001-05-01T09:30"


def test_last_unit_is_carried_on(terminal: Terminal) -> None:
    """A unit typed once is not asked for again."""
    terminal.done("new", "wagon", "4 cylinders", "comp 12 12 11 12 bar")
    assert "bar" in terminal.done("say", "wagon", "comp 12 12 4 12").out


def test_suspects_in_words(told: Terminal) -> None:
    """The sentence first, then ten suspects with tally strokes and what moved them, then what is in no list."""
    lines = told.done("suspects", "wagon").out.splitlines()
    assert lines[0].startswith("Most likely: ")
    assert sum(bool(re.match(r" ?\d+\. [|. ]{11}", line)) for line in lines) == 10
    assert any("because of line" in line for line in lines)
    assert "something not in my list" in lines[-1] or "something not in my list" in "\n".join(lines)
    assert max(map(len, lines)) <= 80


def test_suspects_as_json(told: Terminal) -> None:
    """The same list with numbers; what the low cylinder explains leads."""
    found = told.done("suspects", "wagon", "--json").json
    assert set(found) == {"suspects", "unlisted", "surprises"}
    assert found["suspects"][0]["places"][0]["place"] == "cylinder 3"
    assert all(0 < suspect["chance"] < 1 for suspect in found["suspects"])


def test_next_says_what_where_how_long_and_why(told: Terminal) -> None:
    """Each step has a price, a reason and what each answer leads to."""
    assert set(told.done("next", "wagon", "--json").json) == {
        "next",
        "alike",
        "asks",
        "refused",
        "gone",
        "thought_over",
        "service",
    }
    steps = told.done("next", "wagon", "--json").json["next"]
    assert len(steps) >= 5
    for step in steps:
        assert step["minutes"] > 0
        assert step["why"]
    assert all(0 <= answer["chance"] <= 1 for answer in steps[0]["answers"])
    text = told.done("next", "wagon").out
    assert text.startswith("1. ")
    assert steps[0]["name"] in " ".join(text.split())
    assert "Tell me: " in text


def test_next_says_as_json_what_it_says_in_words(terminal: Terminal) -> None:
    """That all is told to be gone, what thinking longer changed, the base service: in both, in the same words."""
    before, after = ("shakes at cold idle", "P0303 stored"), ("replaced coil 3", "runs well, no shake", "no codes")
    terminal.done("new", "wagon", "4 cylinders inline, coil on plug, port injection", *before, *after)
    told = terminal.done("next", "wagon", "--json").json
    assert told["gone"] == "All that was told to be wrong is told to be gone."
    text = " ".join(terminal.done("next", "wagon").out.split())
    assert text.startswith(f"{told['gone']} Prove it: knowngood proof wagon.")
    assert told["service"] in text
    with mock.patch("knowngood.app.refined.refined", return_value=Refined([], "Another comes first.", 1, False)):
        assert terminal.done("next", "wagon", "--think", "1", "--json").json["thought_over"] == "Another comes first."


def test_next_opens_the_workshop_once(told: Terminal) -> None:
    """The library is read and the car weighed a single time."""
    with mock.patch("knowngood.cli.advice.opened", wraps=show.opened) as opens:
        told.done("next", "wagon")
    assert opens.call_count == 1


def test_days_are_told_as_json_as_in_words(told: Terminal) -> None:
    """A sentence a day, and each line beside them."""
    days = told.done("work", "wagon", "--story", "--json").json["days"]
    assert days and set(days[0]) == {"day", "said"}
    text = " ".join(told.done("work", "wagon", "--story").out.split())
    assert all(" ".join(f"{one['day']}  {one['said']}".split()) in text for one in days)


def test_why_names_the_line(told: Terminal) -> None:
    """The low reading moved the leading suspect most, and is quoted."""
    first = told.done("why", "wagon", "--json").json
    assert first["because"][0]["text"] == LINES[1]
    text = told.done("why", "wagon", "1").out
    assert f"line {first['because'][0]['line']}: {LINES[1]}" in text
    word = first["name"].split()[0]
    assert told.done("why", "wagon", word).out.startswith(first["name"].split()[0])


def test_work_shows_what_was_done_and_left(told: Terminal) -> None:
    """The coil that was replaced, and the plug that is still off."""
    sheet = told.done("work", "wagon", "--json").json
    assert set(sheet) == {"done", "apart", "undone", "minutes", "money", "sessions", "costs"}
    assert [(line["what"], line["effect"]) for line in sheet["done"]] == [
        ("replaced ignition coil cylinder 3", "no change")
    ]
    text = told.done("work", "wagon").out
    assert "replaced ignition coil cylinder 3: no change" in text
    assert "left undone: " in text


def test_todo_puts_what_must_not_stay_first(told: Terminal) -> None:
    """What was left undone stands before every suspect."""
    things = told.done("todo", "wagon", "--json").json
    assert things[0]["why"] == "left as it must not stay"
    keys = {"what", "why", "urgency", "chance", "minutes", "money", "until", "reason"}
    assert all(set(thing) == keys for thing in things)
    assert things[0]["what"] in told.done("todo", "wagon").out


@pytest.mark.parametrize("gate", ["battery", "crank", "start", "idle", "yard", "road"])
def test_may_says_no_with_exit_code_1(told: Terminal, gate: str) -> None:
    """With something left undone no gate is open, and the shell can tell."""
    result = told("may", "wagon", gate)
    assert result.code == 1
    assert "left undone" in result.out
    as_json = told("may", "wagon", gate, "--json")
    assert as_json.code == 1
    assert set(as_json.json) == {"gate", "state", "looks", "undone"}


def test_may_without_a_step_tells_how_every_stage_stands(told: Terminal) -> None:
    """No question was asked that could be answered with no."""
    stages = told.done("may", "wagon", "--json").json
    assert [stage["id"] for stage in stages] == list(load().stages)
    assert len(told.done("may", "wagon").out.splitlines()) >= len(stages)


def test_export_goes_into_another_workshop(told: Terminal, terminal: Terminal, tmp_path: Path) -> None:
    """Out of one home and into another: the same car, the same answer, the same export; a second time nothing."""
    text = told.done("export", "wagon").out
    file = tmp_path / "wagon.jsonl"
    file.write_text(text, encoding="utf-8")
    count = len(text.splitlines())
    assert terminal.done("import", str(file)).out == f"{count} new, 0 here already.\n"
    assert terminal.done("import", str(file), "--json").json == {"new": 0, "here_already": count, "photos": 0}
    assert terminal.done("export").out == text
    assert terminal.done("suspects", "wagon").out == told.done("suspects", "wagon").out


def test_daily_copy_is_restored(terminal: Terminal, tmp_path: Path) -> None:
    """What was said is in the day's copy, and comes back into an empty folder only."""
    terminal.done("new", "wagon", "4 cylinders")
    (copy,) = (terminal.home / "copies").glob("*.sqlite")
    other = Terminal(tmp_path / "other")
    assert other.done("import", "--restore", str(copy)).out.startswith("Restored into ")
    assert other.done("export").out == terminal.done("export").out
    assert other("import", "--restore", str(copy)).code == 2


def test_library_counts_and_explains(terminal: Terminal) -> None:
    """How much is known; what a word finds; one page a record, with number, source and checks."""
    counts = terminal.done("library", "--json").json
    assert counts["faults"] > 100
    assert counts["checks"] > 100
    assert f"{counts['faults']} faults" in terminal.done("library").out
    assert "fault coil_dead: coil dead" in terminal.done("library", "coil").out
    page = " ".join(terminal.done("library", "coil", "dead").out.split())
    chance = load().faults["coil_dead"].chance
    assert f"{chance.per_1000:g} in 1,000 neglected cars have it now" in page
    assert "(spark_at_tester, 4 min)" in page
    assert "Sources - memory" in page
    assert terminal.done("library", "coil_dead", "--json").json["id"] == "coil_dead"
    assert any(one["id"] == "coil_dead" for one in terminal.done("library", "dead coil", "--json").json)


def test_library_says_what_else_holds_the_words(terminal: Terminal) -> None:
    """A record that is named has its page, the others stand behind it, in words and as JSON; nothing cut in silence."""
    page = terminal.done("library", "coil", "dead", "--json").json
    beside = terminal.done("library", "coil", "dead").out
    assert page["id"] == "coil_dead" and all(one["id"] in beside for one in page["besides"][:40])
    alike = terminal.done("library", "--alike", "--json").json
    text = terminal.done("library", "--alike").out
    more = f"   and {len(alike) - 20} more: all of them with --json.\n"
    assert len(re.findall(r"^ - ", text, re.MULTILINE)) == min(len(alike), 20)
    assert text.endswith(more) == (len(alike) > 20)
    terminal.home.mkdir(exist_ok=True)
    assert terminal.done("library", "--check", str(terminal.home), "--json").json["mistakes"] == 0


def test_setting_is_shown_by_its_name(terminal: Terminal) -> None:
    """Alone it is that one; with a value it is set; one that is none is refused with those there are."""
    assert terminal.done("settings", "Rate").out == "rate: 40\n"
    terminal.done("settings", "rate", "55")
    assert terminal.done("settings", "rate", "--json").json == {"rate": "55"}
    refused = terminal("settings", "colour")
    assert (refused.code, refused.out) == (2, "")
    assert refused.err.startswith("There is no setting 'colour'. Settings: compression, ")


@pytest.mark.parametrize(("verb", "names"), [("sheet", SHEETS), ("settings", NAMES), ("may", load().gates)])
def test_help_names_all_there_is(terminal: Terminal, verb: str, names: Mapping[str, object]) -> None:
    """What can be typed behind a verb stands in its help, whatever is added to it."""
    text = " ".join(terminal.done(verb, "--help").out.split())
    assert [name for name in names if not re.search(rf"\b{re.escape(name)}\b", text)] == []


def test_library_is_listed(terminal: Terminal) -> None:
    """Every record of a kind, by id; a kind that is not there offers those that are."""
    assert "plugs_out: spark plugs" in terminal.done("library", "--list", "access").out
    assert len(terminal.done("library", "--list", "gates", "--json").json) == 6
    refused = terminal("library", "--list", "check")
    assert refused.code == 2
    assert "no kind of record is called 'check'. Did you mean 'checks'?" in refused.out + refused.err


def test_library_fits_the_terminal(terminal: Terminal) -> None:
    """No line is longer than 80 signs."""
    for words in (["coil_dead"], ["compression_row"], ["spark"], ["--list", "codes"], ["--seen"]):
        assert max(len(line) for line in terminal.done("library", *words).out.splitlines()) <= 80


def test_library_says_what_it_sees(terminal: Terminal) -> None:
    """Faults that no check or only one sees, by name and as JSON."""
    told = terminal.done("library", "--seen", "--json").json
    assert told["unseen"] == []
    assert told["seen_by_one"]["timing_belt_old"] == "belt_age_looked"
    assert "0 faults that no check sees" in terminal.done("library", "--seen").out


def test_shops_own_folder_is_checked(terminal: Terminal, tmp_path: Path) -> None:
    """A folder without mistakes is laid over our own, and said to have none."""
    (tmp_path / "own").mkdir()
    counted = terminal.done("library").out.rstrip("\n")
    assert terminal.done("library", "--check", str(tmp_path / "own")).out == f"{counted}; no mistakes\n"
