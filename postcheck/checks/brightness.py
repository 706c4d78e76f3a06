"""Lamps that stay dark or dim: wired the wrong way round, or with too little current."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.known import filament, is_bare, on_battery, rises, short_of_current, turns
from postcheck.checks.record import Check
from postcheck.checks.strings import in_series, on_one_output
from postcheck.checks.wording import Wording
from postcheck.limits import above, below
from postcheck.physics.light import light_ratio
from postcheck.physics.network import FILAMENT_EXPONENT
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed, reverse_stood, worst_reverse
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.supplies import open_volts

# Below this share of its rating, a bulb below this share of its light, a lamp is as good as off.
DARK = 0.005
# An output that leaves its lamps less than this share of the volts that it drops has all that the supply gives.
NOTHING_LEFT = 0.005
# A current too small for any bench meter, A. And the share of the volts at its joints above which it is the dice that leave
# too little.
NOTHING = 1e-6
MOST_TAKEN = 0.9
# A lead that loses this share of the volts at its joints is named beside what else takes them.
LEAD_NAMED = 0.05


def _backwards(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in survey.electrics.lamps.values():
        if not lamp.part.backwards:
            continue
        limit = survey.limits["lamp.reverse"]
        stands, given = reverse_stood(lamp.part.dice, survey.limits)
        most = worst_reverse(lamp.part.dice, lamp.joint_volts * rises(survey, lamp))
        over = above(most, stands, 1e-3)
        dice = len(lamp.part.dice)
        yield Fact(
            "stop" if over else "caution",
            Subject("lamp", lamp.name),
            (*lamp.part.path[:2], "backwards"),
            reason="beyond" if over else "within",
            figures={
                "reverse": Figure(most, "V"),
                "rated": Figure(stands, "V"),
                **({"dice": Figure(dice, "")} if dice > 1 else {}),
            },
            limit=Limited(stands, "V", "the reverse voltage of its data sheet") if given else limited(limit),
        )


def _steps(survey: Survey, lamp: LampFigures) -> dict[tuple[Severity, str], Within]:
    """What a lamp gets against the least that it should, by the severity and case of less.

    A low supply and a high forward voltage must leave it a share of its usual current, too. A battery counts at its usual
    volts: one that runs empty leaves every lamp less, and is judged for itself; so is unequal sharing of a resistor or of a
    constant-current output. Of a bare lamp only what is plain counts: its current goes with hundredths of a volt.
    If the file wants a small current, that is meant; that a low supply leaves next to none of it is not.
    """
    limit, subject = survey.limits["lamp.dim"], Subject("lamp", lamp.name)
    dark = Limited(DARK * lamp.rated, "A", "judgement: a lamp is as good as off")
    shares_one = lamp.part.shared_resistor or on_one_output(survey, lamp)
    meant = lamp.part.wanted is not None
    steps: dict[tuple[Severity, str], Within] = (
        {} if meant else {("stop", "dark"): Within(subject, lamp.nominal, dark, least=True)}
    )
    bare = is_bare(survey, lamp.part)
    if not (bare or shares_one or turns(lamp.part)):
        typical, at_usual = of_rating(limit, lamp.nominal, "A"), lamp.lowest_at_usual
        if at_usual is not None:
            steps["caution", "starved of cells"] = Within(subject, at_usual, typical, least=True)
        elif not on_battery(survey, lamp.part):
            steps["caution", "starved"] = Within(subject, lamp.lowest, typical, least=True)
    if meant:
        return steps
    rated = _rated(lamp)
    far = of_rating(survey.limits["lamp.dim.far"], rated, "A")
    steps["caution", "far too dim"] = Within(subject, lamp.nominal, far, least=True)
    # a chip inside works on a range that its maker gives: at the low end a lamp is as bright as it is meant to be there
    if (usual := _usual(lamp)) is not None and lamp.part.dice[0].works is None:
        made = of_rating(survey.limits["lamp.dim.inside"], usual, "A")
        steps["note", "few volts"] = Within(subject, lamp.nominal, made, least=True)
    elif not bare:
        steps["note", "faint"] = Within(subject, lamp.nominal, of_rating(limit, rated, "A"), least=True)
    return steps


def _rated(lamp: LampFigures) -> float:
    """A lamp's rating on its sheet, A: its light does not go with what heat leaves of that."""
    return lamp.part.rated


def _usual(lamp: LampFigures) -> float | None:
    """What an LED with its resistor inside takes on its volts, A; None of another one, and behind a resistor of its own too."""
    return lamp.part.dice[0].usual if lamp.part.resistor is None else None


