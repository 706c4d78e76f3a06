"""What was probably meant by a one-line form that cannot be read, as it would be written; loaded when there is a mistake."""

from __future__ import annotations

import re
from typing import Final

from postcheck import catalogue
from postcheck.description.oneline import LEAD_EXAMPLE, MOST_IN_A_LINE, bad, read_lead, read_resistor
from postcheck.description.problems import QuantityError, written_as
from postcheck.description.quantities import AS_MEASURED, IN_DIGITS, UNSIGNED
from postcheck.plain import harmless, quoted

__all__ = ["bad_length", "lead_meant", "refuse_inscription", "resistor_meant"]

# What is put right before a resistor is read again, so that the message can show it as it is typed.
_RESISTOR_SLIPS: Final = (
    ("[\u00bc\u00bd\u00be\u215b-\u215e]", lambda sign: f" {IN_DIGITS[sign[0]]}"), (r"(?<=[0-9]) ?mw\b", " mW"), (r"(?<=W) (?!at )(?=[A-Za-z][^ ]*$)", " at "),
    (r",", " "), (r"\.(?= |$)", " "), (r"(?: at)? ?@ ?| in(?:side)? ", " at "), (r"\b(?:resistor|resistance)\b", " "),
    (r"^(?P<ohms>[0-9]+(?:\.[0-9]+)?)(?= at |$| [0-9])", r"\g<ohms> ohm"),
)  # fmt: skip


def resistor_meant(text: str) -> str | None:
    """What to write for a resistor with the usual slips in it; None where it is not plain."""
    if text.strip().casefold() in {"none", "no", "-", "no resistor"}:
        return "leave `resistor` out where there is none"
    if text.strip().casefold() in {"unknown", "not known", "inside", "?", "??"}:
        return 'give the lamp a kind of its own, as of one with its resistor inside: [lamp_kind.returned] with volts = "12 V" and at = "9 mA", what it took on them at the bench'
    for pattern, right in _RESISTOR_SLIPS:
        text = " ".join(re.sub(pattern, right, text[:MOST_IN_A_LINE]).split())
    try:
        read_resistor(text)
    except QuantityError:
        return None
    return written_as(text)


# The pieces of a lead, in whatever order and however they are parted.
_LENGTH_IN_LEAD = rf"(?<![A-Za-z0-9./-])(?P<number>{UNSIGNED}) ?(?P<unit>mm|cm|m|in|ft)(?![A-Za-z0-9])"
_COLOURS_IN_LEAD = r"(?:^|[ ,]+)(?P<colours>[A-Za-z-]+(?:/[A-Za-z-]+)+)(?=[ ,]|$)"
_PLACE_IN_LEAD = r" to (?P<to>[^ ,]+)"


def lead_meant(text: str) -> str | None:
    """What to write for a lead with its pieces in another order, or without the words between; None where it is not plain."""
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
        read_lead(right)
    except QuantityError:
        return None
    return written_as(right)


def bad_length(error: QuantityError, length: str, text: str, *, placed: bool) -> QuantityError:
    """What is wrong with the length of a lead, with the whole lead as it is typed where that is plain."""
    if error.check == "file.no-unit":
        right = re.sub(r"[0-9.]+(?![0-9.])", r"\g<0> mm", " ".join(text.split()), count=1)
        return QuantityError(error.check, error.says, f"{written_as(right)}, {AS_MEASURED}")
    trailing = re.fullmatch(r'([-+.0-9/ ]+ ?[a-zµμ"]+) (.+)', length)
    if trailing is None:
        fixed = re.fullmatch(r'write "(?P<length>[^"]+)"', error.hint or "")
        if fixed:
            right = " ".join(text.split()).replace(length, fixed["length"])
            return QuantityError(error.check, error.says, written_as(right))
        return error
    wrong = bad(trailing[2], text, LEAD_EXAMPLE)
    if not placed and not re.search("[ /]|^to$", trailing[2]) and lead_meant(text) is None:
        right = " ".join(text.split()).replace(length, f"{trailing[1]} to {trailing[2]}")
        wrong.hint = written_as(right)
    return wrong


def refuse_inscription(head: str, text: str, place: str | None) -> None:
    """Refuse what stands on the cap of a fuse, with how it is written here: its letter is how fast it opens (IEC 60127-2)."""
    found = re.fullmatch(r"(FF|F|M|TT|T) ?([0-9]+(?:\.[0-9]+)?) ?(m?A)(?: ?[LHE])?(?:,? ?[0-9]+ ?V)?", head)
    if found is None:
        return
    kind = {"F": "quick", "T": "slow"}.get(found[1])
    where = f" at {place}" if place is not None else ""
    raise QuantityError(
        "file.bad-form",
        f"{quoted(text)} is what stands on the cap of a fuse",
        f'write "{found[2]} {found[3]} {kind}{harmless(where, 60)}"'
        if kind is not None
        else f"no {found[1]} is judged: F on the cap is a quick one, and T a slow one",
    )
