"""The one-line forms: what a builder writes most often, rewritten to the table form.

The docstring of each function is its grammar. Words in capitals stand for a value, [brackets] for what may be
left out, a bar for a choice. Every function returns the table as a plain dict of texts, which the models then
read as if the builder had written the table; a form that cannot be read raises QuantityError.
"""

from __future__ import annotations

__all__ = [
    "ALONE",
    "MOST_IN_A_LINE",
    "SIZES",
    "diode",
    "fuse",
    "held",
    "joint",
    "lead",
    "output",
    "resistor",
    "source",
    "switch",
    "usual_resistor",
    "wire",
]

import re
from typing import Any, Final

from postcheck.description.problems import QuantityError
from postcheck.description.quantities import (
    AS_MEASURED,
    IN_DIGITS,
    MOST_CHARACTERS,
    UNSIGNED,
    parse,
    parse_resistor,
    tidy,
    without_comma,
)
from postcheck.description.units import Dimension
from postcheck.plain import nearest, quoted

MOST_IN_A_LINE: Final = 2 * MOST_CHARACTERS
_POWER = re.compile(rf"(?<![0-9./])(?:[0-9]+/[0-9]+|{UNSIGNED}) ?(?:[mk]?W|w|[wW]atts?)(?![A-Za-z0-9])")
_TOLERANCE = re.compile(rf"(?:\+/-|±)? ?({UNSIGNED} ?%)")
# Chip sizes in hundredths of an inch, as sold; 1210 ohm is a value of the E96 series.
SIZES: Final = "(?:01005|0201|0402|0603|0805|1206|1210|1812|2010|2512)"
_SIZE = re.compile(rf"(?<![0-9A-Za-z./]){SIZES}(?![0-9A-Za-z./])(?! ?[kKM]? ?(?:[oO]hm|OHM|Ω))")
# Between resistors in series; not the sign of "+/- 5 %" or of an exponent.
_SERIES = re.compile(r"(?<=[^\seE]) ?\+ ?(?=[0-9.RkKMt])")
_TRIMMER = re.compile(r"trimmer ")
_SET = re.compile(r" set (?:to )?(.+)$")
_LEAD = re.compile(r"(?P<length>.*?)(?:(?:^| )of (?P<wire>.+?))?(?:(?:^| )to (?P<to>.+))?")
_FUSE_KINDS: Final = {
    "quick": "quick", "fast": "quick", "slow": "slow", "UL": "UL", "ul": "UL", "resettable": "resettable",
}  # fmt: skip
_FUSE_BODIES: Final = ("glass", "ceramic")
_VOLTS = rf"{UNSIGNED} ?[A-Za-zµμ]*"
# Few builds have an output or a wire of their own: these are compiled when they are first used.
_DROP = (rf"\bdrop ({_VOLTS})", rf"({_VOLTS}) drop\b")
_COMPLIANCE = (rf"\bcompliance ({_VOLTS})", rf"({_VOLTS}) compliance\b")
_CONSTANT = r"\b(constant|steady)\b"
_WIRE = (
    rf"(?:(?P<strands>[0-9]+) ?[/x×] ?)?(?P<strand>{UNSIGNED}[^,]*)"
    rf"(?:,? (?P<outside>{UNSIGNED} ?[^ ]*) outside)?"
)

