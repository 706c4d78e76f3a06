"""Lamps that are lit, but not as they should be: dark, unlike their fellows, not as wanted."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.known import filament, is_bare, known_lamps, on_battery, short_of_current, turns
from postcheck.checks.record import Check
from postcheck.checks.strings import in_series, on_one_output
from postcheck.checks.wording import Wording
from postcheck.limits import above
from postcheck.physics.light import light_ratio
from postcheck.physics.network import FILAMENT_EXPONENT
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart

# Below this share of its rating, a bulb below this share of its light, a lamp is as good as off.
DARK = 0.005
# A current that no meter on a bench shows, A; and the share of the volts that dice may take before it is they that leave
# too little.
NOTHING = 1e-6
MOST_TAKEN = 0.9
# A lead that loses this share of the volts at its joints is named beside what else takes them.
LEAD_NAMED = 0.05


def _steps(survey: Survey, lamp: LampFigures) -> dict[tuple[Severity, str], Within]:
    """What a lamp gets against the least that it should, by the severity and case of less.

    With a low supply and a high forward voltage it is left the least share of what it usually gets, too. A battery that
    runs empty leaves every lamp less, and is judged for itself; so is unequal sharing of a resistor or of a
    constant-current output. Of a bare lamp only what is plain counts: its current goes with hundredths of a volt.
    Where the file says what current is wanted, how little that is was meant; that a low supply leaves next to none was not.
    """
    limit, subject = survey.limits["lamp.dim"], Subject("lamp", lamp.name)
    dark = Limited(DARK * lamp.rated, "A", "judgement: a lamp is as good as off")
    shares_one = lamp.part.shared_resistor or on_one_output(survey, lamp)
    meant = lamp.part.wanted is not None
    steps: dict[tuple[Severity, str], Within] = (
        {} if meant else {("stop", "dark"): Within(subject, lamp.nominal, dark, least=True)}
    )
    bare = is_bare(survey, lamp.part)
    if not (bare or on_battery(survey, lamp.part) or shares_one or turns(lamp.part)):
        usual = of_rating(limit, lamp.nominal, "A")
        steps["caution", "starved"] = Within(subject, lamp.lowest, usual, least=True)
    if meant:
        return steps
    rated = _rated(lamp)
    far = of_rating(survey.limits["lamp.dim.far"], rated, "A")
    steps["caution", "far too dim"] = Within(subject, lamp.nominal, far, least=True)
    # what a chip inside works on is a range of its maker's: on the least of it a lamp is as bright as it is meant to be there
    if _usual(lamp) is not None and lamp.part.dice[0].works is None:
        made = of_rating(survey.limits["lamp.dim.inside"], _usual(lamp) or 0.0, "A")
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
    """A bulb by its light: a share of its current says little of that."""
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
            because_of=_cause_of_lack(survey, lamp),
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
        # with nothing to limit it a lamp may be dark or burn out, by its bin: the worse is told
        bare = is_bare(survey, lamp.part)
        if destroyed(lamp.part.dice, lamp.highest if bare else lamp.nominal, survey.limits):
            continue
        steps = _steps(survey, lamp)
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        takes, usual = sum(die.takes for die in lamp.part.dice), _usual(lamp)
        robbed = lamp.part.resistor is None and on_one_output(survey, lamp)
        together = in_series(survey, lamp) if robbed else None
        yield Fact(
            severity,
            Subject("lamp", lamp.name),
            lamp.part.path,
            case
            if not robbed or severity == "note"
            else f"{case}, {'apart' if together is None else 'in series'}",
            "output"
            if robbed
            else "bare"
            if bare
            else "inside"
            if usual is not None
            else "steady"
            if lamp.part.resistor is None and survey.wiring.drivers[lamp.part.circuit].steady is not None
            else "little"
            if case == "starved"
            else "resistor"
            if takes < MOST_TAKEN * lamp.joint_volts
            else "volts",
            figures={
                "nominal": _current(lamp.nominal),
                "lowest": _current(lamp.lowest),
                "rated": Figure(_rated(lamp), "A"),
                "share": Figure(lamp.nominal / _rated(lamp), "share"),
                "joints": Figure(lamp.joint_volts, "V"),
                "takes": Figure(takes, "V"),
                "dice": Figure(len(lamp.part.dice), ""),
                **(
                    {"lead": Figure(lamp.lead_drop, "V")}
                    if lamp.lead_drop > LEAD_NAMED * lamp.joint_volts
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
            because_of=_cause_of_lack(survey, lamp),
        )


def _current(amperes: float) -> Figure:
    return Figure(amperes if amperes >= NOTHING else 0.0, "A")


# Why a lamp gets next to nothing: its dice take all the volts, or its resistor is far too large.
_LACKS = {
    "volts": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. Its joints get {joints}: too little for its resistor to set a current.",
    "bare": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. Its joints get {joints}.",
    "little": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes} of the {joints} at its joints[, and its lead {lead}]. Little is left for the resistor, so a few per cent less voltage leaves next to no current.",
    "steady": "Lit as it should be, its {dice:LED takes|LEDs in series take} about {takes}. No resistor but a constant-current output sets its current: with a low supply, or beside a lamp that takes fewer volts, little of it is left.",
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


def _cause_of_lack(survey: Survey, lamp: LampFigures) -> str:
    if survey.wiring.drivers[lamp.part.circuit].steady is not None:
        return f"output.compliance:{lamp.part.circuit}"
    return f"line.drop:{lamp.part.circuit}"


def _unequal(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    yield from _unlike_whites(survey)
    limit = survey.limits["lamp.unequal"]
    groups: dict[tuple[object, ...], list[LampFigures]] = {}
    for lamp in known_lamps(survey):
        if turns(lamp.part):
            continue
        if lamp.part.wanted is None and not lamp.part.one_resistor and lamp.nominal > DARK * lamp.rated:
            # strings of any length: more of the same in series is as bright with the same current
            groups.setdefault((lamp.part.circuit, frozenset(lamp.part.dice)), []).append(lamp)
    for (circuit, _), lamps in groups.items():
        if len(lamps) < 2:
            continue
        ordered = sorted(lamps, key=lambda lamp: lamp.nominal)
        usual = ordered[len(ordered) // 2]
        odd = max(ordered, key=lambda lamp: abs(lamp.nominal - usual.nominal))
        away = abs(_light(odd, usual) - 1.0)
        yield (within := Within(Subject("lamp", odd.name), away, limited(limit)))
        if within.kept:
            yield from _beside(survey, str(circuit), lamps)
            continue
        reason = _unlike(odd, usual)
        also = [
            lamp.name
            for lamp in lamps
            if lamp is not odd and above(abs(_light(lamp, usual) - 1.0), limit.value)
        ]
        yield Fact(
            "caution" if reason == "wires" else "note",
            within.subject,
            odd.part.path,
            "of a kind",
            reason,
            figures={
                "nominal": Figure(odd.nominal, "A"),
                "usual": Figure(usual.nominal, "A"),
                "difference": Figure(away, "share"),
            },
            parts={
                "other": Subject("lamp", usual.name),
                "circuit": Subject("circuit", str(circuit)),
                **({"also": tuple(Subject("lamp", name) for name in also)} if also else {}),
            },
            limit=limited(limit),
            because_of=_cause_of_lack(survey, odd),
        )
    yield from _two_whites(survey)


def _light(lamp: LampFigures, usual: LampFigures) -> float:
    """The light of a lamp over that of another one of its kind."""
    return light_ratio(lamp.nominal, usual.nominal, filament=filament(lamp))


def _beside(survey: Survey, circuit: str, lamps: list[LampFigures]) -> Iterator[Fact | Within]:
    """Lamps of one kind in one place: seen side by side, less of a difference shows."""
    limit = limited(survey.limits["lamp.unequal.beside"])
    for place in dict.fromkeys(lamp.part.place for lamp in lamps):
        there = [lamp for lamp in lamps if lamp.part.place == place]
        least, most = (end(there, key=lambda lamp: lamp.nominal) for end in (min, max))
        if least is most:
            continue
        away = 1.0 - _light(least, most)
        yield (within := Within(Subject("lamp", least.name), away, limit))
        if within.kept:
            continue
        yield Fact(
            "note", within.subject, least.part.path, "beside", _unlike(least, most),
            figures={
                "nominal": Figure(least.nominal, "A"), "usual": Figure(most.nominal, "A"), "difference": Figure(away, "share"),
            },
            parts={
                "other": Subject("lamp", most.name), "circuit": Subject("circuit", circuit), "place": Subject("place", place),
            },
            limit=limit,
            because_of=_cause_of_lack(survey, least),
        )  # fmt: skip


def _white(part: LampPart) -> str:
    """What sort of white a lamp is called, by its colour or kind; empty for another colour."""
    die = part.dice[0]
    called = (die.colour or part.said.kind).lower()
    if die.filament_volts is not None or "white" not in called:
        return ""
    return next((f"{sort} white" for sort in ("warm", "neutral") if sort in called), "white")


def _two_whites(survey: Survey) -> Iterator[Fact]:
    """Warm white beside white in one place, alike in all else: what differs in make or wiring has another purpose."""
    groups: dict[tuple[object, ...], list[LampPart]] = {}
    for part in survey.parts.lamps:
        if part.dice and (white := _white(part)):
            make = set(part.said.kind.lower().split("-")) - {*white.split(), "cool", "cold"}
            ohms = part.resistor.ohms if part.resistor is not None else 0.0
            key = (part.circuit, part.place, frozenset(make), len(part.dice), part.parallel, ohms)
            groups.setdefault(key, []).append(part)
    for parts in groups.values():
        sorts = {_white(part): part for part in reversed(parts)}
        if len(sorts) < 2:
            continue
        first, other = sorted(sorts.values(), key=parts.index)[:2]
        yield Fact(
            "note", Subject(first.kind, first.name), first.path, "two whites", "two whites",
            parts={
                "other": Subject(other.kind, other.name), "circuit": Subject("circuit", first.circuit), "place": Subject("place", first.place),
            },
            words={"white": _white(first), "another": _white(other)},
        )  # fmt: skip


def _unlike_whites(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Whites of several kinds behind equal resistors on one circuit: their forward voltages tell them apart."""
    limit = survey.limits["lamp.unequal"]
    groups: dict[tuple[object, ...], list[LampFigures]] = {}
    for lamp in known_lamps(survey):
        part, white = lamp.part, _white(lamp.part)
        if (
            white
            and not turns(lamp.part)
            and part.wanted is None
            and not part.one_resistor
            and lamp.nominal > DARK * lamp.rated
        ):
            key = (part.circuit, white, len(part.dice), _ohms_of(lamp), part.dice[0].rated)
            groups.setdefault(key, []).append(lamp)
    for (circuit, called, *_), lamps in groups.items():
        least, most = (end(lamps, key=lambda lamp: lamp.nominal) for end in (min, max))
        if least.part.dice == most.part.dice:
            continue
        away = most.nominal / least.nominal - 1.0
        yield (within := Within(Subject("lamp", least.name), away, limited(limit)))
        if within.kept:
            continue
        yield Fact(
            "caution", within.subject, least.part.path, "whites", "whites",
            figures={
                "nominal": Figure(least.nominal, "A"), "usual": Figure(most.nominal, "A"),
                "difference": Figure(away, "share"),
            },
            parts={"other": Subject("lamp", most.name), "circuit": Subject("circuit", str(circuit))},
            words={"white": str(called)},
            limit=within.limit,
            because_of=_cause_of_lack(survey, least),
        )  # fmt: skip


