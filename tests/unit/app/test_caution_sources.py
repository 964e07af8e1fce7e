"""Cautions name the official source they come from."""

from __future__ import annotations

from knowngood.app.caution_sources import caution_sources
from knowngood.library.load import load


def test_official_sources_are_named_once() -> None:
    """Two cautions of one standard, one of common practice: one source."""
    library = load()
    texts = [library.cautions[name].text for name in ("battery_gas", "battery_gas", "battery_frozen")]
    said = caution_sources(library, texts)
    # OSHA 29 CFR 1910.178(g), Changing and charging storage batteries
    assert said.startswith("Read on: ")
    assert said.count("1910.178") == 1


def test_common_practice_names_none() -> None:
    """There is nothing to read on in."""
    library = load()
    assert caution_sources(library, [library.cautions["battery_frozen"].text]) == ""
