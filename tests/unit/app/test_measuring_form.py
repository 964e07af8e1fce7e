"""A topic of measurement as a form: what it asks, what it takes from the fields, what it cannot read."""

from __future__ import annotations

import pytest

from knowngood.app.measuring import measure, topic_named, topics
from knowngood.app.measuring_form import Asked, find_topics, topic_form, with_reasons
from knowngood.app.measuring_topic import Topic
from knowngood.app.measuring_typed import only_place, split_fields, split_options
from knowngood.errors import Refused


def as_form(topic: Topic, texts: dict[str, list[str]]) -> dict[str, str]:
    """The fields of a form into which the texts of each field of a topic were typed."""
    typed: dict[str, str] = {}
    for name, given in texts.items():
        one = topic.field(name)
        if name == "window":
            low, _, high = given[0].partition("-")
            typed |= {"window|low": low, "window|high": high}
        elif one is not None and one.kind == "word" and one.row:
            typed |= {f"{name}|{word.strip()}": word.strip() for word in " ".join(given).split(",")}
        elif one is not None and one.cylinders:
            joined = list(given)
            if len(joined) > 1 and not any(sign.isdigit() for sign in joined[-1]):
                joined = [*joined[:-2], f"{joined[-2]} {joined[-1]}"]
            typed |= {f"{name}|{place}": text for place, text in enumerate(joined, start=1)}
        else:
            typed[name] = " ".join(given)
    return typed


def by_field(topic: Topic, line: str) -> dict[str, list[str]]:
    """What stands behind a verb, by the names of the fields."""
    ordered, named = split_options(line.split(), topic)
    rest = list(ordered)
    for one in topic.fields:
        if not one.needed:
            continue
        if one.row and "/" in rest:
            cut = rest.index("/")
            named[one.name], rest = rest[:cut], rest[cut + 1 :]
        elif one.row or one.kind in ("word", "text"):
            named[one.name], rest = rest, []
        else:
            named[one.name], rest = rest[:1], rest[1:]
    return named


@pytest.mark.parametrize("name", topics())
def test_form_and_verb_come_to_the_same(name: str) -> None:
    """Whether the example of a topic is typed behind the verb or into the form."""
    topic = topics()[name]
    typed = as_form(topic, by_field(topic, topic.example))
    ordered, named = split_options(topic.example.split(), topic)
    there, here = measure(name, ordered, named), measure(name, [], split_fields(typed, topic))
    assert here.results == there.results
    assert here.verdicts == there.verdicts
    assert here.entered == there.entered


@pytest.mark.parametrize("name", topics())
def test_every_field_has_a_place_to_answer_in(name: str) -> None:
    """A cell or words; a label that is a sentence's beginning; no name twice; at most six units."""
    form = topic_form(name, {}, cylinders=6)
    asked = [*form.needed, *form.others]
    assert [one.name for one in form.needed] == [one.name for one in form.topic.fields if one.needed]
    names = [cell.name for one in asked for cell in one.cells]
    assert len(names) == len(set(names))
    for one in asked:
        assert one.label[:1] == one.label[:1].upper()
        assert bool(one.cells) != bool(one.words)
        assert len(one.units) <= 6
        assert not one.units or sum(unit.first for unit in one.units) == 1


def field(name: str, form_of: str, typed: dict[str, str] | None = None, **given: object) -> Asked:
    """One field of a topic's form."""
    form = topic_form(form_of, typed or {}, **given)  # type: ignore[arg-type]
    return next(one for one in (*form.needed, *form.others) if one.name == name)


def test_row_has_a_cell_for_each_cylinder() -> None:
    """As many as the engine has; eight where nobody said."""
    assert [cell.label for cell in field("cylinder", "compression", cylinders=3).cells] == ["1", "2", "3"]
    assert len(field("cylinder", "compression").cells) == 8
    assert field("cylinder", "compression", {"cylinder|2": "60"}, cylinders=3).cells[1].typed == "60"


def test_units_begin_with_the_one_that_is_wanted() -> None:
    """Else with the guess by size where several units may be meant, else with the unit there is."""
    assert [unit.name for unit in field("cylinder", "compression").units] == ["", "psi", "bar", "MPa", "kPa", "Pa"]
    wanted = field("cylinder", "compression", units={"compression": "bar"})
    assert [unit.symbol for unit in wanted.units if unit.first] == ["bar"]
    chosen = field("cylinder", "compression", {"unit|cylinder": "kgf_cm2"}, units={"compression": "bar"})
    assert [unit.symbol for unit in chosen.units if unit.first] == ["kg/cm²"]
    assert [unit.name for unit in field("rest", "battery").units if unit.first] == ["h"]
    assert field("ratio", "expected").units == ()


