"""Every message about the form of a knowledge file, word for word."""

from __future__ import annotations

import pytest

from knowngood.library.load import Draft, add_texts

TOOL = 'name = "meter"\ncommon = true\nprice = 5\nsource = "memory"\n'
FAULT = 'id = "a"\nname = "a"\npart = "p"\nplace = "engine"\n'
CHANCE = 'chance = { per_1000 = 1, low = 1, high = 1, source = "memory" }\n'
READING = 'id = "a"\nname = "a"\nplace = "engine"\nsource = "memory"\n'

CASES = {
    "[[fautl]]\n": "f.toml:1: fautl: no kind of record is called 'fautl'. Did you mean 'fault'?",
    "\n[[quark]]\n": "f.toml:2: quark: no kind of record is called 'quark'. "
    "Kinds of records: source, ladder, fault, reading, check, part, access, code, caution, gate, tool, area, fitted.",
    "[tool]\n": "f.toml:1: tool: 'tool' is not a list of records. Write [[tool]].",
    f'[[tool]]\nid = "a"\n{TOOL}\n[[tool]]\nid = "a"\n{TOOL}': "f.toml:9: tool[a]: 'a' is there already, in f.toml:2. "
    "Give one of them another name, or drop it.",
    f"[[tool]]\n{TOOL}": "f.toml:1: tool[#1]: 'id' is missing. Add it.",
    f'[[tool]]\nid = "a"\n{TOOL}colour = 1\n': "f.toml:7: tool[a].colour: no key is called 'colour'. "
    "Keys here: id, name, common, price, source, words.",
    f'[[tool]]\nid = "a"\n{TOOL.replace("true", "1")}': "f.toml:4: tool[a].common: 1 is not true or false. "
    "Write true or false without quotes.",
    f'[[tool]]\nid = "a"\n{TOOL.replace("5", "abc")}': "f.toml:5: no value can be read here. "
    "Correct it; nothing of this file is read until then.",
    f'[[tool]]\nid = "a"\n{TOOL.replace("5", chr(34) + "5" + chr(34))}': "f.toml:5: tool[a].price: '5' is not a number. "
    "Write it without quotes, with a point.",
    f"[[fault]]\n{FAULT}chance = 5\n": "f.toml:6: fault[a].chance: 5 is not a table. Write it as { key = value }.",
    f'[[fault]]\n{FAULT}{CHANCE}acts = [\n  {{ on = "b", shift = 1.5 }},\n]\n': "f.toml:8: fault[a].acts[0].shift: "
    "1.5 is not a whole number. Write it without quotes and without a point.",
    f'[[fault]]\n{FAULT}{CHANCE}words = "a"\n': "f.toml:7: fault[a].words: 'a' is not a list. "
    "Write it in square brackets, also when it is only one.",
    f"[[fault]]\n{FAULT}{CHANCE}needs = 3\n": "f.toml:7: fault[a].needs: 3 is not a table. Write it as { key = value }.",
    f"[[reading]]\n{READING}[reading.inputs.burn]\npoor = 1.5\n": "f.toml:7: reading[a].inputs.burn.poor: "
    '1.5 is not words in quotes or a whole number. Write "..." or a whole number.',
    f'[[reading]]\n{READING}healthy = {{ low = "1", high = 2, source = "memory" }}\n': "f.toml:6: reading[a].healthy.low: "
    "'1' is not a number. Write it without quotes, with a point.",
    "a = 1\na = 2\n": "f.toml:2: a key stands here twice. Correct it; nothing of this file is read until then.",
    "hello\n": "f.toml:1: a key without =. Correct it; nothing of this file is read until then.",
    "a = [1,\n": "f.toml:1: no value can be read here. Correct it; nothing of this file is read until then.",
    "[[a]]\n[a]\n": "f.toml:2: the text cannot be read here (Cannot declare ('a',) twice). "
    "Correct it; nothing of this file is read until then.",
}


@pytest.mark.parametrize("text", CASES, ids=range(len(CASES)))
def test_message_of_form(text: str) -> None:
    """One mistake, one message, with its line."""
    draft = Draft()
    add_texts(draft, {"f.toml": text})
    assert [str(problem) for problem in draft.problems] == [CASES[text]]
