"""The words of a question as a shell parts them, put together: "5" "mm" is one quantity, and 120 mA the current."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

_NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?|[0-9]+/[0-9]+")
_COUNTING = ("x", "×", "of")


def together(words: Sequence[str], options: Collection[str], *, counts: bool) -> list[str]:
    """What belongs together in one word: 5 mm, 3 ptfe-28, 2 x 1.2 mm; an option's name may go without its dashes."""
    from postcheck.description.units import MEASURES  # noqa: PLC0415

    units = {unit for measure in MEASURES.values() for unit in measure.units}
    found: list[str] = []
    for position, word in enumerate(words):
        before = found[-1] if found else ""
        whole = found[-2] if len(found) > 1 else ""
        if word in units and _NUMBER.fullmatch(before):
            found[-1] = f"{before} {word}"
            if "/" in before and whole.isdecimal():  # 1 1/4 in
                found[-2:] = [f"{whole} {found[-1]}"]
        elif (word.lower() == "awg" and before.isdecimal()) or (before.lower() == "awg" and word.isdecimal()):
            found[-1] = f"{before} {word}"
        elif word in options and position:
            found.append(f"--{word}")
        else:
            found.append(word)
    return _counted(found) if counts else [*found[:1], *_counted(found[1:])]


def _counted(words: Sequence[str]) -> list[str]:
    """The same with every count before what it counts, and "for" between what it joins."""
    found: list[str] = []
    joins = False
    for word in words:
        before = found[-1] if found else ""
        named = len(found) > 1 and found[-2] in ("--series", "--cells")
        count = before.isdecimal() and not named
        if joins or (count and not word.startswith("-")) or (word == "for" and before):
            found[-1] = f"{before} {word}"
        else:
            found.append(word)
        joins = bool(found[:-1] or before) and (
            word == "for" or (word in _COUNTING and found[-1].partition(" ")[0].isdecimal())
        )
    return found


def spoken(words: list[str], meant_for: Sequence[tuple[str, str]], named: str | None) -> list[str]:
    """The same with the option before what its unit shows: 120 mA is the current. Left alone where two would do.

    `meant_for`: options, each with the dimension of the quantity that it takes. `named`: the option that takes a word
    which is no quantity.
    """
    free = [
        at
        for at, word in enumerate(words)
        if not word.startswith("--")
        and (at == 0 or not words[at - 1].startswith("--"))
        # 1.8 V at 20 mA is a lamp
        and not {*words[max(at - 1, 0) : at], *words[at + 1 : at + 2]} & {"at", "@"}
    ]
    meant: dict[int, str] = {}
    for option, dimension in meant_for:
        places = [at for at in free if _is_quantity(words[at], dimension)]
        if f"--{option}" not in words and len(places) == 1:
            meant[places[0]] = option
    if named is not None and f"--{named}" not in words:
        places = [at for at in free if words[at][:1].isalpha() or words[at].lower().endswith("awg")]
        if len(places) == 1:
            meant[places[0]] = named
    if not meant:
        return words
    rest = [word for at, word in enumerate(words) if at not in meant]
    return [*rest, *(part for at, option in meant.items() for part in (f"--{option}", words[at]))]


def _is_quantity(word: str, dimension: str) -> bool:
    if not word[:1].isdigit() and word[:1] != ".":
        return False
    from postcheck.description.problems import QuantityError  # noqa: PLC0415
    from postcheck.description.quantities import parse  # noqa: PLC0415
    from postcheck.description.units import Dimension  # noqa: PLC0415

    try:
        parse(word, Dimension[dimension])
    except QuantityError:
        return False
    return not word.isdecimal()
