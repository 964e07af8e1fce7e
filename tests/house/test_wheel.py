"""The package as it leaves the house: every file the program reads is in it, none of others, and it runs by itself."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from benchmarks.package import wheel

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel."""
    return wheel(tmp_path_factory.mktemp("wheel"))


def test_wheel_holds_the_source_and_nothing_else(built: Path) -> None:
    """Library, templates, grammar, typing mark: file for file what stands under src."""
    held = {name for name in zipfile.ZipFile(built).namelist() if not name.startswith("knowngood-")}
    files = [file for file in (SOURCE / "knowngood").rglob("*") if file.is_file() and "__pycache__" not in file.parts]
    assert held == {file.relative_to(SOURCE).as_posix() for file in files}
    assert "knowngood/py.typed" in held


def test_wheel_says_its_licence(built: Path) -> None:
    """MIT, with the notices beside it."""
    with zipfile.ZipFile(built) as package:
        said = package.read("knowngood-0.1.0.dist-info/METADATA").decode()
        assert "License-Expression: MIT\n" in said
        for name in ("LICENSE", "NOTICES.md"):
            assert package.read(f"knowngood-0.1.0.dist-info/licenses/{name}") == (ROOT / name).read_bytes()


def test_files_of_others_are_noticed() -> None:
    """Each folder of files that came from elsewhere is named with its version, and its licence lies in it."""
    told = (ROOT / "NOTICES.md").read_text(encoding="utf-8")
    folders = [folder for vendor in ROOT.glob("[st]*/**/vendor") for folder in vendor.iterdir()]
    assert folders
    for folder in folders:
        version = folder.name.rpartition("-")[2]
        assert f"| `{folder.relative_to(ROOT).as_posix()}/` | {version} |" in told
        assert (folder / "LICENSE").is_file()


def test_program_runs_from_the_wheel_alone(built: Path, tmp_path: Path) -> None:
    """Unpacked elsewhere, with no source beside it, it weighs a notes file and begins a car."""
    zipfile.ZipFile(built).extractall(tmp_path / "unpacked")
    notes = tmp_path / "notes.txt"
    notes.write_text("4 cylinders inline, coil on plug\nP0302 stored, shakes at idle\n", encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": os.fspath(tmp_path / "unpacked"), "KNOWNGOOD_HOME": os.fspath(tmp_path / "home")}
    told = ""
    for words in (["-c", "import knowngood; print(knowngood.__file__)"], ["-m", "knowngood.cli", "weigh", str(notes)]):
        done = subprocess.run(
            [sys.executable, *words], cwd=tmp_path, env=env, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        told += done.stdout
    assert told.startswith(os.fspath(tmp_path / "unpacked"))
    assert "Most likely" in told
