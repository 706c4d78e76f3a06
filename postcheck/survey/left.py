"""What is left of a build once a part has failed open and stays so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from postcheck.description.consumers import CONSUMERS, Entry, Said, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Passage
from postcheck.survey.network.figures import Electrics
from postcheck.wiring.parts import Part

SEEN = 1.02
"""What changes by less no eye sees."""


def without(build: Build, parts: Iterable[Part], *, string: bool) -> Build | None:
    """The build without these parts; None where nothing is left that takes current.

    `string`: of a lamp with several only one is open. Test records are left out: what they measured was whole.
    """
    gone = {part.path for part in parts}
    stays: dict[str, list[Said]] = {kind: [] for kind in CONSUMERS}
    names: set[str] = set()
    for entry in entries(build):
        said = _left(entry, gone, string=string)
        if said is None:
            names.add(entry.name)
        else:  # the name of one without is counted among the others
            stays[entry.kind].append(said.model_copy(update={"name": entry.name}))
    if not any(stays.values()):
        return None

    def through(passage: Passage) -> Passage:
        left = tuple(name for name in passage.through if name not in names)
        return passage.model_copy(update={"through": left})

    return build.model_copy(
        update={
            **{kind: tuple(left) for kind, left in stays.items()},
            "proof": (),
            "post": build.post and through(build.post),
            "passage": FrozenDict({name: through(passage) for name, passage in build.passage.items()}),
        }
    )


def _left(entry: Entry, gone: set[tuple[str | int, ...]], *, string: bool) -> Said | None:
    """What is left of an entry, None where that is nothing."""
    dice: Mapping[str, object] = getattr(entry.said, "dice", None) or {}
    left = {colour: die for colour, die in dice.items() if (*entry.path, "dice", colour) not in gone}
    if entry.path not in gone and len(left) == len(dice):
        return entry.said
    if left:
        return entry.said.model_copy(update={"dice": FrozenDict(left)})
    if string and entry.parallel > 1:
        return entry.said.model_copy(update={"parallel": entry.parallel - 1})
    return None


def changed(before: Electrics, after: Electrics) -> Iterator[tuple[str, float, float]]:
    """What of the lamps and strips gets another current, as one sees it: name, before, after, nominal, A."""
    for name, amps, then in (
        *(
            (name, one.nominal, after.lamps[name].nominal)
            for name, one in before.lamps.items()
            if name in after.lamps
        ),
        *(
            (name, one.nominal, after.strips[name].nominal)
            for name, one in before.strips.items()
            if name in after.strips
        ),
    ):
        if amps > 0.0 and abs(then / amps - 1.0) > SEEN - 1.0:
            yield name, amps, then
