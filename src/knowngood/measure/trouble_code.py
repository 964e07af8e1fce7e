"""The build of a trouble code: letter, digits, and the two bytes that carry it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from knowngood.errors import NotMeasurable, Refused

LETTERS = {"P": "powertrain", "C": "chassis", "B": "body", "U": "network"}
ORIGINS = {"0": "standard", "1": "maker", "2": "standard", "3": "standard or maker"}
"""First digit; 3 is mixed (from memory)."""
POWERTRAIN_AREAS = {
    "1": "fuel and air metering",
    "2": "fuel and air metering, injector circuits",
    "3": "ignition or misfire",
    "4": "auxiliary emission control",
    "5": "speed and idle",
    "6": "computer and its outputs",
    "7": "transmission",
    "8": "transmission",
}
"""Second digit of a powertrain code; 8 from memory."""


@dataclass(frozen=True, slots=True)
class CodeBuild:
    """What the build of a code says: system, who defined it, area, and the cylinder of a misfire code.

    `area` is empty where the second digit has no common meaning; `cylinder` is None but for misfire of one cylinder,
    and 0 for misfire of several or of none in particular.
    """

    code: str
    system: str
    origin: str
    area: str
    cylinder: int | None


def code_build(code: str) -> CodeBuild:
    """What a code says by its build alone.

    Parameters
    ----------
    code : str
        One letter and four digits, either case; 'P0301'.

    Returns
    -------
    build : CodeBuild

    Raises
    ------
    Refused
        The text is not a code of this build.

    Notes
    -----
    Cannot tell: a bad part. A code speaks of a signal; wires, supply and other parts make the same signal. A cylinder
    number is the maker's; bank 1 is the bank that holds cylinder 1, sensor 1 the one nearest the engine (from memory).

    References
    ----------
    sae_j2012 : SAE J2012 / ISO 15031-6:2015, structure of trouble codes.

    Examples
    --------
    >>> build = code_build("p0301")
    >>> build.system, build.origin, build.area, build.cylinder
    ('powertrain', 'standard', 'ignition or misfire', 1)
    """
    text = code.strip().upper()
    if not re.fullmatch(r"[PCBU][0-3][0-9A-F]{3}", text):
        raise Refused(
            f"'{code}' is not one letter (P, C, B, U), a digit 0 to 3 and three more digits.",
            "Type it as the display shows it; older codes of two digits are the maker's own.",
        )
    area = POWERTRAIN_AREAS.get(text[2], "") if text[0] == "P" and text[1] != "1" else ""
    cylinder = int(text[3:]) if re.fullmatch(r"P03(0\d|1[0-2])", text) else None
    return CodeBuild(text, LETTERS[text[0]], ORIGINS[text[1]], area, cylinder)


def code_from_bytes(high: int, low: int) -> str:
    """The code carried by two bytes.

    Parameters
    ----------
    high, low : int
        First and second byte, 0 to 255.

    Returns
    -------
    code : str

    Raises
    ------
    NotMeasurable
        A byte is outside 0 to 255, or both are zero, which means no code.

    Notes
    -----
    Cannot tell: whether the code is stored, pending or permanent; the service it came from does.

    References
    ----------
    sae_j2012 : SAE J2012 / ISO 15031-6, two-byte coding (from memory).

    Examples
    --------
    >>> code_from_bytes(0xC1, 0x00)
    'U0100'
    """
    if not (0 <= high <= 255 and 0 <= low <= 255):
        raise NotMeasurable(f"{high}, {low} are not two bytes.", "Give two numbers from 0 to 255.")
    if high == low == 0:
        raise NotMeasurable("Both bytes are 0: no code.", "Leave out the fill bytes.")
    return f"{'PCBU'[high >> 6]}{(high >> 4) & 3}{high & 15:X}{low:02X}"


def bytes_from_code(code: str) -> tuple[int, int]:
    """The two bytes that carry a code; the inverse of `code_from_bytes`.

    Parameters
    ----------
    code : str
        One letter and four digits.

    Returns
    -------
    high, low : tuple of int

    Raises
    ------
    Refused
        The text is not a code of this build.

    Notes
    -----
    Cannot tell: anything beyond the code itself.

    References
    ----------
    sae_j2012 : as in `code_from_bytes`.

    Examples
    --------
    >>> bytes_from_code("C0123")
    (65, 35)
    """
    text = code_build(code).code
    return "PCBU".index(text[0]) << 6 | int(text[1]) << 4 | int(text[2], 16), int(text[3:], 16)
