"""Reference pages of the library as Markdown: one a system of faults, one for each other kind of record."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from knowngood.app.explain import EXPLAINED, Explained, explain
from knowngood.library.records import Library
from knowngood.library.separation import Separation
from knowngood.library.tables import KIND_OF, records_of
from knowngood.library.where import Origin

SYSTEMS = {
    "10": "ignition",
    "11": "fuel",
    "12": "air and mixture",
    "13": "sealing and valve train",
    "14": "exhaust",
    "15": "not in the list",
    "22": "sensors",
    "23": "wiring",
    "24": "supply and charging",
    "25": "starting and control",
    "26": "cooling and oil",
    "29": "before the road",
    "30": "driveline",
    "31": "waking and more",
    "32": "what lists forget",
    "34": "other fluids",
    "35": "wheels and turbo",
    "36": "reversed locked tapped",
    "37": "before buying",
}
"""Systems of faults, by the first two signs of the name of their file."""
OTHERS = tuple(kind for kind in EXPLAINED if kind != "fault")
TITLES = {"access": "Access steps", "area": "Work and what it gets wrong"}
HEAD = "This page is written by `make golden` from the knowledge files; change those, not this page.\n"
MOST_LISTED = 12
"""Longer lists are cut on the pages; `knowngood library ID` prints them whole."""


def library_pages(library: Library, origins: Mapping[tuple[str, str], Origin]) -> dict[str, str]:
    """Text of every page by its file name.

    Parameters
    ----------
    origins : mapping (table, id) -> Origin
        Files the records came from: they say to which system a fault belongs.
    """
    separation = Separation(library)
    pages = {}
    for number, system in SYSTEMS.items():
        names = [name for name in library.faults if _number(origins, name) == number]
        if names:
            records = [explain(library, "fault", name, separation) for name in names]
            pages[f"faults-{system.replace(' ', '-')}.md"] = _page(f"Faults: {system}", records)
    for kind in OTHERS:
        records = [explain(library, kind, name, separation) for name in records_of(library, kind)]
        plural = KIND_OF[kind].place
        pages[f"{plural}.md"] = _page(TITLES.get(kind, plural.capitalize()), records)
    return {"index.md": _index(library, pages), **pages}


def _number(origins: Mapping[tuple[str, str], Origin], fault: str) -> str:
    return origins["fault", fault].file.rpartition("/")[2][:2]


def _index(library: Library, pages: Iterable[str]) -> str:
    counts = ", ".join(f"{len(records_of(library, kind))} {KIND_OF[kind].place}" for kind in EXPLAINED)
    lines = [f"- [{name.removesuffix('.md').replace('-', ' ')}]({name})" for name in pages]
    return "\n".join(["# The library", "", HEAD, f"{counts}.", "", *lines, ""])


def _page(title: str, records: Iterable[Explained]) -> str:
    lines = [f"# {title}", "", HEAD]
    for record in records:
        lines += [f"## {record.name}", "", f"`{record.id}`" + (f" · {record.what}" if record.what else ""), ""]
        for section in record.sections:
            if section.lines:
                lines.append(f"- **{section.title}**: {_listed(section.lines)}")
        lines.append("")
    return "\n".join(lines)


def _listed(lines: Sequence[str]) -> str:
    shown = [_plain(line) for line in lines[:MOST_LISTED]]
    return "; ".join([*shown, f"and {len(lines) - MOST_LISTED} more"] if len(lines) > MOST_LISTED else shown)


def _plain(line: str) -> str:
    """A line without its full stop, and without signs that Markdown would read."""
    return line.rstrip(".").replace("*", "\\*").replace("_", "\\_").replace("<", "&lt;")