def test_unit_beside_goes_to_bare_numbers_only() -> None:
    """One that was typed wins, in a row for all of it; an open line has none."""
    joint = topic_named("joint")
    assert split_fields({"drop": "0,42", "unit|drop": "V"}, joint) == {"drop": ["0,42 V"]}
    assert split_fields({"drop": "420 mV", "unit|drop": "V", "current": ""}, joint) == {"drop": ["420 mV"]}
    lead = topic_named("lead")
    row = {"lead|1": "5,1", "lead|2": "OL", "lead|3": "", "lead|4": "", "unit|lead": "kohm"}
    assert split_fields(row, lead) == {"lead": ["5,1 kohm", "OL"]}
    assert split_fields({"lead|1": "5.1k", "lead|2": "6", "unit|lead": "ohm"}, lead) == {"lead": ["5.1k", "6"]}
    assert split_fields({"drop": "0,05 0,4 V"}, topic_named("path")) == {"drop": ["0,05", "0,4", "V"]}
    assert split_fields({"drop": "0,05 0,4", "unit|drop": "V"}, topic_named("path")) == {"drop": ["0,05 V", "0,4 V"]}


def test_row_keeps_its_gaps() -> None:
    """What was not measured before a reading is a gap, what was not measured after it says nothing."""
    typed = {"cylinder|1": "172", "cylinder|2": "", "cylinder|3": "60", "cylinder|4": ""}
    assert split_fields(typed, topic_named("compression")) == {"cylinder": ["172", "-", "60"]}
    assert only_place(topic_named("compression"), typed) == ""


def test_only_cell_says_its_cylinder() -> None:
    """A reading alone in the row is of that cylinder."""
    typed = {"plug|1": "", "plug|3": ".039", "unit|plug": "in"}
    assert split_fields(typed, topic_named("gap")) == {"plug": [".039 in"]}
    assert only_place(topic_named("gap"), typed) == "cylinder 3"


def test_row_without_gaps_refuses_one() -> None:
    """A leak row that leaves a cylinder out would give the next one's leak to it."""
    typed = {"leak|1": "8", "leak|2": "", "leak|3": "7"}
    with pytest.raises(Refused) as refused:
        split_fields(typed, topic_named("leaks"))
    assert str(refused.value) == "Cylinder 2 was left out of the row. Measure it as well, or type one cylinder alone."


def test_window_has_two_ends_or_one() -> None:
    """As it is typed behind the verb."""
    gap = topic_named("gap")
    assert split_fields({"window|low": "0,9", "window|high": "1,1", "unit|window": "mm"}, gap) == {
        "window": ["0,9 to 1,1 mm"]
    }
    assert split_fields({"window|low": "0.9"}, gap) == {"window": ["over 0.9"]}
    assert split_fields({"window|high": "1.1", "unit|window": "mm"}, gap) == {"window": ["under 1.1 mm"]}
    worked = measure("gap", [], split_fields({"plug|1": "1.4", "window|low": "0.9", "window|high": "1.1"}, gap))
    assert worked.verdicts[0].word == "not as it should be"


def test_reason_stands_beside_its_field() -> None:
    """Word for word; what can be read has none."""
    typed = {"drop": "abc", "current": "105", "place": "x", "window|low": "q"}
    form = with_reasons(topic_form("joint", typed), typed)
    assert {one.name: one.wrong for one in (*form.needed, *form.others) if one.wrong} == {
        "drop": "no number in 'abc'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit.",
        "place": "joint: no place is called 'x'. It is one of: battery to solenoid stud, post to clamp, frame to "
        "ground post, frame to starter body, positive post to starter stud, alternator output line, sensor ground, "
        "connector, switch or relay, whole feed, whole ground.",
        "window": "no number in 'over q'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit.",
    }
    empty = with_reasons(topic_form("joint", {}), {})
    assert [one.wrong for one in empty.needed] == [
        "Nothing stands in drop. Type it, or tap it.",
        "Nothing stands in current. Type it, or tap it.",
    ]


def test_words_find_topics() -> None:
    """By name, by what they are about, by their heading; none leaves no heading."""
    assert [topic.name for held in find_topics("voltage lost").values() for topic in held] == ["drop"]
    assert list(find_topics("misfire counts")) == ["Misfire counts and proof"]
    assert find_topics("nosuchthing") == {}
    assert sum(map(len, find_topics("").values())) == len(topics())
