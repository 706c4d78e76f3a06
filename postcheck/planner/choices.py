"""What a wish leaves to a plan ahead of any wiring: which source, and where boards sit."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Supply
from postcheck.description.models.supplies import Instead

# Choices of all boards together that are looked at.
MOST = 12


def sources(wish: Build) -> Iterator[Build]:
    """The wish with each choice of its sources, the one that is liked best first."""
    names = list(wish.supply)
    for chosen in product(*((None, *_others(wish.supply[name])) for name in names)):
        supplies = {
            name: wish.supply[name]
            if other is None
            else wish.supply[name].model_copy(
                update={"kind": other.kind, "volts": other.volts, "rated": other.rated, "port": other.port}
            )
            for name, other in zip(names, chosen, strict=True)
        }
        yield wish if not any(chosen) else wish.model_copy(update={"supply": FrozenDict(supplies)})


def _others(supply: Supply) -> tuple[Instead, ...]:
    return () if supply.keep or supply.instead is None else supply.instead


def seated(wish: Build) -> Iterator[Build]:
    """The wish with its boards at each of the places where they may sit, as they are first."""
    names = list(wish.board)
    places = ((wish.board[name].place, *(wish.board[name].may_sit or ())) for name in names)
    for number, chosen in enumerate(product(*places)):
        if number == MOST:
            return
        boards = {
            name: wish.board[name].model_copy(update={"place": place})
            for name, place in zip(names, chosen, strict=True)
        }
        yield wish if number == 0 else wish.model_copy(update={"board": FrozenDict(boards)})
