"""What the words of a check come to in the file: a value that is the opposite of the fault, to be proven as any other.

The words stay those of the check; what is added is that they were tried, and what is to be typed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from postcheck.colours import COLOURS, spelt
from postcheck.description.models import Circuit, Run
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.plain import enumerated, quoted
from postcheck.remedies.fuse import with_its_fuse
from postcheck.remedies.lead_spec import changed_lead, flagged
from postcheck.remedies.proposal import (
    Change,
    Proposal,
    Proposer,
    in_words_of,
    length,
    lower_first,
    quantity,
    set_to,
    taken_out,
)
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.remedies.subjects import lamp_part, strip_part
from postcheck.remedies.table_spec import more, table_of
from postcheck.remedies.wires import thicker_wire
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd
from postcheck.wiring.data import wire_data
from postcheck.wiring.looked_up import spec_of

# A barrel socket that another plug does not go into: the two usual sizes, of which one is taken already.
_SOCKETS = ("5.5/2.5 mm", "3.5/1.35 mm")
# What a run has beyond its bore, m, to be joined at both ends.
ENDS = 0.03
# Stranded wire for what moves, where the build has none of its own.
_STRANDED = ("ptfe-30", "ptfe-28")


def colour_of(end: ConductorEnd) -> str:
    """The colour as the findings name it."""
    return COLOURS.get(spelt(end.colour), end.colour)


def _by_words(changes: Callable[[Survey, Finding], Iterator[tuple[Change, ...]]]) -> Proposer:
    """Proposals in the words of the check itself."""

    def propose(survey: Survey, finding: Finding) -> Iterator[Proposal]:
        if finding.remedy is not None:
            for some in changes(survey, finding):
                yield from in_words_of(finding, *some)

    return propose


def _set(value: object, *key: str) -> Proposer:
    """One value, where the finding stands, or under another key beside it."""
    return _by_words(lambda _, finding: iter([(set_to(_beside(finding, *key), value),)]))


def _figure(name: str, dimension: Dimension, *key: str) -> Proposer:
    """A figure of the finding, as it is told, where the finding stands."""

    def changes(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
        if name in finding.figures:
            value = finding.figures[name].value
            yield (quantity(_beside(finding, *key), value, dimension),)

    return _by_words(changes)


def _beside(finding: Finding, *key: str) -> Path:
    """Where a finding stands, or another key beside it."""
    return (*finding.path[:-1], *key) if key else finding.path


def _slower(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """At the limit, to which the words point."""
    if finding.limit is not None and finding.subject.kind == "circuit":
        yield (quantity(finding.path, finding.limit.value, Dimension.RATE),)


# Circuits whose rates are told one by one.
MOST_NAMED = 4


def _all_slower(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Each at its rate, by so much slower."""
    flashers = finding.parts.get("flashers")
    if not isinstance(flashers, tuple):
        return
    changes, words = [], []
    for flasher in flashers:
        rate = survey.build.circuit[flasher.name].rate if flasher.kind == "circuit" else None
        if rate is None:
            return
        per_minute = int(rate * 60.0 * finding.figures["slower"].value)
        changes.append(Change(("circuit", flasher.name, "rate"), per_minute / 60.0, f'"{per_minute} /min"'))
        words.append(f"{quoted(flasher.name)} at {per_minute} /min")
    says = finding.remedy or ""
    if len(words) <= MOST_NAMED:
        says = f"Flash {enumerated(words)}, or let them flash in step and say so (in_step_with)."
    yield Proposal(says, tuple(changes), alone=True)


