"""The pages of a car as its contents list them, and the one to be shown after something was kept."""

from __future__ import annotations

from urllib.parse import quote

CONTENTS = (
    ("next", "", "What next"),
    ("engine", "/engine", "The engine, cylinder by cylinder"),
    ("gates", "/gates", "Before you crank, start or drive"),
    ("suspects", "/suspects", "Suspects, and what speaks for them"),
    ("checks", "/checks", "Measure or look at something"),
    ("measure", "/measure", "Work a measurement out"),
    ("found", "/found", "Found something wrong"),
    ("tell", "/tell", "Tell what it does, codes"),
    ("talk", "/talk", "What the car is"),
    ("todo", "/todo", "Still to do"),
    ("work", "/work", "Work, time and money"),
    ("road", "/road", "Road test"),
    ("proof", "/proof", "Is it proved?"),
    ("story", "/story", "Story of the car, next visit"),
    ("tools", "/tools", "Tools on hand and lent out"),
    ("card", "/card", "Card: owner, telephone, plate"),
    ("sheets", "/sheets", "Sheets to print, hand-over copy"),
    ("journal", "/journal", "Journal: everything that was said"),
)
"""Name of a page, its address below the car's, its title."""

CODES = "codes"  # what it does was tapped: codes come first then, on the same page
_PATHS = {name: path for name, path, _ in CONTENTS} | {CODES: "/tell?codes=first"}


def page_after(code: str, back: str) -> str:
    """Address to show after a form that names the page it goes back to; without one what next, which changes most.

    >>> page_after("k2m4", "work"), page_after("k2m4", ""), page_after("k2m4", "//elsewhere")
    ('/car/k2m4/work', '/car/k2m4', '/car/k2m4')
    """
    return f"/car/{quote(code)}{_PATHS.get(back, '')}"
