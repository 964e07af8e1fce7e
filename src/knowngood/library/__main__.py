"""``python -m knowngood.library [FOLDER]``: prints every problem of our files, and of a shop's folder over them."""

from __future__ import annotations

import sys
from pathlib import Path

from knowngood.errors import Refused
from knowngood.library.load import every_problem, read
from knowngood.library.rules import FOR_OURS
from knowngood.library.tables import KINDS


def main(arguments: list[str]) -> int:
    """Exit code 0 without problems, 1 with some, 2 where the folder is not there."""
    try:
        draft = read(Path(arguments[0]) if arguments else None)
    except Refused as refused:
        print(refused, file=sys.stderr)
        return 2
    library = draft.library()
    problems = every_problem(draft)
    if not arguments:
        problems += [problem for rule in FOR_OURS for problem in rule(library, draft.where)]
    for problem in problems:
        print(problem)
    counts = ", ".join(f"{len(getattr(library, kind.place))} {kind.place}" for kind in KINDS)
    print(f"{counts}; {len(problems)} problem{'' if len(problems) == 1 else 's'}")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