def _dull(survey: Survey, lamp: LampFigures) -> Iterator[Fact | Within]:
    """A bulb is judged by its light, which falls much faster than its current."""
    rated, made = _rated(lamp), sum(die.filament_volts or 0.0 for die in lamp.part.dice)
    light, subject = light_ratio(max(lamp.nominal, 0.0), rated, filament=True), Subject("lamp", lamp.name)
    steps: dict[Severity, Within] = {
        "stop": Within(
            subject, light, Limited(DARK, "share", "judgement: a lamp is as good as off"), least=True
        ),
        "caution": Within(subject, light, limited(survey.limits["lamp.dim.far"]), least=True),
        "note": Within(subject, light, limited(survey.limits["lamp.dim"]), least=True),
    }
    yield from steps.values()
    if (severity := first_broken(steps)) is not None:
        yield Fact(
            severity, subject, lamp.part.path, "dark bulb" if severity == "stop" else "bulb", "bulb",
            figures={
                "gets": Figure(made * (max(lamp.nominal, 0.0) / rated) ** (1.0 / FILAMENT_EXPONENT), "V"),
                "made": Figure(made, "V"), "share": Figure(light, "share"),
            },
            limit=steps[severity].limit,
            because_of=cause_of_lack(survey, lamp),
        )  # fmt: skip


def _told_elsewhere(survey: Survey, lamp: LampFigures) -> bool:
    """Whether its output lacks volts, or its converter does not run: findings of their own."""
    off = {name for name, _ in survey.electrics.no_start}
    return (
        short_of_current(survey, lamp.part.circuit) or survey.wiring.drivers[lamp.part.circuit].supply in off
    )


def _dim(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in survey.electrics.lamps.values():
        if lamp.part.backwards or _told_elsewhere(survey, lamp):
            continue
        if filament(lamp):
            yield from _dull(survey, lamp) if lamp.part.wanted is None else ()
            continue
        # with nothing to limit it a lamp may be dark or burn out, depending on its bin: the worse is reported
        bare = is_bare(survey, lamp.part)
        if destroyed(lamp.part.dice, lamp.highest if bare else lamp.nominal, survey.limits):
            continue
        steps = _steps(survey, lamp)
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        reason = _why_so_little(survey, lamp, case)
        usual = _usual(lamp)
        robbed = _robbed(survey, lamp)
        together = in_series(survey, lamp) if robbed else None
        yield Fact(
            severity,
            Subject("lamp", lamp.name),
            lamp.part.path,
            case
            if not robbed or severity == "note"
            else f"{case}, {'apart' if together is None else 'in series'}",
            reason,
            figures={
                "nominal": _current(lamp.nominal),
                "lowest": _current(lamp.lowest if lamp.lowest_at_usual is None else lamp.lowest_at_usual),
                "rated": Figure(_rated(lamp), "A"),
                "share": Figure(lamp.nominal / _rated(lamp), "share"),
                "joints": Figure(lamp.joint_volts, "V"),
                "takes": Figure(_takes(lamp), "V"),
                **(_dropped(survey, lamp) if reason == "drop" else {}),
                "dice": Figure(len(lamp.part.dice), ""),
                **(
                    {"lead": Figure(lamp.lead_drop, "V")}
                    if above(lamp.lead_drop, LEAD_NAMED * lamp.joint_volts)
                    else {}
                ),
                **(
                    {}
                    if usual is None
                    else {"usual": Figure(usual, "A"), "lit": Figure(lamp.nominal / usual, "share")}
                ),
                **(
                    {}
                    if together is None
                    else {
                        "string": Figure(together.takes, "V"),
                        "needs": Figure(together.needs, "V"),
                        "volts": Figure(together.volts, "V"),
                    }
                ),
            },
            parts={} if together is None else {"others": together.others},
            limit=steps[broken].limit,
            because_of=cause_of_lack(survey, lamp),
        )


def _takes(lamp: LampFigures) -> float:
    """What its dice take, lit as they should be, V."""
    return sum(die.takes for die in lamp.part.dice)


def _robbed(survey: Survey, lamp: LampFigures) -> bool:
    """Whether what shares its constant-current output may take its current."""
    return lamp.part.resistor is None and on_one_output(survey, lamp)


def _dropped(survey: Survey, lamp: LampFigures) -> dict[str, Figure]:
    """What the output of a lamp drops, and what its supply gives."""
    driver = survey.wiring.drivers[lamp.part.circuit]
    gives = open_volts(survey.build.supply[driver.supply or ""], 0)
    return {"drop": Figure(driver.drop, "V"), "gives": Figure(gives, "V")}


def _why_so_little(survey: Survey, lamp: LampFigures, case: str) -> str:
    """Which of `_LACKS` a lamp lacks its current for."""
    if _robbed(survey, lamp):
        return "output"
    driver = survey.wiring.drivers[lamp.part.circuit]
    if driver.drop and below(lamp.joint_volts, NOTHING_LEFT * driver.drop):
        return "drop"
    if is_bare(survey, lamp.part):
        return "bare"
    if _usual(lamp) is not None:
        return "inside"
    if lamp.part.resistor is None and survey.wiring.drivers[lamp.part.circuit].steady is not None:
        return "steady"
    if case.startswith("starved"):
        return "little"
    return "resistor" if below(_takes(lamp), MOST_TAKEN * lamp.joint_volts) else "volts"


def _current(amperes: float) -> Figure:
    """A current that a meter would show, or none."""
    return Figure(amperes if amperes >= NOTHING else 0.0, "A")


# Why a lamp gets next to nothing: its dice take all the volts, or its resistor is far too large.
_LACKS = {
    "volts": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. Its joints get {joints}: too little for its resistor to set a current.",
    "bare": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. Its joints get {joints}.",
    "little": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes} of the {joints} at its joints[, and its lead {lead}]. Little is left for the resistor, so a few per cent less voltage leaves next to no current.",
    "steady": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. No resistor but a constant-current output sets its current: with a low supply, or beside a lamp that takes fewer volts, little of it is left.",
    "drop": "Its output drops {drop:apart} and its supply gives {gives:apart}: nothing is left.",
    "resistor": "Its joints get {joints}, and its resistor lets no more through.",
    "inside": "Its resistor is inside, for {takes}. Its joints get {joints}[, of which its lead takes {lead}].",
    "output": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. What shares its constant-current output takes the current at {joints}.",
}
_ONE_OUTPUT = {
    "apart": "Give it an output of its own.",
    "in series": "Put it in series with {others:8}: together they take {string:apart} at most and their output {needs:apart} for itself, of {volts:apart}."
    " Or give it an output of its own.",
}
_BESIDE = (("", ""), *((f", {how}", do) for how, do in _ONE_OUTPUT.items()))


