"""Every message about the form of a knowledge file, word for word."""

from __future__ import annotations

import pytest

from knowngood.library.load import Draft, add_texts

TOOL = '[[tool]]\nid = "a"\nname = "meter"\ncommon = true\nprice = 5\nsource = "memory"\n'
FAULT = '[[fault]]\nid = "a"\nname = "a"\npart = "p"\nplace = "engine"\n'
CHANCE = 'chance = { per_1000 = 1, low = 1, high = 1, source = "memory" }\n'
READING = '[[reading]]\nid = "a"\nname = "a"\nplace = "engine"\nsource = "memory"\n'
UNREAD = "Correct it; nothing of this file is read until then."

CASES = (
    ("[[fautl]]\n", "1: fautl: no kind of record is called 'fautl'. Did you mean 'fault'?"),
    (
        "\n[[quark]]\n",
        "2: quark: no kind of record is called 'quark'. Kinds of records: source, ladder, fault, reading, check, part, "
        "access, code, caution, gate, tool, area, layout, killed, service, stage, until_then, after_work, way, branch, "
        "consumer, branch_fault, branch_reading, branch_check, fitted.",
    ),
    ("[tool]\n", "1: tool: 'tool' is not a list of records. Write [[tool]]."),
    (
        f"{TOOL}\n{TOOL}",
        "9: tool[a]: 'a' is there already, in f.toml:2. Give one of them another name, or drop it.",
    ),
    (TOOL.replace('id = "a"\n', ""), "1: tool[#1]: 'id' is missing. Add it."),
    (
        f"{TOOL}colour = 1\n",
        "7: tool[a].colour: no key is called 'colour'. Keys here: id, name, common, price, source, words.",
    ),
    (
        TOOL.replace("true", "1"),
        "4: tool[a].common: 1 is not true or false. Write true or false without quotes.",
    ),
    (
        TOOL.replace("5", '"5"'),
        "5: tool[a].price: '5' is not a number. Write it without quotes, with a point.",
    ),
    (f"{FAULT}chance = 5\n", "6: fault[a].chance: 5 is not a table. Write it as { key = value }."),
    (
        f'{FAULT}{CHANCE}acts = [\n  {{ on = "b", shift = 1.5 }},\n]\n',
        "8: fault[a].acts[0].shift: 1.5 is not a whole number. Write it without quotes and without a point.",
    ),
    (
        f'{FAULT}{CHANCE}words = "a"\n',
        "7: fault[a].words: 'a' is not a list. Write it in square brackets, also when it is only one.",
    ),
    (f"{FAULT}{CHANCE}needs = 3\n", "7: fault[a].needs: 3 is not a table. Write it as { key = value }."),
    (
        f"{READING}[reading.inputs.burn]\npoor = 1.5\n",
        '7: reading[a].inputs.burn.poor: 1.5 is not words in quotes or a whole number. Write "..." or a whole number.',
    ),
    (
        f'{READING}healthy = {{ low = "1", high = 2, source = "memory" }}\n',
        "6: reading[a].healthy.low: '1' is not a number. Write it without quotes, with a point.",
    ),
    (TOOL.replace("5", "abc"), f"5: no value can be read here. {UNREAD}"),
    ("a = 1\na = 2\n", f"2: a key stands here twice. {UNREAD}"),
    ("hello\n", f"1: a key without =. {UNREAD}"),
    ("a = [1,\n", f"1: no value can be read here. {UNREAD}"),
    ("a = 1 b = 2\n", f"1: the line goes on behind its value. {UNREAD}"),
    ("[[a]]\n[a]\n", f"2: the text cannot be read here (Cannot declare ('a',) twice). {UNREAD}"),
)


@pytest.mark.parametrize(("text", "said"), CASES, ids=range(len(CASES)))
def test_message_of_form(text: str, said: str) -> None:
    """One mistake, one message, with its line."""
    draft = Draft()
    add_texts(draft, {"f.toml": text})
    assert [str(problem) for problem in draft.problems] == [f"f.toml:{said}"]
