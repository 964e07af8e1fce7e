"""The road test on paper: what is written there can be typed back."""

from __future__ import annotations

import re
from pathlib import Path

from knowngood.app.sheets import sheet_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text


def road_text(shop: Workshop, job: str) -> str:
    """The sheet as one run of words."""
    return " ".join(as_text(sheet_of("road", shop.state(job), shop.answer(job), "2026-05-01")).split())


def test_every_look_on_it_is_made_by_the_words_beside_it(tmp_path: Path) -> None:
    """Typed as they stand, the words in quotes leave no look to make."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        shop.say(job, "petrol, 4 cylinders, 180000 km")
        text = road_text(shop, job)
        said = re.findall(r"say '([^']+)'", text)
        assert len(said) == text.count("[ ]") > 10
        for line in said:
            assert shop.say(job, line).counts, line
        assert "every look is good" in road_text(shop, job)


def test_nothing_is_provoked_that_is_not_suspected(tmp_path: Path) -> None:
    """A car of which nothing was told has nothing to provoke, however long the list of what may break is."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        shop.say(job, "petrol, 4 cylinders, 180000 km")
        assert "Still suspected: provoke it - nothing The drive" in road_text(shop, job)
        shop.say(job, "P0303 stored, shakes at idle")
        assert "provoke it - nothing" not in road_text(shop, job)
