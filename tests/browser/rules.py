"""What every page is held to, from what `measured.js` finds on it: sizes, distances, letters, contrast, width.

The rules are those of docs/explanation of the page's design: touch targets after WCAG 2.2 2.5.5, contrast after 1.4.6,
"relative luminance" and "contrast ratio"; distances after studies of touch accuracy.
"""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

MEASURE = (Path(__file__).parent / "measured.js").read_text(encoding="utf-8").strip().rstrip(";")
LEAST_TARGET_PX = 44
LEAST_ANSWER_PX = 72
LEAST_SMALL_PX = 56
LEAST_BETWEEN_PX = 16
LEAST_TEXT_PX = 18
LEAST_CONTRAST = 7.0


def broken_rules(met: dict[str, Any]) -> list[str]:
    """Every rule that a page breaks, with what breaks it."""
    broken = []
    if not met["texts"] or not met["targets"]:
        broken.append("nothing to read, or nothing to press")
    if met["wide"] > met["screen"]:
        broken.append(f"scrolls sideways: {met['wide']} px on {met['screen']} px")
    presses = [one for one in met["targets"] if one["tag"] in ("button", "input")]
    for target in met["targets"]:
        if min(target["width"], target["height"]) < LEAST_TARGET_PX:
            broken.append(f"too small a target: {target}")
    for target in presses:
        if target["height"] < (LEAST_SMALL_PX if target["small"] else LEAST_ANSWER_PX):
            broken.append(f"too low an answer: {target}")
    for text in met["texts"]:
        if text["contrast"] < LEAST_CONTRAST or text["size"] < LEAST_TEXT_PX:
            broken.append(f"too pale or too small: {text}")
    for one, other in itertools.combinations(presses, 2):
        if one["layer"] == other["layer"] and apart_px(one, other) < LEAST_BETWEEN_PX:
            broken.append(f"too near to each other: {one} and {other}")
    return broken


def rules_checked(met: dict[str, Any]) -> int:
    """How often a rule was held against something: one for the width, two for a text, one for a target and a pair."""
    presses = sum(one["tag"] in ("button", "input") for one in met["targets"])
    pairs = presses * (presses - 1) // 2
    return 1 + 2 * len(met["texts"]) + len(met["targets"]) + presses + pairs


def apart_px(one: dict[str, Any], other: dict[str, Any]) -> float:
    """How far apart two targets are, sideways or up and down, whichever is more."""
    sideways = max(one["left"], other["left"]) - min(one["left"] + one["width"], other["left"] + other["width"])
    upright = max(one["top"], other["top"]) - min(one["top"] + one["height"], other["top"] + other["height"])
    return float(max(sideways, upright))
