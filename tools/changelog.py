"""Move the one-line fragments of ``changelog.d/`` into ``CHANGELOG.md`` under a version.

.venv/bin/python tools/changelog.py 0.2.0
"""

from __future__ import annotations

import datetime
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def with_version(changelog: str, version: str, day: str, lines: list[str]) -> str:
    """The changelog with a new section before the older ones."""
    head, mark, older = changelog.partition("\n## ")
    section = f"\n## {version} ({day})\n\n" + "".join(f"- {line}\n" for line in lines)
    return head.rstrip("\n") + "\n" + section + (mark + older if mark else "")


def main(arguments: list[str]) -> int:
    if len(arguments) != 1:
        print("one version is needed: tools/changelog.py 0.2.0", file=sys.stderr)
        return 2
    fragments = sorted((ROOT / "changelog.d").glob("*.md"))
    lines = [fragment.read_text().strip() for fragment in fragments]
    target = ROOT / "CHANGELOG.md"
    target.write_text(with_version(target.read_text(), arguments[0], datetime.date.today().isoformat(), lines))
    for fragment in fragments:
        fragment.unlink()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
