"""The cut list and the list of what to buy, in words: rows for a page, a build log and a table of numbers alike."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.materials import Item, Materials, Piece, Sleeved
from postcheck.renderers.sheet.pages import Block, Cell, Column, Table, prose
from postcheck.renderers.sheet.wires import swatch
from postcheck.renderers.sheet.words import show, text

CUT_HEAD = ("No", "Wire", "Colour", "Flag", "What", "From", "To", "Laid", "Cut to")
BUY_HEAD = ("What", "Needed", "In stock", "To buy")
_CUT_WIDE = (10.0, 26.0, 28.0, 15.0, 33.0, 16.0, 16.0, 18.5, 23.5)
_BUY_WIDE = (90.0, 32.0, 32.0, 32.0)
_SWATCH = 14.0
_LEGS = {"supply": "feed", "return": "back", "": ""}
_KINDS = {
    "wire": "", "cable": "cable ", "resistor": "resistor ", "lamp": "lamp ", "strip": "", "load": "",
    "diode": "diode ", "sleeve": "shrink sleeve ", "fuse": "fuse ", "plug": "plug and socket, ", "switch": "switch ", "supply": "", "board": "board ",
}  # fmt: skip
_NOT_SAID = "not said"


def cut_rules(materials: Materials) -> tuple[str, ...]:
    """How the lengths come about."""
    more = materials.anew - materials.joint
    return (
        f"Cut to: as laid from joint to joint, {show(materials.joint, 'm')} for the joint at each end, and {show(more, 'm')} there for two new ends where a hand gets at it later, unless the lead has a spare length of its own, and what lets a cover come off; then up to the next whole centimetre.",
        "Names and flags are those of the hub map. Put the flag on before the wire goes in.",
    )  # fmt: skip


def buy_rules(materials: Materials) -> tuple[str, ...]:
    """What is in the figures."""
    rules = [
        f"Wire has {show(materials.waste, 'share')} for waste in it, up to the next tenth of a metre. What [stock] has is taken off."
    ]
    if any(one.loose for one in materials.items):
        rules.append(
            "A sleeve marked as loose does not shrink down onto its joint: fold the joint back, or put a slim one under it."
        )
    if any(one.unmeasured for one in materials.items):
        rules.append("Where the file says no length, that wire is not in the figure: measure it, and add it.")
    return tuple(rules)


def cut_row(piece: Piece) -> tuple[str, ...]:
    """A row of the cut list."""
    length = show(piece.length, "m") if piece.length is not None else _NOT_SAID
    return (
        str(piece.number),
        text(piece.wire, 40) + (f", in cable {text(piece.cable, 40)}" if piece.cable else "") or _NOT_SAID,
        text(piece.colour, 24) or _NOT_SAID,
        text(piece.label, 40),
        piece_name(piece),
        text(piece.start, 40),
        text(piece.end, 40),
        show(piece.laid, "m") if piece.laid is not None else _NOT_SAID,
        f"{piece.count} x {length}" if piece.count > 1 else length,
    )


def piece_name(piece: Piece) -> str:
    """Which conductor it is, as the hub map has it."""
    if piece.kind == "link":
        return f"{text(piece.name)}, between its lamps"
    leg = _LEGS[piece.leg]
    return f"{text(piece.name)}, {leg}" if leg else text(piece.name)


def buy_row(item: Item) -> tuple[str, ...]:
    """A row of the list of what to buy."""
    return item_name(item), _amount(item.needed, item.unit), _amount(item.have, item.unit), amount(item)


def item_name(item: Item) -> str:
    """What it is, in words."""
    said = f"{_KINDS[item.kind]}{text(item.what)}"
    if item.colour:
        said += f", {text(item.colour, 24)}"
    if item.over:
        said += f": {sleeve_over(item)}"
    if item.unmeasured:
        said += f" (and {item.unmeasured} of no known length)"
    return said


def sleeve_over(item: Item) -> str:
    """Which joints and resistors the sleeves of one size go over: joints by their places, as the hub map names them."""
    places: dict[str, list[str]] = {}
    said = []
    for one in item.over:
        loose = " (loose)" if one.loose else ""
        if one.line:
            places.setdefault(one.place, []).append(f"{text(one.line)}{loose}")
        elif one.run:
            said.append(f"the joint in run {text(one.run)}{loose}")
        else:
            said.append(f"{_resistors(one)}{loose}")
    return "; ".join(
        [*(f"{', '.join(lines)} at {text(place, 40)}" for place, lines in places.items()), *said]
    )


def _resistors(over: Sleeved) -> str:
    each = f"resistor of {text(over.power)}"
    return f"each {each} ({over.count})" if over.count > 1 else f"the {each}"


def amount(item: Item) -> str:
    """How much of it is to be bought; nothing where all of it is there."""
    return _amount(item.buy, item.unit) if item.buy else "none"


def _amount(value: float, unit: str) -> str:
    return f"{value:.10g}\u00a0m" if unit else f"{value:.10g}"


def cut(materials: Materials) -> Iterator[Block | Table]:
    """The cut list of a page."""
    if not materials.pieces:
        yield prose("Nothing is to be cut: the file has no runs and no leads yet.")
        return
    for number, rule in enumerate(cut_rules(materials)):
        yield prose(rule, class_="small" if number else "lead", keep=True)
    yield Table(
        "Conductors to cut, by wire and the longest first",
        tuple(Column(head, wide) for head, wide in zip(CUT_HEAD, _CUT_WIDE, strict=True)),
        tuple(_cut_cells(piece) for piece in materials.pieces),
    )


def _cut_cells(piece: Piece) -> tuple[Cell, ...]:
    cells = [Cell.of(word or " ") for word in cut_row(piece)]
    if piece.colour:
        cells[2] = Cell(((text(piece.colour, 24), (swatch(piece.colour),), _SWATCH, ""),))
    cells[-1] = Cell.of(cut_row(piece)[-1], class_="name")
    return tuple(cells)


def buy(materials: Materials) -> Iterator[Block | Table]:
    """The list of what to buy, of a page."""
    for number, rule in enumerate(buy_rules(materials)):
        yield prose(rule, class_="small" if number else "lead", keep=True)
    yield Table(
        "What is needed, what is there and what is to be bought",
        tuple(Column(head, wide) for head, wide in zip(BUY_HEAD, _BUY_WIDE, strict=True)),
        tuple(tuple(Cell.of(word) for word in buy_row(item)) for item in materials.items),
    )
