"""``make prove``: the figures of the real cases, printed and written."""

from __future__ import annotations

import os
import sys
import time

from knowngood.library.load import load
from knowngood.proving.cases import FOLDER, NOT_FOUND, figures_of, score_all
from knowngood.proving.figures import line, write
from knowngood.proving.shorthand import figures_of_shorthand
from knowngood.proving.small_plans import figures_of_small_plans


def main() -> int:
    """Score, print, write; 0 also where a goal is not reached: the figure says so."""
    began = time.perf_counter()
    if not FOLDER.is_dir():
        print(f"There are no cases in {FOLDER}: run this from the checkout.", file=sys.stderr)
        return 2
    library = load()
    scores = score_all(library)
    for score in scores:
        rank = "-" if score.rank == NOT_FOUND else str(score.rank)
        lines = f"{score.understood}/{score.lines}"
        print(f"{score.name} {score.stage:<8} rank {rank:>2}  lines {lines}  good next {score.good_next}")
    full = os.environ.get("FULL", "") not in ("", "0")
    figures = {**figures_of(scores), **figures_of_shorthand(library), **figures_of_small_plans(full, _progress)}
    for name, figure in figures.items():
        print(line(name, figure))
    write(figures, command="make prove", seconds=time.perf_counter() - began)
    return 0


def _progress(done: int, of: int) -> None:
    """One line that counts up on a terminal; nothing in a file."""
    if sys.stderr.isatty():
        print(f"\rsmall cars: {done} of {of}", end="" if done < of else "\n", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
