"""The test suite's own promises: no skip counts as run in CI, expected texts are compared, warnings fail."""

from __future__ import annotations

import os
import subprocess
import sys
import warnings
from pathlib import Path
from typing import Any

import pytest

CONFTEST = (Path(__file__).resolve().parents[1] / "conftest.py").read_text()
SKIPS = """
import pytest

def test_skipped():
    pytest.skip("no instrument")

@pytest.mark.xfail(strict=True)
def test_known_to_fail():
    assert False
"""


def run(at: Path, *arguments: str, **environment: str) -> str:
    """The end of a test run of its own, in a folder that has this suite's conftest."""
    (at / "conftest.py").write_text(CONFTEST)
    env = {key: value for key, value in os.environ.items() if key not in ("CI", "PYTEST_ADDOPTS")} | environment
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-ra", *arguments]
    return subprocess.run(command, cwd=at, env=env, capture_output=True, text=True, check=False).stdout


def test_skip_fails_in_ci_only(tmp_path: Path) -> None:
    """A skipped test is a failed one in CI, with its reason; a failure that is expected stays one."""
    (tmp_path / "test_a.py").write_text(SKIPS)
    assert "1 skipped, 1 xfailed" in run(tmp_path)
    in_ci = run(tmp_path, CI="true")
    assert "1 failed, 1 xfailed" in in_ci
    assert "skipped in CI, where nothing may be: Skipped: no instrument" in in_ci


def test_skipped_module_fails_in_ci_only(tmp_path: Path) -> None:
    """A whole file that skips itself does not slip through either."""
    (tmp_path / "test_a.py").write_text("import pytest\npytest.importorskip('there_is_no_such_module')\n")
    assert "1 skipped" in run(tmp_path)
    assert "1 error" in run(tmp_path, CI="true")


def test_missing_browser_is_counted(tmp_path: Path) -> None:
    """Where there is no browser the summary says how many tests were not run, and in CI they fail."""
    (tmp_path / "test_a.py").write_text("def test_a(phone): ...\n\ndef test_b(phone): ...\n")
    missing = "2 browser tests were not run: no chromium on this machine; `apt-get install chromium` brings it."
    assert missing in run(tmp_path, PATH="/nowhere")
    assert "2 errors" in run(tmp_path, PATH="/nowhere", CI="true")


def test_expected_text_is_compared_and_refreshed(tmp_path: Path) -> None:
    """A text that changed fails until it is written anew on purpose."""
    (tmp_path / "test_a.py").write_text("def test_a(golden):\n    golden('a.txt', 'new')\n")
    assert "tests/golden/a.txt is not there yet; `make golden` writes it" in run(tmp_path)
    (tmp_path / "golden").mkdir()
    (tmp_path / "golden" / "a.txt").write_text("old")
    assert "not the text kept in tests/golden/a.txt" in run(tmp_path)
    assert "1 passed" in run(tmp_path, "--golden")
    assert (tmp_path / "golden" / "a.txt").read_text() == "new"
    assert "1 passed" in run(tmp_path)


def test_seed_and_profile_are_printed(tmp_path: Path) -> None:
    """Whoever reads a log can repeat the run."""
    assert "seed 2011, hypothesis profile fixed\n" in run(tmp_path)


def test_dice_fall_the_same_way(rng: Any) -> None:
    """The first throw is known."""
    assert rng.integers(1000, size=3).tolist() == [707, 747, 622]


def test_warning_is_an_error() -> None:
    """A warning nobody looks at is a fault that waits."""
    with pytest.raises(UserWarning, match="smoke"):
        warnings.warn("smoke", stacklevel=1)


@pytest.mark.browser
def test_phone_is_a_phone(phone: Any) -> None:
    """The browser of the tests is one that is held in one hand."""
    phone.set_content("<meta name=viewport content=width=device-width><p>here</p>")
    assert phone.evaluate("[innerWidth, innerHeight, navigator.maxTouchPoints > 0]") == [360, 740, True]
