"""Where wires are held, bent and scraped: slack, the last grip, the ends of the bore."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.of_passages import finding_of, limited, lives, names_of, strained, title, turning
from postcheck.checks.record import Check
from postcheck.checks.shown import degrees, millimetres
from postcheck.limits import Limit, LimitName
from postcheck.physics import copper
from postcheck.report import Figure, Finding, Limited, NotJudged
from postcheck.survey import Survey
from postcheck.survey.post.figures import EndBend, Member, PassageFigures

__all__ = ["CHECKS"]


def _slack(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["twist.stretch"]
    for passage in turning(survey):
        stretched = [
            (strain.axial, member)
            for strain, member in zip(passage.strains, passage.members, strict=True)
            if strain.axial > limit.value
        ]
        if not stretched:
            continue
        most, member = max(stretched, key=lambda row: row[0])
        breaks = copper.minimum_elongation(member.wire.strand_diameter if member.wire is not None else 0.0)
        given = "its" if passage.passage.slack is not None else "the usual"
        yield finding_of(
            passage, "passage.slack", "caution",
            f"turned {degrees(passage.passage.turn)}, {title(passage)} stretches {member.called} {strained(most, breaks)}: {given} slack of {millimetres(passage.slack)} is too little.",
            f"Wound round the others it has further to go. Copper springs back from {limit.value * 100:.2g} %; beyond, every turn pulls at the joints.",
            key="slack",
            figures={"stretch": Figure(most, ""), "slack": Figure(passage.slack_needed, "m")},
            limit=limited(survey, "twist.stretch"),
        )  # fmt: skip


def _grip(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in turning(survey):
        if not passage.members:
            continue
        away = passage.passage.to_joint
        if away is None:
            yield NotJudged(
                passage.name, "whether the solder of the first joint lies clear of what twists",
                'how far the joint is from the last grip, such as to_joint = "15 mm"',
            )  # fmt: skip
        elif away < passage.grip * (1.0 - 1e-9):
            ruled: LimitName = (
                "twist.grip.diameters" if passage.grip > survey.limits.value("twist.grip") else "twist.grip"
            )
            yield finding_of(
                passage, "passage.grip", "caution",
                f"the first joint is {millimetres(away)} from the last grip of {title(passage)}, which turns; {millimetres(passage.grip)} keep it out of harm.",
                "Solder creeps up between the strands. Where it ends, a wire that moves breaks.",
                key="to_joint", figures={"away": Figure(away, "m")},
                limit=Limited(passage.grip, "m", survey.limits[ruled].source),
            )  # fmt: skip


def _edge(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        if passage.passage.edges != "sharp" or not passage.members:
            continue
        fine = [member for member in passage.members if member.wire is not None and member.wire.enamelled]
        turns = passage.passage.turn > 0.0
        who = (
            f"it turns {degrees(passage.passage.turn)} each way"
            if turns
            else f"enamelled wire goes over them: {names_of(fine)}"
            if fine
            else "insulation lies on them"
        )
        yield finding_of(
            passage, "passage.edge", "caution" if turns or fine else "note",
            f"the ends of {title(passage)} are sharp, and {who}.",
            "An edge presses on a line no wider than itself: it cuts in while the wire is drawn through, and wears on whenever it moves.",
            key="edges",
        )  # fmt: skip


def _bend(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        bend = passage.end_bend
        if bend is None:
            continue
        moves = bend.moves is not False
        advised = survey.limits["bend.moving" if moves else "bend.rest"]
        sharp = bend.diameters < advised.value * (1.0 - 1e-9)
        tired = moves and bend.life[0] < passage.cycles
        if tired and not sharp and bend.moves is None:
            yield NotJudged(
                passage.name,
                f"whether the bend at its ends tires {bend.tired.called}, which lives {lives(*bend.life)} of {passage.cycles:,.0f} turnings if each flexes it",
                "whether the wires are gripped between the bore and that bend: bend_held = true or false",
            )
        elif tired:
            yield _tires(survey, passage, bend, sharp=sharp)
        elif bend.diameters < min(advised.value, survey.limits.value("bend.rest")) * (1.0 - 1e-9):
            creases = bend.diameters < survey.limits.value("bend.single")
            yield finding_of(
                passage, "passage.bend", "caution" if creases else "note",
                f"at an end of {title(passage)} {_sharp(bend, advised, moves=moves)}",
                "The insulation is stretched outside and creased inside, and gives way there first.",
                key="bend_radius",
                figures={"diameters": Figure(bend.diameters, ""), "strain": Figure(bend.strain, "")},
                limit=limited(survey, advised.name),
            )  # fmt: skip


def _tires(survey: Survey, passage: PassageFigures, bend: EndBend, *, sharp: bool) -> Finding:
    """A bend that turning flexes, or may flex, and at which copper tires before its time."""
    radius = millimetres(passage.passage.bend_radius or 0.0)
    tired = bend.tired.called
    advised = survey.limits["bend.moving"]
    return finding_of(
        passage, "passage.bend", "caution",
        f"at an end of {title(passage)} {tired} is bent to a radius of {radius} and lives {lives(*bend.life)} of {passage.cycles:,.0f} turnings{' if each flexes it' if bend.moves is None else ''}.",
        f"The bend strains its copper {strained(bend.strain, bend.breaks)}, and every turning carries that round the wire."
        + (f" And {_sharp(bend, advised, moves=True, known=bend.tired)}" if sharp else ""),
        key="bend_radius",
        figures={
            "diameters": Figure(bend.diameters, ""), "strain": Figure(bend.strain, ""), "swing": Figure(bend.swing, ""),
            "least": Figure(bend.life[0], ""), "most": Figure(bend.life[1], ""),
        },
        limit=Limited(passage.cycles, "", "cycles in the build file" if passage.passage.cycles else survey.limits["twist.cycles"].source),
    )  # fmt: skip


def _sharp(bend: EndBend, advised: Limit, *, moves: bool, known: Member | None = None) -> str:
    """How sharply the widest is bent; `known`: the wire that was named last."""
    who = "it" if bend.member == known else bend.member.called
    return f"{who} is bent to {bend.diameters:.2g} times its diameter; {advised.value:g} are advised where wires {'move' if moves else 'lie still'}."


CHECKS: tuple[Check, ...] = (
    Check(
        "passage.slack", "caution", "passage", "turning stretches the wires",
        "Wound round the others a wire has further to go.",
        "sqrt(L2 + (a turn)2) / (L + slack) - 1, a: its distance from the middle of the bundle", ("twist.stretch",),
        "helix geometry; proof stress of annealed copper", _slack,
    ),
    Check(
        "passage.grip", "caution", "passage", "a joint is close to what twists",
        "Where the solder ends, a moving wire breaks.", "to_joint against the larger of a length and so many diameters",
        ("twist.grip", "twist.grip.diameters"),
        "judgement; FAA AC 43.13-1B, 11-96: movement between supports, not at the solder", _grip,
    ),
    Check(
        "passage.edge", "caution", "passage", "a passage has sharp ends",
        "An edge cuts and wears.", "edges; with a turn or enamelled wire a caution, else a note", (),
        "FAA AC 43.13-1B, 11-250: conduit ends smooth, flared or bushed", _edge,
    ),
    Check(
        "passage.bend", "caution", "passage", "wires are bent sharply where they leave",
        "Sharp bends crease insulation, and tire copper that moves.",
        "radius / greatest outside diameter; strain r/(R + r) of a strand; where turning flexes the bend (bend_held) 2 sin(turn) times that, twice at most, and life by five relations",
        ("bend.moving", "bend.rest", "bend.single", "twist.cycles"),
        "NASA-STD-8739.4, 7.3.21; IPC/WHMA-A-620; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory)", _bend,
    ),
)  # fmt: skip