# What a number alone is in each form, by an example.
ALONE: Final = {
    "resistor": "470 ohm", "lead": "220 mm", "output": "100 mA", "fuse": "500 mA", "diode": "1 A", "switch": "1 A", "joint": "2.2 mm",
}  # fmt: skip
_RESISTOR_EXAMPLE: Final = "1k5 1/4 W at keel"
_LEAD_EXAMPLE: Final = "220 mm of enamel-0.10 to keel, red/black"
_OUTPUT_EXAMPLE: Final = "100 mA, 0.2 V drop"
_FUSE_EXAMPLE: Final = "500 mA slow"
_DIODE_EXAMPLE: Final = "1N4001"
_SWITCH_EXAMPLE: Final = "1 A at base"
_SOURCE_EXAMPLE: Final = "12 V adaptor 1 A"
# What a USB source is called, longest first.
_PORTS: Final = {
    r"\b(power[- ]bank)\b": "power-bank",
    r"\b(?:type[- ])?(?<![A-Za-z])([Cc])\b": "type-c",
    r"\b(plain)\b": "plain",
}
_JOINT_EXAMPLE: Final = "2.2 mm"
_HELD_EXAMPLE: Final = "10 x resistor 680 ohm 1/4 W"
_HELD = r"(?P<count>[0-9]+) ?[x×] ?(?:(?P<what>resistor|lamp|fuse|sleeve) )?(?P<kind>.+)"
_HELD_LENGTH = rf"(?P<length>{UNSIGNED} ?[A-Za-zµμ]+) (?:of )?(?P<kind>[^,]+)(?:, ?(?P<colour>.+))?"
_NOT_COUNTED = (
    r"(?P<count>[+-]?[0-9][0-9.,/]*(?:[eE][+-]?[0-9]+)?) ?(?:[x×] .+|(?:resistor|lamp|fuse|sleeve) .+)"
)
_WIRE_EXAMPLE: Final = "7/0.10 mm, 0.6 mm outside"


def _bad(piece: str, text: str, example: str) -> QuantityError:
    whole = "" if piece == text else f" in {quoted(text)}"
    return QuantityError(
        "file.bad-form", f"{quoted(piece)}{whole} is not understood", f'write it like "{example}"'
    )


def _start(text: str, example: str) -> str:
    """Return `text` with single spaces, or raise where it is empty, far too long or has a decimal comma."""
    if len(text) > MOST_IN_A_LINE:
        raise QuantityError(
            "file.too-long",
            f"{quoted(text, 40)} is {len(text)} characters long",
            f'write it like "{example}"',
        )
    text = " ".join(text.split())
    if not text:
        raise QuantityError("file.bad-form", "the text is empty", f'write it like "{example}"')
    if comma := re.search(r"([0-9]+),([0-9]+)", text):
        raise QuantityError(
            "file.decimal-comma", f"{quoted(text)} has a comma in a number", without_comma(text, comma[2])
        )
    return text


def _at(text: str, example: str) -> tuple[str, str | None]:
    if text == "at" or text.endswith(" at"):
        raise QuantityError("file.bad-form", f"{quoted(text)} names no place", f'write it like "{example}"')
    head, found, place = text.partition(" at ")
    return head, place if found else None


def _take(pattern: re.Pattern[str] | str, text: str) -> tuple[str | None, str]:
    """Return the first match of `pattern`, its group where it has one, and the text without it."""
    match = re.search(pattern, text)
    if match is None:
        return None, text
    return match[match.lastindex or 0].strip(), " ".join(
        (text[: match.start()] + " " + text[match.end() :]).split()
    )


def usual_resistor(text: str) -> dict[str, Any]:
    """[POWER | SIZE] [TOLERANCE]: "1/4 W 5 %", "0805 1 %", in any order."""
    example = "1/4 W 5 %"
    return _habits(_start(text, example), text, example)[0]


def _habits(head: str, text: str, example: str, *, alone: bool = True) -> tuple[dict[str, Any], str]:
    table: dict[str, Any] = {}
    rest = tidy(head)
    for key, pattern in (("power", _POWER), ("tolerance", _TOLERANCE), ("size", _SIZE)):
        found, rest = _take(pattern, rest)
        if found is not None:
            table[key] = found
    if alone and rest:
        raise _bad(rest, text, example)
    return table, rest


def resistor(text: str) -> dict[str, Any]:
    """PIECE [+ PIECE ...] [at PLACE]: "1k5 1/4 W at keel", "470 + 330 at keel", "470 + trimmer 1k at keel".

    PIECE: [trimmer] OHMS [POWER | SIZE] [TOLERANCE] [set [to] OHMS]: "150 ohm 0805", "4K7J", "trimmer 1k set 300". Power, size
    and tolerance stand in any order. The tolerance may be the letter of IEC 60062. Of several in series, and of a trimmer, a
    number alone is in ohm.
    """
    try:
        return _resistor(text)
    except QuantityError as error:
        if error.check != "file.decimal-comma" and (meant := _resistor_meant(text)) is not None:
            raise QuantityError(error.check, error.says, meant) from None
        raise


