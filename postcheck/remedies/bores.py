"""What to do about a passage that is too narrow for what goes through it, or sharp at its ends."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from postcheck.description.models import Passage
from postcheck.limits import above, below
from postcheck.physics.tubes import TUBES, Tube, tube_with_bore
from postcheck.remedies.gauge import slimmer
from postcheck.remedies.proposal import Proposal, Proposer, in_mm, length, lower_first, set_to, taken_out
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.post.bores import room_wanted, wide_bore
from postcheck.survey.post.figures import Member, PassageFigures, Threading
from postcheck.survey.post.threading import threading_of

# Bores tried from the one worked out, a tenth of a millimetre apart.
TRIED = 3
# Two bores closer than this (m) are the same.
HALF_TENTH = 5e-5
# Wall of a bush or a bit of sleeving, m: thin sleeves of polyolefin and PTFE; judgement.
BUSH = 0.25e-3
# The most tubes tried for what does not pass: nobody turns a spar into a chimney.
TUBES_TRIED = 6


def _wider(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One bore that clears all findings on how full a passage is: a tube as sold, else to a tenth of a millimetre.

    If thinner wire does as well, the words say so too.
    """
    passage = survey.passages[finding.subject.name]
    least = wide_bore(passage, survey.limits)
    instead = tuple(slimmer(survey, passage))
    tube = tube_with_bore(least)
    if tube is not None:
        known, sizes = _size(tube)
        if abs(tube.bore - least) >= HALF_TENTH:
            known, sizes = f"{known}; {in_mm(least)} is the least", {**sizes, "least": Figure(least, "m")}
        yield _bore(passage, tube.bore, known, instead, sizes)
    tenths = round(least * 1e4)
    for more in range(TRIED):
        yield _bore(passage, (tenths + more) / 1e4, "", instead)


def _size(tube: Tube) -> tuple[str, dict[str, Figure]]:
    """A tube as it is sold, in words and figures."""
    figures = {"bore": Figure(tube.bore, "m"), "outside": Figure(tube.outside, "m"), "wall": Figure(tube.wall, "m")}  # fmt: skip
    return f"tube {tube.outside * 1e3:g} x {in_mm(tube.wall)}", figures


def _bore(
    figures: PassageFigures,
    bore: float,
    known: str,
    instead: tuple[Proposal, ...] = (),
    sizes: Mapping[str, Figure] = MappingProxyType({}),
) -> Proposal:
    shown = in_mm(bore)
    return Proposal(
        f"Take a bore of {shown}{f' ({known})' if known else ''}, or {_less(figures.members)}.",
        (length((*figures.path, "bore"), bore),),
        spotless=True,
        instead=instead,
        figures=sizes,
    )


def _less(members: Sequence[Member]) -> str:
    """What takes less room, in words. Of a cable no conductor can be another one: it is exchanged as a whole."""
    if len(members) == 1 and not members[0].bare:
        (one,) = members
        kind = "conductor" if one.kind != "cable" else "cable"
        return f"a {'narrower' if one.flat is not None else 'thinner'} {kind}"
    if all(member.kind == "cable" and not member.bare for member in members):
        return "fewer or smaller cables"
    return "fewer or thinner conductors"


def _unjammed(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next tube in which three wires do not jam, wider or else slimmer, beside what can be done in this one."""
    figures = survey.passages[finding.subject.name]
    if figures.jam_ratio is None:
        return
    least = wide_bore(figures._replace(jam_ratio=None), survey.limits)
    most = figures.passage.bore / figures.jam_ratio * survey.limits.value("passage.jam.low")
    slim = [tube for tube in TUBES if not above(least, tube.bore) and below(tube.bore, most)]
    wider = tube_with_bore(wide_bore(figures, survey.limits))
    for tube in (wider, max(slim, key=lambda tube: tube.bore, default=None)):
        if tube is None:
            continue
        size, sizes = _size(tube)
        yield _bore(figures, tube.bore, "", sizes=sizes)._replace(
            says=f"Pull them gently twisted together or taped into a triangle, or take a bore of {in_mm(tube.bore)} ({size})."
        )


def _threaded(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Another way of threading, which costs nothing, with a wider tube beside it; else the slimmest tube alone."""
    figures = survey.passages[finding.subject.name]
    passage = figures.passage
    key = (*figures.path, "staggered")
    if passage.staggered is False:
        yield Proposal(
            "Let the joints lie apart, so that they pass one after the other.", (set_to(key, True),)
        )
    wider = _wide_enough(survey, figures)
    if passage.staggered is not None:
        alone = _threading(survey, figures, passage.model_copy(update={"staggered": None}))
        if alone is not None and alone.easy:
            instead = () if wider is None else (wider._replace(says=f"Or {lower_first(wider.says)}"),)
            yield Proposal(
                f"Thread them one by one: {_order(alone)}.",
                (taken_out(key),),
                instead=instead,
            )
            return  # the note on the order stays, and a tube would win only for having no such note
    if wider is not None:
        yield wider._replace(
            says=f"Make that joint, or fit that plug, once it is through; or {lower_first(wider.says)}"
        )


def _order(threading: Threading) -> str:
    """The order in which all is threaded: `'mast', then the lead of 'bow', then the rest`."""
    return ", then ".join([*(thing.called for thing in threading.things), *["the rest"] * threading.rest])


def _threading(
    survey: Survey, figures: PassageFigures, passage: Passage, bore: float | None = None
) -> Threading | None:
    room = survey.limits.value("passage.room.past")
    return threading_of(survey.wiring, figures.name, passage, figures.members, room, bore)


def _wide_enough(survey: Survey, figures: PassageFigures) -> Proposal | None:
    """The slimmest tube through which all goes as it is threaded now."""
    bore = figures.passage.bore
    for _ in range(TUBES_TRIED):
        tube = tube_with_bore(bore + HALF_TENTH)
        if tube is None:
            return None
        bore = tube.bore
        wider = _threading(survey, figures, figures.passage, bore)
        if wider is not None and wider.easy:
            size, sizes = _size(tube)
            return Proposal(
                f"Take a bore of {in_mm(bore)} ({size}).",
                (length((*figures.path, "bore"), bore),),
                figures=sizes,
            )
    return None


def _blunt(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Smooth ends; a bush or sleeving only where the wires have room beside it."""
    figures = survey.passages[finding.subject.name]
    wanted = figures.smallest_bore * room_wanted(len(figures.members), survey.limits).value
    bush = (
        ", or fit a bush or a bit of sleeving" if not above(wanted + 2.0 * BUSH, figures.passage.bore) else ""
    )
    yield Proposal(
        f"Countersink and polish both ends{bush}.",
        (set_to((*figures.path, "edges"), "rounded"),),
    )


BORES: dict[str, Proposer] = {
    "passage.cannot-fit": _wider,
    "passage.tight": _wider,
    "passage.full": _wider,
    "passage.jam": _unjammed,
    "passage.widest": _threaded,
    "passage.edge": _blunt,
}
