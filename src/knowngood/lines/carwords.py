"""Words that say what a car is fitted with and what it is built for, and the facts they stand for."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

Facts = list[tuple[str, Any]]
Pattern = tuple[str, Callable[[re.Match[str]], Facts]]
NUMBERS = {
    word: number
    for number, word in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"], start=1
    )
}
NUMBER = rf"(\d+|{'|'.join(NUMBERS)})"
NOT_KNOWN = r"(?:not known|unknown|not sure|dont know|don't know|\?)"


def count(text: str) -> int:
    """A whole number written in digits or as a word."""
    return int(NUMBERS.get(text, text))


def _told(field: str, value: Any) -> Callable[[re.Match[str]], Facts]:
    return lambda match: [(field, value)]


def _fitted(*systems: str) -> Callable[[re.Match[str]], Facts]:
    return _told("systems", list(systems))


def _form(letter: str) -> str:
    return {"v": "V", "vee": "V", "flat": "flat", "boxer": "flat", "opposed": "flat"}.get(letter.strip(), "inline")


def _geared(match: re.Match[str]) -> Facts:
    speeds, kind = count(match.group(1)), match.group(2) or ""
    manual = kind.startswith(("man", "stick")) or (not kind and speeds == 5)
    return [("systems", ["manual" if manual else "automatic" if kind else f"{speeds}-speed gearbox"])]


def _equipment(match: re.Match[str]) -> Facts:
    return [("systems", [(match.group(1) or match.group(2)).removesuffix("s")])]


_EQUIPMENT = (  # names of systems that are parts as well: said to be there, not only named
    r"fuel vapour valve|runner flaps?|idle valve|fuel return|catalyst|second oxygen sensor|knock sensors?|cam sensors?"
    r"|crank sensor|timing belt|timing chain|electric fans?|viscous fan|electronic throttle|returnless fuel"
)
_FORM = r"(?:inline|in-line|in line|straight|v|vee|flat|boxer|opposed)"
_CYL = r"(?:cyl|cyls|cylinder|cylinders|pot|pots|banger)"
_LEADS = r"(?:(?:short|plug|ht|spark|spark plug|ignition|rubber) )*(?:leads?|cables?|wires?)"
_BOX = r"(?:gearbox|box|transmission|gears?)"
_BODY = (
    r"pick-?up|pick up|pickup truck|truck|van|panel van|delivery van|minivan|minibus|people carrier|estate"
    r"|station wagon|wagon|saloon|sedan|hatchback|hatch|coup[eé]|cabriolet|cabrio|convertible|roadster|limousine"
    r"|off-?roader|suv|camper|camper van|campervan|motorhome|motor home|buggy|kit car"
)
_USE = (
    r"(?:competition|race|racing|rally|track|track day|sports?|club sport|autocross|hillclimb|drift) (?:car|use|engine)"
    r"|(?:city|town|small|family|large|big|compact|executive|luxury|daily|weekend|second|farm|show|classic|project"
    r"|veteran|company|hire|rental|fleet|garden|shopping|commuter) car|taxi|daily driver|barn find|young ?timer"
    r"|old ?timer|classic|race prepared|tuned(?: engine)?"
)


def _by(drive: str) -> str:
    """What drives the camshafts: a chain or a belt by itself may be any."""
    has = r"(?:(?:it )?has a |(?:it )?has |with a |with )?"
    cams = rf"{has}(?:timing|cam(?:shaft)?)(?: by| is(?: by)?)?(?: a)? {drive}(?: drive)?"
    return rf"(?:{cams}|{drive}[ -](?:engine|driven(?: cam(?:shaft)?s?)?))"


FITTED: tuple[Pattern, ...] = (
    (
        rf"{NUMBER}[ -]?{_CYL}\.?[ -]?({_FORM})(?: engine)?",
        lambda m: [("cylinders", count(m.group(1))), ("form", _form(m.group(2)))],
    ),
    (
        rf"({_FORM})[ -]?{NUMBER}(?:[ -]?{_CYL})?(?: engine)?",
        lambda m: [("cylinders", count(m.group(2))), ("form", _form(m.group(1)))],
    ),
    (rf"{NUMBER}[ -]?{_CYL}\.?(?: engine)?", lambda m: [("cylinders", count(m.group(1)))]),
    (r"(?:i|l|r)(\d)(?: engine)?", lambda m: [("cylinders", int(m.group(1))), ("form", "inline")]),
    (r"(8|10|12|16|20|24|30|32|40|48)[ -]?(?:v|valves?)", lambda m: [("systems", [f"{m.group(1)} valves"])]),
    (r"dohc|sohc|ohc|ohv|twin cam|single cam", lambda m: [("systems", [m.group()])]),
    (r"v[ -]?engine|vee engine", _told("form", "V")),
    (r"inline(?: engine)?|straight engine", _told("form", "inline")),
    (r"flat engine|boxer(?: engine)?", _told("form", "flat")),
    (rf"cylinders? {NOT_KNOWN}", _told("cylinders", None)),
    (
        r"firing order:? ?((?:\d{1,2}[- ,]){2,}\d{1,2})",
        lambda m: [("firing_order", [int(n) for n in re.findall(r"\d+", m.group(1))])],
    ),
    (r"firing order:? ?([1-9]{3,9})", lambda m: [("firing_order", [int(n) for n in m.group(1)])]),
    (r"(?:numbered|numbering) (by bank|alternating)(?: banks?)?", lambda m: [("numbering", m.group(1))]),
    (
        r"(?:cyl|cylinder|number|no\.?|#) ?1 (?:is )?(?:in |on )?(?:the )?(left|right)(?: bank)?",
        lambda m: [("first_bank", m.group(1))],
    ),
    (r"bank (?:1|one) (?:is )?(?:on )?(?:the )?(left|right)", lambda m: [("first_bank", m.group(1))]),
    (
        r"(?:coils? on (?:the )?plugs?|coil-on-plug|coils? over plugs?|cop"
        r"|(?:a |one )?coil (?:per|for each|on each|on every) (?:plug|cylinder)"
        r"|(?:individual|separate|single|pencil|plug top|plug-top|stick) coils|one coil each|coil packs)",
        _told("ignition", "coil on plug"),
    ),
    (
        rf"(?:coils? (?:and|with|plus) {_LEADS}|(?:individual|separate|single) coils (?:and|with) {_LEADS}"
        rf"|(?:a |one )?coil (?:per|for each) (?:plug|cylinder) (?:and|with) {_LEADS}"
        r"|(?:coils?|individual coils) (?:near|beside|next to|close to|by) (?:the |each |its )?plugs?"
        r"|(?:individual )?coils? (?:on|above|over|at|in) (?:the )?(?:(?:cam|valve|rocker|cylinder|engine) )?covers?"
        rf"(?: (?:and|with) {_LEADS})?)",
        _told("ignition", "coil and lead"),
    ),
    (
        rf"(?:(?:pair(?:ed)? coils?|wast(?:ed|e)[ -]spark(?: coils?| ignition)?|double coils?|twin[ -]?spark coils?"
        rf"|double[ -]ended coils?|coil blocks?)(?: (?:and|with) {_LEADS})?|coil packs? (?:and|with) {_LEADS})",
        _told("ignition", "pair coil"),
    ),
    (
        rf"(?:(?:optical |magnetic |electronic |contact breaker |points |hall )?distributor"
        rf"(?:(?: and| with) (?:cap and )?{_LEADS}| ignition)?|dizzy|dist"
        r"|contact breaker(?: points)? ignition|points ignition)",
        _told("ignition", "distributor"),
    ),
    (rf"ignition(?: kind)? {NOT_KNOWN}", _told("ignition", "")),
    (
        r"(?:port(?: fuel)?[ -]inj(?:ection)?|multi[ -]?point(?: (?:fuel )?injection)?|mpi|mpfi|port[ -]injected"
        r"|sequential(?: (?:port|fuel))? injection|(?:intake )?manifold injection|one injector per cylinder)",
        _told("injection", "port"),
    ),
    (
        r"(?:single[ -]?point(?: (?:fuel )?injection)?|throttle body (?:fuel )?injection|tbi|spi"
        r"|central(?: point)? injection|mono(?:[ -]?point)?(?: injection)?|one central injector)",
        _told("injection", "single point"),
    ),
    (
        r"(?:direct (?:petrol |gasoline |fuel )?injection|t?gdi|direct[ -]injected|direct[ -]injection"
        r"|injection into the cylinders?)",
        _told("injection", "direct"),
    ),
    (r"(?:mechanical injection)", _told("injection", "other")),
    (rf"injection(?: kind)? {NOT_KNOWN}", _told("injection", "")),
    (r"(?:fuel[ -]injected|electronic(?: fuel)? injection|efi)", _fitted("fuel injection")),
    (
        r"(?:(?:twin |single |double )?(?:carburettors?|carburetors?|carbs?)|carburetted|carbureted)",
        _told("drive", "carburettor"),
    ),
    (r"(?:flow meter and manifold pressure|maf and map|both meters|map and maf)", _told("air_meter", "both")),
    (
        r"(?:flow meter|air flow meter|air mass meter|maf|maf sensor|air meter|mass air flow)",
        _told("air_meter", "flow meter"),
    ),
    (
        r"(?:manifold pressure(?: sensor)?|map sensor|map|speed density|no flow meter|no air meter|no maf)",
        _told("air_meter", "manifold pressure"),
    ),
    (rf"air meter {NOT_KNOWN}", _told("air_meter", "")),
    (
        r"(?:no turbo|not turbo(?:charged)?|without (?:a )?turbo|(?:naturally|normally)[ -]aspirated|n/a engine"
        r"|na engine|non[ -]?turbo|atmospheric(?: engine)?|atmo|unblown)",
        _told("turbo", False),
    ),
    (
        r"(?:(?:twin |single |bi-?|light )?turbo(?:s|charged|[ -]charged| engine)?(?: fitted)?)",
        _told("turbo", True),
    ),
    (
        r"(?:super[ -]?charged|(?:with )?(?:a )?supercharger(?: fitted)?|mechanical(?:ly)? (?:supercharged|blower))",
        _fitted("supercharger"),
    ),
    (r"(?:(?:mild |full |petrol |plug-in )*hybrid)", _told("drive", "hybrid")),
    (
        r"(?:gas conversion|lpg|cng|lpg conversion|converted to gas|autogas|gas converted)",
        _told("drive", "gas conversion"),
    ),
    (r"(?:(?:plain )?(?:petrol|gasoline)(?: engine| only| car)?)", _told("drive", "petrol")),
    (rf"(?:drive|fuel) {NOT_KNOWN}", _told("drive", "")),
    (
        rf"(?:(?:automatic|auto)(?: {_BOX})?|torque converter(?: automatic)?(?: {_BOX})?)",
        _fitted("automatic"),
    ),
    (
        rf"(?:cvt(?: {_BOX})?|(?:continuously variable|stepless)(?: automatic)? {_BOX})",
        _fitted("automatic", "continuously variable gearbox"),
    ),
    (
        rf"(?:(?:automated|automatised|robotised|robotized|semi-?automatic|clutchless)(?: manual)?(?: {_BOX})?"
        rf"|(?:dual|double|twin)[ -]clutch(?: {_BOX})?|sequential {_BOX})",
        _fitted("automated gearbox"),
    ),
    (
        rf"{NUMBER}[ -]?(?:speed|gears)(?:[ -](manual|man|stick(?: shift)?|automatic|auto))?(?: {_BOX})?",
        _geared,
    ),
    (rf"(?:manual(?: {_BOX})?|man\.? ?{_BOX}|stick shift|five speed)", _fitted("manual")),
    (rf"auto\.? {_BOX}", _fitted("automatic")),
    (r"(?:no|without) (?:air ?con(?:ditioning)?|a/?c)", _fitted("no air conditioning")),
    (r"wet belt|belt in oil|timing belt in oil", _fitted("wet belt", "timing belt")),
    (rf"{_by('chain')}(?:,? (?:no|not(?: a)?) (?:timing )?belt)?|no (?:timing |cam )belt", _fitted("timing chain")),
    (rf"{_by('belt')}(?:,? (?:no|not(?: a)?) (?:timing )?chain)?|cambelt(?: engine)?", _fitted("timing belt")),
    (r"(?:[2-9]|two|three|four|six) coil packs?", lambda m: [("systems", [m.group()])]),
    (
        r"(?:all[ -]wheel[ -]drive|four[ -]wheel[ -]drive|4[ -]wheel[ -]drive|awd|4wd|4x4)",
        _fitted("all-wheel drive"),
    ),
    (
        r"((?:front|rear)[ -]wheel[ -]drive|(?:front|mid|rear)[ -]engined?|transverse|longitudinal"
        r"|twin cam|single cam|overhead cam|pushrods?|(?:8|12|16|20|24|30|32|48) valves?)"
        r"(?: engine| head)?",
        lambda m: [("systems", [m.group(1)])],
    ),
    (rf"(?:(?:(?:it )?has|with)(?: an?)? ({_EQUIPMENT})|({_EQUIPMENT}) fitted)", _equipment),
    (r"(?:electronic throttle|(?:drive|throttle)[ -]by[ -]wire)", _fitted("electronic throttle")),
    (r"(?:returnless fuel(?: system)?)", _fitted("returnless fuel")),
    (r"viscous fan", _fitted("viscous fan")),
    (r"(?:secondary air|air pump fitted)", _fitted("secondary air")),
    (r"(?:egr fitted|with egr|exhaust gas return|exhaust return)", _fitted("exhaust return")),
    (r"(?:cam phasers?|variable (?:valve|cam) timing|vvt)", _fitted("cam phaser")),
    (r"(?:immobiliser|immobilizer)(?: fitted)?", _fitted("immobiliser")),
    (r"(?:air conditioning|aircon|air con|a/c|ac)(?: fitted)?", _fitted("air conditioning")),
    (rf"({_BODY})(?: car| body)?", lambda m: [("systems", [m.group(1)])]),
    (rf"({_USE})", lambda m: [("systems", [m.group(1)])]),
    (
        r"((?:engine (?:swap|transplant)(?:ped)?|swapped engine|engine swapped in)(?: done| car| before)?)",
        lambda m: [("last_done", [m.group(1)])],
    ),
)
"""What is fitted, what the car is and is for: words, and the facts they stand for. The longest match counts."""
