"""Getting it through: plugs and joints past what already lies in the bore, the order, the pull."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.of_passages import fact_of, part_of
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above
from postcheck.physics import bundle
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import PassageFigures, Threaded, Threading

# Beyond this many times a wire's breaking load, the pull is no meaningful figure.
_FAR = 2.0


def _plug(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for index, plug in enumerate(survey.build.plug):
        for name in plug.through:
            through, bore = Subject("passage", name), survey.passages[name].passage.bore
            if plug.diameter is None:
                yield open_question(
                    plug.name,
                    "whether it goes through {passage}",
                    'what has to pass, such as diameter = "6 mm"',
                    parts={"passage": through},
                )
                continue
            most = Limited(bore, "m", "the bore, in the build file")
            yield (within := Within(Subject("plug", plug.name), plug.diameter, most))
            if not within.kept:
                yield Fact(
                    "stop",
                    within.subject,
                    ("plug", index, "diameter"),
                    figures={"diameter": Figure(plug.diameter, "m")},
                    parts={"passage": through},
                    limit=most,
                )
                break


def _sized(thing: Threaded, bore: float) -> dict[str, Any]:
    """What is threaded, with its thickest spot: figures and parts of a fact, shown by `_thing`."""
    thick = thing.thick
    figures = {"bore": Figure(bore, "m"), "across": Figure(thick.round, "m")}
    if not thick.thin:
        figures["round"] = Figure(thick.round, "m")
    else:
        figures |= {"wide": Figure(thick.across, "m"), "thin": Figure(thick.thin, "m")}
        if thick.across <= bore < thick.round:
            figures["corners"] = Figure(thick.round, "m")
    # at the end of a lead sits a lamp, or a joint
    role, kind = {"plug": ("thing", "plug"), "lead": ("lead", "lead")}.get(thing.kind, ("thing", "joint"))
    return {"figures": figures, "parts": {role: Subject(kind, thing.name)}}


def _thing(more: str = "") -> str:
    return f"[What sits on {{lead}}][{{thing}}] ([{{round:apart}} across][{{wide}} by {{thin}}]{more})"


_CORNERS = "[, {corners:apart} from corner to corner]"


def _half(survey: Survey, threading: Threading) -> bool:
    """Whether a plug is still to get one of its wires, and so may yet lie at the end of another bundle."""
    return any((thing.kind, thing.name) in survey.wiring.lacking for thing in threading.things)


def _widest(survey: Survey) -> Iterator[Fact]:
    for passage in survey.passages.values():
        threading = passage.threading
        thing = None if threading is None else threading.tight or threading.stuck
        if threading is None or thing is None or passage.verdict != bundle.FITS or _half(survey, threading):
            continue
        tight, surely = threading.tight is not None, threading.verdict == bundle.CANNOT
        room, bore = survey.limits["passage.room.past"], passage.passage.bore
        data = _sized(thing, bore)
        if thing.room is not None and thing.room > 0.0:
            data["figures"]["room"] = Figure(thing.room, "m")
        alone = above(thing.thick.round, bore / room.value if tight else bore)
        if not alone:
            role, beside = _beside(passage, threading, thing)
            data["parts" if isinstance(beside, tuple) else "figures"][role] = beside
        yield fact_of(
            passage,
            "stop" if surely else "caution",
            "tight" if tight else "stuck" if surely else "not found",
            reason="alone" if alone else "past",
            key="staggered" if passage.passage.staggered is not None else "bore",
            limit=limited(room) if tight else Limited(bore, "m", "certified arrangement in the bore"),
            **data,
        )


def _beside(
    passage: PassageFigures, threading: Threading, thing: Threaded
) -> tuple[str, Figure | tuple[Subject, ...]]:
    """What something has to pass: the joints that are drawn through with it, or how many other conductors."""
    joints = tuple(
        Subject("joint", one.name)
        for one in threading.things
        if one.kind != "plug" and (one.kind, one.path) != (thing.kind, thing.path)
    )
    if threading.way == "abreast" and thing.kind != "plug" and joints:
        return "abreast", joints
    others = Figure(float(len(passage.members) - len(thing.wires)), "")
    return "ordered" if threading.way == "one by one" else "others", others


def _order(survey: Survey) -> Iterator[Fact]:
    for passage in survey.passages.values():
        threading = passage.threading
        if (
            threading is None
            or threading.free
            or passage.verdict != bundle.FITS
            or threading.verdict != bundle.FITS
            or _half(survey, threading)
        ):
            continue
        data = _sized(max(threading.things, key=lambda thing: thing.thick.round), passage.passage.bore)
        data["parts"]["order"] = tuple(Subject(thing.kind, thing.name) for thing in threading.things)
        yield fact_of(passage, "note", "with others" if threading.rest else "", **data)


def _pull(survey: Survey) -> Iterator[Fact | Within]:
    stress = survey.limits["pull.stress"]
    for passage in survey.passages.values():
        pull = passage.pull
        if pull is None:
            continue
        most = Limited(pull.stands, "N", stress.source, stress.name)
        yield (within := Within(Subject("passage", passage.name), pull.force, most))
        if within.kept:
            continue
        far = above(pull.force, _FAR * pull.breaks)
        yield fact_of(
            passage,
            "caution",
            "tears" if far else "stretches",
            key="bends",
            reason="tears" if far else "may tear" if above(pull.force, pull.breaks) else "stretches",
            figures={
                **({} if far else {"pull": Figure(pull.force, "N")}),
                "stands": Figure(pull.stands, "N"),
                "breaks": Figure(pull.breaks, "N"),
                "bends": Figure(pull.bends_borne, "rad"),
                "in_all": Figure(passage.passage.bends, "rad"),
            },
            parts={"conductor": part_of(pull.member)},
            limit=most,
        )


_PAST = "[ beside {others:other conductor}][ side by side with {abreast}][, in any order with {ordered:other conductor}]"
_ROOM = "[ At most {room} across surely passes there.]"
_SMALL = {
    "alone": "It is too wide for the bore alone.",
    "past": f"The finished bundle is small enough, but this has to pass it.{_ROOM}",
}
_TRUE = "No tube is true to the last hundredth, and nothing is drawn through a bore that it fills."
_TIGHT = {"alone": _TRUE, "past": f"{_TRUE}{_ROOM}"}
_LATER = "Make that joint, or fit that plug, once it is through."

_MULTIPLIED = "Bends of {in_all} in all multiply what holds back its end."
_TAPED = "Tape it to a sturdier wire or a thread that takes the pull, and feed it from behind."

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.plug", "stop", "plug", "a plug does not go through",
        "It has to be threaded through and is thicker than the bore.", "diameter against bore", (),
        "the build file", _plug,
        wording={
            "": Wording(
                "{subject} is {diameter:apart} across. The bore of {passage} is {limit:apart}.",
                "It has to be threaded through, and does not go in.",
                "Thread the conductors first and fit the plug afterwards, or take a plug whose pins pass one by one.",
            )
        },
    ),
    Check(
        "passage.widest", "stop", "passage", "something threaded does not pass the others",
        "The thickest spot has to go by what already lies in the bore.",
        "certified arrangement of the thickest spot and the wires beside it, in the best order of threading", ("passage.room.past",),
        "geometry: proven bounds of circle packing; a flat pack by its chord in the bore", _widest,
        wording={
            "tight": Wording(f"{_thing()} goes through {{subject}} ({{bore:apart}}) with almost no clearance{_PAST}.", _TIGHT, _LATER),
            "stuck": Wording(f"{_thing(_CORNERS)} does not go through {{subject}} ({{bore:apart}}){_PAST}.", _SMALL, _LATER),
            "not found": Wording(f"{_thing()} was not found to go through {{subject}} ({{bore:apart}}){_PAST}.", _SMALL, _LATER),
        },
    ),
    Check(
        "passage.order", "note", "passage", "the order of threading matters",
        "Something thick passes only while the bore is not yet full.",
        "the last in order passes beside all others, and so on backwards", (),
        "geometry; largest bulge first is Lawler's rule for jobs with delivery times", _order,
        wording={
            case: Wording(
                f"{_thing()} goes through {{subject}} only before the rest lies there.",
                "With everything else in the bore no room for it was found.",
                f"Thread {{order:then}}{rest}.",
            )
            for case, rest in (("", ""), ("with others", ", then the rest"))
        },
    ),
    Check(
        "passage.pull", "caution", "passage", "a wire is too weak to be drawn round the bends",
        "Each bend multiplies the pull; thin copper stretches.",
        "T = T0 exp(mu angle) against section x stress", ("pull.tail", "pull.friction", "pull.stress"),
        "Euler and Eytelwein; European cable practice", _pull,
        wording={
            "stretches": Wording(
                "Drawn through {subject}, {conductor} is pulled with about {pull:apart}. Its copper withstands {stands:apart}.",
                {
                    "stretches": f"{_MULTIPLIED} It stretches. It breaks at {{breaks}}.",
                    "may tear": f"{_MULTIPLIED} It stretches and may tear. It breaks at {{breaks}}.",
                },
                _TAPED,
            ),
            "tears": Wording(
                "Drawn through {subject}, {conductor} is pulled with far more than it breaks at. Its copper withstands {stands}.",
                {"tears": f"{_MULTIPLIED} It stretches and tears. It breaks at {{breaks}}."},
                _TAPED,
            ),
        },
    ),
)  # fmt: skip
