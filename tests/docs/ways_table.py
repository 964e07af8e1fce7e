"""The docs' table of ways of working, as text from the figures that were kept."""

from __future__ import annotations

from typing import Any

BEGIN, END = "<!-- from docs/figures/ways.json -->", "<!-- to here -->"
COLUMNS = {
    "mean": "mean",
    "median": "median",
    "p90": "9 in 10 under",
    "wrong_parts": "wrong parts",
    "checks": "checks",
    "repairs": "repairs",
    "road_tests": "road tests",
    "comebacks": "comebacks",
    "left": "left unrepaired",
}
SHARES = {
    "planner.excess_share_of_voi1": "excess over knows, as a share of plain one-step's",
    "planner.excess_share_of_textbook": "the same of the textbook's",
    "planner.wrong_parts": "wrong parts a car",
}
WHOLE = ("mean", "median", "p90")


def ways_in_words(content: dict[str, Any]) -> str:
    """How it was run, one row a way, and the figures that have a goal."""
    ways, figures = content["ways"], content["figures"]
    cars = round(next(iter(ways.values()))["cars"])
    head = (
        f"`{content['command']}`, {content['date']}, commit {content['commit']}: {cars} cars with something behind it."
    )
    rows = ["| way | " + " | ".join(COLUMNS.values()) + " |", "|---" * (len(COLUMNS) + 1) + "|"]
    for way, row in ways.items():
        cells = (f"{row[name]:,.0f}" if name in WHOLE else f"{row[name]:.2f}" for name in COLUMNS)
        rows.append(f"| {way.replace('_', ' ')} | " + " | ".join(cells) + " |")
    shares = ["| figure | value | goal | reached |", "|---|---|---|---|"]
    for name, words in SHARES.items():
        if name in figures:
            one = figures[name]
            value = f"{one['value']:.2f} ({one['low']:.2f} to {one['high']:.2f})"
            shares.append(f"| {words} | {value} | {one['goal']:.2f} | {'yes' if one['holds'] else 'no'} |")
    return "\n".join([head, "", *rows, "", *shares])


def with_table(page: str, content: dict[str, Any]) -> str:
    """A page with what stands between the marks written anew.

    Raises
    ------
    ValueError
        The page has no marks.
    """
    before, _, rest = page.partition(BEGIN)
    _, found, after = rest.partition(END)
    if not found:
        raise ValueError(f"The page has no {BEGIN} ... {END}.")
    return f"{before}{BEGIN}\n\n{ways_in_words(content)}\n\n{END}{after}"
