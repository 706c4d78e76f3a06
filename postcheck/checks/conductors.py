"""Conductors and the passages they go through: in one piece, and long enough."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, inf

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.of_passages import MOVES, fact_of, movement, part_of, way_it_moves
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import below
from postcheck.physics import copper
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.passages import ConductorPath, opened_by, paths_through
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import RunPart


def _joint_inside(survey: Survey) -> Iterator[Fact]:
    for passage in survey.passages.values():
        if passage.passage.joints_inside:
            reason = "moves" if way_it_moves(passage) else "still"
            yield fact_of(passage, "caution", key="joints_inside", figures=movement(passage), reason=reason)


def _run_short(survey: Survey) -> Iterator[Fact | Within]:
    seen: set[Subject] = set()
    for path in paths_through(survey.passages):
        member = path.member
        least = Limited(path.length, "m", "the lengths of the passages it goes through")
        yield Within(part_of(member), path.long, least, least=True)
        if not path.short or part_of(member) in seen:
            continue
        seen.add(part_of(member))
        of_lamp = any(member.path[:2] == part.path[:2] for part in survey.parts.every if part.kind == "lamp")
        kind = "lamp" if member.kind == "lead" and of_lamp else member.kind
        same = not below(path.long, path.length)
        yield Fact(
            "stop",
            Subject(kind, member.name),
            member.path,
            "as long" if same else "shorter",
            figures={
                "length": Figure(_down(path.long), "m"),
                "way": Figure(_up(path.length), "m"),
                "enough": Figure(_up(_enough(survey, path)), "m"),
            },
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
        left = taken[most] - sum(taken.values()) + path.long
        if most == "slack":
            left = min(left, path.long - path.length - 2.0 * survey.limits.value("run.anew"))
        left = _down(left)
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
                "short": Figure(sum(figure.value for figure in shown.values()) - _down(path.long), "m"),
                "enough": Figure(_up(max(_enough(survey, each) for each in paths)), "m"),
                **shown,
                **({f"{most}_left": Figure(left, "m")} if left > 0.0 else {}),
                **({"others": Figure(float(others), "")} if others else {}),
            },
            parts={"conductor": part_of(path.member)},
            limit=_own_length(path),
        )


def _enough(survey: Survey, path: ConductorPath) -> float:
    """The length (m) that goes through with its slack, out to the joints, and leaves enough at both ends."""
    passages = [survey.passages[name].passage for name in path.through]
    slack = sum(passage.slack or 0.0 for passage in passages)
    opened = sum(opened_by(survey.build, path.member).values())
    with_ends = path.length + slack + opened + 2.0 * survey.limits.value("run.anew")
    return max(with_ends, *(sum(path.taken(passage).values()) for passage in passages))


def _own_length(path: ConductorPath) -> Limited:
    return Limited(path.long, "m", "the length of the conductor, in the build file")


def _run_spare(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    least = survey.limits["run.anew"]
    yield from _no_length(survey)
    seen: set[Subject] = set()
    for path in paths_through(survey.passages):
        member = path.member
        slack = sum(survey.passages[name].passage.slack or 0.0 for name in path.through)
        left = (path.long - path.length - slack) / 2.0
        # lengths that are short or contradictory are reported already
        if member.kind == "lead" or path.short or part_of(member) in seen:
            continue
        if any(path.lacks(survey.passages[name].passage) for name in path.through):
            continue
        subject, opened = part_of(member), opened_by(survey.build, member)
        steps = {"": Within(subject, left, limited(least), least=True)}
        if steps[""].kept and opened:
            beyond = Limited(2.0 * (left - least.value), "m", least.source, least.name)
            steps["cover"] = Within(subject, sum(opened.values()), beyond)
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        seen.add(subject)
        by_case = {
            "": {"left": Figure(_down(left), "m")},
            "cover": {
                "over": Figure(_down(2.0 * left), "m"),
                "opening": Figure(_up(sum(opened.values())), "m"),
            },
        }
        yield Fact(
            "caution",
            Subject(member.kind, member.name),
            member.path,
            broken,
            figures={
                "length": Figure(_down(path.long), "m"),
                "way": Figure(_up(path.length + slack), "m"),
                **by_case[broken],
                "enough": Figure(_up(_enough(survey, path)), "m"),
            },
            parts={"covers": tuple(Subject("place", name) for name in opened)} if broken else {},
            limit=limited(least),
        )


def _no_length(survey: Survey) -> Iterator[NotJudged]:
    """Conductors in passages without a length in the file; where volts depend on it too, it is asked already."""
    for run in survey.parts.runs:
        asked = run.live and run.measured is None
        if run.said.length is None and run.through and not run.body and not asked:
            yield open_question(
                run.name,
                "whether it comes out of {passage} long enough to be ended anew",
                'its length, such as length = "300 mm"',
                parts={"passage": Subject("passage", run.through[0])},
            )


def _weak(survey: Survey) -> Iterator[Fact | Within]:
    least = survey.limits["wire.hand"]
    reported: set[frozenset[str]] = set()
    for run, breaks in sorted(_loads(survey), key=lambda row: row[1]):
        pair = frozenset(run.ends)
        yield (within := Within(Subject("run", run.name), breaks, limited(least), least=True))
        if within.kept or pair in reported:
            continue
        reported.add(pair)
        yield Fact(
            "note",
            Subject("run", run.name),
            (*run.path, "wire") if run.said.wire else run.path,
            figures={"breaks": Figure(breaks, "N")},
            parts={"ends": tuple(Subject("place", place) for place in dict.fromkeys(run.ends))},
            words={"wire": run.wire.name if run.wire is not None else ""},
            limit=limited(least),
        )


def _loads(survey: Survey) -> Iterator[tuple[RunPart, float]]:
    """Of every run that a hand may get at by itself where all of its line between two places breaks, N."""
    together: dict[tuple[Node, ...], float] = {}
    single: list[tuple[RunPart, tuple[Node, ...]]] = []
    for run in survey.parts.runs:
        if not run.live:
            continue
        way = tuple(sorted(survey.wiring.node(run.line, place) for place in run.ends))
        held = run.body or run.cable is not None or run.wire is None
        load = inf if run.wire is None or held else copper.breaking_load(run.wire.conductor_area)
        together[way] = together.get(way, 0.0) + run.conductors * load
        if not held and all(
            len(survey.passages[name].members) == 1 and ("passage", name) not in survey.wiring.lacking
            for name in run.through
        ):
            single.append((run, way))
    yield from ((run, together[way]) for run, way in single)


def _up(length: float) -> float:
    """A length (m), to a tenth of a millimetre up; what is left of rounding is nothing."""
    return ceil(length * 1e4 - 1e-6) / 1e4


def _down(length: float) -> float:
    return floor(length * 1e4 + 1e-6) / 1e4


_OUT = "It does not come out at the other end."
_LONGER = "Take a conductor of {enough:tenths} or more: that leaves enough at both ends."

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
                    "moves": f"It cannot be seen or re-made there. It is the thickest and stiffest spot of the bundle.{MOVES} The wire breaks where the solder ends.",
                },
                "Let the conductors go through in one piece, with their joints at the ends.",
            )
        },
    ),
    Check(
        "passage.run-short", "stop", "run", "a conductor is shorter than its way through",
        "It does not come out at the other end.", "length against the lengths of the passages it goes through", ("run.anew",),
        "the build file", _run_short,
        wording={
            "as long": Wording("{conductor} is {length:tenths} long, just as long as the way through.", _OUT, _LONGER),
            "shorter": Wording("{conductor} is {length:tenths} long. The way through alone is {way:tenths}.", _OUT, _LONGER),
        },
    ),
    Check(
        "passage.lengths", "stop", "passage", "the lengths given for a passage are more than a conductor has",
        "One of them is wrong, and what is worked out with it.",
        "the larger of free (or length) + to_joint and the way through, + slack, against the length of each conductor", ("run.anew",),
        "the build file", _lengths,
        wording={
            "": Wording(
                "{conductor} is {length:tenths} long, which is {short:tenths} too short. The lengths given for {subject} take {taken:tenths} of it:"
                "[ {length_taken:tenths} of way through][ {free_taken:tenths} between the grips]"
                "[, {to_joint_taken:tenths} from the last grip to the first joint][, {slack_taken:tenths} of slack]."
                "[ {others:more conductor is|more conductors are} too short for that.]",
                {
                    "still": "It does not reach; or one of these lengths is wrong.",
                    "turns": "It does not reach; or one of these lengths is wrong, and what turning does to the wires was worked out with it.",
                },
                "Take conductors of {enough:tenths} or more. Or measure again."
                "[ At most {free_left:tenths} between the grips would do as well.]"
                "[ At most {to_joint_left:tenths} from the last grip to the first joint would do as well.]"
                "[ At most {slack_left:tenths} of slack would do as well.]",
            )
        },
    ),
    Check(
        "run.no-spare", "caution", "run", "a conductor comes out too short to be ended anew",
        "A joint that fails cannot be made again.",
        "(length - its passages and their slack) / 2; less how far the covers at its ends come out (opening)", ("run.anew",),
        "FAA AC 43.13-1B, 11-118: slack at each end for two re-terminations", _run_spare,
        wording={
            "": Wording(
                "{subject} is {length:tenths} long, and its way through takes {way:tenths}. That leaves {left:tenths} at each end.",
                "A joint that fails is cut off and made again, twice if need be. With the joint itself that takes {limit:tenths} at each end.",
                "Take {enough:tenths} or more.",
            ),
            "cover": Wording(
                "{subject} is {length:tenths} long, and its way through takes {way:tenths}. Of the {over:tenths} beyond it, opening {covers} takes {opening:tenths}, and {limit:tenths} at each end are for joints made anew.",
                "A joint comes out of its cover as far as its conductors reach. The first repair pulls at them.",
                "Take {enough:tenths} or more.",
            ),
        },
    ),
    Check(
        "run.weak", "note", "run", "a conductor so fine that a hand tears it",
        "One tug while something else is done, and the line is open.",
        "section x 220 N/mm2 of a run with no other of its line beside it, and alone in its passage", ("wire.hand",),
        "tensile strength of annealed copper: Smithells, table 22.7", _weak,
        wording={
            "": Wording(
                "{subject} is a lone {wire} between {ends}. It breaks at {breaks:apart}; a hand pulls {limit:apart} without noticing.",
                "One tug while something else is done, and the line is open.",
                "Use stranded wire there, lay a second conductor beside it, or hold it down all along.",
            )
        },
    ),
)  # fmt: skip
