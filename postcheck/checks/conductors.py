"""Conductors and the passages they go through: in one piece, and long enough."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from postcheck.checks.fact import Fact, Within
from postcheck.checks.of_passages import fact_of, part_of
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import Figure, Limited, Subject
from postcheck.survey import Survey
from postcheck.survey.post.passages import ConductorPath, paths_through


def _joint_inside(survey: Survey) -> Iterator[Fact]:
    for passage in survey.passages.values():
        if passage.passage.joints_inside:
            turns = passage.passage.turn > 0.0
            yield fact_of(passage, "caution", key="joints_inside", reason="turns" if turns else "still")


def _run_short(survey: Survey) -> Iterator[Fact | Within]:
    seen: set[Subject] = set()
    for path in paths_through(survey.passages):
        member = path.member
        least = Limited(path.length, "m", "the lengths of the passages it goes through")
        yield Within(part_of(member), path.long, least, least=True)
        if not path.short or part_of(member) in seen:
            continue
        seen.add(part_of(member))
        of_lamp = any(member.path[:2] == lamp.path[:2] for lamp in survey.parts.lamps)
        kind = "lamp" if member.kind == "lead" and of_lamp else member.kind
        same = path.long >= path.length * (1.0 - 1e-9)
        yield Fact(
            "stop",
            Subject(kind, member.name),
            member.path,
            "as long" if same else "shorter",
            figures={"length": Figure(_down(path.long), "m"), "way": Figure(_up(path.length), "m")},
            parts={"conductor": part_of(member)},
            limit=least,
        )


def _lengths(survey: Survey) -> Iterator[Fact | Within]:
    long_enough = [path for path in paths_through(survey.passages) if not path.short]
    for passage in survey.passages.values():
        given = passage.passage
        through = [path for path in long_enough if passage.name in path.through]
        for path in through:
            yield Within(part_of(path.member), sum(path.taken(given).values()), _own_length(path))
        paths = [path for path in through if path.lacks(given)]
        if not paths:
            continue
        path = min(paths, key=lambda each: each.long)
        taken = path.taken(given)
        most = max((key for key in taken if key != "length"), key=lambda key: taken[key])
        left = _down(taken[most] - sum(taken.values()) + path.long)
        # each to a tenth up, so that they add up and what is asked for is enough
        shown = {f"{key}_taken": Figure(_up(length), "m") for key, length in taken.items() if length}
        others = len({part_of(each.member) for each in paths}) - 1
        yield fact_of(
            passage,
            "stop",
            key=most,
            reason="turns" if given.turn > 0.0 else "still",
            figures={
                "length": Figure(_down(path.long), "m"),
                "taken": Figure(sum(figure.value for figure in shown.values()), "m"),
                **shown,
                **({f"{most}_left": Figure(left, "m")} if left > 0.0 else {}),
                **({"others": Figure(float(others), "")} if others else {}),
            },
            parts={"conductor": part_of(path.member)},
            limit=_own_length(path),
        )


def _own_length(path: ConductorPath) -> Limited:
    return Limited(path.long, "m", "the length of the conductor, in the build file")


def _up(length: float) -> float:
    """A length (m), to a tenth of a millimetre up; what is left of rounding is nothing."""
    return ceil(length * 1e4 - 1e-6) / 1e4


def _down(length: float) -> float:
    return floor(length * 1e4 + 1e-6) / 1e4


_OUT = "It does not come out at the other end."
_LONGER = "Take a conductor of more than {way:tenths}, and add what both ends need."

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.joint-inside", "caution", "passage", "a joint lies inside a passage",
        "It cannot be seen or re-made there.", "joints_inside", (),
        "NFPA 70 300.13(A): no splices inside raceways", _joint_inside,
        wording={
            "": Wording(
                "A joint lies inside {subject}.",
                {
                    "still": "It cannot be seen or re-made there. It is the thickest and stiffest spot of the bundle.",
                    "turns": "It cannot be seen or re-made there. It is the thickest and stiffest spot of the bundle. {subject} turns, and the wire breaks where the solder ends.",
                },
                "Let the conductors go through in one piece, with their joints at the ends.",
            )
        },
    ),
    Check(
        "passage.run-short", "stop", "run", "a conductor is shorter than its way through",
        "It does not come out at the other end.", "length against the lengths of the passages it goes through", (),
        "the build file", _run_short,
        wording={
            "as long": Wording("{conductor} is {length:tenths} long, just as long as the way through.", _OUT, _LONGER),
            "shorter": Wording("{conductor} is {length:tenths} long. The way through alone is {way:tenths}.", _OUT, _LONGER),
        },
    ),
    Check(
        "passage.lengths", "stop", "passage", "the lengths given for a passage are more than a conductor has",
        "One of them is wrong, and what is worked out with it.",
        "the larger of free (or length) + to_joint and the way through, + slack, against the length of each conductor", (),
        "the build file", _lengths,
        wording={
            "": Wording(
                "{conductor} is {length:tenths} long. The lengths given for {subject} take {taken:tenths} of it:"
                "[ {length_taken:tenths} of way through][ {free_taken:tenths} between the grips]"
                "[, {to_joint_taken:tenths} from the last grip to the first joint][, {slack_taken:tenths} of slack]."
                "[ {others:more conductor is|more conductors are} too short for that.]",
                {
                    "still": "One of these lengths is wrong.",
                    "turns": "One of these lengths is wrong, and what turning does to the wires was worked out with it.",
                },
                "Measure again. Conductors of {taken:tenths} or more would do."
                "[ So would at most {free_left:tenths} between the grips.]"
                "[ So would at most {to_joint_left:tenths} from the last grip to the first joint.]"
                "[ So would at most {slack_left:tenths} of slack.]",
            )
        },
    ),
)  # fmt: skip
