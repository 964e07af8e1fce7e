"""Make the environment in ``.venv``, once for each state of the lock files.

    python3.11 tools/set_up.py run     what the program needs
    python3.11 tools/set_up.py dev     and what tests and checks need
    python3.11 tools/set_up.py docs    and what the documentation needs

Needs Python 3.11 or later and a way to a package index; no root, no compiler.
Everything is installed by hash. The index, the certificate and the proxy are
those pip is set up with on this machine.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
LOCKS = {"run": ["run"], "dev": ["dev"], "docs": ["dev", "docs"]}


def main(arguments: list[str]) -> int:
    want = arguments[0] if arguments else "run"
    if want not in LOCKS:
        return refuse(f"{want!r} is not a set of packages. Say one of: {', '.join(LOCKS)}.")
    if sys.version_info < (3, 11):  # noqa: UP036 - an older Python reads as far as here
        return refuse(
            f"this is Python {sys.version.split()[0]}; 3.11 or later is needed. Say `make PYTHON=python3.11 ...`."
        )
    with open(__file__) as turn:  # two set-ups at once would write over each other
        fcntl.flock(turn, fcntl.LOCK_EX)
        state = state_of(want)
        stamp = VENV / f"set-up-{want}"
        if stamp.exists() and stamp.read_text() == state and PYTHON.exists():
            return 0
        started = time.monotonic()
        say(f"setting up .venv ({want}) with Python {sys.version.split()[0]}; the first time takes a minute or two")
        try:
            set_up(want)
        except subprocess.CalledProcessError as stopped:
            return refuse(
                f"`{' '.join(map(str, stopped.cmd))}` ended with {stopped.returncode}; its last lines are above. "
                "If they speak of the network, look at `pip config list`, then run this again; it goes on from here."
            )
        stamp.write_text(state)
        say(f"ready after {time.monotonic() - started:.0f} s")
    return 0


def state_of(want: str) -> str:
    """Everything that makes an environment out of date when it changes."""
    import tomllib  # here: an older Python has none, and is told so before

    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    digest = hashlib.sha256(f"{ROOT} {sys.version} {project['project']} {project['build-system']}".encode())
    for name in ("tools/set_up.py", *(f"requirements/{name}.txt" for name in ("bootstrap", *LOCKS[want]))):
        digest.update((ROOT / name).read_bytes())
    return digest.hexdigest()


def set_up(want: str) -> None:
    if not is_ours():
        call(getattr(sys, "_base_executable", sys.executable), "-m", "venv", "--clear", VENV)
    call(PYTHON, "-m", "pip", "install", *QUIET_PIP, "--require-hashes", "-r", lock("bootstrap"))
    for name in LOCKS[want]:
        install("--require-hashes", "-r", lock(name))
    install("--no-deps", "--no-build-isolation", "--editable", ROOT)
    compile_bytecode()


def is_ours() -> bool:
    """Whether ``.venv`` runs the Python that runs this, and sits where it was made."""
    if not PYTHON.exists():
        return False
    ask = "import sys; print(sys.version, sys.prefix)"
    told = subprocess.run([PYTHON, "-c", ask], capture_output=True, text=True, check=False).stdout
    pip = VENV / "bin" / "pip"
    return told == f"{sys.version} {VENV}\n" and pip.exists() and str(VENV) in pip.read_text().splitlines()[0]


def install(*what: str | Path) -> None:
    """By uv, which takes a third of the time; by pip where uv finds no way to the index."""
    try:
        call(PYTHON, "-m", "uv", "pip", "install", "--quiet", "--python", PYTHON, *what, env=uv_environment())
    except subprocess.CalledProcessError:
        say("uv could not; trying the same with pip")
        call(PYTHON, "-m", "pip", "install", *QUIET_PIP, *what)


def uv_environment() -> dict[str, str]:
    """The settings of pip on this machine, in uv's words. What is already set for uv stays."""
    told = subprocess.run([PYTHON, "-m", "pip", "config", "list"], capture_output=True, text=True, check=False).stdout
    pip: dict[str, str] = {}
    for section in ("global.", "install.", ":env:."):  # the later one wins, as in pip
        for line in told.splitlines():
            key, _, value = line.partition("=")
            if key.startswith(section):
                pip[key.removeprefix(section)] = value.strip("'\"")
    words = {
        "index-url": "UV_DEFAULT_INDEX",
        "extra-index-url": "UV_INDEX",
        "find-links": "UV_FIND_LINKS",
        "cert": "SSL_CERT_FILE",
        "proxy": "ALL_PROXY",
    }
    settings = {
        "UV_SYSTEM_CERTS": "1",
        "UV_INDEX_STRATEGY": "unsafe-best-match",
    }  # safe: every file is held to its hash
    settings |= {ours: pip[theirs] for theirs, ours in words.items() if pip.get(theirs)}
    return settings | os.environ


def compile_bytecode() -> None:
    """Here, because where PYTHONDONTWRITEBYTECODE is set every later start would compile again."""
    packages = VENV / "lib" / f"python{sys.version_info[0]}.{sys.version_info[1]}" / "site-packages"
    subprocess.run(
        [PYTHON, "-m", "compileall", "-q", "-j", "0", packages, ROOT / "src"], capture_output=True, check=False
    )


QUIET_PIP = ("--quiet", "--disable-pip-version-check", "--no-warn-script-location")


def lock(name: str) -> Path:
    return ROOT / "requirements" / f"{name}.txt"


def call(*command: str | Path, env: dict[str, str] | None = None) -> None:
    subprocess.run([str(word) for word in command], cwd=ROOT, env=env, check=True)


def say(text: str) -> None:
    print(f"set-up: {text}", file=sys.stderr, flush=True)


def refuse(text: str) -> int:
    say(text)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
