"""Colours and flags with which the ends of a wiring are told apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from itertools import combinations

from postcheck.colours import letters, spelt
from postcheck.description.consumers import Said, entries
from postcheck.description.models import Build, Run
from postcheck.survey import Survey
from postcheck.wiring.data import wire_data
from postcheck.wiring.nets import drivers_of

# By custom; then those that are told apart in poor light, the easiest first.
PLUS, MINUS, SPARE = "red", "black", "grey"
OTHERS = ("white", "blue", "yellow", "green", "brown", "orange", "violet", "pink")


def coloured(build: Build, given: int, survey: Survey) -> Build:
    """A colour for each line and lead that has none, and a flag where ends of different lines would look alike.

    The first `given` runs stay as they are; `survey`: any of this build's, for its limits.
    """
    return build.model_copy(update={"run": _runs(build, given, survey), **_leads(build)})


def _runs(build: Build, given: int, survey: Survey) -> tuple[Run, ...]:
    colours = _of_lines(build, survey)
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
        settled = run.colour is not None or number < given
        # winding wire comes in the colour of its enamel, and is told apart by a flag
        runs.append(run if settled or number in bare else run.model_copy(update={"colour": own}))
    flagged = _flagged(
        [(run.line or "spare", run.ends, run.wire or build.usual.run, run.colour) for run in runs], survey
    )
    for number, run in enumerate(runs):
        if number >= given and (number in bare or (run.line or "spare") in flagged) and run.label is None:
            runs[number] = run.model_copy(update={"label": run.line or "spare"})
    return tuple(runs)


def _leads(build: Build) -> dict[str, list[Said]]:
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
    return sections


def _of_lines(build: Build, survey: Survey) -> dict[str, str]:
    """A colour for each line: those that the file gives, then by custom, then what is told best from all that it meets."""
    places: dict[str, set[str]] = defaultdict(set)
    for run in build.run:
        if run.line:
            places[run.line] |= set(run.ends)
    drivers = drivers_of(build).values()
    returns = {f"{name}-" for name in build.supply} | {one.circuit for one in drivers if not one.positive}
    returns |= {one.return_net for one in drivers if one.positive}
    kept = build.stock.colours or (PLUS, MINUS, *OTHERS)
    found = {run.line: run.colour for run in build.run if run.line and run.colour}

    def custom(line: str) -> str:
        return MINUS if line.endswith("-") else PLUS if line.endswith("+") else line if letters(line) else ""

    def confused(line: str, colour: str) -> float:
        """How bad a colour is for a line, by the worst of those that have theirs."""
        worst = 0.0
        for other, its in found.items():
            meet, same = bool(places[line] & places[other]), spelt(colour) == spelt(its)
            if same:
                worst = max(worst, 0.5 if not meet else 2.0 + ((line in returns) != (other in returns)))
            elif meet:
                apart = survey.poor_light.get((letters(colour), letters(its)))
                alike = apart is not None and apart < survey.limits.value("colour.poor-light")
                worst = max(worst, float(alike))
        return worst

    for line in sorted(
        places, key=lambda line: (not custom(line), not line.endswith("-"), -len(places[line]))
    ):
        own = custom(line)
        poles = [MINUS if line in returns else PLUS]
        wishes = [one for one in kept if spelt(one) == spelt(own)] if own else []
        wishes += [one for one in kept if one not in (PLUS, MINUS)] + [one for one in poles if one in kept]
        if line not in found:
            found[line] = min(wishes or kept, key=lambda colour: confused(line, colour))
    return found


def _flagged(runs: Iterable[tuple[str, Iterable[str], str | None, str | None]], survey: Survey) -> set[str]:
    """The lines that need a flag: at some place another one has the same wire and much the same colour."""
    at: dict[tuple[str, str | None], dict[str, str]] = defaultdict(dict)
    for line, ends, wire, colour in runs:
        for end in ends:
            at[end, wire][line] = colour or ""
    limit, found = survey.limits.value("colour.poor-light"), set[str]()
    for lines in at.values():
        for (one, colour), (other, its) in combinations(lines.items(), 2):
            if spelt(colour) == spelt(its):
                found |= {one, other}
            elif survey.poor_light.get((letters(colour), letters(its)), limit) < limit:
                found.add(other)
    return found
