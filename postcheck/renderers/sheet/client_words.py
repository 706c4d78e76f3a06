"""The sentences of the client's card, for a page and for a build log alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from postcheck.renderers.sheet.words import COIN, show, text
from postcheck.sheet import ClientCard, ClientSupply

_UNPLUG_IT = {True: "unplug it", False: "switch it off"}  # whether it has a plug


def plugs_in(supply: ClientSupply) -> str:
    """What belongs into the model's socket or holder."""
    where = f", at {text(supply.place, 60)}"
    if supply.kind == "battery":
        cells = f"{supply.cells} x " if supply.cells > 1 else ""
        kind = " ".join(word for word in (text(supply.size, 20).upper(), text(supply.chemistry, 30)) if word)
        lasts = f"; it lasts about {show(supply.lasts, 's')} of light" if supply.lasts is not None else ""
        return f"Battery: {cells}{kind or 'cells'}, {show(supply.volts, 'V')}{where}{lasts}."
    kind = {"usb": "USB supply", "adaptor": "plug-in supply"}.get(supply.kind, supply.kind)
    rated = f", {show(supply.rated, 'A')} or more" if supply.rated is not None else ""
    socket = f", socket {text(supply.socket, 40)}" if supply.socket else ""
    pole = (
        "; which pole is at the centre of its plug is not stated, so use the one that came with the model"
        if supply.unpoled
        else ""
    )
    return f"A {kind} of {show(supply.volts, 'V')} direct current{rated}{socket}{where}{pole}."


_DOES = {"adaptor": "plug-in supply", "usb": "USB supply", "flashes": "flashing"}
MOST_THINGS = 20


def are_where(things: Sequence[tuple[str, str]]) -> Iterator[str]:
    """Things at a place, those that do the same together."""
    alike: dict[str, list[str]] = {}
    for name, does in things:
        alike.setdefault(does, []).append(text(name, 60))
    yield from (f"{', '.join(names)} ({_DOES.get(does, does)})" for does, names in alike.items())


def do_not(card: ClientCard) -> Iterator[str]:
    """What the client must not do."""
    lost = "the lamps" if card.lit else "what is in the model"
    for supply in card.supplies:
        if supply.kind == "adaptor":
            yield f"Do not plug in a supply of more than {show(supply.volts, 'V')}, nor one with alternating current: {lost} would be destroyed, and cannot be replaced."
        elif supply.kind == "battery" and not supply.sealed:
            yield "Do not put cells in the wrong way round, and do not mix old and new ones."
    for passage in card.passages:
        name = "the model on its post" if passage.name == "post" else f"'{text(passage.name, 60)}'"
        if passage.turn is None:
            yield f"Do not turn {name}: wires run through it."
        else:
            way = "it stops by itself" if passage.stop else "nothing stops it"
            yield f"Do not turn {name} further than {show(passage.turn, 'rad')} each way; {way}."
    if any(place.access == "sealed" for place in card.places):
        yield f"Do not open what is glued: {'its lamps are' if card.lit else 'what is in it is'} meant to last as {'they are' if card.lit else 'it is'}."


def cautions(card: ClientCard) -> Iterator[str]:
    """What can hurt, the worst first: coin cells, flashes, lithium, the mains adaptor; then the usual cautions."""
    yield from _coin_cells(card)
    yield from _flashes(card)
    yield from _lithium(card)
    if any(supply.kind == "adaptor" for supply in card.supplies):
        yield "Use a plug-in supply that is approved for your country. Repairs to anything on the mains belong in licensed hands, by local rules."
    for supply in card.supplies:
        if supply.gas:
            yield f"The battery in '{text(supply.place, 60)}' gives off hydrogen while it charges: charge it in the open air, away from sparks."
    if card.ultraviolet:
        yield "Some of its light is ultraviolet, which the eye hardly sees: do not look into those lamps."
    if card.hottest is not None and card.hottest > card.air[1]:
        yield f"It warms itself: up to {card.hottest:.0f} degC inside on the warmest day. Do not cover it."
    off = " and ".join(
        _UNPLUG_IT[plugged] for plugged in (True, False) if any((supply.kind != "battery") is plugged for supply in card.supplies)
    )  # fmt: skip
    yield f"For dry rooms of {card.air[0]:.0f} to {card.air[1]:.0f} degC. Keep it out of the sun; {off or _UNPLUG_IT[True]} when nobody watches over it, and before anyone works on it."


def _coin_cells(card: ClientCard) -> Iterator[str]:
    for supply in card.supplies:
        if supply.coin:
            yield f"{COIN} Keep '{text(supply.place, 60)}' closed, and the spare cells locked away; if one may have been swallowed, go to a hospital at once."


def _flashes(card: ClientCard) -> Iterator[str]:
    if card.fast is not None:
        yield f"Its lights flash {show(card.fast, 'Hz')} together: this can trigger a seizure in people with photosensitive epilepsy."
    elif card.flashes:
        yield "Some of its lights flash; warn visitors who are sensitive to that."
    if card.flicker is not None:
        yield f"Its lights flicker at {show(card.flicker, 'Hz')}: this can trigger a seizure in people with photosensitive epilepsy."


def _lithium(card: ClientCard) -> Iterator[str]:
    for supply in card.supplies:
        if supply.lithium and supply.sealed:
            yield f"A lithium battery is sealed into '{text(supply.place, 60)}', where nobody sees it swell. Never charge it, keep the model cool, and if it gets warm, smells or bulges, take it outdoors and away from all that burns."
    if any(supply.lithium and not supply.sealed for supply in card.supplies):
        yield "Lithium cells can burn: charge them with the charger made for them, on something that does not burn, and never when they are swollen or hurt."
