#!/bin/sh
# Every check runs, whatever the ones before it said; the end says which of them found something.
cd "$(dirname "$0")/.." || exit 2
PATH="$PWD/.venv/bin:$PATH"
found=""

check() {
    echo "== $*"
    "$@" || found="$found
   $*"
}

check ruff check
check ruff format --check
check mypy
check lint-imports --no-cache
check python tools/check_words.py

if [ -n "$found" ]; then
    echo "Not as it should be:$found"
    exit 1
fi
echo "All checks are good."
