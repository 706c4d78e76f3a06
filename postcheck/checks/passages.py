"""Passages: whether everything goes through, and lives there."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, radians
from math import degrees as math_degrees

from postcheck.checks.of_passages import finding_of, limited, lives, names_of, strained, title, turning
from postcheck.checks.record import Check
from postcheck.checks.shown import count_of, degrees, lengths, listed, millimetres, percent
from postcheck.physics import bundle, copper
from postcheck.physics.fill import jams
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.bores import is_easy, is_pushed, most_fill, room_wanted
from postcheck.survey.post.passages import ways_through
from postcheck.wiring.through import undecided

__all__ = ["CHECKS"]


def _cannot_fit(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        bore = passage.passage.bore
        if passage.verdict == bundle.CANNOT:
            inside, bundled = lengths(bore, passage.smallest_bore)
            alone = len(passage.members) == 1
            yield finding_of(
                passage, "passage.cannot-fit", "stop",
                f"{passage.members[0].called} does not go through {title(passage)}: it is {bundled} across, and the bore is {inside}." if alone
                else f"{len(passage.members)} conductors cannot go through {title(passage)}: no way of laying them is slimmer than its bore of {inside}; the slimmest found is {bundled}.",
                f"This is geometry, not a rule of thumb: {'it does' if alone else 'they do'} not go in{'' if alone else ', however they are laid'}.",
                key="bore",
                figures={"bore": Figure(bore, "m"), "bundle": Figure(passage.smallest_bore, "m")},
                limit=Limited(bore, "m", "certified arrangement of circles in the bore"),
            )  # fmt: skip
        elif passage.unknown:
            yield NotJudged(
                passage.name,
                "whether everything goes through",
                f'the wire of {listed(passage.unknown)}, such as lead = "enamel-0.10" and run = "ptfe-28" in [usual]',
                vital=passage.name == "post",
            )
    for open_ in undecided(survey.build):
        yield NotJudged(
            open_.passages[0],
            "whether everything goes through",
            f"which passage between {quoted(open_.ends[0])} and {quoted(open_.ends[1])} ({listed(open_.passages)}) "
            f'is the way of {listed(open_.conductors)}, such as through = ["{open_.conductors[0].removeprefix("lead of ")}"] in the table of its passage',
            vital=True,
        )


def _full(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        count = len(passage.members)
        if not count or passage.verdict == bundle.CANNOT or passage.fill <= passage.fill_limit:
            continue
        if is_pushed(passage.passage, count, survey.limits):
            continue
        easy = is_easy(passage.passage, survey.limits)
        yield finding_of(
            passage, "passage.full", "note" if easy else "caution",
            f"{count_of(count, 'conductor')} fill{'s' if count == 1 else ''} {percent(passage.fill)} of {title(passage)}; {percent(passage.fill_limit)} is the handbook limit for that many.",
            "They go through this short straight bore, but not easily past each other." if easy
            else "Past bends or over a length the pull grows until something tears.",
            key="bore",
            figures={"fill": Figure(passage.fill, "")},
            limit=Limited(passage.fill_limit, "", most_fill(count, survey.limits).source),
            because_of=f"passage.tight:{passage.name}",
        )  # fmt: skip


def _tight(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        bore, count = passage.passage.bore, len(passage.members)
        room = room_wanted(count, survey.limits)
        missing = passage.verdict == bundle.NOT_FOUND
        if passage.verdict == bundle.CANNOT or not count:
            continue
        if not missing and bore >= room.value * passage.smallest_bore * (1.0 - 1e-9):
            continue
        inside, bundled = lengths(bore, passage.smallest_bore)
        yield finding_of(
            passage, "passage.tight", "caution",
            f"{passage.members[0].called} goes through {title(passage)} only on paper: it is {bundled} across, in a bore of {inside}." if count == 1
            else f"no arrangement of the {count} conductors was found that goes through {title(passage)} ({inside}); the slimmest bundle found is {bundled}."
            + (" With --effort long it is looked for much harder." if survey.effort == "quick" else "")
            if missing
            else f"the bundle in {title(passage)} is {bundled} at its slimmest, in a bore of {inside}.",
            "No tube is true to the last hundredth, and nothing is drawn through a bore that it fills." if count == 1
            else "Wires never lie as neatly as a drawing: without room they jam half way, or scrape.",
            key="bore",
            figures={"bore": Figure(bore, "m"), "bundle": Figure(passage.smallest_bore, "m")},
            limit=Limited(room.value, "", room.source),
        )  # fmt: skip


def _jam(survey: Survey) -> Iterator[Finding | NotJudged]:
    low, high = survey.limits["passage.jam.low"], survey.limits["passage.jam.high"]
    for passage in survey.passages.values():
        ratio = passage.jam_ratio
        if ratio is None or not jams(ratio, 3, low.value, high.value):
            continue
        yield finding_of(
            passage, "passage.jam", "note",
            f"three conductors in {title(passage)} may wedge side by side: the bore is {ratio:.2g} times one of them.",
            f"Between {low.value:g} and {high.value:g} they can slip into a row across the bore and jam while they are pulled.",
            key="bore", remedy="Pull them twisted together gently or taped into a triangle.",
            figures={"ratio": Figure(ratio, "")}, limit=Limited(high.value, "", high.source),
            because_of=f"passage.tight:{passage.name}",
        )  # fmt: skip


def _enamelled(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in turning(survey):
        fine = [member for member in passage.members if member.wire is not None and member.wire.enamelled]
        if not fine:
            continue
        thin = min(fine, key=lambda member: member.wire.conductor_area if member.wire else 0.0)
        weak = passage.weak
        strength = (
            f"the thinnest ({millimetres(thin.wire.strand_diameter)}) stays stretched from {weak[0]:.2g} N and breaks at {weak[1]:.2g} N"
            if weak is not None and thin.wire is not None else "it breaks at a few newtons"
        )  # fmt: skip
        yield finding_of(
            passage, "passage.enamelled", "caution",
            f"enamelled wire goes through {title(passage)}, which turns {degrees(passage.passage.turn)} each way: {names_of(fine)}.",
            f"Not for the twist itself, which fine wire bears: {strength}, it kinks for good when it goes slack, "
            "and its thin enamel rubs through on edges and on its neighbours.",
            key="turn", remedy="End the enamelled leads at a joint before the passage, and go on with stranded wire.",
            figures={"stretches": Figure(weak[0], "N"), "breaks": Figure(weak[1], "N")} if weak is not None else {},
        )  # fmt: skip


def _solid(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["twist.solid"]
    for passage in turning(survey):
        stiff = [
            member for member in passage.members
            if member.wire is not None and member.wire.solid and not member.wire.enamelled
            and member.wire.strand_diameter > limit.value
        ]  # fmt: skip
        if not stiff:
            continue
        widest = max(member.wire.strand_diameter for member in stiff if member.wire is not None)
        yield finding_of(
            passage, "passage.solid", "caution",
            f"solid wire {millimetres(widest)} thick goes through {title(passage)}, which turns {degrees(passage.passage.turn)} each way: {names_of(stiff)}.",
            "Solid wire work-hardens where it moves and breaks inside its insulation, where nobody sees it.",
            key="turn", remedy="Use stranded wire of the same gauge, seven strands at least and nineteen for much movement.",
            figures={"diameter": Figure(widest, "m")}, limit=limited(survey, "twist.solid"),
            because_of=f"passage.strain:{passage.name}",
        )  # fmt: skip


def _strain(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in turning(survey):
        rows = [
            (life, strain, member)
            for life, strain, member in zip(passage.life, passage.strain, passage.members, strict=True)
            if member.wire
        ]
        short = [row for row in rows if row[0][0] < passage.cycles]
        if not short:
            continue
        (low, high), strain, member = min(short, key=lambda row: row[0])
        surely = high < passage.cycles
        free = passage.passage.free if passage.passage.free is not None else passage.passage.length
        others = len({(row[2].kind, row[2].name) for row in short}) - 1
        also = f" So do {others} more." if others > 1 else " So does one more." if others else ""
        borne = passage.turn_borne or 0.0
        whole = floor(math_degrees(borne))
        bears = (
            f"With {degrees(radians(whole))} each way every wire would live." if whole
            else f"Not even with {degrees(radians(1.0))} each way would every wire live."
        )  # fmt: skip
        yield finding_of(
            passage, "passage.strain", "stop" if surely else "caution",
            f"{member.called} breaks after {lives(low, high)} turnings of {title(passage)}; {passage.cycles:,.0f} are {'wanted' if passage.passage.cycles else 'assumed'}.",
            f"Each turning strains its copper {strained(strain, copper.minimum_elongation(member.wire.strand_diameter if member.wire is not None else 0.0))} over {millimetres(free)} of free length. "
            f"Soft copper tires; the band is wide because the published relations differ.{also} {bears}",
            key="turn",
            remedy="Finer strands, less turn, or a longer way for the wires to twist in.",
            figures={
                "strain": Figure(strain, ""), "least": Figure(low, ""), "most": Figure(high, ""), "turn": Figure(borne, "rad"),
            },
            limit=Limited(passage.cycles, "", "cycles in the build file" if passage.passage.cycles else survey.limits["twist.cycles"].source),
        )  # fmt: skip


def _loops(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["twist.turn.caution"]
    for passage in turning(survey):
        if not passage.members:
            continue
        turn = passage.passage.turn
        far = turn > limit.value * (1.0 + 1e-9)
        if not far and passage.passage.stop is None:
            yield NotJudged(
                passage.name,
                "whether it can be turned until the wires loop",
                "whether a stop ends its turn: stop = true or false",
            )
            continue
        if not far and passage.passage.stop:
            continue
        yield finding_of(
            passage, "passage.loops", "caution",
            f"{title(passage)} turns {degrees(turn)} each way; beyond {degrees(limit.value)} wires throw loops." if far
            else f"nothing stops {title(passage)} from turning further than {degrees(turn)}, round and round.",
            f"A loop pulled tight is a kink, and a kinked strand is a broken one. A straight wire of any gauge loops from {degrees(passage.loop_turn)}; slack and bends make it sooner.",
            key="turn" if far else "stop", remedy="A stop that ends the turn at a full one or less each way.",
            figures={"turn": Figure(turn, "rad")}, limit=limited(survey, "twist.turn.caution"),
        )  # fmt: skip


def _joint_inside(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        if passage.passage.joints_inside:
            turns = (
                " It turns, and the wire breaks where the solder ends." if passage.passage.turn > 0.0 else ""
            )
            yield finding_of(
                passage, "passage.joint-inside", "caution",
                f"a joint lies inside {title(passage)}.",
                f"It cannot be seen or re-made there, and it is the thickest and stiffest spot of the bundle.{turns}",
                key="joints_inside", remedy="Let the conductors go through in one piece, with their joints at the ends.",
            )  # fmt: skip


def _run_short(survey: Survey) -> Iterator[Finding | NotJudged]:
    seen: set[tuple[str, str]] = set()
    for way in ways_through(survey.passages):
        member = way.member
        if not way.short or (member.kind, member.name) in seen:
            continue
        seen.add((member.kind, member.name))
        kind = "lamp" if member.kind == "lead" and member.path[0] == "lamp" else member.kind
        same = way.long >= way.length * (1.0 - 1e-9)
        long, through = _shown(_tenths_down(way.long)), _shown(_tenths_up(way.length))
        yield Finding(
            "passage.run-short", "stop", Subject(kind, member.name),
            f"{member.called} is {long} long{', just as long as the way through' if same else f'; the way through alone is {through}'}.",
            "It does not come out at the other end.", member.path,
            remedy=f"More than {through}, with what both ends need on top.",
            figures={"length": Figure(way.long, "m"), "way": Figure(way.length, "m")},
            limit=Limited(way.length, "m", "the lengths of the passages it goes through"),
        )  # fmt: skip


def _lengths(survey: Survey) -> Iterator[Finding | NotJudged]:
    long_enough = [way for way in ways_through(survey.passages) if not way.short]
    for passage in survey.passages.values():
        said = passage.passage
        ways = [way for way in long_enough if passage.name in way.through and way.lacks(said)]
        if not ways:
            continue
        way = min(ways, key=lambda each: each.long)
        parts = way.taken(said)
        taken = sum(parts.values())
        most = max((key for key in parts if key != "length"), key=lambda key: parts[key])
        left = _tenths_down(parts[most] - taken + way.long)
        # each to a tenth up, so that they add up and what is asked for is enough
        tenths = {key: _tenths_up(parts[key]) for key in _TAKEN if parts.get(key)}
        long, needed = _shown(_tenths_down(way.long)), _shown(sum(tenths.values()))
        told = [f"{_shown(number)} {_TAKEN[key]}" for key, number in tenths.items()]
        others = len({(each.member.kind, each.member.name) for each in ways}) - 1
        yield finding_of(
            passage, "passage.lengths", "stop",
            f"{way.member.called} is {long} long; the lengths given for {title(passage)} take {needed} of it: {', '.join(told)}."
            + (f" {count_of(others, 'more conductor is', 'more conductors are')} too short for that." if others else ""),
            "One of these lengths is wrong"
            + (", and what turning does to the wires was worked out with it." if said.turn > 0.0 else "."),
            key=most,
            remedy=f"Measure again: conductors of {needed} or more" + (f", or at most {_shown(left)} {_TAKEN[most]}." if left > 0 else "."),
            figures={"length": Figure(way.long, "m"), "taken": Figure(taken, "m")},
            limit=Limited(way.long, "m", "the length of the conductor, in the build file"),
        )  # fmt: skip


def _tenths_up(length: float) -> int:
    """Tenths of a millimetre that are no less than a length (m); what is left of rounding is nothing."""
    return ceil(length * 1e4 - 1e-6)


def _tenths_down(length: float) -> int:
    return floor(length * 1e4 + 1e-6)


def _shown(tenths: int) -> str:
    return f"{tenths / 10:.12g} mm"


_TAKEN = {
    "length": "of way through",
    "free": "between the grips",
    "to_joint": "from the last grip to the first joint",
    "slack": "of slack",
}
_PACKING = "certified arrangement of circles of the greatest outside diameters in the bore"

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.cannot-fit", "stop", "passage", "conductors do not go through",
        "No way of laying them is slim enough.", _PACKING, (),
        "proven bounds of circle packing (area, two and three largest, equal circles)", _cannot_fit,
    ),
    Check(
        "passage.tight", "caution", "passage", "a bundle has too little room",
        "Without room wires jam half way.", "bore / slimmest bundle found, or the one conductor",
        ("passage.room", "passage.room.one"), "FAA AC 43.13-1B, 11-249; for one conductor, judgement", _tight,
    ),
    Check(
        "passage.full", "caution", "passage", "a bore is fuller than handbooks advise",
        "Long or bent passages need room to pull through; in a short straight one it is only a note.",
        "sum(d2) / D2", ("passage.fill.one", "passage.fill.two", "passage.fill.more", "passage.short"),
        "NFPA 70 chapter 9 table 1", _full,
    ),
    Check(
        "passage.jam", "note", "passage", "three conductors may jam",
        "Three in a row can wedge across the bore.", "bore / wire for three wires as good as equal",
        ("passage.jam.low", "passage.jam.high"), "NFPA 70 chapter 9 table 1, informational note 2", _jam,
    ),
    Check(
        "passage.strain", "stop", "passage", "turning tires the wires",
        "Soft copper breaks after so many turnings.",
        "strain range of the turn both ways over the free length, at each wire's place in the bundle; life by five relations",
        ("twist.cycles",), "Saint-Venant torsion and helix geometry; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory)",
        _strain,
    ),
    Check(
        "passage.solid", "caution", "passage", "solid wire in a passage that turns",
        "Solid wire work-hardens and breaks unseen.", "solid, thicker than the limit, and a turn", ("twist.solid",),
        "common practice: stranded wire where it moves", _solid,
    ),
    Check(
        "passage.enamelled", "caution", "passage", "enamelled wire in a passage that turns",
        "It is weak, kinks, and its enamel rubs through.", "enamelled, and a turn", (),
        "common practice, no published source; strength 220 N/mm2 of annealed copper", _enamelled,
    ),
    Check(
        "passage.loops", "caution", "passage", "a passage turns so far that wires loop",
        "A loop pulled tight is a kink.", "turn from straight, or no stop", ("twist.turn.caution",),
        "Greenhill's clamped rod, 690 degrees, divided by 1.9", _loops,
    ),
    Check(
        "passage.joint-inside", "caution", "passage", "a joint lies inside a passage",
        "It cannot be seen or re-made there.", "joints_inside", (),
        "NFPA 70 300.13(A): no splices inside raceways", _joint_inside,
    ),
    Check(
        "passage.run-short", "stop", "run", "a conductor is shorter than its way through",
        "It does not come out at the other end.", "length against the lengths of the passages it goes through", (),
        "the build file", _run_short,
    ),
    Check(
        "passage.lengths", "stop", "passage", "the lengths given for a passage are more than a conductor has",
        "One of them is wrong, and what is worked out with it.",
        "the larger of free (or length) + to_joint and the way through, + slack, against the length of each conductor", (),
        "the build file", _lengths,
    ),
)  # fmt: skip
