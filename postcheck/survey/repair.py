"""How a part that fails later is got at, told apart at the bench, and done without."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.consumers import CONSUMERS
from postcheck.description.models import Build
from postcheck.description.naming import string_name
from postcheck.description.subjects import subjects
from postcheck.expected import Expected
from postcheck.materials import Piece
from postcheck.repair import Feed, Reading, Repair, Spot
from postcheck.survey import Survey
from postcheck.survey.bench.figures import Band, Setting
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.closing.access import Reached
from postcheck.survey.closing.refused import Never, beyond, refused
from postcheck.survey.network.supplies import with_converters
from postcheck.survey.sheet.cut import pieces
from postcheck.wiring.parts import LampPart, Part

_WHOLE = frozenset({*CONSUMERS, "board", "supply", "plug"})
_OF_PART = ("joint", "resistor")
# On a line with more lamps than this, no lamp can be told by its current.
_MOST_LIKE = 40


def repairable(build: Build) -> dict[str, tuple[str, str]]:
    """All that can be asked for, by the words for it: as test records call it, and `joint NAME`, `resistor NAME`."""
    found = {words: one for words, one in subjects(build).items() if one[0] in _WHOLE}
    for kind, name in tuple(found.values()):
        if kind in CONSUMERS:
            found.setdefault(f"joint {name}", ("joint", name))
            found.setdefault(f"resistor {name}", ("resistor", name))
    return found


def namesakes(build: Build, words: str) -> tuple[tuple[str, str], ...]:
    """What else these words could mean: its kind, and the words to ask for it; none where it cannot be asked for."""
    known, about = repairable(build), subjects(build)
    meant = known[words]
    found: dict[tuple[str, str], str] = {}
    for one in (*about.values(), *known.values()):
        kind, name = one
        full = f"{kind} {name}"
        if one != meant and words in (full if kind in _OF_PART else name, full):
            found[one] = full if known.get(full) == one else ""
    return tuple((kind, asked) for (kind, _), asked in found.items())


def repair(survey: Survey, kind: str, name: str) -> Repair:
    """The repair of a part by its kind and name."""
    parts, string = parts_of(survey, kind, name)
    names = {one for part in parts for one in (part.name, part.entry)}
    own = kind in CONSUMERS or kind in _OF_PART
    spots = tuple(
        _spot(survey, one) for one in survey.access if _belongs(one, kind, names if own else {name})
    )
    readings: list[Reading] = []
    if own:
        for part in parts:
            readings += [*_lead(survey, part, string), *_lines(survey, part, string)]
    else:
        readings += _behind(survey, parts)
    return Repair(
        kind, name, spots, tuple(readings),
        _new_lead(survey, parts) if own else (), tuple(_spares(survey, parts)), _dark(parts, name, string, own=own),
        feeds=tuple(_feeds(survey, parts)),
    )  # fmt: skip


def _feeds(survey: Survey, parts: list[Part]) -> Iterator[Feed]:
    """Each line that feeds these parts, in the order of the file."""
    of = {part.circuit for part in parts}
    for circuit, driver in survey.wiring.drivers.items():
        if circuit in of:
            kind, name = ("board", driver.board) if driver.board is not None else ("supply", driver.supply)
            yield Feed(circuit, driver.return_net, kind if name else "", name or "")  # type: ignore[arg-type]


def parts_of(survey: Survey, kind: str, name: str) -> tuple[list[Part], int | None]:
    """What takes current of it: itself, or what a board, supply or plug feeds; and which string is meant, if one."""
    every, drivers = survey.parts.all, survey.wiring.drivers
    if kind == "board":
        return [part for part in every if drivers[part.circuit].board == name], None
    if kind == "supply":
        behind = with_converters(survey.build, name)
        return [part for part in every if drivers[part.circuit].supply in behind], None
    if kind == "plug":
        pins = next((set(plug.pins) for plug in survey.build.plug if plug.name == name), set())
        return [one for one in every if {one.circuit, drivers[one.circuit].return_net} & pins], None
    own = [part for part in every if name in (part.entry, part.name)]
    if own:
        return own, None
    for part in every:
        for string in range(part.parallel):
            if string_name(part.name, string) == name:
                return [part], string
    return [], None


def _belongs(one: Reached, kind: str, names: set[str]) -> bool:
    # a run may have the same name
    if one.name not in names or (one.kind == "conductor" and one.path[0] == "run"):
        return False
    return one.kind in (*CONSUMERS, *_OF_PART, "conductor") if kind in CONSUMERS else one.kind == kind


def _spot(survey: Survey, one: Reached) -> Spot:
    place = survey.build.place[one.place]
    return Spot(one.kind, one.name, one.place, one.reach, place.opens_with or "", place.opening)


# -- the bench


def _in_reach(survey: Survey, point: TestPoint) -> bool:
    return all(survey.build.place[place].access != "sealed" for place in point.places)


def _reading(survey: Survey, point: TestPoint, setting: Setting, dark: Band | None) -> Reading:
    place, whole = point.plus.place, setting.expected
    if dark is not None:
        dark = Band(*(min(amps, setting.limit) for amps in dark))
    back = point.minus if point.plus.net == point.circuit else point.plus
    return Reading(
        place, "cover" if survey.build.place[place].access == "cover" else "open", "line" if point.kind == "circuit" else "lead",
        point.name, point.plus.colour or "", point.minus.colour or "", point.label or "", setting.volts, setting.limit, Expected(*whole),
        Expected(*dark) if dark is not None else None, dark is not None and dark.most < whole.least,
        returns=back.net if point.kind == "circuit" else "",
    )  # fmt: skip


def forbidding(survey: Survey, kind: str, name: str) -> Never | None:
    """Why what is in reach of a part is not put on a bench supply, the first of the reasons; None where nothing forbids it."""
    parts, _ = parts_of(survey, kind, name)
    bench = survey.bench
    for part in parts:
        points = (bench.lead(part.kind, part.name), *bench.along.get(part.circuit, ()))
        for point in points:
            volts = bench.usual_volts(point) if point is not None else None
            if point is not None and volts is not None and _in_reach(survey, point):
                harm = refused(survey, point, volts)
                if harm is not None:
                    return harm
    return None


def _lead(survey: Survey, part: Part, string: int | None) -> Iterator[Reading]:
    """Its own lead, taken off its joint, or that of each of its strings: nothing flows through one that is open."""
    bench = survey.bench
    every = bench.strings(part) if isinstance(part, LampPart) else ()
    own = every if string is None else (string_name(part.name, string),)
    points = [bench.lead(part.kind, name) for name in own] or [None]
    for point in points if None not in points else [bench.lead(part.kind, part.name)]:
        figures = bench.figures(point) if point is not None and _in_reach(survey, point) else None
        setting = figures.setting if figures is not None else None
        if point is None or setting is None:
            continue
        harm = beyond(survey, point) if setting.held else refused(survey, point, setting.volts)
        if harm is not None and harm.why != "dark":
            continue
        dark = Band(0.0, 0.0, 0.0) if point.string is not None or part.parallel == 1 else None
        yield _reading(survey, point, setting, dark)


def _lines(survey: Survey, part: Part, string: int | None) -> Iterator[Reading]:
    """Its circuit's line wherever a hand gets at both its ends, with all that is on it, and with this one dark."""
    for point, setting in _safe_lines(survey, part.circuit):
        others, volts = _strings_on(survey, point) - 1, setting.volts
        if not isinstance(part, LampPart):
            dark = Band(0.0, 0.0, 0.0) if not others else None
            yield replace(_reading(survey, point, setting, dark), others=others)
            continue
        failed = (part.name, string or 0)
        dark = survey.bench.expected(point, volts, with_resistors=True, opened=frozenset({failed}))
        like = (
            tuple(_like(survey, point, volts, part, dark))
            if dark is not None and others <= _MOST_LIKE
            else ()
        )
        yield replace(_reading(survey, point, setting, dark), others=others, like=like)