# What is put right before a resistor is read again, so that the message can show it as it is typed.
_RESISTOR_SLIPS: Final = (
    ("[\u00bc\u00bd\u00be\u215b-\u215e]", lambda sign: f" {IN_DIGITS[sign[0]]}"), (r"(?<=[0-9]) ?mw\b", " mW"), (r"(?<=W) (?!at )(?=[A-Za-z][^ ]*$)", " at "),
    (r",", " "), (r"\.(?= |$)", " "), (r"(?: at)? ?@ ?| in(?:side)? ", " at "), (r"\b(?:resistor|resistance)\b", " "),
    (r"^(?P<ohms>[0-9]+(?:\.[0-9]+)?)(?= at |$| [0-9])", r"\g<ohms> ohm"),
)  # fmt: skip


def _resistor_meant(text: str) -> str | None:
    """What to write for a resistor with the usual slips in it; None where it is not plain."""
    if text.strip().casefold() in {"none", "no", "-", "no resistor"}:
        return "leave `resistor` out where there is none"
    if text.strip().casefold() in {"unknown", "not known", "inside", "?", "??"}:
        return 'give the lamp a kind of its own, as of one with its resistor inside: [lamp_kind.returned] with volts = "12 V" and at = "9 mA", what it took on them at the bench'
    for pattern, right in _RESISTOR_SLIPS:
        text = " ".join(re.sub(pattern, right, text[:MOST_IN_A_LINE]).split())
    try:
        _resistor(text)
    except QuantityError:
        return None
    return f'write "{quoted(text)[1:-1]}"'


def _resistor(text: str) -> dict[str, Any]:
    head, place = _at(_start(text, _RESISTOR_EXAMPLE), _RESISTOR_EXAMPLE)
    pieces = _SERIES.split(tidy(head))
    plain = len(pieces) == 1 and not _TRIMMER.match(pieces[0])
    table, *more = (_piece(piece, text, plain=plain) for piece in pieces)
    if more:
        table["plus"] = more
    if place is not None:
        table["place"] = place
    return table


def _piece(piece: str, text: str, *, plain: bool) -> dict[str, Any]:
    """One resistor or trimmer of those in series."""
    trimmer = _TRIMMER.match(piece)
    setting = _SET.search(piece) if trimmer else None
    rest = piece[trimmer.end() : setting.start() if setting else None] if trimmer else piece
    table, ohms = _habits(rest, text, _RESISTOR_EXAMPLE, alone=False)
    if not ohms:
        raise QuantityError(
            "file.bad-form", f"{quoted(text)} has no resistance", f'write it like "{_RESISTOR_EXAMPLE}"'
        )
    ohms = ohms if plain else _in_ohms(ohms)
    try:
        _, tolerance = parse_resistor(ohms)
    except QuantityError:
        value, _, more = ohms.rpartition(" ")
        if value and _reads(value):
            raise _bad(more, text, _RESISTOR_EXAMPLE) from None
        if ohms.count(" ") > 1 or not re.match(r"[-+.0-9R]", ohms):
            raise _bad(ohms, text, _RESISTOR_EXAMPLE) from None
        raise
    if tolerance is not None:
        ohms = ohms[:-1]
        table.setdefault("tolerance", f"{tolerance * 100:g} %")
    table["ohms"] = ohms
    if trimmer:
        table["trimmer"] = True
    if setting:
        table["set"] = _in_ohms(setting[1])
    return table


def _in_ohms(number: str) -> str:
    """A number alone with its unit."""
    return f"{number} ohm" if re.fullmatch(UNSIGNED, number) else number


