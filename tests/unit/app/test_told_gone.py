"""When all that was told to be wrong is told to be gone."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.told_gone import told_gone
from knowngood.app.workshop import Workshop
from knowngood.library.load import load

LIBRARY = load()
CAR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter"
SICK = (CAR, "shakes at cold idle", "P0303 stored", "coil 3>1, miss moved")


@pytest.mark.parametrize(
    ("lines", "gone"),
    [
        ((), False),
        (("replaced coil 1",), False),
        (("replaced coil 1", "runs well, no shake"), False),  # the code was not read again
        (("replaced coil 1", "cleared codes", "runs well, no shake"), False),  # cleared is not read
        (("replaced coil 1", "cleared codes", "runs well, no shake", "no codes"), True),
        (("replaced coil 1", "cleared codes", "runs well, no shake", "no codes", "hesitates"), False),
    ],
)
def test_gone_is_the_last_word_of_each(tmp_path: Path, lines: tuple[str, ...], gone: bool) -> None:
    """Of every complaint and of the codes, after work here."""
    with Workshop(tmp_path, LIBRARY) as shop:
        job = shop.new("four").code
        for line in (*SICK, *lines):
            shop.say(job, line)
        assert told_gone(shop.entries(job), LIBRARY) is gone
