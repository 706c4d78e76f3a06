"""Getting it through: plugs and joints past what already lies in the bore, the order, the pull."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.of_passages import finding_of, limited, title
from postcheck.checks.record import Check
from postcheck.checks.shown import degrees, lengths, millimetres
from postcheck.physics import bundle
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Threaded, Threading
from postcheck.survey.post.threading import order_of

__all__ = ["CHECKS"]

# From so many times its breaking load on, what a wire would be pulled with is no figure of anything.
_FAR = 2.0


def _size(thing: Threaded, bore: float) -> str:
    thick = thing.thick
    if not thick.thin:
        return f"{lengths(thick.across, bore)[0]} across"
    flat = f"{millimetres(thick.across)} by {millimetres(thick.thin)}"
    if thick.across <= bore < thick.round:
        return f"{flat}, {lengths(thick.round, bore)[0]} from corner to corner"
    return flat


def _who(thing: Threaded) -> str:
    if thing.kind == "plug":
        return quoted(thing.name)
    what = "what sits on the lead" if thing.kind == "lead" else "the joint"
    return f"{what} of {quoted(thing.name)}"


def _newtons(value: float) -> str:
    return f"{value:.2g} N"


def _plug(survey: Survey) -> Iterator[Finding | NotJudged]:
    for index, plug in enumerate(survey.build.plug):
        for name in plug.through:
            passage = survey.passages.get(name)
            if passage is None:
                continue
            if plug.diameter is None:
                yield NotJudged(
                    plug.name,
                    f"whether it goes through {title(passage)}",
                    'what has to pass, such as diameter = "6 mm"',
                )
            elif plug.diameter > passage.passage.bore:
                across, bore = lengths(plug.diameter, passage.passage.bore)
                yield Finding(
                    "passage.plug", "stop", Subject("plug", plug.name),
                    f"{quoted(plug.name)} is {across} across; the bore of {title(passage)} is {bore}.",
                    "It has to be threaded through, and does not go in.", ("plug", index, "diameter"),
                    remedy="Thread the conductors first and fit the plug afterwards, or take a plug whose pins pass one by one.",
                    figures={"diameter": Figure(plug.diameter, "m")},
                    limit=Limited(passage.passage.bore, "m", "the bore, in the build file"),
                )  # fmt: skip
                break


def _widest(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        threading = passage.threading
        thing = None if threading is None else threading.tight or threading.stuck
        if threading is None or thing is None or passage.verdict != bundle.FITS:
            continue
        tight, surely = threading.tight is not None, threading.verdict == bundle.CANNOT
        limit, bore = survey.limits["passage.room.one"], passage.passage.bore
        others = _beside(threading, thing, bore / limit.value if tight else bore)
        passes = "goes only on paper" if tight else "does not go" if surely else "was not found to go"
        room = (
            f" What surely passes there is {millimetres(thing.room)} across."
            if thing.room is not None and thing.room > 0.0
            else ""
        )
        yield finding_of(
            passage, "passage.widest", "stop" if surely else "caution",
            f"{_who(thing)} ({_size(thing, bore)}) {passes} through {title(passage)} ({millimetres(bore)}){others}.",
            f"No tube is true to the last hundredth, and nothing is drawn through a bore that it fills.{room}" if tight
            else f"The finished bundle is slim enough, but this has to pass it.{room}",
            key="staggered" if passage.passage.staggered is not None else "bore",
            remedy="Make that joint, or fit that plug, once it is through.",
            figures={"across": Figure(thing.thick.round, "m")} | ({} if thing.room is None else {"room": Figure(thing.room, "m")}),
            limit=Limited(limit.value, "", limit.source) if tight
            else Limited(bore, "m", "certified arrangement of circles in the bore"),
        )  # fmt: skip


def _beside(threading: Threading, thing: Threaded, bore: float) -> str:
    """What it does not pass; nothing where the bore alone is too narrow for it."""
    if thing.thick.round > bore * (1.0 + 1e-9):
        return ""
    if threading.way == "one by one":
        return " beside what must already lie there, in whatever order"
    joints = sum(one.kind != "plug" for one in threading.things)
    if threading.way == "apart" or thing.kind == "plug" or joints == 1:
        return " beside the others"
    return f" side by side with the other {'joint' if joints == 2 else 'joints'}"


def _order(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        threading = passage.threading
        if (
            threading is None
            or threading.free
            or passage.verdict != bundle.FITS
            or threading.verdict != bundle.FITS
        ):
            continue
        widest = max(threading.things, key=lambda thing: thing.thick.round)
        yield finding_of(
            passage, "passage.order", "note",
            f"{_who(widest)} ({_size(widest, passage.passage.bore)}) goes through {title(passage)} only before the rest lies there.",
            "With everything else in the bore no room for it was found.",
            remedy=f"Thread {order_of(threading)}.",
            figures={"across": Figure(widest.thick.round, "m")},
        )  # fmt: skip


def _pull(survey: Survey) -> Iterator[Finding | NotJudged]:
    for passage in survey.passages.values():
        pull = passage.pull
        if pull is None or pull.force <= pull.stands * (1.0 + 1e-9):
            continue
        far = pull.force > _FAR * pull.breaks
        tears = " and tears" if far else " and may tear" if pull.force > pull.breaks else ""
        with_what = "far more than it breaks at" if far else f"about {_newtons(pull.force)}"
        yield finding_of(
            passage, "passage.pull", "caution",
            f"drawn through {title(passage)}, {pull.member.called} is pulled with {with_what}; its copper stands {_newtons(pull.stands)}.",
            f"Bends of {degrees(passage.passage.bends)} in all multiply what holds back its end; it stretches{tears}, and breaks at {_newtons(pull.breaks)}.",
            key="bends",
            remedy="Tape it to a sturdier wire or a thread that takes the pull, and feed it from behind.",
            figures=({} if far else {"pull": Figure(pull.force, "N")}) | {"stands": Figure(pull.stands, "N"), "breaks": Figure(pull.breaks, "N"), "bends": Figure(pull.bends_borne, "rad")},
            limit=limited(survey, "pull.stress"),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "passage.plug", "stop", "plug", "a plug does not go through",
        "It has to be threaded through and is thicker than the bore.", "diameter against bore", (),
        "the build file", _plug,
    ),
    Check(
        "passage.widest", "stop", "passage", "something threaded does not pass the others",
        "The thickest spot has to go by what already lies in the bore.",
        "certified arrangement of the thickest spot and the wires beside it, in the best order of threading", ("passage.room.one",),
        "geometry: proven bounds of circle packing; a flat pack by its chord in the bore", _widest,
    ),
    Check(
        "passage.order", "note", "passage", "the order of threading matters",
        "Something thick passes only while the bore is not yet full.",
        "the last in order passes beside all others, and so on backwards", (),
        "geometry; largest bulge first is Lawler's rule for jobs with delivery times", _order,
    ),
    Check(
        "passage.pull", "caution", "passage", "a wire is too weak to be drawn round the bends",
        "Each bend multiplies the pull; thin copper stretches.",
        "T = T0 exp(mu angle) against section x stress", ("pull.tail", "pull.friction", "pull.stress"),
        "Euler and Eytelwein; European cable practice", _pull,
    ),
)  # fmt: skip