def _clutched(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    key = "never_stalls" if "current" in finding.figures else "held_off"
    yield (set_to((*finding.path[:2], key), True),)


def _uncovered(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A cover where there was none; for a lithium battery a protection board as well, where none is stated."""
    supply = survey.build.supply.get(finding.subject.name)
    place = finding.subject.name if supply is None else supply.place
    cover = set_to(("place", place, "access"), "cover")
    if supply is not None and supply.kind == "battery" and supply.protected is not True:
        yield cover, set_to(("supply", finding.subject.name, "protected"), True)
    yield (cover,)


def _covered(_: Survey, finding: Finding) -> Iterator[Proposal]:
    """A cover where there was none, beside what the check names."""
    name = finding.subject.name
    if finding.remedy is not None:
        says = finding.remedy
        if not says.startswith("Leave a cover"):
            says = f"Leave a cover over {quoted(name)}, or {lower_first(says)}"
        yield Proposal(says, (set_to(("place", name, "access"), "cover"),), alone=True)


def _aired(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    yield (set_to(("place", survey.build.supply[finding.subject.name].place, "vented"), True),)


def _socketed(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The line that the finding shows to be typed."""
    for line in finding.lines:
        key, written = line.split(" = ", 1)
        yield (Change(("supply", finding.subject.name, key), written.strip('"'), written),)


def _other_socket(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Another size of socket for the supply of the finding, with its pole as it was."""
    said = survey.build.supply.get(finding.subject.name)
    if said is None or said.socket is None:
        return
    pole = next((f", centre {pole}" for pole in ("positive", "negative") if pole in said.socket), "")
    for size in _SOCKETS:
        if size not in said.socket:
            yield (set_to(("supply", finding.subject.name, "socket"), f"{size}{pole}"),)
            return


def _other_pole(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The adaptor with its pole as the board has it."""
    if finding.subject.kind != "board":
        yield from _other_socket(survey, finding)
        return
    name = survey.build.board[finding.subject.name].supply
    socket = survey.build.supply[name].socket or ""
    for pole, turned in (("positive", "negative"), ("negative", "positive")):
        if pole in socket:
            other = socket.replace(pole, turned)
            yield (set_to(("supply", name, "socket"), other),)
            return


def _unplugged(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The plug fitted when the conductors are through: it need not pass."""
    yield (set_to((*finding.path[:2], "through"), ()),)


def _swapped(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The negative on the metal, and its wire for what was there."""
    runs = survey.parts.runs
    metal = next((run for run in runs if run.path == finding.path[:2]), None)
    if metal is None:
        return
    negatives = {driver.return_net for driver in survey.wiring.drivers.values()}
    beside = [
        run
        for run in runs
        if set(run.ends) == set(metal.ends) and run.line in negatives and not run.said.body
    ]
    if len(beside) != 1 or not metal.line:
        return
    (wire,) = beside
    yield (
        set_to((*metal.path, "line"), wire.line),
        set_to((*wire.path, "line"), metal.line),
    )


def _without_joint(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A joint taken out, or one of its lines: what joins what has to be apart."""
    number = finding.path[1] if finding.path[:1] == ("join",) and len(finding.path) > 1 else None
    for index in [int(number)] if number is not None else range(len(survey.build.join)):
        yield (taken_out(("join", index)),)


def _flags(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag on the supply leg of each lead."""
    owners = finding.parts.get("owners")
    names = {owner.name for owner in owners} if isinstance(owners, tuple) else set()
    parts = [part for part in survey.parts.every if part.name in names]
    yield tuple({change.path: change for part in parts if (change := flagged(part, "feed", "+"))}.values())


def _flagged_ends(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag with the name of its line on every end that looks so, but for those of one line."""
    colour, wire = finding.words["colour"], finding.words.get("wire")
    alike = [
        end for end in survey.ends
        if end.place == finding.subject.name and end.net and colour_of(end) == colour and wire in (None, end.wire)
    ]  # fmt: skip
    first = alike[0].net if alike else ""
    yield from _all(_flag(survey, end, end.net) for end in alike if end.net != first)


def _flagged_spares(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag on each conductor in reserve."""
    spares = finding.parts["spares"]
    named = {one.name for one in spares} if isinstance(spares, tuple) else set()
    yield from _all(set_to((*run.path, "label"), "spare") for run in survey.parts.runs if run.name in named)


def _flagged_sides(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag with its side on each conductor of the side that has fewer of the colour."""
    sides: dict[bool, dict[str, ConductorEnd]] = {True: {}, False: {}}
    for end in survey.ends:
        if end.positive is not None and colour_of(end) == finding.subject.name:
            sides[end.positive].setdefault(f"{end.kind} {end.leg} {end.name}", end)
    few = len(sides[True]) < len(sides[False])
    yield from _all(_flag(survey, end, "+" if few else "-") for end in sides[few].values())


def _flag(survey: Survey, end: ConductorEnd, label: str) -> Change | None:
    if end.kind == "run":
        return set_to((*end.path[:2], "label"), label)
    part = survey.parts.named.get(end.name)
    if part is None or not end.leg:
        return None
    return flagged(part, "feed" if end.leg == "supply" else "back", label)


def _all(changes: Iterable[Change | None]) -> Iterator[tuple[Change, ...]]:
    """All of them, once each, where each can be written."""
    found = list(changes)
    known = {change.path: change for change in found if change is not None}
    if known and len(known) == len({change and change.path for change in found}):
        yield tuple(known.values())


def _spare(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    part = next((part for part in survey.parts.every if part.path[:2] == finding.path[:2]), None)
    if part is not None:
        yield from _all([changed_lead(part, spare=finding.figures["needed"].value)])


def _as_measured(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The one of the lengths that would fit the conductors."""
    for key in ("free", "to_joint", "slack"):
        if (left := finding.figures.get(f"{key}_left")) is not None:
            yield (length((*finding.path[:-1], key), left.value),)


def _stranded(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The build's usual stranded wire, or a known one, for runs and leads."""
    wires = finding.parts.get("wires")
    named = {(wire.kind, wire.name) for wire in wires} if isinstance(wires, tuple) else set()
    usual = survey.build.usual.run
    rows = [wire_data(survey.build, name) for name in dict.fromkeys((*filter(None, [usual]), *_STRANDED))]
    for row in [row for row in rows if row.strands > 1][:2]:
        runs = [run for run in survey.parts.runs if ("run", run.name) in named]
        leads = [part for part in survey.parts.every if ("lead", part.name) in named]
        yield from _all(
            [set_to((*run.path, "wire"), row.name) for run in runs]
            + [changed_lead(part, wire=row.name) for part in leads]
        )


def _resistor_moved(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The resistor with the lamp, else at the joint of its lead."""
    part = lamp_part(survey, finding.subject.name)
    spec = spec_of(part) if part is not None else None
    if part is not None and spec is not None:
        for place in (None, part.supply_leg.to):
            yield (changed_resistor(part, spec, place=place),)


def _trimmer_out(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A trimmer that nobody would reach at the joint of its lamp's lead, where that opens."""
    part = lamp_part(survey, finding.subject.name)
    spec = spec_of(part) if part is not None else None
    if part is not None and spec is not None and survey.build.place[part.supply_leg.to].access != "sealed":
        to = part.supply_leg.to
        yield Proposal(f"Move it to {quoted(to)}.", (changed_resistor(part, spec, place=to),))


def _sturdier(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire of the same sort for the lead, or the run, that a pull stretches."""
    named = finding.parts.get("conductor")
    if not isinstance(named, Subject) or finding.remedy is None:
        return
    part = survey.parts.named.get(named.name)
    run = next((run for run in survey.parts.runs if run.name == named.name), None)
    wire = run.wire if run is not None else part.supply_leg.wire if part is not None else None
    for fraction in (0.4, 0.15):
        name = thicker_wire(survey, wire, fraction)
        if name is None:
            continue
        change = set_to((*run.path, "wire"), name) if run is not None else None
        if part is not None:
            change = changed_lead(part, wire=name)
        if change is not None:
            yield Proposal(f"Use {name} for it, or {lower_first(finding.remedy)}", (change,), alone=True)


def _fed_twice(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Fed at its far end as well; with the fuse that what it then takes asks for."""
    part = strip_part(survey, finding.subject.name)
    if part is not None and part.far_end is None and finding.remedy is not None:
        plain = Proposal(finding.remedy, (set_to((*part.path, "far_end"), part.place),), alone=True)
        yield plain
        yield from with_its_fuse(survey, survey.wiring.drivers[part.circuit].supply or "", plain)


def _through_bore(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A run of each line through the passage, as long as its bore and both ends, and the plug at the side of the supply."""
    lines, passage = finding.parts.get("lines"), finding.parts.get("passage")
    plug = survey.build.plug[int(finding.path[1])]
    if not isinstance(lines, tuple) or not isinstance(passage, Subject) or plug.ends is None:
        return
    bore = survey.passages[passage.name].passage
    laid = {"length": bore.length + ENDS}
    runs = (Run(line=line.name, ends=plug.ends).model_copy(update=laid) for line in lines)
    yield (
        set_to((*finding.path[:2], "at"), plug.ends[0]),
        taken_out((*finding.path[:2], "ends")),
        *map(more, runs),
    )


def _second_run(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Another conductor beside the only one of a line."""
    run = survey.build.run[int(finding.path[1])]
    yield (more(run.model_copy(update={"name": f"{finding.subject.name} 2"})),)


def _own_line(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A line that shines steadily and ends where the lead of the light does; else one of its own, as long as the flashing one."""
    if (finding.case or "").partition(":")[0] != "lamp":
        yield from _by_words(_without_joint)(survey, finding)
        return
    part = next((part for part in survey.parts.all if part.entry == finding.subject.name), None)
    driver = survey.wiring.drivers[part.circuit] if part is not None else None
    if part is None or driver is None or driver.supply is None or finding.remedy is None:
        return
    path, build = (*part.path[:2], "circuit"), survey.build
    for name, circuit in build.circuit.items():
        if circuit.behaviour == "steady" and survey.wiring.drivers[name].supply == driver.supply:
            yield Proposal(f"Connect it to {quoted(name)}, which is steady.", (set_to(path, name),))
    own = f"{finding.subject.name} feed"
    runs = [run for run in build.run if run.line == driver.circuit and not run.spare and not run.body]
    if own in build.circuit or not runs or driver.own_return:
        return
    steady = Circuit(supply=driver.supply, switched=build.circuit[driver.circuit].switched)
    yield Proposal(
        finding.remedy,
        (
            Change(("circuit", own), steady, in_toml(table_of(steady))),
            set_to(path, own),
            *(more(run.model_copy(update={"line": own, "name": None})) for run in runs),
        ),
        alone=True,
    )


def _shorter_string(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    lamp = finding.parts.get("lamp")
    part = lamp_part(survey, lamp.name) if isinstance(lamp, Subject) else None
    if part is not None and part.said.series > 1 and not part.said.links:
        yield (set_to((*part.path[:2], "series"), part.said.series - 1),)


OPPOSITES: dict[str, Proposer] = {
    "supply.type-c": _set(True),
    "supply.mains-inside": _by_words(_socketed),
    "supply.wrong-adaptor": _by_words(_other_socket),
    "supply.polarity": _by_words(_other_pole),
    "battery.unprotected": _set(True),
    "battery.lithium-sealed": _by_words(_uncovered),
    "battery.gas": _by_words(_aired),
    "access.sealed": _covered,
    "circuit.joined-outputs": _by_words(_without_joint),
    "circuit.steady-on-flasher": _own_line,
    "supply.conflict": _by_words(_without_joint),
    "supply.backfeed": _by_words(_without_joint),
    "plug.crossed": _set(True),
    "plug.part-way": _set(False),
    "plug.bare-pins": _set("model"),
    "flash.rate": _by_words(_slower),
    "flash.together": _all_slower,
    "dim.frequency": _figure("unseen", Dimension.RATE),
    "motor.hot": _by_words(_clutched),
    "metal.live": _by_words(_swapped),
    "passage.soldered": _set(False),
    "passage.joint-inside": _set(False, "joints_inside"),
    "passage.coiled": _figure("most", Dimension.LENGTH, "slack"),
    "passage.fold": _figure("needed", Dimension.LENGTH, "free"),
    "passage.pull": _sturdier,
    "passage.plug": _by_words(_unplugged),
    "lead.same-legs": _by_words(_flags),
    "lead.too-short": _by_words(_spare),
    "trimmer.sealed": _trimmer_out,
    "lead.bare": _by_words(_resistor_moved),
    "ends.alike": _by_words(_flagged_ends),
    "ends.spare": _by_words(_flagged_spares),
    "colour.both-poles": _by_words(_flagged_sides),
    "passage.lengths": _by_words(_as_measured),
    "passage.enamelled": _by_words(_stranded),
    "passage.solid": _by_words(_stranded),
    "strip.dim": _fed_twice,
    "passage.plug-alone": _by_words(_through_bore),
    "line.broken-pole": _by_words(_second_run),
    "output.compliance": _by_words(_shorter_string),
}
"""Those with a plain opposite, in the order in which they are tried."""