def _ohms_of(lamp: LampFigures) -> float:
    return lamp.part.resistor.ohms if lamp.part.resistor is not None else 0.0


def _unlike(one: LampFigures, other: LampFigures) -> str:
    """Why two lamps of a kind differ in light: by what was chosen for them, or by the wires on the way."""
    if _ohms_of(one) != _ohms_of(other):
        return "resistors"
    return "strings" if len(one.part.dice) != len(other.part.dice) else "wires"


def _not_as_wanted(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["lamp.wanted"]
    for lamp in known_lamps(survey):
        if lamp.part.wanted_range is None:
            continue
        least, most = lamp.part.wanted_range
        if least < most:
            yield from _out_of_range(survey, lamp, least, most)
            continue
        wanted = most
        if not wanted:
            continue
        gets, turned = _reached(lamp, wanted)
        away = abs(gets / wanted - 1.0)
        yield (within := Within(Subject("lamp", lamp.name), away, limited(limit)))
        if within.kept:
            continue
        more = gets > wanted
        yield Fact(
            "caution",
            within.subject,
            lamp.part.path,
            "more" if more else "less",
            figures={
                "nominal": Figure(gets, "A"),
                "wanted": Figure(wanted, "A"),
                "difference": Figure(away, "share"),
            },
            words={"turned": turned} if turned else {},
            limit=within.limit,
            because_of=f"lamp.over-rating:{lamp.name}" if more else _cause_of_lack(survey, lamp),
        )


def _reached(lamp: LampFigures, wanted: float) -> tuple[float, str]:
    """What a lamp gets, A; with a trimmer that may be turned, the nearest to what is wanted, and which end of the track that is."""
    if not turns(lamp.part) or lamp.turned is None:
        return lamp.nominal, ""
    most, least = lamp.turned
    if wanted > most:
        return most, "zero"
    return (least, "its whole track") if wanted < least else (wanted, "")


def _out_of_range(survey: Survey, lamp: LampFigures, least: float, most: float) -> Iterator[Fact | Within]:
    """A current that is outside the range that the file gives for it."""
    subject, said = Subject("lamp", lamp.name), "what the file says is wanted"
    gets, turned = _reached(lamp, max(least, min(lamp.nominal, most)))
    steps = {
        "above": Within(subject, gets, Limited(most, "A", said)),
        "below": Within(subject, gets, Limited(least, "A", said), least=True),
    }
    yield from steps.values()
    case = first_broken(steps)
    if case is not None:
        yield Fact(
            "caution",
            subject,
            lamp.part.path,
            case,
            figures={"nominal": Figure(gets, "A")},
            words={"turned": turned} if turned else {},
            limit=steps[case].limit,
            because_of=f"lamp.over-rating:{lamp.name}" if case == "above" else _cause_of_lack(survey, lamp),
        )


CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.dim", "stop", "lamp", "far less current than the lamp is made for",
        "It is dark, or two of a kind look unlike.", "nominal / rated, of bulbs to the power of 3.4 / 0.55: below lamp.dim a note, below lamp.dim.far a caution, next to nothing a stop; with its resistor inside over what it takes on its volts, below lamp.dim.inside a note; "
        "lowest / nominal (a low supply, parts at their worst; not on a battery), wanted or not, below lamp.dim: a caution", ("lamp.dim", "lamp.dim.far", "lamp.dim.inside", "lamp.destroyed"),
        "judgement", _dim,
        wording={
            **{
                f"dark{how}": Wording("{subject} gets {nominal} and stays dark.", _LACKS, do)
                for how, do in _BESIDE
            },
            "starved": Wording("{subject} gets {nominal} ({lowest} with a low supply and its parts at their worst).", _LACKS),
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
    Check(
        "lamp.unequal", "caution", "lamp", "lamps of a kind, or whites, on one circuit that are not alike",
        "Side by side the difference shows.", "|I / I of the middle one - 1|, in one place 1 - least / most; of bulbs to the power of 3.4 / 0.55; of whites of several kinds behind equal resistors most / least - 1", ("lamp.unequal", "lamp.unequal.beside"),
        "judgement; of whites: one of 3000 K is 333 mired, one of 6500 K 154, and the eye tells 5.5 apart (Judd, from memory)", _unequal,
        wording={
            "whites": Wording(
                "{subject} gets {nominal}. {other}, of another kind of {white} behind the same resistor on circuit {circuit}, gets {usual}, {difference} more.",
                {"whites": "Their forward voltages differ, and side by side the difference shows. It grows as the supply falls."},
                "Give one of them another resistor, or use lamps of one kind.",
            ),
            "two whites": Wording(
                "{subject} is {white}. {other}, beside it in {place} on circuit {circuit}, is {another}.",
                {"two whites": "Side by side the one looks yellow and the other blue."},
                "Use lamps of one white. If both are meant, accept this note.",
            ),
            "beside": Wording(
                "{subject} gets {nominal:apart}. {other}, the same lamp beside it in {place} on circuit {circuit}, gets {usual:apart}. The dimmer gives {difference} less light.",
                {
                    "resistors": "Their resistors differ; if that is meant, `wanted` says so.",
                    "strings": "They are in strings of another length, and their resistors are the same.",
                    "wires": "Side by side the difference shows. It comes from the wires on the way, not from the resistors.",
                },
            ),
            "of a kind": Wording(
                "{subject} gets {nominal}. {other}, the same lamp on circuit {circuit}, gets {usual}.[ Others that differ from it: {also}.]",
                {
                    "resistors": "Their resistors differ; if that is meant, `wanted` says so.",
                    "strings": "They are in strings of another length, and their resistors are the same.",
                    "wires": "Side by side the difference shows. It comes from the wires on the way, not from the resistors.",
                },
            )
        },
    ),
    Check(
        "lamp.not-as-wanted", "caution", "lamp", "not the current that was wanted", "The light goes with the current.",
        "|nominal / wanted - 1|", ("lamp.wanted",), "judgement", _not_as_wanted,
        wording={
            how: Wording(
                f"{{subject}} gets {{nominal}}[ with its trimmer turned to {{turned}}], {{difference}} {how} than the {{wanted}} that is wanted.",
                "The light goes with the current. From about a quarter the difference is plain to see.",
            )
            for how in ("more", "less")
        }
        | {
            case: Wording(
                f"{{subject}} gets {{nominal:apart}}[ with its trimmer turned to {{turned}}]. {end} {{limit:apart}} is wanted.", "The light goes with the current."
            )
            for case, end in (("above", "At most"), ("below", "At least"))
        },
    ),
)  # fmt: skip
