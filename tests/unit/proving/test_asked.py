"""What is to be proved, and on which cars."""

from __future__ import annotations

import pytest

from knowngood.errors import Refused
from knowngood.proving import __main__ as proving
from knowngood.proving.asked import PARTS, asked
from knowngood.proving.policies import FULL_CARS
from knowngood.proving.seeds import DEVELOPMENT, fresh


def test_fresh_cars_are_never_those_of_development() -> None:
    """However many are asked for: cars that were looked at one by one give no figure."""
    assert fresh(3) == [1, 2, 3]
    many = fresh(1500)
    assert len(set(many)) == 1500 and set(many).isdisjoint(DEVELOPMENT)
    assert many[999:1001] == [1000, 2001]
    assert fresh(FULL_CARS)[-1] < DEVELOPMENT.start


def test_nothing_asked_is_all_parts_as_many_cars_as_usual() -> None:
    """An empty variable is as good as none: make hands them all on."""
    empty = asked(dict.fromkeys(("FULL", "ONLY", "CARS", "WAYS", "FIRST"), ""))
    assert empty == asked({})
    assert (empty.full, empty.parts, empty.cars, empty.ways, empty.first) == (False, PARTS, None, (), 1001)


def test_what_is_asked_is_done() -> None:
    """Knowing the faults and ours are always among the ways: the figures are against them."""
    one = asked({"FULL": "1", "ONLY": "develop, ways", "CARS": "7", "WAYS": "voi1,ours", "FIRST": "1102"})
    assert (one.full, one.parts, one.cars) == (True, ("develop", "ways"), 7)
    assert (one.ways, one.first) == (("knows", "ours", "voi1"), 1102)


def test_all_that_cannot_be_done_is_said_at_once() -> None:
    """Word for word: what is so, and what there is."""
    with pytest.raises(Refused) as refused:
        asked({"ONLY": "chance", "WAYS": "voi1,voi2", "CARS": "many", "FIRST": "0"})
    assert [str(problem) for problem in refused.value.problems] == [
        "ONLY names 'chance', which is not there. Name one of: cases, plans, chances, ways, develop.",
        "WAYS names 'voi2', which is not there. Name one of: knows, ours, voi1, textbook, chance_over_cost, likeliest,"
        " by_price, played.",
        "CARS is 'many', which is no count. Give a whole number, 1 or more.",
        "FIRST is '0', which is no count. Give a whole number, 1 or more.",
    ]


@pytest.mark.parametrize(
    ("first", "cars", "said"), [("12", "3", "12 to 14"), ("1999", "3", "1999 to 2001"), ("1990", "", "1990 to 2001")]
)
def test_development_cars_are_of_their_own_seeds(first: str, cars: str, said: str) -> None:
    """A fresh car that was looked at would give no figure any more."""
    with pytest.raises(Refused) as refused:
        asked({"ONLY": "develop", "FIRST": first, "CARS": cars})
    assert str(refused.value) == (
        f"Development cars have seeds 1001 to 2000; asked for are {said}. Set FIRST and CARS so that all lie inside."
    )


def test_refusal_ends_with_two_and_nothing_is_run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A mistyped part does not pass for a part that was proved."""
    monkeypatch.setenv("ONLY", "chance")
    monkeypatch.delenv("WAYS", raising=False)
    assert proving.main() == 2
    shown = capsys.readouterr()
    assert shown.out == "" and shown.err.startswith("ONLY names 'chance'")
