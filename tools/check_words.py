"""Small checks on every tracked file: words that must not stand in it, its name, its length.

    .venv/bin/python tools/check_words.py

The names that must not stand in this repository must not stand in this file
either: they are kept shifted by 13 letters.
"""

from __future__ import annotations

import codecs
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
MOST_LINES = 400  # of a Python file
VAGUE_NAMES = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
NOT_OURS = ("vendor/", "requirements/")  # texts of others: only addresses of package indexes are looked for

UNFINISHED = ["TO" + "DO", "FIX" + "ME", "XX" + "X", "(?i:coming" + " soon)", "(?i:lorem" + " ipsum)"]

MAKERS = """
    atx avffna bcry byqfzbovyr cbagvnp cbefpur crhtrbg ebire eranhyg evtby ffnatlbat fhmhxv fhoneh fnno fxbqn
    gblbgn grxgebavk ibyib ibyxfjntra ij inhkunyy inyrb nhqv nphen npqrypb obfpu ohvpx oraqvk oreh ozj
    pnqvyynp puelfyre puriebyrg pvgebra qnpvn qnrjbb qnvungfh qrafb qrycuv sbeq sreenev svng syhxr ubaqn
    ubyyrl ulhaqnv unagrx uryyn vasvavgv vfhmh wnthne wrrc xrlfvtug xvn ybpgvgr ynapvn ynqn yrkhf zbgbepensg
    znfrengv znmqn znuyr zreprqrf zvgfhovfuv
"""
PRODUCTS = """
    boqryrira boqyvax cvpbfpbcr fanc-ba grpufgernz ipqf nhgbqngn nhgbratvahvgl nhgry nyyqngn pneyl puvygba
    ryz327 sbefpna unlarf vqragvsvk znuyr zvgpuryy
"""
INDEXES = """
    aczwf.bet aczwf.pbz clcv.bet clcv.clguba.bet clgubaubfgrq.bet ertvfgel.lneacxt.pbz nanpbaqn.bet
    qro.qrovna.bet
"""
WORKPLACE = """
    bcranv fhontrag naguebcvp pbcvybg pungtcg pynhqr tcg yyz
"""


def shifted(words: str) -> re.Pattern[str]:
    plain = "|".join(re.escape(codecs.decode(word, "rot13")) for word in words.split())
    return re.compile(rf"(?<![a-z0-9])(?:{plain})(?![a-z0-9])", re.IGNORECASE)


UNFINISHED_WORK = re.compile(rf"\b(?:{'|'.join(UNFINISHED)})\b")
EVERYWHERE = {"the address of a package index": shifted(INDEXES)}
IN_OURS = {
    "unfinished work": UNFINISHED_WORK,
    "the name of a maker": shifted(MAKERS),
    "the name of a product": shifted(PRODUCTS),
    "a word of the workplace": shifted(WORKPLACE),
}


def problems_in(path: str, text: str) -> list[str]:
    """What is not as it should be in one file, `path` being relative to the repository."""
    ours = not any(place in path for place in NOT_OURS)
    found = []
    if Path(path).stem in VAGUE_NAMES:
        found.append(f"{path}: the name says nothing. Name it for the one idea it holds.")
    lines = text.splitlines()
    if path.endswith(".py") and len(lines) > MOST_LINES:
        found.append(f"{path}: {len(lines)} lines; {MOST_LINES} is the most. Split it by ideas.")
    for what, pattern in (EVERYWHERE | IN_OURS if ours else EVERYWHERE).items():
        for match in pattern.finditer(path):
            found.append(f"{path}: {what} in the file's name: {match[0]!r}. Rename it.")
        for number, line in enumerate(lines, 1):
            found += [f"{path}:{number}: {what}: {match[0]!r}. Take it out." for match in pattern.finditer(line)]
    return found


def tracked_files() -> list[str]:
    told = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [path for path in told.split("\0") if path and (ROOT / path).is_file()]


def problems() -> list[str]:
    found = []
    for path in tracked_files():
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            text = ""  # a picture or a recording: only its name is looked at
        found += problems_in(path, text)
    return found


if __name__ == "__main__":
    for problem in (found := problems()):
        print(problem)
    sys.exit(1 if found else 0)
