"""The environment is made from locked files, by hash, and made once."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from tools import changelog, set_up

ROOT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())


def locked(name: str) -> dict[str, str]:
    """Package and its lines, of one lock file."""
    text = (ROOT / "requirements" / f"{name}.txt").read_text()
    return {re.split(r"==", entry)[0].strip(): entry for entry in re.split(r"\n(?=\S)", text) if "==" in entry}


@pytest.mark.parametrize("name", ["bootstrap", "run", "dev", "docs"])
def test_every_locked_package_has_a_version_and_a_hash(name: str) -> None:
    """Nothing is installed that was not named down to its bytes."""
    entries = locked(name)
    assert entries
    assert [package for package, entry in entries.items() if "--hash=sha256:" not in entry] == []


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("run", PROJECT["project"]["dependencies"]),
        ("dev", PROJECT["project"]["dependencies"] + PROJECT["dependency-groups"]["dev"]),
        ("docs", PROJECT["dependency-groups"]["docs"]),
        ("bootstrap", PROJECT["dependency-groups"]["bootstrap"]),
    ],
)
def test_lock_holds_what_the_project_asks_for(name: str, wanted: list[str]) -> None:
    """A package added to pyproject.toml without `tools/lock.py` is noticed."""
    assert {package.lower() for package in wanted} <= set(locked(name))


def test_state_changes_with_the_locks_and_only_then(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Set-up runs again when a lock file changes, and does not when nothing did."""
    for name in ("pyproject.toml", "tools/set_up.py", *(f"requirements/{n}.txt" for n in ("bootstrap", "run", "dev"))):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    monkeypatch.setattr(set_up, "ROOT", tmp_path)
    before = {want: set_up.state_of(want) for want in ("run", "dev")}
    assert before == {want: set_up.state_of(want) for want in ("run", "dev")}
    (tmp_path / "requirements/dev.txt").write_text("changed")
    assert set_up.state_of("run") == before["run"]
    assert set_up.state_of("dev") != before["dev"]


def test_wrong_set_of_packages_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """The message shows what was met and what there is."""
    assert set_up.main(["everything"]) == 2
    assert capsys.readouterr().err == "set-up: 'everything' is not a set of packages. Say one of: run, dev, docs.\n"


def test_fragments_are_one_line_each() -> None:
    """A change is told in one line, or it is several changes."""
    for fragment in sorted((ROOT / "changelog.d").glob("*.md")):
        assert len(fragment.read_text().strip().splitlines()) == 1, fragment.name


def test_new_version_stands_before_the_older_ones() -> None:
    """Fragments become the section of the version, newest first."""
    first = changelog.with_version("# Changes\n", "0.1.0", "2001-02-03", ["one"])
    assert first == "# Changes\n\n## 0.1.0 (2001-02-03)\n\n- one\n"
    second = changelog.with_version(first, "0.2.0", "2001-03-04", ["two", "three"])
    assert second == ("# Changes\n\n## 0.2.0 (2001-03-04)\n\n- two\n- three\n\n## 0.1.0 (2001-02-03)\n\n- one\n")
