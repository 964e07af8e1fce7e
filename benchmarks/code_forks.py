"""Tests run in a fork of this process, which has imported what takes long; what is our own is imported anew."""

from __future__ import annotations

import importlib
import os
import sys
from pathlib import Path
from typing import Any

LATE = ("numpy", "scipy.stats", "scipy.optimize", "scipy.special", "scipy.signal", "msgspec", "lark", "sqlalchemy")
OURS = ("knowngood", "tests", "benchmarks")


def passes(tests: list[str], tree: Path = Path(), *, longest_s: int = 3600, measured: Any = None) -> bool:
    """Whether these test files pass, with the sources of a tree.

    Parameters
    ----------
    tests : list of str
        Files or folders, from the tree's root.
    tree : Path
        Where ``src`` and ``tests`` stand.
    longest_s : int [s of computing]
        A fork that computes longer is stopped and counts as one that does not pass.
    measured : coverage.Coverage, optional
        Measures what the tests reach, and is saved.
    """
    for name in LATE:
        importlib.import_module(name)
    child = os.fork()
    if child == 0:
        _run(tests, tree, longest_s, measured)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status) in (0, 5)  # 5: no test in it


def _run(tests: list[str], tree: Path, longest_s: int, measured: Any) -> None:
    import resource

    code = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (longest_s, longest_s))
        os.chdir(tree)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.dup2(1, 2)
        for name in [name for name in sys.modules if name.split(".")[0] in OURS]:
            del sys.modules[name]
        sys.path.insert(0, os.fspath(Path("src").resolve()))
        sys.dont_write_bytecode = True
        if measured is not None:
            measured.start()
        import pytest

        first = [] if measured is not None else ["-x"]
        code = int(
            pytest.main(["-q", *first, "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:faulthandler", *tests])
        )
        if measured is not None:
            measured.stop()
            measured.save()
    finally:
        os._exit(code)