def _reads(value: str) -> bool:
    try:
        parse_resistor(value)
    except QuantityError:
        return False
    return True


def lead(text: str) -> dict[str, Any]:
    """[LENGTH] [of WIRE [/ WIRE]] [to PLACE] [, COLOUR [/ COLOUR]]: "220 mm to keel, red/black".

    Two wires are those of the feed and the back leg, in this order; so are two colours.
    """
    try:
        return _lead(text)
    except QuantityError as error:
        if not (error.hint or "").startswith('write "') and (meant := _lead_meant(text)) is not None:
            raise QuantityError(error.check, error.says, meant) from None
        raise


# The pieces of a lead, in whatever order and however they are parted.
_LENGTH_IN_LEAD = rf"(?<![A-Za-z0-9./-])(?P<number>{UNSIGNED}) ?(?P<unit>mm|cm|m|in|ft)(?![A-Za-z0-9])"
_COLOURS_IN_LEAD = r"(?:^|[ ,]+)(?P<colours>[A-Za-z-]+(?:/[A-Za-z-]+)+)(?=[ ,]|$)"
_PLACE_IN_LEAD = r" to (?P<to>[^ ,]+)"


def _lead_meant(text: str) -> str | None:
    """What to write for a lead with its pieces in another order, or without the words between; None where it is not plain."""
    from postcheck import catalogue  # noqa: PLC0415 - only where there is a mistake

    rest = " ".join(text[:MOST_IN_A_LINE].split())
    found: dict[str, str] = {}
    for key, pattern in (
        ("length", _LENGTH_IN_LEAD),
        ("place", _PLACE_IN_LEAD),
        ("colours", _COLOURS_IN_LEAD),
    ):
        if match := re.search(pattern, rest):
            found[key] = " ".join(filter(None, match.groups()))
            rest = f"{rest[: match.start()]} {rest[match.end() :]}"
            if key == "place":
                rest = f"{rest[: match.start()]}  {rest[match.start() :].lstrip()}"
    words = [word for word in re.split(r"[ ,]+", rest) if word and word != "of"]
    wire = "-".join(words)
    if wire and wire not in catalogue.names("wire"):
        return None
    right = " ".join(
        f"{before}{piece}"
        for before, piece in (("", found.get("length")), ("of ", wire), ("to ", found.get("place")))
        if piece
    )
    right += f", {found['colours'].replace(' ', '')}" if "colours" in found else ""
    try:
        _lead(right)
    except QuantityError:
        return None
    return f'write "{quoted(right)[1:-1]}"'


def _lead(text: str) -> dict[str, Any]:
    tidied = _start(text, _LEAD_EXAMPLE)
    head, comma, colours = (part.strip() for part in tidied.partition(","))
    match = _LEAD.fullmatch(head)
    assert match is not None  # every text matches; the length takes what is left
    table: dict[str, Any] = {}
    if length := match["length"].strip():
        if not re.match(r"[-+.0-9]", length):
            raise _bad(length, text, _LEAD_EXAMPLE)
        try:
            parse(length, Dimension.LENGTH)
        except QuantityError as error:
            raise _bad_length(error, length, text, placed=match["to"] is not None) from None
        table["length"] = length
    if match["wire"] is not None:
        # a slash between digits belongs to a name such as 7/0.10
        wires = [wire.strip() for wire in re.split(r" / |(?<![0-9])/|/(?![0-9])", match["wire"])]
        if len(wires) > 2 or not all(wires):
            raise _bad(match["wire"], text, "220 mm of ptfe-30 / enamel-0.10 to keel")
        table |= {"wire": wires[0]} if len(wires) == 1 else {"wires": wires}
    if match["to"] is not None:
        table["to"] = match["to"]
    if head.endswith((" of", " to")) or head in {"of", "to"} or not (table or comma):
        raise _bad(head or text, text, _LEAD_EXAMPLE)
    if comma:
        names = [colour.strip() for colour in colours.split("/")]
        if not all(names) or "," in colours or re.search(r" (?:and|&|\+) ", colours):
            right = re.sub(r" *(?:,| and | & | \+ ) *", "/", colours).strip("/")
            wrong = _bad(colours or ",", text, _LEAD_EXAMPLE)
            if right and "//" not in right:
                wrong.hint = f'write "{quoted(f"{head}, {right}")[1:-1]}"'
            raise wrong
        table["colours"] = names
    return table


