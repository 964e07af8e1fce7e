"""``make prove``: the figures of the real cases, printed and written."""

from __future__ import annotations

import sys
import time

from knowngood.library.load import load
from knowngood.proving.cases import FOLDER, NOT_FOUND, figures_of, score_all
from knowngood.proving.figures import line, write
from knowngood.proving.shorthand import figures_of_shorthand


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
    figures = {**figures_of(scores), **figures_of_shorthand(library)}
    for name, figure in figures.items():
        print(line(name, figure))
    write(figures, command="make prove", seconds=time.perf_counter() - began)
    return 0


if __name__ == "__main__":
    sys.exit(main())
