"""Lamps that a file counts in one entry, put into strings of two lengths: that takes an entry for each length."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import tomli

from postcheck.description.consumers import entries
from postcheck.description.models import Build, Lamp
from postcheck.description.problems import Path
from postcheck.planner.strings import Layout


def split(wish: Build, chosen: Mapping[Path, Layout]) -> Build:
    """The wish with an entry more, behind all others, for the second length of each layout; the first keeps its name."""
    taken = {entry.name for entry in entries(wish)}
    lamps, more = list(wish.lamp), list[Lamp]()
    for number, lamp in enumerate(wish.lamp):
        layout = chosen.get(("lamp", number), ())
        if len(layout) > 1:
            first, second = (series * parallel for series, parallel in layout)
            lamps[number] = _of(lamp, lamp.name, first)
            name = lamp.name
            if name is not None:
                name = next(new for step in range(2, 1000) if (new := f"{lamp.name} {step}") not in taken)
                taken.add(name)
            more.append(_of(lamp, name, second))
    return wish.model_copy(update={"lamp": (*lamps, *more)})


def _of(lamp: Lamp, name: str | None, count: int) -> Lamp:
    return lamp.model_copy(update={"name": name, "count": count, "parallel": count})


def origins(wish: Build, build: Build) -> Iterator[tuple[int, Lamp]]:
    """The lamps that a wiring has besides those of its wish, each with the number of the entry that it was split from."""
    halved = (
        number
        for number, lamp in enumerate(wish.lamp)
        if lamp.count is not None and build.lamp[number].series * build.lamp[number].parallel < lamp.count
    )
    return zip(halved, build.lamp[len(wish.lamp) :], strict=True)


def said_of(text: str | None, number: int) -> dict[str, Any]:
    """What a text says of a lamp, as it is typed there; nothing where there is none."""
    table: dict[str, Any] = tomli.loads(text)["lamp"][number] if text is not None else {}
    return {key: value for key, value in table.items() if key not in ("name", "count", "leads")}
