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
    """How it was run, one row a way, and the figures that have a goal; then the cheap ways on many cars."""
    ways, figures = content["ways"], content["figures"]
    head = f"`{content['command']}`, {content['date']}, commit {content['commit']}: {counted(ways)}."
    shares = ["| figure | value | luck of road tests evened | goal | reached |", "|---|---|---|---|---|"]
    for name, words in SHARES.items():
        if name in figures:
            one, evened = figures[name], figures.get(f"{name}_evened")
            even = "" if evened is None else with_interval(evened)
            shares.append(
                f"| {words} | {with_interval(one)} | {even} | {one['goal']:.2f} | {'yes' if one['holds'] else 'no'} |"
            )
    text = [head, "", *rows_of(ways), "", *shares]
    if many := content.get("many"):
        text += ["", f"The ways that take little, on {counted(many)}:", "", *rows_of(many)]
    return "\n".join(text)


def counted(ways: dict[str, Any]) -> str:
    """How many cars a table is of."""
    return f"{round(next(iter(ways.values()))['cars'])} cars with something behind it"


def rows_of(ways: dict[str, Any]) -> list[str]:
    """A row a way."""
    rows = ["| way | " + " | ".join(COLUMNS.values()) + " |", "|---" * (len(COLUMNS) + 1) + "|"]
    for way, row in ways.items():
        cells = (f"{row[name]:,.0f}" if name in WHOLE else f"{row[name]:.2f}" for name in COLUMNS)
        rows.append(f"| {way.replace('_', ' ')} | " + " | ".join(cells) + " |")
    return rows


def with_interval(figure: dict[str, Any]) -> str:
    """A figure with its 95 % interval."""
    return f"{figure['value']:.2f} ({figure['low']:.2f} to {figure['high']:.2f})"


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