def _bad_length(error: QuantityError, length: str, text: str, *, placed: bool) -> QuantityError:
    """What is wrong with the length of a lead, with the whole lead as it is typed where that is plain."""
    if error.check == "file.no-unit":
        right = re.sub(r"[0-9.]+(?![0-9.])", r"\g<0> mm", " ".join(text.split()), count=1)
        return QuantityError(
            error.check, error.says, f'write "{quoted(right)[1:-1]}", in the unit that you measured it in'
        )
    trailing = re.fullmatch(r'([-+.0-9/ ]+ ?[a-zµμ"]+) (.+)', length)
    if trailing is None:
        fixed = re.fullmatch(r'write "(?P<length>[^"]+)"', error.hint or "")
        if fixed:
            right = " ".join(text.split()).replace(length, fixed["length"], 1)
            return QuantityError(error.check, error.says, f'write "{quoted(right)[1:-1]}"')
        return error
    bad = _bad(trailing[2], text, _LEAD_EXAMPLE)
    if not placed and not re.search("[ /]", trailing[2]) and _lead_meant(text) is None:
        right = " ".join(text.split()).replace(length, f"{trailing[1]} to {trailing[2]}", 1)
        bad.hint = f'write "{quoted(right)[1:-1]}"'
    return bad


def output(text: str) -> dict[str, Any]:
    """LIMIT [VOLTS drop], or CURRENT constant [VOLTS compliance]: "100 mA, 0.2 V drop".

    "drop 0.2 V" and "compliance 1.5 V" are read as well. LIMIT is the most current that the output stands.
    """
    rest = _start(text, _OUTPUT_EXAMPLE)
    table: dict[str, Any] = {}
    for key, patterns in (("drop", _DROP), ("compliance", _COMPLIANCE)):
        for pattern in patterns:
            if key not in table:
                volts, rest = _take(pattern, rest)
                if volts is not None:
                    table[key] = volts
    constant, rest = _take(_CONSTANT, rest)
    current = rest.strip(" ,")
    two = re.fullmatch(rf"({UNSIGNED} ?[mu]?A)[ ,]+({UNSIGNED} ?m?V)", current)
    if two and not table:
        raise QuantityError(
            "file.bad-form",
            f"{quoted(text)} does not say what {two[2]} is",
            f'write "{two[1]} constant, {two[2]} compliance" where it needs that much for itself'
            if constant
            else f'write "{two[1]}, {two[2]} drop" where that is lost when it is on',
        )
    if current and not re.fullmatch(rf"{UNSIGNED} ?[^ ,]*", current):
        raise _bad(current, text, _OUTPUT_EXAMPLE)
    if (constant and not current) or ("compliance" in table and not constant):
        raise QuantityError(
            "file.bad-form",
            f"{quoted(text)} gives no constant current",
            'write it like "20 mA constant, 1.5 V compliance"',
        )
    if not (current or table):
        raise _bad(text, text, _OUTPUT_EXAMPLE)
    if current:
        table["steady" if constant else "limit"] = current
    return table


