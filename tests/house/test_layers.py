"""The rooms stand in layers, and every room is seen by the tool that says so."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
CONTRACT = (ROOT / "pyproject.toml").read_text()


def lint(at: Path) -> subprocess.CompletedProcess[str]:
    program = Path(sys.executable).with_name("lint-imports")
    return subprocess.run([program, "--no-cache"], cwd=at, capture_output=True, text=True, check=False)


def test_imports_go_down_only() -> None:
    """The contract of docs/decisions/0001-layers.md holds."""
    done = lint(ROOT)
    assert done.returncode == 0, done.stdout
    assert "1 kept, 0 broken" in done.stdout


def test_every_folder_with_modules_is_a_package() -> None:
    """A folder without ``__init__.py`` would be invisible to the contract."""
    folders = {module.parent for module in (ROOT / "src" / "knowngood").rglob("*.py")}
    assert [str(folder) for folder in sorted(folders) if not (folder / "__init__.py").exists()] == []


@pytest.mark.parametrize(
    ("room", "imports", "kept"),
    [
        ("car", "from knowngood.errors import KnownGoodError", True),
        ("errors", "from knowngood.car import anything", False),
        ("belief", "from knowngood.lines import anything", False),
        ("cellar", "", False),
    ],
)
def test_contract_breaks_when_it_should(tmp_path: Path, room: str, imports: str, kept: bool) -> None:
    """An import up, one sideways, and a room nobody declared are each refused; an import down is not."""
    contract = tomllib.loads(CONTRACT)["tool"]["importlinter"]
    assert contract["contracts"][0]["exhaustive"]
    package = f"knowngood_{room}_{kept}".lower()
    (tmp_path / "pyproject.toml").write_text(CONTRACT.replace('"knowngood"', f'"{package}"'))
    for name in ("errors", "car", "lines", room):
        (tmp_path / package / name).mkdir(parents=True, exist_ok=True)
        (tmp_path / package / name / "__init__.py").write_text("KnownGoodError = anything = None\n")
    (tmp_path / package / "__init__.py").write_text("")
    (tmp_path / package / room / "__init__.py").write_text(imports.replace("knowngood", package, 1) + "\n")
    program = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [program, "--no-cache"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(tmp_path)},
    )
    assert (done.returncode == 0) is kept, done.stdout + done.stderr
