"""What follows from the rest of a wiring: ratings, fuses, and colours and flags that tell its ends apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from postcheck.colours import letters, spelt
from postcheck.description.consumers import Said, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, FuseSpec
from postcheck.planner.draft import Draft
from postcheck.survey import Survey
from postcheck.survey.heat.faults import conductor_faults
from postcheck.survey.heat.fuses import holds_far_short, protecting_fuse
from postcheck.wiring import Wiring, resolve
from postcheck.wiring.data import wire_data
from postcheck.wiring.nets import drivers_of

# What adaptors are sold with, A: common practice.
RATINGS = (0.5, 1.0, 1.5, 2.0, 3.0, 5.0)
# By custom; then those that are told apart in poor light, the easiest first.
PLUS, MINUS, SPARE = "red", "black", "grey"
OTHERS = ("white", "blue", "yellow", "green", "brown", "orange", "violet", "pink")


def finished(draft: Draft, survey: Survey) -> Build:
    """The draft with fuses, ratings and colours; `survey` is that of the wish."""
    build = coloured(draft.build, survey.build)
    first = survey.again(build)
    supplies = dict(build.supply)
    for name, supply in build.supply.items():
        load = first.electrics.supplies.get(name)
        if load is None or supply.kind == "converter":
            continue
        if supply.kind == "adaptor" and supply.rated is None and not supply.keep:
            share = survey.limits.value("supply.load.caution")
            rated = next((one for one in RATINGS if load.highest <= share * one), None)
            supplies[name] = supply.model_copy(update={"rated": rated})
    build = build.model_copy(update={"supply": FrozenDict(supplies)})
    wiring = resolve(build)
    for name, supply in tuple(supplies.items()):
        load = first.electrics.supplies.get(name)
        if load is None or supply.fuse is not None or supply.keep or supply.kind == "converter":
            continue
        fuse = _fuse(first, wiring, name, load.highest)
        if fuse is not None:
            supplies[name] = supply.model_copy(update={"fuse": fuse})
    return build.model_copy(update={"supply": FrozenDict(supplies)})


def _fuse(first: Survey, wiring: Wiring, supply: str, load: float) -> FuseSpec | None:
    """The least fuse that carries a load (A) and protects: of those on the shelf, where it lists some."""
    limits, used = first.limits, first.in_use
    kept = first.build.stock.fuses
    if kept is None:
        amps = protecting_fuse(wiring, limits, used, supply, load)
        return None if amps is None else FuseSpec.model_construct(rated=amps, kind="quick")
    for fuse in sorted(kept, key=lambda one: one.rated):
        least = protecting_fuse(wiring, limits, used, supply, load, fuse.kind, fuse.body)
        if least is None or fuse.rated < least * (1.0 - 1e-9):
            continue
        faults = conductor_faults(wiring, limits, used, {supply: fuse})
        mine = [fault for fault in faults if fault.supply == supply]
        if not any(
            fault.most.hurt or holds_far_short(fault, fuse.kind, limits.value("fuse.holds")) for fault in mine
        ):
            return fuse
    return None


def coloured(build: Build, wish: Build) -> Build:
    """A colour for each line and lead that has none, and a flag where ends of different lines would look alike."""
    colours = _of_lines(build)
    runs = []
    kept = build.stock.colours or (SPARE,)
    spare = next((one for one in kept if one == SPARE or one not in colours.values()), kept[-1])
    bare = {
        number
        for number, run in enumerate(build.run)
        if (name := run.wire or build.usual.run) is not None and wire_data(build, name).enamelled
    }
    for number, run in enumerate(build.run):
        own = spare if run.spare else colours.get(run.line or "")
        given = run.colour is not None or number < len(wish.run)
        # winding wire comes in the colour of its enamel, and is told apart by a flag
        runs.append(run if given or number in bare else run.model_copy(update={"colour": own}))
    flagged = _flagged(
        [(run.line or "spare", run.ends, run.wire or build.usual.run, run.colour) for run in runs]
    )
    for number, run in enumerate(runs):
        if (
            number >= len(wish.run)
            and (number in bare or (run.line or "spare") in flagged)
            and run.label is None
        ):
            runs[number] = run.model_copy(update={"label": run.line or "spare"})
    sections: dict[str, list[Said]] = {"lamp": [], "strip": [], "load": []}
    positive = {name: driver.positive for name, driver in drivers_of(build).items()}
    several = sum(entry.said.lead is not None for entry in entries(build)) > 1
    for entry in entries(build):
        lead = entry.said.lead
        if lead is None or lead.colours or lead.feed or lead.back or entry.said.keep:
            sections[entry.kind].append(entry.said)
            continue
        dice = getattr(entry.said, "dice", None)
        first = positive[next(iter(dice.values())).circuit if dice else entry.said.circuit or ""]
        pair = (PLUS, MINUS) if first else (MINUS, PLUS)
        feeds = (*dice, next(one for one in (pair[1], "white", MINUS) if one not in dice)) if dice else pair
        update: dict[str, object] = {"colours": feeds}
        if several and lead.label is None:
            update["label"] = entry.name
        sections[entry.kind].append(entry.said.model_copy(update={"lead": lead.model_copy(update=update)}))
    return build.model_copy(update={"run": tuple(runs), **sections})


def _of_lines(build: Build) -> dict[str, str]:
    """A colour for each line: those that the file gives, the poles by custom, then one after the other."""
    given = {run.line: run.colour for run in build.run if run.line and run.colour}
    lines = dict.fromkeys(run.line for run in build.run if run.line)
    drivers = drivers_of(build)
    taken = {spelt(colour) for colour in given.values()}
    kept = build.stock.colours or (PLUS, MINUS, *OTHERS)
    found = dict(given)
    negative = {f"{name}-" for name in build.supply} | {
        driver.circuit for driver in drivers.values() if not driver.positive
    }
    firsts = [line for line in lines if line.endswith("-")] + [line for line in lines if line.endswith("+")]
    for line in [*dict.fromkeys(firsts), *lines]:
        if line in found:
            continue
        custom = (
            MINUS if line.endswith("-") else PLUS if line.endswith("+") else line if letters(line) else ""
        )
        wishes = [custom] if custom else []
        wishes += [one for one in kept if one not in (PLUS, MINUS)] + (
            [PLUS] if line not in negative else [MINUS]
        )
        free = next((one for one in wishes if one in kept and spelt(one) not in taken), wishes[0])
        found[line] = free
        taken.add(spelt(free))
    return {line: colour for line, colour in found.items() if line is not None}


def _flagged(runs: Iterable[tuple[str, Iterable[str], str | None, str | None]]) -> set[str]:
    """The lines that need a flag: at some place another one has the same wire and colour."""
    at: dict[tuple[str, str | None, str | None], set[str]] = defaultdict(set)
    for line, ends, wire, colour in runs:
        for end in ends:
            at[end, wire, colour].add(line)
    return {line for lines in at.values() if len(lines) > 1 for line in lines}
