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

from postcheck.description.problems import QuantityError, written_as
from postcheck.description.quantities import (
    AS_MEASURED,
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

# What a number alone is in each form, by an example.
ALONE: Final = {
    "resistor": "470 ohm", "lead": "220 mm", "output": "100 mA", "fuse": "500 mA", "diode": "1 A", "switch": "1 A", "joint": "2.2 mm",
}  # fmt: skip


def _wrong(says: str, example: str, check: str = "file.bad-form") -> QuantityError:
    """What is wrong with a form, with a sound one beside it."""
    return QuantityError(check, says, f'write it like "{example}"')


def bad(piece: str, text: str, example: str) -> QuantityError:
    """The error for a piece of a form that nothing is made of."""
    whole = "" if piece == text else f" in {quoted(text)}"
    return _wrong(f"{quoted(piece)}{whole} is not understood", example)


def _start(text: str, example: str) -> str:
    """Return `text` with single spaces, or raise where it is empty, far too long or has a decimal comma."""
    if len(text) > MOST_IN_A_LINE:
        raise _wrong(f"{quoted(text, 40)} is {len(text)} characters long", example, "file.too-long")
    text = " ".join(text.split())
    if not text:
        raise _wrong("the text is empty", example)
    if re.search("[0-9],[0-9]", text):
        raise QuantityError(
            "file.decimal-comma", f"{quoted(text)} has a comma in a number", without_comma(text)
        )
    return text


def _at(text: str, example: str) -> tuple[str, str | None]:
    """A form without the place at its end, and the place if it has one."""
    if text == "at" or text.endswith(" at"):
        raise _wrong(f"{quoted(text)} names no place", example)
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


_RESISTOR_EXAMPLE: Final = "1k5 1/4 W at keel"
_POWER = re.compile(rf"(?<![0-9./])(?:[0-9]+/[0-9]+|{UNSIGNED}) ?(?:[mk]?W|w|[wW]atts?)(?![A-Za-z0-9])")
_TOLERANCE = re.compile(rf"(?:\+/-|±)? ?({UNSIGNED} ?%)")
# Chip sizes in hundredths of an inch, as sold; 1210 ohm is a value of the E96 series.
SIZES: Final = "(?:01005|0201|0402|0603|0805|1206|1210|1812|2010|2512)"
_SIZE = re.compile(rf"(?<![0-9A-Za-z./]){SIZES}(?![0-9A-Za-z./])(?! ?[kKM]? ?(?:[oO]hm|OHM|Ω))")
# Between resistors in series; not the sign of "+/- 5 %" or of an exponent.
_SERIES = re.compile(r"(?<=[^\seE]) ?\+ ?(?=[0-9.RkKMt])")
_TRIMMER = re.compile(r"trimmer ")
_SET = re.compile(r" set (?:to )?(.+)$")


def usual_resistor(text: str) -> dict[str, Any]:
    """[POWER | SIZE] [TOLERANCE]: "1/4 W 5 %", "0805 1 %", in any order."""
    example = "1/4 W 5 %"
    return _habits(_start(text, example), text, example)[0]


def _habits(head: str, text: str, example: str, *, alone: bool = True) -> tuple[dict[str, Any], str]:
    """Power, tolerance and size, and what is left without them; `alone`: nothing may be left."""
    table: dict[str, Any] = {}
    rest = tidy(head)
    for key, pattern in (("power", _POWER), ("tolerance", _TOLERANCE), ("size", _SIZE)):
        found, rest = _take(pattern, rest)
        if found is not None:
            table[key] = found
    if alone and rest:
        raise bad(rest, text, example)
    return table, rest


def resistor(text: str) -> dict[str, Any]:
    """PIECE [+ PIECE ...] [at PLACE]: "1k5 1/4 W at keel", "470 + 330 at keel", "470 + trimmer 1k at keel".

    PIECE: [trimmer] OHMS [POWER | SIZE] [TOLERANCE] [set [to] OHMS]: "150 ohm 0805", "4K7J", "trimmer 1k set 300". Power, size
    and tolerance stand in any order. The tolerance may be the letter of IEC 60062. Of several in series, and of a trimmer, a
    number alone is in ohm.
    """
    try:
        return read_resistor(text)
    except QuantityError as error:
        from postcheck.description.oneline_meant import resistor_meant  # noqa: PLC0415 - only where there is a mistake

        if error.check != "file.decimal-comma" and (meant := resistor_meant(text)) is not None:
            raise QuantityError(error.check, error.says, meant) from None
        raise


def read_resistor(text: str) -> dict[str, Any]:
    """As `resistor`, without a guess at what was meant."""
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
        raise _wrong(f"{quoted(text)} has no resistance", _RESISTOR_EXAMPLE)
    ohms = ohms if plain else _in_ohms(ohms)
    try:
        _, tolerance = parse_resistor(ohms)
    except QuantityError:
        value, _, more = ohms.rpartition(" ")
        if value and _reads(value):
            raise bad(more, text, _RESISTOR_EXAMPLE) from None
        if ohms.count(" ") > 1 or not re.match(r"[-+.0-9R]", ohms):
            raise bad(ohms, text, _RESISTOR_EXAMPLE) from None
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
    """Whether a text is a resistance."""
    try:
        parse_resistor(value)
    except QuantityError:
        return False
    return True


LEAD_EXAMPLE: Final = "220 mm of enamel-0.10 to keel, red/black"
_LEAD = re.compile(r"(?P<length>.*?)(?:(?:^| )of (?P<wire>.+?))?(?:(?:^| )to (?P<to>.+))?")


def lead(text: str) -> dict[str, Any]:
    """[LENGTH] [of WIRE [/ WIRE]] [to PLACE] [, COLOUR [/ COLOUR]]: "220 mm to keel, red/black".

    Two wires are those of the feed and the back leg, in this order; so are two colours.
    """
    try:
        return read_lead(text)
    except QuantityError as error:
        from postcheck.description.oneline_meant import lead_meant  # noqa: PLC0415 - only where there is a mistake

        if not str(error.hint).startswith('write "') and (meant := lead_meant(text)) is not None:
            raise QuantityError(error.check, error.says, meant) from None
        raise


def read_lead(text: str) -> dict[str, Any]:
    """As `lead`, without a guess at what was meant."""
    tidied = _start(text, LEAD_EXAMPLE)
    head, comma, colours = (part.strip() for part in tidied.partition(","))
    match = _LEAD.fullmatch(head)
    assert match is not None  # every text matches; the length takes what is left
    table: dict[str, Any] = {}
    if length := match["length"].strip():
        if not re.match(r"[-+.0-9]", length):
            raise bad(length, text, LEAD_EXAMPLE)
        try:
            parse(length, Dimension.LENGTH)
        except QuantityError as error:
            from postcheck.description.oneline_meant import bad_length  # noqa: PLC0415 - only where there is a mistake

            raise bad_length(error, length, text, placed=match["to"] is not None) from None
        table["length"] = length
    if match["wire"] is not None:
        # a slash between digits belongs to a name such as 7/0.10
        wires = [wire.strip() for wire in re.split(r" / |(?<![0-9])/|/(?![0-9])", match["wire"])]
        if len(wires) > 2 or not all(wires):
            raise bad(match["wire"], text, "220 mm of ptfe-30 / enamel-0.10 to keel")
        table |= {"wire": wires[0]} if len(wires) == 1 else {"wires": wires}
    if match["to"] is not None:
        table["to"] = match["to"]
    if head.endswith((" of", " to")):
        raise bad(head, text, LEAD_EXAMPLE)
    if comma:
        names = [colour.strip() for colour in colours.split("/")]
        if not all(names) or "," in colours or re.search(r" (?:and|&|\+) ", colours):
            right = re.sub(r" *(?:,| and | & | \+ ) *", "/", colours).strip("/")
            wrong = bad(colours or ",", text, LEAD_EXAMPLE)
            if right and "//" not in right:
                wrong.hint = written_as(f"{head}, {right}")
            raise wrong
        table["colours"] = names
    return table


_OUTPUT_EXAMPLE: Final = "100 mA, 0.2 V drop"
# As texts, for few builds have an output: compiled when they are first used.
_VOLTS = rf"{UNSIGNED} ?[A-Za-zµμ]*"
_DROP = (rf"\bdrop ({_VOLTS})", rf"({_VOLTS}) drop\b")
_COMPLIANCE = (rf"\bcompliance ({_VOLTS})", rf"({_VOLTS}) compliance\b")
_CONSTANT = r"\b(constant|steady)\b"


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
        raise bad(current, text, _OUTPUT_EXAMPLE)
    if (constant and not current) or ("compliance" in table and not constant):
        raise _wrong(f"{quoted(text)} gives no constant current", "20 mA constant, 1.5 V compliance")
    if not (current or table):
        raise bad(text, text, _OUTPUT_EXAMPLE)
    if current:
        table["steady" if constant else "limit"] = current
    return table


_FUSE_EXAMPLE: Final = "500 mA slow"
_FUSE_KINDS: Final = {
    "quick": "quick", "fast": "quick", "slow": "slow", "UL": "UL", "ul": "UL", "resettable": "resettable",
}  # fmt: skip
_FUSE_BODIES: Final = ("glass", "ceramic")


def fuse(text: str) -> dict[str, Any]:
    """RATED [quick | slow | UL | resettable] [glass | ceramic] [at PLACE]: "500 mA slow at base"; "fast" is read as quick."""
    head, place = _at(_start(text, _FUSE_EXAMPLE), _FUSE_EXAMPLE)
    words = "|".join((*_FUSE_KINDS, *_FUSE_BODIES))
    match = re.fullmatch(rf"(?P<rated>[-+.0-9]+(?: ?(?!(?:{words})\b)[^ ]+)?)(?: (?P<kind>.+))?", head)
    if match is None:
        from postcheck.description.oneline_meant import refuse_inscription  # noqa: PLC0415 - only where there is a mistake

        refuse_inscription(head, text, place)
        raise bad(head, text, _FUSE_EXAMPLE)
    table: dict[str, Any] = {"rated": match["rated"]}
    for word in (match["kind"] or "").split():
        if word in _FUSE_BODIES and "body" not in table:
            table["body"] = word
        elif word in _FUSE_KINDS and table.keys() == {"rated"}:
            table["kind"] = _FUSE_KINDS[word]
        else:
            kind = re.sub(r"[- ]?(?:blow|acting|fuse)\b", "", match["kind"]).strip()
            near = kind if kind in _FUSE_KINDS else nearest(word, (*_FUSE_KINDS, *_FUSE_BODIES))
            raise QuantityError(
                "file.choice",
                f"{quoted(match['kind'])} is not a kind of fuse",
                written_as(" ".join(text.split()).replace(match["kind"], near))
                if near not in (None, word)
                else 'a fuse is "quick", "slow", "UL" or "resettable", of "glass" or "ceramic"',
            )
    if place is not None:
        table["place"] = place
    return table


_DIODE_EXAMPLE: Final = "1N4001"


def diode(text: str) -> dict[str, Any]:
    """TYPE | CURRENT [VOLTS], or board: "1N4001", "1 A", "1 A 50 V"; "board" where the board has its own."""
    rest = _start(text, _DIODE_EXAMPLE)
    if re.fullmatch(r"[A-Za-z]+|[0-9]*[A-Za-z]+[0-9][0-9A-Za-z-]*", rest) and not rest.endswith("A"):
        return {"kind": rest}
    match = re.fullmatch(rf"(?P<rated>{UNSIGNED} ?[mk]?(?:A|amps?))(?:,? (?P<volts>{_VOLTS}))?", rest)
    if match is None:
        raise bad(rest, text, _DIODE_EXAMPLE)
    return {key: value for key, value in match.groupdict().items() if value is not None}


_SWITCH_EXAMPLE: Final = "1 A at base"


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
        raise bad(head, text, _SWITCH_EXAMPLE)
    table = {key: value for key, value in match.groupdict().items() if value is not None}
    return table | ({} if place is None else {"place": place})


_SOURCE_EXAMPLE: Final = "12 V adaptor 1 A"
# What a USB source is called, longest first.
_PORTS: Final = {
    r"\b(power[- ]bank)\b": "power-bank",
    r"\b(?:type[- ])?(?<![A-Za-z])([Cc])\b": "type-c",
    r"\b(plain)\b": "plain",
}


def source(text: str) -> dict[str, Any]:
    """(usb [plain | C | power bank] | adaptor) [VOLTS] [CURRENT]: "12 V adaptor 1 A", "usb C 3 A"; in any order."""
    rest = _start(text, _SOURCE_EXAMPLE)
    kind, rest = _take(r"\b(adaptor|usb|USB)\b", rest)
    if kind is None:
        raise _wrong(f"{quoted(text)} is neither an adaptor nor usb", _SOURCE_EXAMPLE)
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
        raise bad(rest, text, "usb C 3 A" if table["kind"] == "usb" else _SOURCE_EXAMPLE)
    return table


_JOINT_EXAMPLE: Final = "2.2 mm"


def joint(text: str) -> dict[str, Any]:
    """ACROSS [x THIN]: "2.2 mm" for a round one, sleeving included; "4 x 0.8 mm" for a flat one."""
    across, *thin = re.split(r" ?[x×] ?", _start(text, _JOINT_EXAMPLE))
    if len(thin) > 1 or not re.match(r"[-+.0-9]", across) or not all(thin):
        raise bad(text, text, "4 x 0.8 mm")
    if not thin:
        return {"across": across}
    bare = re.fullmatch(r"[-+.0-9/ ]+", across)
    across = across.strip()
    unit = re.sub(r"^[-+.0-9/ ]+", "", thin[0])
    if bare and not unit:
        right = f"{' '.join(text.split())} mm"
        raise QuantityError("file.no-unit", f"{quoted(text)} has no unit", f'write "{right}", {AS_MEASURED}')
    return {"across": f"{across} {unit}".strip() if bare else across, "thin": thin[0]}


_WIRE_EXAMPLE: Final = "7/0.10 mm, 0.6 mm outside"
_WIRE = (
    rf"(?:(?P<strands>[0-9]+) ?[/x×] ?)?(?P<strand>{UNSIGNED}[^,]*)"
    rf"(?:,? (?P<outside>{UNSIGNED} ?[^ ]*) outside)?"
)


def wire(text: str) -> dict[str, Any]:
    """[STRANDS /] STRAND [, OUTSIDE outside]: "7/0.10 mm, 0.6 mm outside"; without strands it is solid."""
    match = re.fullmatch(_WIRE, _start(text, _WIRE_EXAMPLE))
    if match is None:
        raise bad(text, text, _WIRE_EXAMPLE)
    table: dict[str, Any] = {"strands": int(match["strands"] or 1), "strand": match["strand"].strip()}
    if match["outside"]:
        table["outside"] = match["outside"]
    return table


_HELD_EXAMPLE: Final = "10 x resistor 680 ohm 1/4 W"
_HELD = r"(?P<count>[0-9]+) ?[x×] ?(?:(?P<what>resistor|lamp|fuse|sleeve) )?(?P<kind>.+)"
_HELD_LENGTH = rf"(?P<length>{UNSIGNED} ?[A-Za-zµμ]+) (?:of )?(?P<kind>[^,]+)(?:, ?(?P<colour>.+))?"
_NOT_COUNTED = (
    r"(?P<count>[+-]?[0-9][0-9.,/]*(?:[eE][+-]?[0-9]+)?) ?(?:[x×] .+|(?:resistor|lamp|fuse|sleeve) .+)"
)


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
