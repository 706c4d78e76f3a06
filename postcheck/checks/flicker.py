"""What the eye sees of switching: steps of steady lamps, flashes a second, the frequency of dimming."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import is_power_bank
from postcheck.limits import above, below
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.light import flashes_together
from postcheck.survey.network.averages import fade_depth, flashes
from postcheck.survey.network.figures import Dip, Step

# A flasher of up to this rate is judged as slow: the eye is most sensitive at 8 to 10 Hz.
SLOW = 3.0
# As a starting current is typed.
FOR_EXAMPLE = "300 mA"


def _step(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    seen: dict[Subject | None, list[Step]] = {}
    for step in survey.electrics.steps:
        limit = survey.limits["step.fast" if above(step.rate or 0.0, SLOW) else "step.slow"]
        yield (within := Within(Subject(step.kind, step.lamp), abs(step.share), limited(limit)))
        if not within.kept:
            flasher = None if step.flasher is None else Subject(step.by, step.flasher)
            seen.setdefault(flasher, []).append(step)
    together = seen.pop(None, [])
    if together and not seen:  # no flasher alone is too fast, so it is all of them together
        seen[None] = together
    for flasher, steps in seen.items():
        worst = max(steps, key=lambda step: abs(step.share))
        limit = survey.limits["step.fast" if above(worst.rate or 0.0, SLOW) else "step.slow"]
        flashers = _flashers(survey) if flasher is None else [flasher]
        yield Fact(
            "caution",
            flashers[0],
            ("circuit", flashers[0].name)
            if flashers[0].kind == "circuit"
            else survey.parts.named[flashers[0].name].path,
            f"{'one' if flasher is not None else 'all'} {'less' if worst.share < 0.0 else 'more'}",
            figures={
                "step": Figure(abs(worst.share), "share"),
                "lamps": Figure(len(steps), ""),
                **({"others": Figure(len(steps) - 1, "")} if len(steps) > 1 else {}),
            },
            parts={
                "lamp": Subject(worst.kind, worst.lamp),
                "flashers": tuple(flashers),
            },
            limit=limited(limit),
        )


def _dip(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Of each load that starts what it does to the lamps that share with it; each lamp by the load that it dips most for."""
    worst: dict[str, Dip] = {}
    for dip in survey.electrics.dips:
        if dip.lamp not in worst or dip.share > worst[dip.lamp].share:
            worst[dip.lamp] = dip
    by_load: dict[str, list[Dip]] = {}
    for dip in sorted(worst.values(), key=lambda dip: -dip.share):
        by_load.setdefault(dip.load, []).append(dip)
    for load, dips in by_load.items():
        first, subject = dips[0], Subject(dips[0].kind, dips[0].lamp)
        part, other = survey.parts.named[first.lamp], survey.parts.named[load]
        steps: dict[Severity, Within] = {
            "caution": Within(subject, first.share, limited(survey.limits["step.start"])),
            "note": Within(subject, first.share, limited(survey.limits["step.slow"])),
        }
        if part.circuit == other.circuit:  # it comes on with the load, a little dimmer for a moment
            del steps["caution"]
        severity = first_broken(steps)
        if severity is not None and not first.given:
            yield open_question(
                load,
                "whether {lamp} dips as it starts: by {dip} if it takes {starting}, as motors do",
                f'its starting current, such as starting = "{FOR_EXAMPLE}"',
                figures={"dip": Figure(first.share, "share"), "starting": Figure(first.starting, "A")},
                parts={"lamp": subject},
            )
            continue
        yield from steps.values()
        if severity is None:
            continue
        also = [dip for dip in dips[1:] if above(dip.share, survey.limits.value("step.slow"))]
        yield Fact(
            severity,
            subject,
            part.path,
            "" if severity == "caution" else "slight",
            figures={
                "dip": Figure(first.share, "share"),
                "starting": Figure(first.starting, "A"),
            },
            parts={
                "load": Subject(other.kind, load),
                **({"also": tuple(Subject(dip.kind, dip.lamp) for dip in also)} if also else {}),
            },
            limit=steps[severity].limit,
            because_of=f"supply.no-start:{survey.wiring.drivers[other.circuit].supply}",
        )


def _flashers(survey: Survey) -> list[Subject]:
    circuits = [name for name, circuit in survey.build.circuit.items() if flashes(circuit, survey.limits)]
    chips = [lamp.name for lamp in survey.parts.lamps if lamp.flashes is not None]
    return [Subject("circuit", name) for name in circuits] + [Subject("lamp", name) for name in chips]


