"""More light for lamps that heat dimmed in a draft, which is on the safe side with it: changes to try, each of its own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Container, Iterator
from dataclasses import replace

from postcheck.description.problems import Path
from postcheck.physics import preferred
from postcheck.planner.draft import Draft
from postcheck.remedies.proposal import Change
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.survey import Survey
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resistors import spec_of

# Down to so much of a resistor in a draft the checks may allow (judgement: a tenth of spare heat, and values of E12).
HOPED = 0.65
# Down to so much of a value lamps are tried apart from others that have it: more than a clear step of light.
APART = 0.5


def nearer(draft: Draft, survey: Survey) -> Iterator[tuple[Change, ...]]:
    """Each lamp that has less than is wanted of it with the resistor of the first draft."""
    parts = {part.path: part for part in survey.parts.lamps}
    for number, (lamp, first) in enumerate(zip(draft.build.lamp, draft.first.lamp, strict=True)):
        now, meant = lamp.resistor, first.resistor
        if lamp.wanted is not None and now is not None and meant is not None and now.ohms > meant.ohms:
            yield (changed_resistor(parts["lamp", number], meant, place=now.place),)


def more_light(survey: Survey, dimmed: Container[Path]) -> Iterator[tuple[Change, ...]]:
    """The resistors of one value at the next one down, where all lamps with it are `dimmed` ones, by their paths."""
    specs = [(part, spec) for part in survey.parts.lamps if (spec := spec_of(part)) is not None]
    for old in sorted({spec.ohms for _, spec in specs}, reverse=True):
        less = preferred.at_most(old * (1.0 - 1e-6), survey.build.stock.series)
        some = [(part, spec) for part, spec in specs if spec.ohms == old]
        if all(part.path in dimmed for part, _ in some):
            yield tuple(changed_resistor(part, spec, ohms=less) for part, spec in some)


def apart(survey: Survey, dimmed: Container[Path]) -> Iterator[Iterator[tuple[Change, ...]]]:
    """Some of those that have one value, at each of the next values down: a kind of resistor more.

    All that are `dimmed`, beside others that are not; then those in one place, then each alone.
    """
    specs = [(part, spec) for part in survey.parts.lamps if (spec := spec_of(part)) is not None]
    values = sorted({spec.ohms for _, spec in specs}, reverse=True)
    groups: dict[tuple[Path, ...], float] = {}
    by: Callable[[LampPart], object]
    for by in (lambda _: None, lambda part: part.said.place, lambda part: part.path):
        for ohms in values:
            some = defaultdict[object, list[Path]](list)
            have = [part for part, spec in specs if spec.ohms == ohms]
            for part in have:
                if part.path in dimmed:
                    some[by(part)].append(part.path)
            groups |= {tuple(paths): ohms for paths in some.values() if len(paths) < len(have)}

    def down(paths: tuple[Path, ...], ohms: float) -> Iterator[tuple[Change, ...]]:
        less = ohms
        while (less := preferred.at_most(less * (1.0 - 1e-6), survey.build.stock.series)) >= APART * ohms:
            yield tuple(changed_resistor(part, spec, ohms=less) for part, spec in specs if part.path in paths)

    for paths, ohms in groups.items():
        yield down(paths, ohms)


def hoped(draft: Draft) -> Draft | None:
    """A draft that heat dims with as much more light as the checks may leave it; None where heat dims nothing."""
    lamps = list(draft.build.lamp)
    for path, cool in draft.cool.items():
        lamp = lamps[int(path[1])]
        if len(path) == 2 and lamp.resistor is not None:
            ohms = max(cool, HOPED * lamp.resistor.ohms)
            lamps[int(path[1])] = lamp.model_copy(
                update={"resistor": lamp.resistor.model_copy(update={"ohms": ohms})}
            )
    build = draft.build.model_copy(update={"lamp": tuple(lamps)})
    return replace(draft, build=build) if build != draft.build else None
