"""Every kind of page there is, with its address, for a car of which a few lines were said."""

from __future__ import annotations

from typing import Any

from tests.browser.hand import begin, open_step, worked_out

LINES = ("4 cylinders inline, coil on plug", "comp 175 172 60 175 psi", "left off: coil 3")
PARTS = ("coil arrived, 38", "fuel pump wanted")
REPAIRED = ("4 cylinders inline, coil on plug", "P0302 stored", "shakes at cold idle", "new coil 2")
LONG_WORD = "x" * 200
ROW = "cylinder%7C1=175&cylinder%7C2=172&cylinder%7C3=60&cylinder%7C4=175"
KINDS = (
    "cars", "empty car", "told car", "just saved", "suspects", "journal", "gates", "gate", "talk", "tell", "checks",
    "engine", "cylinder", "suspect", "found", "row", "enter", "todo", "work", "proof", "story", "tools", "sheets",
    "card", "settings", "road", "pair", "trouble", "nothing there", "topics", "topic", "topic row", "worked out",
    "worked out row", "not worked out", "topic without a car", "read again", "codes",
)  # fmt: skip


def every_page(chromium: Any, address: str) -> dict[str, str]:
    """Kind of page -> its address."""
    context = chromium.new_context()
    page = context.new_page()
    begin(page, address, "empty")
    empty = page.url
    begin(page, address, f"told {LONG_WORD}", *LINES, *PARTS, LONG_WORD)
    told = page.url
    worked_out(page)
    open_step(page, told.split("?")[0], lambda shown: shown.get_by_role("link", name="Enter").count() == 1)
    with_row = page.get_by_role("link", name="Enter").get_attribute("href")
    begin(page, address, "repaired", *REPAIRED)
    worked_out(page)
    repaired = page.url.split("?")[0]
    context.close()
    car = told.split("?")[0]
    return {
        "cars": address,
        "empty car": empty,
        "told car": car,
        "just saved": told,
        "suspects": f"{car}/suspects",
        "journal": f"{car}/journal",
        "gates": f"{car}/gates",
        "gate": f"{car}/gates/crank",
        "talk": f"{car}/talk",
        "tell": f"{car}/tell",
        "codes": f"{car}/tell?codes=first",
        "checks": f"{car}/checks",
        "todo": f"{car}/todo",
        "work": f"{car}/work",
        "proof": f"{car}/proof",
        "story": f"{car}/story",
        "tools": f"{car}/tools",
        "sheets": f"{car}/sheets",
        "card": f"{car}/card",
        "engine": f"{car}/engine",
        "cylinder": f"{car}/cylinder/3",
        "suspect": f"{car}/suspect/vacuum_hose_off",
        "found": f"{car}/found",
        "row": f"{car}/check/compression_row",
        "enter": f"{address.rstrip('/')}{with_row}",
        "road": f"{car}/road",
        "settings": f"{address}settings",
        "pair": f"{address}pair",
        "trouble": f"{address}car/nosuch",
        "nothing there": f"{address}nosuch",
        "topics": f"{address}measure?words=drop",
        "topic": f"{car}/measure/airflow",
        "topic row": f"{car}/measure/lead",
        "worked out": f"{car}/measure/coil?work=yes&winding=0,62&leads=0.1&window%7Chigh=0.5",
        "worked out row": f"{car}/measure/compression?work=yes&{ROW}",
        "not worked out": f"{car}/measure/joint?work=yes&drop=abc&place=connector",
        "topic without a car": f"{address}measure/path",
        "read again": f"{repaired}/proof",
    }