def _rate(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["flash.rate"]
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour not in ("flash", "fade"):
            continue
        fades = circuit.behaviour == "fade"
        if not fades and circuit.on_share is None and _averaged(survey, name):
            yield NotJudged(
                name,
                "how much of the time it is lit, and so its heat and what it takes from a battery; half is taken",
                'its share, such as on_share = "12 %"',
            )
        if circuit.rate is None:
            yield NotJudged(
                name,
                f"whether its {'fades' if fades else 'flashes'} are fast enough to bring on a seizure",
                f'its rate, such as rate = "{"12" if fades else "60"} /min"',
            )
            continue
        if below(fade_depth(circuit), survey.limits.value("fade.depth")):
            continue
        yield (within := Within(Subject("circuit", name), circuit.rate, limited(limit)))
        if not within.kept:
            yield Fact(
                "caution",
                within.subject,
                ("circuit", name, "rate"),
                "fade" if fades else "",
                figures={"rate": Figure(circuit.rate, "Hz")},
                limit=within.limit,
            )
    yield from _by_themselves(survey)


def _by_themselves(survey: Survey) -> Iterator[Fact | Within]:
    """Lamps with a chip that flashes them: several of one entry, too, never keep step."""
    limit = limited(survey.limits["flash.rate"])
    for lamp in survey.parts.lamps:
        if lamp.flashes is None:
            continue
        count = len(lamp.dice) * lamp.parallel
        yield (within := Within(Subject("lamp", lamp.name), lamp.flashes * count, limit))
        if not within.kept:
            yield Fact(
                "caution", within.subject, lamp.path, "lamps" if count > 1 else "lamp",
                figures={
                    "rate": Figure(lamp.flashes, "Hz"),
                    **({"total": Figure(within.value, "Hz"), "lamps": Figure(count, "")} if count > 1 else {}),
                },
                limit=limit,
            )  # fmt: skip


def _together(survey: Survey) -> Iterator[Fact | Within]:
    limit = survey.limits["flash.rate"]
    together = flashes_together(survey.build, survey.parts, survey.limits)
    total = sum(together.values())
    if len(together) < 2:
        return
    first, fastest = next(iter(together)), max(together, key=lambda one: together[one])
    yield (within := Within(first, total, limited(limit)))
    if within.kept:
        return
    yield Fact(
        "caution",
        within.subject,
        ("circuit", first.name, "rate") if first.kind == "circuit" else survey.parts.named[first.name].path,
        "chips" if all(one.kind == "lamp" for one in together) else "",
        figures={
            "total": Figure(total, "Hz"),
            "slower": Figure(floor(100.0 * limit.value / total) / 100.0, "share"),
        },
        parts={"flashers": tuple(together)},
        limit=within.limit,
        because_of=f"flash.rate:{fastest.name}",
    )


def _averaged(survey: Survey, circuit: str) -> bool:
    """Whether an average over time counts: on a battery or power bank, or with heat in closed places."""
    build = survey.build
    supply = build.supply.get(survey.wiring.drivers[circuit].supply or "")
    if supply is not None and (supply.kind == "battery" or is_power_bank(supply)):
        return True
    parts = [part for part in survey.parts.all if part.circuit == circuit]
    places = {place for part in parts for place in part.places}
    places |= {part.resistor.place for part in parts if part.resistor is not None}
    return any(build.place[place].access != "open" for place in places)


def _dimming(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    slow, common, some, visible, quick = (
        limited(survey.limits[name])
        for name in ("flash.rate", "dim.seizure", "dim.seizure.some", "dim.visible", "dim.frequency")
    )
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour not in ("dim", "fade"):
            continue
        if circuit.frequency is None:
            yield NotJudged(
                name, "whether its dimming is seen to flicker", 'its frequency, such as frequency = "2 kHz"'
            )
            continue
        subject = Subject("circuit", name)
        steps: dict[tuple[Severity, str], Within] = {}
        if not below(circuit.frequency, slow.value):  # any slower, and each is seen as a single flash
            case = "some people" if above(circuit.frequency, common.value) else "common range"
            steps["stop" if case == "common range" else "caution", case] = Within(
                subject, circuit.frequency, some, least=True
            )
        steps |= {
            ("caution", "seen"): Within(subject, circuit.frequency, visible, least=True),
            ("note", "in motion"): Within(subject, circuit.frequency, quick, least=True),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            subject,
            ("circuit", name, "frequency"),
            case,
            figures={"frequency": Figure(circuit.frequency, "Hz"), "unseen": Figure(quick.value, "Hz")},
            limit=steps[broken].limit,
            firm="it can bring on a seizure" if steps[broken].limit is some else "",
        )


_SEIZURES = "It sets off seizures in people with photosensitive epilepsy, large and red lights most; a warning sign does not change that."
_AREA = "A few small lamps are below the area that counts, a lit hall or bay is not."
_DIM_FASTER = "Dim at {unseen} or faster."
_JUMP = "The eye sees a steady light jump by a few per cent. It comes from all that the two share: feed, return, the supply's own resistance."

CHECKS: tuple[Check, ...] = (
    Check(
        "circuit.step", "caution", "circuit", "steady lamps that jump when a flasher comes on", "The eye sees a few per cent.",
        "(I on - I off) / I off, each flasher alone and all at once; to first order I_f R_c / (R + n r_d + R_c) / I; of a filament to the power of 3.4 / 0.55", ("step.slow", "step.fast"),
        "temporal contrast thresholds of de Lange and Kelly (from memory)", _step,
        wording={
            f"{who} {how}": Wording(f"{when}, {{lamp}} gives {{step}} {how} light[, and {{others:other}} with it].", _JUMP)
            for who, when in (("one", "Each time {subject} comes on"), ("all", "When {flashers} come on together"))
            for how in ("less", "more")
        },
    ),
    Check(
        "lamp.dip", "caution", "lamp", "lit lamps that dip as a motor starts", "The eye sees a few per cent.",
        "1 - I while it starts / I while it runs, all else on; of a filament to the power of 3.4 / 0.55", ("step.start", "step.slow"),
        "Kirchhoff's laws with the starting current in place of the usual one; IEC 61000-3-3 and temporal contrast thresholds (from memory)", _dip,
        wording={
            case: Wording(
                "Each time {load} starts, {subject} gives {dip} less light.[ Others that dip: {also:8}.]",
                "While it starts {load} takes {starting}. What that costs in all that the two share (feed, return, the supply's own resistance) is missing at the lamps.",
                do,
            )
            for case, do in (("", "Feed {load} from a supply of its own, with a return of its own, or use a smaller one."), ("slight", ""))
        },
    ),
    Check(
        "flash.rate", "caution", "circuit", "a circuit that flashes more than three times a second",
        "Flashes faster than three a second can bring on seizures.", "flashes a second; a fade that fast is one, unless its light changes by less than a tenth", ("flash.rate", "fade.depth"),
        "WCAG 2.2 success criterion 2.3.1, and its general flash", _rate,
        wording={
            "": Wording(
                "{subject} flashes at {rate:apart}. Above {limit:apart} flashes can bring on a seizure.", f"{_SEIZURES} {_AREA}",
                "Flash at {limit} or slower.",
            ),
            "lamp": Wording(
                "{subject} flashes by itself at {rate:apart}. Above {limit:apart} flashes can bring on a seizure.", f"{_SEIZURES} {_AREA}",
                "Use one that flashes at {limit} or slower.",
            ),
            "lamps": Wording(
                "{subject} is {lamps:chip that flashes|chips that flash} {rate} each, together {total:apart}. Above {limit:apart} flashes can bring on a seizure.",
                f"{_SEIZURES} Chips never keep step, so all flashes count. {_AREA}",
                "Use fewer of them, or plain LEDs on one circuit that flashes.",
            ),
            "fade": Wording(
                "{subject} fades up and down at {rate:apart}. Above {limit:apart} a fade counts as flashes, which can bring on a seizure.",
                f"{_SEIZURES} {_AREA}", "Fade at {limit} or slower.",
            ),
        },
    ),
    Check(
        "flash.together", "caution", "circuit", "circuits that together flash more than three times a second",
        "Lights that are seen at once count together.", "sum of the flashes a second of all circuits; those in step with each other count once",
        ("flash.rate", "fade.depth"), "WCAG 2.2 success criterion 2.3.1; Epilepsy Society: lights that flash together count together", _together,
        wording={
            case: Wording(
                "{flashers:8} together flash at {total:apart}. Above {limit:apart} flashes can bring on a seizure.",
                f"{_SEIZURES} Lights that are seen at once count together. {_AREA}", do,
            )
            for case, do in (
                ("", "Flash at {slower} of these rates, or let them flash in step and say so (in_step_with)."),
                ("chips", "Use fewer of them, or plain LEDs on one circuit that flashes: chips keep no step."),
            )
        },
    ),
    Check(
        "dim.frequency", "stop", "circuit", "dimming slow enough to be seen, or to bring on a seizure", "Moving eyes and cameras see it; slower than that it is a danger.",
        "frequency of the dimming", ("dim.frequency", "dim.visible", "dim.seizure", "dim.seizure.some", "flash.rate"),
        "IEEE 1789-2015 (from memory); Epilepsy Society: 3 to 30 Hz common, some up to 60 Hz", _dimming,
        held="what can bring on a seizure",
        wording={
            "common range": Wording(
                "{subject} is dimmed at {frequency:apart}. Below {limit:apart} flicker can bring on a seizure, and most often at such a frequency.", _SEIZURES, _DIM_FASTER
            ),
            "some people": Wording(
                "{subject} is dimmed at {frequency:apart}. Below {limit:apart} flicker brings on seizures in some people.", _SEIZURES, _DIM_FASTER
            ),
            "seen": Wording("{subject} is dimmed at {frequency:apart}. From {limit:apart} nobody sees it flicker.", "The lamps are seen to flicker.", _DIM_FASTER),
            "in motion": Wording(
                "{subject} is dimmed at {frequency:apart}. From {limit:apart} it needs no thought.",
                "The eye sees single points of light when it moves past them, and cameras see bands.", _DIM_FASTER,
            ),
        },
    ),
)  # fmt: skip
