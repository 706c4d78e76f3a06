"""What the hand does at the bench: leads that the full supply destroys, because their resistor sits elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from postcheck.checks.fact import Fact, Within, of_rating
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import below
from postcheck.report import Figure, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.bench.figures import BenchFigures
    from postcheck.survey.bench.test_points import TestPointEnd
    from postcheck.wiring.parts import LampPart


def _bare(survey: Survey) -> Iterator[Fact | Within]:
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    if not any(map(_elsewhere, lamps.values())):
        return
    astray = {name for one in survey.wiring.unbuilt for kind, name in one.joined if kind == "lamp"}
    for (kind, name), test_point in survey.bench.leads.items():
        if name in survey.wiring.open_ends:  # asked about: nobody knows where it ends
            continue
        if kind != "lamp" or test_point.resistor_position != "behind":
            continue
        known = survey.bench.figures(test_point)
        if known is None or known.contact_test.outcome == "unknown":
            continue
        lamp, contact_test = lamps[name], known.contact_test
        most = of_rating(survey.limits["lamp.current.caution"], contact_test.rated, "A")
        yield (within := Within(Subject("lamp", name), contact_test.worst_amps, most))
        destroyed = contact_test.outcome == "destroyed"
        if within.kept and not destroyed:
            continue
        # of several strings, what the worst one gets: the rating is that of one string
        strings = below(contact_test.worst_amps, contact_test.amps, 1e-3)
        yield Fact(
            "caution",
            within.subject,
            # if nothing is laid to its joint, the lead may name the wrong place
            (*lamp.path, "lead" if name in astray else "resistor"),
            "destroyed" if destroyed else "harmed",
            figures={
                "volts": Figure(contact_test.volts, "V"),
                "current": Figure(contact_test.worst_amps, "A"),
                "rated": Figure(contact_test.rated, "A"),
                "in_all" if strings else "driven": Figure(contact_test.amps, "A"),
                **_setting(known),
            },
            parts={
                "lead": Subject("lead", name),
                "seat": Subject("place", lamp.resistor.place if lamp.resistor is not None else ""),
                "bare": _places(
                    test_point.places
                    if name in astray
                    else _bare_at(survey, test_point.circuit, name, test_point.places)
                ),
                "joints": _places(test_point.places),
                **_colours(test_point.plus, test_point.minus),
            },
            limit=of_rating(survey.limits["lamp.destroyed"], contact_test.rated, "A") if destroyed else most,
        )


def _places(names: Iterable[str]) -> tuple[Subject, ...]:
    return tuple(Subject("place", name) for name in names)


def _elsewhere(lamp: LampPart) -> bool:
    """Whether its resistor sits neither with it nor where its lead ends: rare, and else there is nothing to work out."""
    ends = (lamp.place, *lamp.places, lamp.supply_leg.to, lamp.return_leg.to)
    return lamp.resistor is not None and lamp.resistor.place not in ends


def _bare_at(survey: Survey, circuit: str, lamp: str, joints: tuple[str, ...]) -> tuple[str, ...]:
    """The places where nothing protects it: its joints, and where its line goes on towards the resistor."""
    lines = (
        test_point.plus.place
        for test_point in survey.bench.along.get(circuit, ())
        if (lamp, "behind") in test_point.resistor_positions
    )
    return tuple(dict.fromkeys((*joints, *lines)))


def _colours(plus: TestPointEnd, minus: TestPointEnd) -> dict[str, Subject]:
    if plus.colour is None or minus.colour is None:
        return {}
    return {"plus": Subject("colour", plus.colour), "minus": Subject("colour", minus.colour)}


def _setting(known: BenchFigures) -> dict[str, Figure]:
    """How it is tested without harm."""
    figures = {}
    if known.setting is not None:
        figures["bench_volts"] = Figure(known.setting.volts, "V")
        figures["bench_limit"] = Figure(known.setting.limit, "A")
    if known.tester is not None:
        figures["tester_volts"] = Figure(known.tester.volts, "V")
        figures["bench_resistor"] = Figure(known.tester.ohms, "ohm")
        figures["bench_power"] = Figure(known.tester.power, "W")
    return figures


_BARE = "{lead} ends bare at {bare}[ ({plus} to +, {minus} to -)], for its resistor sits at {seat}. The full supply there, {volts}, drives up to[ {driven} through it][ {in_all} through it, and {current} through one string]."
_LIVE = "It happens at the bench, with a live lead in the other hand, and the lamp is often glued in by then."
_MOVED = "Put the resistor with the lamp, or at {joints} before its joint.[ Until then test it at {bench_volts} with the limit at {bench_limit}][, or with {tester_volts} through {bench_resistor} of {bench_power} or more]."

CHECKS: tuple[Check, ...] = (
    Check(
        name="lead.bare",
        severity="caution",
        subject="lamp",
        line="a lead whose resistor sits elsewhere, so that the full supply destroys its lamp",
        why="It happens at the bench, with a live lead in the other hand, and the lamp is often glued in by then. A lead whose resistor is put on at its own joint is bare until then, as the trade builds: the bench card of `postcheck sheet` warns of it.",
        formula="I of what is connected to the lead without its resistor, at the highest voltage of its supply, just after touching; at most what the supply can give",
        limits=("lamp.destroyed", "lamp.current.caution", "bench.current"),
        source="Kirchhoff's laws and Shockley's; that resistors stay with their lamps or at the hub is common practice",
        judge=_bare,
        wording={
            "destroyed": Wording(f"{_BARE} That destroys the lamp.", _LIVE, _MOVED),
            "harmed": Wording(f"{_BARE} That harms the lamp: its rating is {{rated}}.", _LIVE, _MOVED),
        },
    ),
)