def fuse(text: str) -> dict[str, Any]:
    """RATED [quick | slow | UL | resettable] [glass | ceramic] [at PLACE]: "500 mA slow at base"; "fast" is read as quick."""
    head, place = _at(_start(text, _FUSE_EXAMPLE), _FUSE_EXAMPLE)
    words = "|".join((*_FUSE_KINDS, *_FUSE_BODIES))
    match = re.fullmatch(rf"(?P<rated>[-+.0-9]+(?: ?(?!(?:{words})\b)[^ ]+)?)(?: (?P<kind>.+))?", head)
    if match is None:
        _inscribed(head, text, place)
        raise _bad(head, text, _FUSE_EXAMPLE)
    table: dict[str, Any] = {"rated": match["rated"]}
    for word in (match["kind"] or "").split():
        if word in _FUSE_BODIES and "body" not in table:
            table["body"] = word
        elif word in _FUSE_KINDS and table.keys() == {"rated"}:
            table["kind"] = _FUSE_KINDS[word]
        else:
            said = re.sub(r"[- ]?(?:blow|acting|fuse)\b", "", match["kind"]).strip()
            near = said if said in _FUSE_KINDS else nearest(word, (*_FUSE_KINDS, *_FUSE_BODIES))
            raise QuantityError(
                "file.choice",
                f"{quoted(match['kind'])} is not a kind of fuse",
                f'write "{quoted(" ".join(text.split()).replace(match["kind"], near))[1:-1]}"'
                if near not in (None, word)
                else 'a fuse is "quick", "slow", "UL" or "resettable", of "glass" or "ceramic"',
            )
    if place is not None:
        table["place"] = place
    return table


def _inscribed(head: str, text: str, place: str | None) -> None:
    """Refuse what stands on the cap of a fuse, with how it is written here: its letter is how fast it opens (IEC 60127-2)."""
    found = re.fullmatch(r"(FF|F|M|TT|T) ?([0-9]+(?:\.[0-9]+)?) ?(m?A)(?: ?[LHE])?(?:,? ?[0-9]+ ?V)?", head)
    if found is None:
        return
    kind = {"F": "quick", "T": "slow"}.get(found[1])
    where = f" at {place}" if place is not None else ""
    raise QuantityError(
        "file.bad-form",
        f"{quoted(text)} is what stands on the cap of a fuse",
        f'write "{found[2]} {found[3]} {kind}{quoted(where)[1:-1]}"'
        if kind is not None
        else f"no {found[1]} is judged: F on the cap is a quick one, and T a slow one",
    )


def diode(text: str) -> dict[str, Any]:
    """TYPE | CURRENT [VOLTS], or board: "1N4001", "1 A", "1 A 50 V"; "board" where the board has its own."""
    rest = _start(text, _DIODE_EXAMPLE)
    if re.fullmatch(r"[A-Za-z]+|[0-9]*[A-Za-z]+[0-9][0-9A-Za-z-]*", rest) and not rest.endswith("A"):
        return {"kind": rest}
    match = re.fullmatch(rf"(?P<rated>{UNSIGNED} ?[mk]?(?:A|amps?))(?:,? (?P<volts>{_VOLTS}))?", rest)
    if match is None:
        raise _bad(rest, text, _DIODE_EXAMPLE)
    return {key: value for key, value in match.groupdict().items() if value is not None}


def switch(text: str) -> dict[str, Any]:
    """RATED [DC] [VOLTS [DC]] [at PLACE]: "1 A at base", "1 A 24 V DC"; or "at base" alone."""
    tidied = _start(text, _SWITCH_EXAMPLE)
    if tidied.startswith("at "):
        return {"place": tidied[3:]}
    head, place = _at(tidied, _SWITCH_EXAMPLE)
    match = re.fullmatch(
        rf"(?P<rated>{UNSIGNED} ?[mk]?(?:A|amps?))(?: ?DC)?(?:,? (?P<volts>{UNSIGNED} ?m?(?:V|volts?))(?: ?DC)?)?",
        head,
    )
    if match is None:
        raise _bad(head, text, _SWITCH_EXAMPLE)
    table = {key: value for key, value in match.groupdict().items() if value is not None}
    return table | ({} if place is None else {"place": place})


