"""A plan as it is told: what was chosen and why, what has to be bought, what is typed."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace

from postcheck.checks.judge import Judgement, judge
from postcheck.description.called import fuse_words, resistor_words
from postcheck.description.consumers import entries
from postcheck.description.models import Build, Lamp
from postcheck.description.naming import passages_of, run_names
from postcheck.description.printing import format_quantity
from postcheck.description.problems import BuildError, Path
from postcheck.description.rewriting import RewriteError
from postcheck.description.toml_text import key_in_toml
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.planned import (
    Before,
    Blocked,
    Bought,
    Joined,
    Passed,
    Planned,
    PlannedLamp,
    Set,
    Thinner,
    Unsaid,
    Warmest,
)
from postcheck.planner.cost import conductors
from postcheck.planner.finish import may_be_larger
from postcheck.planner.planning import Anew, Plan
from postcheck.planner.routes import Routes
from postcheck.planner.wires import fewest_thinner
from postcheck.planner.written import puts, tables, text_of
from postcheck.reading.instead import what_ifs
from postcheck.reading.loading import build_from
from postcheck.reading.source import Source
from postcheck.report import Finding, NotJudged, Stage
from postcheck.survey import Survey
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.survey.sheet.buy import resistors, wires
from postcheck.survey.sheet.cut import pieces
from postcheck.wiring.resistors import spec_of


def planned(plan: Plan, survey: Survey) -> Planned:
    """The record of a plan; `survey` is that of the wish."""
    wish = plan.wish
    stage: Stage = "planning" if survey.stage == "planning" else "wiring"
    before = judge(survey).verdict
    if plan.build is None:
        return Planned(
            wish.file, wish.build.name, before, None,
            missing=tuple(Unsaid(*one) for one in plan.missing),
            blocks=tuple(_blocked(one, proven=one.id in plan.proven) for one in plan.blocks),
            asks=tuple(_asked(wish, one) for one in plan.asks), frees=plan.frees, checked=plan.checked, partly=plan.partly, stage=stage,
            what_if=what_ifs(wish),
        )  # fmt: skip
    anew = plan.anew or Anew()
    text, why = _text(wish, plan.build, anew.gone)
    after = survey.again(plan.build)
    judged = judge(after)
    return Planned(
        wish.file, wish.build.name, before, judged.verdict,
        was=_before(survey),
        passages=tuple(_passages(plan, after)),
        thinner=_thinner(plan, after),
        lamps=tuple(_lamps(plan, after)),
        lines=tuple(_lines(after)),
        supplies=tuple(
            (name, load.nominal, supply.rated, fuse_words(supply.fuse) if supply.fuse else "")
            for name, supply in plan.build.supply.items()
            if (load := after.electrics.supplies.get(name)) is not None
        ),
        lasts=tuple((name, one.seconds) for name, one in after.batteries.items() if one.seconds is not None),
        heed=tuple(_heed(plan, after, judged)),
        drop=_drop(after),
        warmest=_warmest(after),
        bought=tuple(_bought(plan, after)),
        values=tuple(_values(plan)),
        asks=tuple(_asked(wish, one) for one in _unlaid(judged)),
        tables=tables(wish, plan.build, anew.gone),
        text=text, unwritten=why,
        beside=plan.beside, checked=plan.checked, partly=plan.partly, stage=stage,
        gone=tuple(_gone(wish, plan.build, anew.gone)), stays=anew.stays, what_if=what_ifs(wish),
    )  # fmt: skip


def _blocked(one: Finding, *, proven: bool) -> Blocked:
    remedy = (one.remedy or "") if one.lines else ""
    return Blocked(one.check, one.subject.name, one.says, proven, remedy, one.lines)


def _heed(plan: Plan, after: Survey, judged: Judgement) -> Iterator[str]:
    """What a builder has to know beside a plan: no fuse, lengths that are taken, and what the checks note."""
    build = after.build
    for name, supply in build.supply.items():
        if supply.fuse is None and supply.kind == "adaptor" and supply.rated is not None:
            kept = "none of [stock]" if build.stock.fuses is not None else "no usual one"
            yield (
                f"'{name}' has no fuse: {kept} carries its load and opens before a wire is hurt. "
                + (
                    ""
                    if may_be_larger(after, name)
                    else f"Its adaptor may be of {format_quantity(supply.rated, Dimension.CURRENT)}, and no larger."
                )
            ).rstrip()
    if shared := [
        quoted(name)
        for name, one in plan.wish.circuit.items()
        if one.own_return and not build.circuit[name].own_return
    ]:
        yield f"Without a return of their own now: {', '.join(shared)} (own_return goes). Where that is meant, keep = true in the table of the circuit keeps it."
    yield from _unsized(after)
    yield from _round_the_post(plan)
    stated = {frozenset((way.start, way.end)) for way in plan.wish.way}
    taken = {
        frozenset(run.ends): (run.ends, run.length)
        for run in build.run[len(plan.wish.run) :]
        if run.length and frozenset(run.ends) not in stated
    }
    ends = [{one.start, one.end} for one in passages_of(build).values()]
    if lengths := [
        f"{start} to {end} {format_quantity(length, Dimension.LENGTH)}"
        for between, ((start, end), length) in taken.items()
        if between in ends
    ]:
        yield f"Lengths that no [[way]] says: {', '.join(lengths)}, the passage and what it takes to join at either end. Measure before you cut."
    yield from (
        finding.says for finding in judged.findings if finding.severity == "note" and finding.accepted is None
    )


def _unlaid(judged: Judgement) -> Iterator[NotJudged]:
    """What takes room in a bore and is in neither the file nor the plan: conductors that only their builder knows of."""
    return (one for one in judged.not_judged if "[[run]]" in one.missing)


def _unsized(after: Survey) -> Iterator[str]:
    """Closed places of which the file does not say how large they are: how warm they get nobody knows."""
    for place in _of_no_size(after):
        watts = format_quantity(place.heat, Dimension.POWER)
        yield (
            f"How large {quoted(place.name)} is the file does not say, so how warm it gets from {watts} is not judged: "
            'give its outside surface, such as surface = "... cm2", before you build.'
        )


def _of_no_size(survey: Survey) -> Iterator[PlaceFigures]:
    """The closed places with heat in them of which the file does not say how large they are."""
    for place in survey.places.values():
        if place.rise is None and place.heat > survey.limits.value("heat.matters"):
            yield place


def _round_the_post(plan: Plan) -> Iterator[str]:
    """That the ways of the wish lead all conductors round its post: one of them may be said from the wrong side of it."""
    build, post = plan.build, plan.wish.post
    if build is None or post is None or conductors(build)["post"]:
        return
    routes = Routes(plan.wish)
    homes = [routes.paths(supply.place) for supply in build.supply.values() if supply.place in routes.at]
    # nearest first: where what feeds the model comes to the post
    near = next((end for home in homes for end in home if end in (post.start, post.end)), None)
    far = post.end if near == post.start else post.start
    lit = {place for entry in entries(build) for place in entry.places}
    for way in plan.wish.way:
        ends = {way.start, way.end}
        other = way.end if way.start == near else way.start
        if near in ends and far not in ends and other in lit and not way.through:
            yield (
                f"All conductors go round the post, by the [[way]] from {quoted(way.start)} to {quoted(way.end)}. "
                f"If {quoted(other)} is beyond the post, write its way to {quoted(far)} instead."
            )


def _before(survey: Survey) -> Before:
    """The figures of a wish that has wiring of its own; nothing where it has none.

    Where a lamp is destroyed at once, as one that still has no resistor, its drop and heat are none that anything had.
    """
    if not any(run.live for run in survey.parts.runs):
        return Before()
    counts = conductors(survey.build)
    passages = tuple((name, counts[name], one.smallest_bore) for name, one in survey.passages.items())
    if survey.beyond.lamps or survey.beyond.fates:
        return Before(passages)
    return Before(passages, _drop(survey), _warmest(survey))


def _drop(survey: Survey) -> float | None:
    return max((lamp.loss for lamp in survey.electrics.lamps.values()), default=None)


def _warmest(survey: Survey) -> Warmest | None:
    rises = [Warmest(one.name, one.rise) for one in survey.places.values() if one.rise is not None]
    warmest = max(rises, key=lambda one: one.rise, default=None)
    return warmest and replace(warmest, known=not any(_of_no_size(survey)))


def _thinner(plan: Plan, after: Survey) -> Thinner | None:
    """How far the runs that were planned are from being all of the usual wire."""
    assert plan.build is not None
    usual, first = plan.build.usual.run, len(plan.wish.run)
    runs = plan.build.run[first:]
    if usual is None or not runs or plan.anew is not None:  # of those that were there, too, some may be of it
        return None
    other = sum(run.wire not in (None, usual) for run in runs)
    fewest = fewest_thinner(plan.build, first, usual, after.limits) if other else 0
    return Thinner(usual, len(runs), other, fewest)


def _gone(wish: Build, build: Build, runs: frozenset[int]) -> Iterator[str]:
    """The tables of the file that a plan takes out, by what they are and whose."""
    yield from (f"run '{name}'" for number, name in enumerate(run_names(wish)) if number in runs)
    yield from (f"proof of '{proof.subject}'" for proof in wish.proof if proof not in build.proof)


def _text(wish: Build, build: Build, gone: frozenset[int]) -> tuple[str | None, str | None]:
    """The text of the wish with the plan in it; None where that is not known, or does not say what was judged, and why."""
    if wish.text is None:
        return None, "its text is not known"
    try:
        text = text_of(wish.text, wish, build, gone)
        again = build_from(Source(wish.file, text), path=wish.file)
    except RewriteError as error:
        return None, str(error)
    except BuildError as error:
        return None, f"with the plan in it, it would not be read: {error.problems[0].says}"
    if again != build:
        return None, "with the plan in it, it would not say what was judged"
    return text, None


def _values(plan: Plan) -> Iterator[Set]:
    assert plan.build is not None
    names: dict[Path, str] = {entry.path: entry.name for entry in entries(plan.build)}
    names |= {("run", number): name for number, name in enumerate(run_names(plan.wish))}
    for put in puts(plan.wish, plan.build, plan.anew.gone if plan.anew else frozenset()):
        if len(put.path) > 2 or put.value is not None:
            path, name = put.path[:-1], names.get(put.path[:2], "")
            table = f"[[{path[0]}]]" if name else f"[{'.'.join(map(str, path))}]"
            key = ".".join(map(str, put.path[2:])) if name else str(put.path[-1])
            yield Set(table, name, key, put.value or "")


def _asked(wish: Build, question: NotJudged) -> Unsaid:
    names = {entry.path: entry.name for entry in entries(wish)}
    path, table = question.under, ""
    if path[:2] in names:
        table = f"[[{path[0]}]] '{names[path[:2]]}'" + "".join(f", {step}" for step in path[2:])
    elif path:
        table = f"[{'.'.join(key_in_toml(str(step)) for step in path)}]"
    return Unsaid(question.subject, question.what, question.lines, table, question.missing)


def _passages(plan: Plan, after: Survey) -> Iterator[Passed]:
    counts = conductors(after.build)
    for name, figures in after.passages.items():
        yield Passed(
            name,
            counts[name],
            plan.least.get(name, counts[name]),
            figures.smallest_bore,
            figures.passage.bore,
        )


def _lamps(plan: Plan, after: Survey) -> Iterator[PlannedLamp]:
    before = {entry.name: entry.said for entry in entries(plan.wish)}
    for lamp in after.electrics.lamps.values():
        part = lamp.part
        if part.said == before.get(part.entry):
            continue
        spec = spec_of(part)
        own = before.get(part.entry)
        given = isinstance(own, Lamp) and (own.resistor is not None or bool(own.dice))
        where = part.resistor.place if part.resistor is not None else ""
        lead = part.lead
        lead_words = (
            f"{format_quantity(lead.length, Dimension.LENGTH)} to {lead.to or part.place}"
            if lead and lead.length
            else ""
        )
        yield PlannedLamp(
            part.name, len(part.dice), part.parallel, resistor_words(spec.model_copy(update={"place": None})) if spec else "",
            where, where not in ("", part.place) and part.place in plan.warm and not given, lamp.nominal, lead_words,
            dimmed=plan.dimmed.get(part.path), held_by=plan.held.get(part.path),
        )  # fmt: skip


def _lines(after: Survey) -> Iterator[Joined]:
    """Each line with all that it feeds or brings back."""
    feeds: dict[str, list[str]] = defaultdict(list)
    back: dict[str, list[str]] = defaultdict(list)
    behaviours: dict[str, str] = {}
    for consumer in after.wiring.consumers:
        if consumer.string == 0:
            feeds[consumer.driver.circuit].append(consumer.name)
            back[consumer.return_leg.joint.net].append(consumer.name)
            behaviours[consumer.driver.circuit] = consumer.driver.behaviour
    names = run_names(after.build)
    pieces: dict[str, list[str]] = defaultdict(list)
    for run, name in zip(after.build.run, names, strict=True):
        if run.line is not None and not run.spare:
            pieces[run.line].append(name)
    for line in [*feeds, *(line for line in back if line not in feeds)]:
        parts = tuple(dict.fromkeys(feeds.get(line) or back[line]))
        why = {"flash": "it flashes", "dim": "it is dimmed", "fade": "it fades"}.get(
            behaviours.get(line, ""), ""
        )
        yield Joined(line, line not in feeds, parts, tuple(pieces.get(line, ())), why)


def _bought(plan: Plan, after: Survey) -> Iterator[Bought]:
    """What the wiring itself takes: a wire in one figure whatever its colours, and the adaptor that may be larger."""
    build = after.build
    tenths: Counter[str] = Counter()
    for one in wires(pieces(after), after.limits.value("cut.waste")):
        tenths[one.what] += round(one.needed * 10)
    yield from (Bought(name, count / 10, "m") for name, count in sorted(tenths.items()))
    yield from (Bought(f"resistor {one.what}", one.needed, "") for one in resistors(build))
    for name, supply in build.supply.items():
        if (
            supply.kind == "adaptor"
            and supply.volts
            and supply.rated
            and plan.wish.supply[name].rated is None
        ):
            volts, amps = (
                format_quantity(supply.volts, Dimension.VOLTAGE), format_quantity(supply.rated, Dimension.CURRENT)
            )  # fmt: skip
            larger = " or more" if may_be_larger(after, name) else ", no larger"
            yield Bought(f"adaptor {volts}, {amps}{larger}", 1, "")
        if supply.fuse is not None:
            yield Bought(f"fuse {fuse_words(supply.fuse)} for '{name}'", 1, "")
