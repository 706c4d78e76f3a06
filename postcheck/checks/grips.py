"""Where wires are held, bent and scraped: slack, the last grip, the ends of the bore."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.of_passages import (
    AFTER,
    CYCLES,
    MOVES,
    STRAINED,
    cycles_limit,
    cycles_to_failure,
    cycles_wanted,
    enamelled_in,
    fact_of,
    movement,
    moving,
    part_of,
    parts_of,
    strained,
    turning,
    way_it_moves,
)
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import above, below
from postcheck.physics import copper
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import EndBend, PassageFigures


def _slack(survey: Survey) -> Iterator[Fact | Within]:
    limit = survey.limits["twist.stretch"]
    for passage in turning(survey):
        stretched = [
            (strain.axial, member) for strain, member in zip(passage.strains, passage.members, strict=True)
        ]
        if not stretched:
            continue
        most, member = max(stretched, key=lambda row: row[0])
        yield (within := Within(Subject("passage", passage.name), most, limited(limit)))
        if within.kept:
            continue
        breaks = copper.minimum_elongation(member.wire.strand_diameter if member.wire is not None else 0.0)
        yield fact_of(
            passage,
            "caution",
            key="slack",
            figures={
                "turn": Figure(passage.passage.turn, "rad"),
                **strained(most, breaks),
                "stretch": Figure(most, "share"),
                "slack": Figure(passage.slack_needed, "m"),
                "usual" if passage.passage.slack is None else "given": Figure(passage.slack, "m"),
            },
            parts={"conductor": part_of(member)},
            limit=within.limit,
        )


def _coiled(survey: Survey) -> Iterator[Fact | Within]:
    advised = survey.limits["bend.rest"]
    for passage in survey.passages.values():
        coil = passage.coil
        if coil is None:
            continue
        yield (
            within := Within(Subject("passage", passage.name), coil.diameters, limited(advised), least=True)
        )
        if within.kept:
            continue
        yield fact_of(
            passage,
            "caution" if way_it_moves(passage) else "note",
            key="slack",
            reason="moves" if way_it_moves(passage) else "still",
            figures={
                "slack": Figure(passage.slack, "m"),
                "bore": Figure(passage.passage.bore, "m"),
                "diameters": Figure(coil.diameters, ""),
                "most": Figure(coil.most, "m"),
            },
            parts={"conductor": part_of(coil.widest)},
            limit=limited(advised),
            because_of=f"passage.lengths:{passage.name}",  # with wrong lengths this is wrong too
        )


def _grip(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for passage in moving(survey):
        if not passage.members:
            continue
        away = passage.passage.to_joint
        if away is None:
            yield NotJudged(
                passage.name,
                "whether the solder of the first joint lies clear of what twists",
                'how far the joint is from the last grip, such as to_joint = "15 mm"',
            )
            continue
        by_diameter = above(passage.grip, survey.limits.value("twist.grip"))
        ruled = survey.limits["twist.grip.diameters" if by_diameter else "twist.grip"]
        least = Limited(passage.grip, "m", ruled.source, ruled.name)
        yield (within := Within(Subject("passage", passage.name), away, least, least=True))
        if not within.kept:
            yield fact_of(
                passage,
                "caution",
                key="to_joint",
                figures={"away": Figure(away, "m"), **movement(passage)},
                limit=least,
            )


def _edge(survey: Survey) -> Iterator[Fact | NotJudged]:
    for passage in survey.passages.values():
        if passage.passage.edges is None and passage.members:
            yield NotJudged(
                passage.name,
                "whether its ends cut into the wires",
                'how its ends are, such as edges = "rounded", "bushed" or "sharp"',
            )
        if passage.passage.edges != "sharp" or not passage.members:
            continue
        if way_it_moves(passage):
            yield _worn(survey, passage)
            continue
        fine = parts_of(enamelled_in(passage))
        yield fact_of(
            passage,
            "caution" if fine else "note",
            "enamelled" if fine else "insulated",
            key="edges",
            parts={"wires": fine} if fine else {},
        )


def _worn(survey: Survey, passage: PassageFigures) -> Fact:
    """Sharp ends on which wires move: worse where their insulation is thin, and worst where the metal under it is live."""
    sturdy = limited(survey.limits["edge.wall"])
    thin = [
        (member.wall, member)
        for member in passage.members
        if member.wall is not None and below(member.wall, sturdy.value)
    ]
    shorted = [
        (wall, member)
        for wall, member in thin
        if member.lines and any(line not in member.lines for line in passage.metal)
    ]
    found = shorted or thin
    return fact_of(
        passage,
        "stop" if shorted else "caution",
        "shorts" if shorted else "thin" if thin else "moves",
        key="edges",
        figures={
            **movement(passage),
            **({"wall": Figure(min(wall for wall, _ in found), "m")} if found else {}),
        },
        parts={
            **({"wires": parts_of(member for _, member in found)} if found else {}),
            **({"lines": tuple(Subject("line", line) for line in passage.metal)} if shorted else {}),
        },
        limit=sturdy if found else None,
    )


def _bend(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for passage in survey.passages.values():
        bend = passage.end_bend
        if bend is None:
            continue
        subject, rest = Subject("passage", passage.name), survey.limits["bend.rest"]
        advised = rest if bend.moves is False else survey.limits["bend.moving"]
        sharp = below(bend.diameters, advised.value)
        least = limited(min(advised, rest, key=lambda limit: limit.value))
        yield (wide := Within(subject, bend.diameters, least, least=True))
        lives = Within(subject, bend.cycles_to_failure[0], cycles_limit(survey, passage), least=True)
        if bend.moves is not False:
            yield lives
        tired = bend.moves is not False and not lives.kept
        if tired and not sharp and bend.moves is None:
            yield NotJudged(
                passage.name,
                "whether the bend at its ends tires the wires",
                "whether the wires are gripped between the bore and that bend: bend_held = true or false",
            )
        elif tired:
            yield _tires(survey, passage, bend, advised.value if sharp else None)
        elif not wide.kept:
            creases = below(bend.diameters, survey.limits.value("bend.single"))
            yield fact_of(
                passage,
                "caution" if creases else "note",
                "still" if bend.moves is False else "moving",
                key="bend_radius",
                figures={
                    "diameters": Figure(bend.diameters, ""),
                    "bending": Figure(bend.strain, "share"),
                },
                parts={"conductor": part_of(bend.member)},
                limit=limited(advised),
            )


def _tires(survey: Survey, passage: PassageFigures, bend: EndBend, advised: float | None) -> Fact:
    """A bend that turning flexes, or may flex, and at which copper tires before its time."""
    return fact_of(
        passage,
        "caution",
        "perhaps flexed" if bend.moves is None else "flexed",
        key="bend_radius",
        figures={
            "radius": Figure(passage.passage.bend_radius or 0.0, "m"),
            **cycles_to_failure(*bend.cycles_to_failure),
            **cycles_wanted(passage),
            **strained(bend.strain, bend.breaks),
            "swing": Figure(bend.swing, "share"),
            "diameters": Figure(bend.diameters, ""),
            **({} if advised is None else {"advised": Figure(advised, "")}),
        },
        parts={"conductor": part_of(bend.tired), "widest": part_of(bend.member)},
        limit=cycles_limit(survey, passage),
    )


_EDGE = "An edge presses on a line no wider than itself. It cuts in while the wire is drawn through, and wears on whenever it moves."
_WALL = "The insulation on them is as thin as {wall:apart}: {wires}."
_THIN = "Below {limit:apart} there is little to wear."
_CREASED = "The insulation is stretched outside and creased inside, and gives way there first."
_SHARP = "{conductor} is bent to {diameters:apart} times its diameter at an end of {subject}. {limit:apart} times are advised where wires"
_FLEXED = f"The bend strains its copper{STRAINED}, and every turning carries that round the wire.[ {{widest}} is bent to {{diameters}} times its diameter. {{advised}} times are advised where wires move.]"

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.slack", "caution", "passage", "turning stretches the wires",
        "Wound round the others a wire has further to go.",
        "sqrt(L2 + (a turn)2) / (L + slack) - 1, a: its distance from the middle of the bundle", ("twist.stretch",),
        "helix geometry; proof stress of annealed copper", _slack,
        wording={
            "": Wording(
                f"{{subject}} turns {{turn}} each way and stretches {{conductor}}{STRAINED}.[ Its slack of {{given}} is too little.][ The usual slack of {{usual}} is too little.]",
                "Wound round the others it has further to go. Copper springs back up to a strain of {limit}. Beyond, every turn pulls at the joints.",
            )
        },
    ),
    Check(
        "passage.coiled", "caution", "passage", "so much spare length in a bore that it coils",
        "Wound along the wall of a narrow bore, wires kink.",
        "slack wound evenly along the wall: curvature a k2/(1 + (a k)2), a: (bore - wire)/2, path sqrt(1 + (a k)2) a metre; radius / outside diameter",
        ("bend.rest",), "helix geometry; NASA-STD-8739.4, 7.3.21", _coiled,
        wording={
            "": Wording(
                "{slack:apart} of slack lies in {subject}. In its bore of {bore} that bends {conductor} to {diameters:apart} times its diameter at the gentlest. {limit:apart} times are advised.",
                {
                    "moves": "Spare length winds along the wall of the bore. When that moves, the coils are pulled tight into kinks.",
                    "still": "Spare length winds along the wall of the bore, and presses on its insulation there.",
                },
                "Draw the spare length out to the places at its ends. Up to {most:apart} of slack lies well in it.",
            )
        },
    ),
    Check(
        "passage.grip", "caution", "passage", "a joint is close to what twists",
        "Where the solder ends, a moving wire breaks.", "to_joint against the larger of a length and so many diameters",
        ("twist.grip", "twist.grip.diameters"),
        "judgement; FAA AC 43.13-1B, 11-96: movement between supports, not at the solder", _grip,
        wording={
            "": Wording(
                f"The first joint of {{subject}} is {{away:apart}} from the last grip. It is out of harm from {{limit:apart}} on.{MOVES}",
                "Solder creeps up between the strands. Where it ends, a wire that moves breaks.",
            )
        },
    ),
    Check(
        "passage.edge", "stop", "passage", "a passage has sharp ends",
        "An edge cuts and wears.",
        "edges; with a turn, a fold or enamelled wire a caution, else a note; a stop where thin insulation moves on metal that carries another line",
        ("edge.wall",),
        "FAA AC 43.13-1B, 11-250: conduit ends smooth, flared or bushed", _edge,
        wording={
            "moves": Wording(f"The ends of {{subject}} are sharp.{MOVES}", _EDGE),
            "thin": Wording(f"The ends of {{subject}} are sharp.{MOVES} {_WALL}", f"{_EDGE} {_THIN}"),
            "shorts": Wording(
                f"The ends of {{subject}} are sharp, and its metal carries {{lines}}.{MOVES} {_WALL}",
                f"{_EDGE} {_THIN} Once it is through, the metal shorts what it covers.",
            ),
            "enamelled": Wording("The ends of {subject} are sharp. Enamelled wire goes over them: {wires}.", _EDGE),
            "insulated": Wording("The ends of {subject} are sharp. Insulation lies on them.", _EDGE),
        },
    ),
    Check(
        "passage.bend", "caution", "passage", "wires are bent sharply where they leave",
        "Sharp bends crease insulation, and tire copper that moves.",
        "radius / greatest outside diameter; strain r/(R + r) of a strand; where turning flexes the bend (bend_held) 2 sin(turn) times that, twice at most, and cycles to failure by five relations",
        ("bend.moving", "bend.rest", "bend.single", "twist.cycles"),
        "NASA-STD-8739.4, 7.3.21; IPC/WHMA-A-620; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory)", _bend,
        wording={
            "still": Wording(f"{_SHARP} lie still.", _CREASED),
            "moving": Wording(f"{_SHARP} move.", _CREASED),
            "flexed": Wording(
                f"{{conductor}} is bent to a radius of {{radius}} at an end of {{subject}}. It breaks{AFTER}.{CYCLES}", _FLEXED
            ),
            "perhaps flexed": Wording(
                f"{{conductor}} is bent to a radius of {{radius}} at an end of {{subject}}. If each turning flexes it, it breaks{AFTER}.{CYCLES}", _FLEXED
            ),
        },
    ),
)  # fmt: skip