def source(text: str) -> dict[str, Any]:
    """(usb [plain | C | power bank] | adaptor) [VOLTS] [CURRENT]: "12 V adaptor 1 A", "usb C 3 A"; in any order."""
    rest = _start(text, _SOURCE_EXAMPLE)
    kind, rest = _take(r"\b(adaptor|usb|USB)\b", rest)
    if kind is None:
        raise QuantityError(
            "file.bad-form",
            f"{quoted(text)} is neither an adaptor nor usb",
            f'write it like "{_SOURCE_EXAMPLE}"',
        )
    table: dict[str, Any] = {"kind": kind.lower()}
    for pattern, port in _PORTS.items() if table["kind"] == "usb" else ():
        found, rest = (None, rest) if "port" in table else _take(pattern, rest)
        if found is not None:
            table["port"] = port
    for key, unit in (("volts", r"m?(?:V|volts?)"), ("rated", r"[mk]?(?:A|amps?)")):
        found, rest = _take(rf"(?<![A-Za-z0-9./-])({UNSIGNED} ?{unit})(?![A-Za-z0-9])", rest)
        if found is not None:
            table[key] = found
    if rest := rest.strip(" ,"):
        raise _bad(rest, text, "usb C 3 A" if table["kind"] == "usb" else _SOURCE_EXAMPLE)
    return table


def joint(text: str) -> dict[str, Any]:
    """ACROSS [x THIN]: "2.2 mm" for a round one, sleeving included; "4 x 0.8 mm" for a flat one."""
    across, *thin = re.split(r" ?[x×] ?", _start(text, _JOINT_EXAMPLE))
    if len(thin) > 1 or not re.match(r"[-+.0-9]", across) or not all(thin):
        raise _bad(text, text, "4 x 0.8 mm")
    if not thin:
        return {"across": across}
    bare = re.fullmatch(r"[-+.0-9/ ]+", across)
    across = across.strip()
    unit = re.sub(r"^[-+.0-9/ ]+", "", thin[0])
    if bare and not unit:
        right = f"{' '.join(text.split())} mm"
        raise QuantityError("file.no-unit", f"{quoted(text)} has no unit", f'write "{right}", {AS_MEASURED}')
    return {"across": f"{across} {unit}".strip() if bare else across, "thin": thin[0]}


def wire(text: str) -> dict[str, Any]:
    """[STRANDS /] STRAND [, OUTSIDE outside]: "7/0.10 mm, 0.6 mm outside"; without strands it is solid."""
    match = re.fullmatch(_WIRE, _start(text, _WIRE_EXAMPLE))
    if match is None:
        raise _bad(text, text, _WIRE_EXAMPLE)
    table: dict[str, Any] = {"strands": int(match["strands"] or 1), "strand": match["strand"].strip()}
    if match["outside"]:
        table["outside"] = match["outside"]
    return table


def held(text: str) -> dict[str, Any]:
    """COUNT x (resistor RESISTOR | fuse FUSE | sleeve ACROSS | [lamp] KIND), or LENGTH [of] (WIRE [, COLOUR] | STRIP).

    "10 x resistor 680 ohm 1/4 W", "20 x smd-0603-white", "3 x fuse 500 mA slow", "5 m of ptfe-28, red". A strip is one of the catalogue.
    """
    if (match := re.fullmatch(_NOT_COUNTED, " ".join(text[:MOST_IN_A_LINE].split()))) and not match[
        "count"
    ].isdecimal():
        raise QuantityError(
            "file.bad-form",
            f"{quoted(text)} has {quoted(match['count'])} pieces, and pieces are counted whole",
            f'write it like "{_HELD_EXAMPLE}"; what is measured may be a fraction, like "2.5 m of ptfe-28, red"',
        )
    tidied = _start(text, _HELD_EXAMPLE)
    if match := re.fullmatch(_HELD, tidied):
        return {"count": int(match["count"][:9]), match["what"] or "lamp": match["kind"]}
    if match := re.fullmatch(_HELD_LENGTH, tidied):
        what = "strip" if match["kind"].startswith("strip-") else "wire"
        table = {"length": match["length"], what: match["kind"].strip()}
        return table | ({"colour": match["colour"]} if match["colour"] else {})
    raise QuantityError(
        "file.bad-form",
        f"{quoted(text)} does not say how many or how much of what",
        f'write it like "{_HELD_EXAMPLE}" or "5 m of ptfe-28, red"',
    )
