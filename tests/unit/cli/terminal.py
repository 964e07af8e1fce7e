"""The terminal as it is typed into: arguments in; exit code, output and errors out."""

from __future__ import annotations

import contextlib
import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

from knowngood.cli.main import main


@dataclass(frozen=True)
class Result:
    """What one command came to."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The output read as JSON."""
        return json.loads(self.out)


@dataclass(frozen=True)
class Terminal:
    """A terminal whose workshop is one folder."""

    home: Path

    def __call__(self, *words: str, piped: bytes = b"") -> Result:
        """Run ``knowngood`` as the console script does, in this process."""
        out, err = io.StringIO(), io.StringIO()
        with (
            mock.patch("sys.argv", ["knowngood", *words]),
            mock.patch("sys.stdin", io.TextIOWrapper(io.BytesIO(piped))),
            mock.patch.dict("os.environ", {"KNOWNGOOD_HOME": str(self.home)}),
            contextlib.redirect_stdout(out),
            contextlib.redirect_stderr(err),
        ):
            try:
                main()
            except SystemExit as stop:
                code = stop.code if isinstance(stop.code, int) else 0
            else:
                code = 0
        return Result(code, out.getvalue(), err.getvalue())

    def done(self, *words: str, piped: bytes = b"") -> Result:
        """The same, for what must succeed."""
        result = self(*words, piped=piped)
        assert (result.code, result.err) == (0, ""), result
        return result