def _safe_lines(survey: Survey, circuit: str) -> Iterator[tuple[TestPoint, Setting]]:
    """Test points of a line where the supply's own volts do no harm, with the limit and the current to expect."""
    bench = survey.bench
    for point in bench.along.get(circuit, ()):
        volts = bench.usual_volts(point)
        if volts is None or not _in_reach(survey, point):
            continue
        left_out = any(position in ("here", "behind") for _, position in point.resistor_positions)
        if left_out or refused(survey, point, volts) is not None:
            continue
        setting = bench.usual_setting(point)
        if setting is not None:
            yield point, setting


def _strings_on(survey: Survey, point: TestPoint) -> int:
    """Strings, strips and loads that are connected there."""
    lamps = (survey.parts.named[name] for name in point.lamps)
    return sum(lamp.parallel for lamp in lamps) + len(point.others)


def _like(survey: Survey, point: TestPoint, volts: float, part: Part, dark: Band) -> Iterator[str]:
    """Other lamps on the line whose failing would show a current that may be the same."""
    for name in point.lamps:
        if name != part.name:
            other = survey.bench.expected(
                point, volts, with_resistors=True, opened=frozenset({(name, 0)})
            )  # fmt: skip
            if other is not None and other.least <= dark.most and dark.least <= other.most:
                yield name


def _behind(survey: Survey, parts: list[Part]) -> Iterator[Reading]:
    """Of a board, supply or plug: each line that it feeds. Where that is whole, the fault lies before it."""
    for circuit in dict.fromkeys(part.circuit for part in parts):
        for point, setting in _safe_lines(survey, circuit):
            yield replace(_reading(survey, point, setting, None), others=_strings_on(survey, point))


# -- instead


def _new_lead(survey: Survey, parts: list[Part]) -> tuple[Piece, ...]:
    """The pieces of a new lead, where a hand gets at the end of the part itself."""
    names = {
        one
        for part in parts
        if part.lead is not None
        and not part.lead.fixed
        and all(survey.build.place[place].access != "sealed" for place in (part.place, *part.places))
        for one in (part.name, part.entry)
    }
    return tuple(piece for piece in pieces(survey) if piece.kind == "lead" and piece.name in names)


def _spares(survey: Survey, parts: list[Part]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each spare run with those of the part's lines that lie between the same places."""
    drivers = survey.wiring.drivers
    lines = {line for part in parts for line in (part.circuit, drivers[part.circuit].return_net)}
    for spare in survey.parts.runs:
        if not spare.spare:
            continue
        beside = tuple(
            run.name for run in survey.parts.runs if run.live and run.line in lines and {*run.ends} == {*spare.ends}
        )  # fmt: skip
        if beside:
            yield spare.name, beside


def _dark(parts: list[Part], name: str, string: int | None, *, own: bool) -> tuple[tuple[str, int], ...]:
    """What is dark with it, and how many LEDs: of a lamp its string, of a board all that it feeds."""
    if own:
        return tuple(
            (name if string is not None else part.name, _leds(part)) for part in parts
        )  # fmt: skip
    return tuple((part.name, _leds(part) * part.parallel) for part in parts)


def _leds(part: Part) -> int:
    return part.said.series if isinstance(part, LampPart) else 1