def cause_of_lack(survey: Survey, lamp: LampFigures) -> str:
    """The finding that too little light of a lamp may come from: its output lacks volts, or its line loses them.

    Where its supply pushes into another one straight, or is pushed, the volts on its line are those of neither.
    """
    supply = survey.wiring.drivers[lamp.part.circuit].supply
    for pushed, other in survey.beyond.pushed.items():
        if supply in (pushed, other):
            return f"supply.backfeed:{pushed}"
    if survey.wiring.drivers[lamp.part.circuit].steady is not None:
        return f"output.compliance:{lamp.part.circuit}"
    return f"line.drop:{lamp.part.circuit}"


CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.backwards", "stop", "lamp", "a lamp wired the wrong way round",
        "It stays dark, and one die may take all the reverse voltage.", "highest voltage at its joints > the reverse voltage that one die is tested at",
        ("lamp.reverse",), "the lamp's data sheet", _backwards, dangerous=True,
        wording={
            "": Wording(
                "{subject} is wired the wrong way round and stays dark. Up to {reverse} is across it the wrong way[, and one of its {dice:die|dice} may take nearly all of it]. A die is tested at {rated}.",
                {
                    "beyond": "Nobody promises what a die does beyond the reverse voltage it is tested at: it may break down, often for good.",
                    "within": "A die is tested at that, so it should live to be turned round, but it gives no light.",
                },
                "Swap its two wires.",
            )
        },
    ),
    Check(
        "lamp.dim", "stop", "lamp", "far less current than the lamp is made for",
        "It is dark, or two of a kind look unlike.", "nominal / rated, of bulbs to the power of 3.4 / 0.55: below lamp.dim a note, below lamp.dim.far a caution, next to nothing a stop; with its resistor inside over what it takes on its volts, below lamp.dim.inside a note; "
        "lowest / nominal (a low supply, of a battery its usual volts, and parts at their worst), wanted or not, below lamp.dim: a caution", ("lamp.dim", "lamp.dim.far", "lamp.dim.inside", "lamp.destroyed"),
        "judgement", _dim,
        wording={
            **{
                f"dark{how}": Wording("{subject} gets {nominal} and stays dark.", _LACKS, do)
                for how, do in _BESIDE
            },
            "starved": Wording("{subject} gets {nominal} ({lowest} with a low supply and its parts at their worst).", _LACKS),
            "starved of cells": Wording(
                "{subject} gets {nominal} ({lowest} with its parts at their worst, the battery not even low).", _LACKS
            ),
            "dark bulb": Wording(
                "{subject} gets {gets:apart} and is made for {made:apart}: it stays dark.",
                {"bulb": "The light of a filament falls much faster than its volts."},
            ),
            "bulb": Wording(
                "{subject} gets {gets:apart} and is made for {made:apart}: it gives {share} of its light.",
                {"bulb": "The light of a filament falls much faster than its volts. `wanted` says that it is meant."},
            ),
            **{
                f"far too dim{how}": Wording(
                    "{subject} gets {nominal}, {share} of its rating of {rated}: in daylight it is hardly seen to be lit.",
                    dict.fromkeys(_LACKS, '`wanted = "{nominal}"` says that it is meant.') | ({"output": _LACKS["output"]} if do else {}),
                    do,
                )
                for how, do in _BESIDE
            },
            "few volts": Wording(
                "{subject} gets {nominal}, {lit} of the {usual} that it takes on its volts.",
                dict.fromkeys(_LACKS, f'{_LACKS["inside"]} `wanted = "{{nominal}}"` says that it is meant.'),
            ),
            "faint": Wording(
                "{subject} gets {nominal}, {share} of its rating of {rated}.",
                dict.fromkeys(
                    _LACKS,
                    'So far below its rating makers do not specify a lamp, and two of a kind may look unlike. `wanted = "{nominal}"` says that it is meant.',
                ),
            ),
        },
    ),
)  # fmt: skip
