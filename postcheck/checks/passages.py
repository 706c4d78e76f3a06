"""Passages: whether everything goes through, and has room."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from postcheck.checks.fact import Fact, Within, limited, of_rating
from postcheck.checks.of_passages import fact_of, part_of
from postcheck.checks.record import Check
from postcheck.checks.shown import listed, rounded_up
from postcheck.checks.wording import Wording, open_question
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.physics import bundle
from postcheck.physics.fill import jams
from postcheck.plain import quoted
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.bores import is_easy, is_pushed, most_fill, room_wanted
from postcheck.survey.post.figures import PassageFigures
from postcheck.wiring.through import in_a_row, undecided


def _sizes(passage: PassageFigures) -> dict[str, Figure]:
    return {
        "bore": Figure(passage.passage.bore, "m"),
        "bundle": Figure(passage.smallest_bore, "m"),
        "conductors": Figure(float(len(passage.members)), ""),
    }


def _beside_flat_cables(survey: Survey) -> Iterator[NotJudged]:
    """A flat cable bends one way only, and what is drawn past it has no round place: both are left open."""
    for passage in survey.passages.values():
        flat = next((member for member in passage.members if member.flat is not None), None)
        if flat is None or flat.flat is None:
            continue
        said = passage.passage
        folded = format_quantity(_folded(flat.flat), Dimension.LENGTH)
        rolled = f'its size rolled or folded, such as outside = "{folded}", instead of flat'
        if said.turn or said.fold or said.bends or said.bend_radius is not None:
            what = f"how {flat.called} bends in {quoted(passage.name)}: across its width it is stiff, and nobody knows which way it lies"
            yield NotJudged(flat.name, what, rolled)
        bulges = any(member.joint is not None for member in passage.members)
        if bulges or any(passage.name in plug.through for plug in survey.build.plug):
            what = f"whether plugs and joints pass {flat.called} in {quoted(passage.name)}"
            yield NotJudged(flat.name, what, rolled)


def _folded(flat: tuple[float, float]) -> float:
    """How large a flat cable is across its corners (m), folded to and fro as often as makes that least."""
    across, thin = flat
    return rounded_up(min(hypot(across / layers, thin * layers) for layers in range(1, 40)))


def _flat_alone(passage: PassageFigures) -> dict[str, Figure]:
    """The figures of a flat cable that is alone in its passage; empty where something else is in it."""
    (first, *others) = passage.members
    if first.flat is None or others:
        return {}
    folded = _folded(first.flat)
    goes = {} if above(folded, passage.passage.bore) else {"folded": Figure(folded, "m")}
    return {"wide": Figure(first.flat[0], "m"), **goes}


def _cannot_fit(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for passage in survey.passages.values():
        bore = Limited(passage.passage.bore, "m", "certified arrangement in the bore")
        if passage.members and not passage.unknown:
            yield Within(Subject("passage", passage.name), passage.smallest_bore, bore)
        if passage.verdict == bundle.CANNOT:
            alone, flat = len(passage.members) == 1, _flat_alone(passage)
            yield fact_of(
                passage,
                "stop",
                "flat" if flat else "one" if alone else "several",
                key="bore",
                figures={**_sizes(passage), **flat},
                parts={"conductor": part_of(passage.members[0])} if alone else {},
                limit=bore,
            )
        elif passage.unknown:
            yield NotJudged(
                passage.name,
                "whether everything goes through",
                f'the wire of {listed(passage.unknown)}, such as lead = "enamel-0.10" and run = "ptfe-28" in [usual]',
                vital=passage.name == "post",
            )
    yield from _beside_flat_cables(survey)
    for name, lines in _unlaid(survey).items():
        yield open_question(
            name,
            "whether all goes through, and how full it gets, with what is still to be laid",
            "a [[run]] through it of {lines:9}",
            vital=True,
            plannable=True,
            parts={"lines": tuple(Subject("line", line) for line in lines)},
        )
    for open_ in undecided(survey.build):
        yield NotJudged(
            open_.passages[0],
            "whether everything goes through",
            f"which passage between {quoted(open_.ends[0])} and {quoted(open_.ends[1])} ({listed(open_.passages)}) "
            f'is the way of {listed(open_.conductors)}, such as through = ["{open_.conductors[0].removeprefix("lead of ")}"] in the table of its passage',
            vital=True,
        )
    for open_ in in_a_row(survey.build):
        first = open_.conductors[0].removeprefix("lead of ")
        yield NotJudged(
            open_.passages[0],
            "whether everything goes through",
            f"whether {listed(open_.conductors)} {'goes' if len(open_.conductors) == 1 else 'go'} through {listed(open_.passages)} between {quoted(open_.ends[0])} and {quoted(open_.ends[1])}, "
            f'such as through = ["{first}"] in the table of each; through = [] in a run that lies outside',
            vital=any(not one.startswith("lead of ") for one in open_.conductors),
        )


def _unlaid(survey: Survey) -> dict[str, list[str]]:
    """The lines of which a conductor is still to be laid through each passage."""
    found: dict[str, list[str]] = {}
    for one in survey.wiring.unbuilt:
        for name in one.through:
            found.setdefault(name, []).append(one.line)
    return found


def _full(survey: Survey) -> Iterator[Fact | Within]:
    for passage in survey.passages.values():
        count = passage.counted
        if not count or passage.verdict == bundle.CANNOT or is_pushed(passage.passage, count, survey.limits):
            continue
        limit = limited(most_fill(count, survey.limits))
        yield (within := Within(Subject("passage", passage.name), passage.fill, limit))
        if within.kept:
            continue
        easy = is_easy(passage.passage, survey.limits)
        yield fact_of(
            passage,
            "note" if easy else "caution",
            key="bore",
            reason="roll" if any(member.bare for member in passage.members) else "easy" if easy else "pulled",
            figures={"fill": Figure(passage.fill, "share"), "conductors": Figure(float(count), "")},
            limit=limit,
            because_of=f"passage.tight:{passage.name}",
        )


def _tight(survey: Survey) -> Iterator[Fact | Within]:
    for passage in survey.passages.values():
        count, room = len(passage.members), room_wanted(len(passage.members), survey.limits)
        missing = passage.verdict == bundle.NOT_FOUND
        if passage.verdict == bundle.CANNOT or not count:
            continue
        needed = of_rating(room, passage.smallest_bore, "m")
        yield (within := Within(Subject("passage", passage.name), passage.passage.bore, needed, least=True))
        if within.kept and not missing:
            continue
        flat = _flat_alone(passage)
        yield fact_of(
            passage,
            # where the search found no arrangement, at best it would go in with no clearance at all
            "stop" if missing else "caution",
            "flat" if flat and missing else "one" if count == 1 else "not found" if missing else "several",
            key="bore",
            figures={**_sizes(passage), **flat},
            parts={"conductor": part_of(passage.members[0])} if count == 1 else {},
            words={"harder": "--effort long"} if missing and survey.effort == "quick" else {},
            limit=needed,
        )


def _jam(survey: Survey) -> Iterator[Fact | Within]:
    low, high = survey.limits["passage.jam.low"], survey.limits["passage.jam.high"]
    for passage in survey.passages.values():
        ratio = passage.jam_ratio
        if ratio is None:
            continue
        # clear of the band, below it or above
        low_side = ratio < low.value
        nearest = limited(low if low_side else high)
        yield Within(Subject("passage", passage.name), ratio, nearest, least=not low_side)
        if not jams(ratio, 3, low.value, high.value):
            continue
        yield fact_of(
            passage,
            "note",
            key="bore",
            figures={"ratio": Figure(ratio, ""), "low": Figure(low.value, "")},
            limit=limited(high),
            because_of=f"passage.tight:{passage.name}",
        )


_ROLLED = "[ Rolled, or folded to and fro ({folded} across its corners at best), it may go: then write what it measures so, outside = ... instead of flat.]"
_PACKING = "certified arrangement of circles of the greatest outside diameters in the bore"
_ROOM = "Wires never lie as neatly as in a drawing. Without room they jam half way or scrape."

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.cannot-fit", "stop", "passage", "conductors do not go through",
        "The smallest circle that encloses them is wider than the bore.", _PACKING, (),
        "proven bounds of circle packing (area, two and three largest, equal circles)", _cannot_fit,
        wording={
            "one": Wording(
                "{conductor} does not go through {subject}. It is {bundle:apart} across, and the bore is {bore:apart}.",
                "This is geometry, not a rule of thumb: it does not go in.",
            ),
            "flat": Wording(
                "{conductor} does not go through {subject} as it lies flat. It is {wide:apart} wide, and the bore is {bore:apart}.",
                f"That is geometry, not a rule of thumb.{_ROLLED}",
            ),
            "several": Wording(
                "{conductors:conductor} cannot go through {subject}. No arrangement of them fits its bore of {bore:apart}. The smallest bundle found is {bundle:apart} across.",
                "This is geometry, not a rule of thumb: they do not go in, however they are laid.",
            ),
        },
    ),
    Check(
        "passage.tight", "stop", "passage", "a bundle has too little room, or none that could be found",
        "Without room wires jam half way.", "bore / smallest enclosing circle found, or the one conductor; below one a stop",
        ("passage.room", "passage.room.one"), "FAA AC 43.13-1B, 11-249; for one conductor, judgement", _tight,
        wording={
            "one": Wording(
                "{conductor} goes through {subject} with almost no clearance. It is {bundle:apart} across, and the bore is {bore:apart}.",
                "No tube and no insulation is true to the last hundredth, and soft insulation grips a bore that it nearly fills.",
            ),
            "flat": Wording(
                "Nobody can say that {conductor} goes through {subject}. It is {wide:apart} wide and {bundle:apart} from corner to corner. The bore is {bore:apart}.",
                f"It goes in only if its edges are well rounded, and then with no clearance.{_ROLLED}",
            ),
            "not found": Wording(
                "No arrangement of {conductors:conductor} was found that goes through {subject}. The smallest bundle found is {bundle:apart} across, and the bore is {bore:apart}.[ With {harder} the search is much longer.]",
                "What hardly fits in a drawing does not go in at the bench: nothing is drawn through a bore without room.",
            ),
            "several": Wording(
                "The smallest bundle found for {subject} is {bundle:apart} across. The bore is {bore:apart}.", _ROOM
            ),
        },
    ),
    Check(
        "passage.full", "caution", "passage", "a bore is fuller than handbooks advise",
        "Long or bent passages need room to pull through; in a short straight one it is only a note.",
        "sum(d2) / D2, of a roll with no room for a sheath over its conductors", ("passage.fill.one", "passage.fill.two", "passage.fill.more", "passage.short"),
        "NFPA 70 chapter 9 table 1", _full,
        wording={
            "": Wording(
                "{conductors:conductor fills|conductors fill} {fill:apart} of {subject}. The handbook limit for that many is {limit:apart}.",
                {
                    "roll": "Wires that are rolled up without a sheath count one by one: the roll opens as it is pushed, and drags along the bore.",
                    "easy": "They go through this short straight bore, but not easily past each other.",
                    "pulled": "Past bends or over a length the pull grows until something tears.",
                },
            )
        },
    ),
    Check(
        "passage.jam", "note", "passage", "three conductors may jam",
        "Three in a row can wedge across the bore.", "bore / wire for three wires as good as equal",
        ("passage.jam.low", "passage.jam.high"), "NFPA 70 chapter 9 table 1, informational note 2", _jam,
        wording={
            "": Wording(
                "Three conductors in {subject} may wedge side by side. The bore is {ratio} times as wide as one of them.",
                "Between {low} and {limit} times they can slip into a row across the bore and jam while they are pulled.",
                "Twist them gently together, or tape them into a triangle, before they are pulled.",
            )
        },
    ),
)  # fmt: skip
