"""Batteries: how long, how dim, and whether they are safe where they sit."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import amps, listed, span, volts
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey

__all__ = ["CHECKS"]


def _too_short(survey: Survey) -> Iterator[Finding | NotJudged]:
    derate = survey.limits["battery.derate"]
    for name, battery in survey.batteries.items():
        if battery.wanted is None or battery.average <= 0.0:
            continue
        if battery.seconds is None:
            yield NotJudged(
                name,
                f"whether it lasts the {span(battery.wanted)} wanted",
                'its capacity, such as capacity = "2000 mAh"',
            )
        elif battery.empty_volts >= battery.full_volts and battery.seconds == 0.0:
            yield Finding(
                "battery.too-short", "caution", Subject("supply", name),
                f"{quoted(name)} is empty from the start: it counts as empty at {volts(battery.empty_volts)}, and fresh it gives {volts(battery.full_volts)}; {span(battery.wanted)} is wanted.",
                "What is cut off above the volts of a fresh battery never runs.",
                (*battery.path, "cut_off"),
                remedy="More cells, or a cut-off that fits these.",
                figures={"full": Figure(battery.full_volts, "V"), "empty": Figure(battery.empty_volts, "V")},
                limit=Limited(battery.wanted, "s", "runs_for in the build file"),
            )  # fmt: skip
        elif battery.seconds < battery.wanted:
            needed = battery.average * battery.wanted / derate.value
            yield Finding(
                "battery.too-short", "caution", Subject("supply", name),
                f"{quoted(name)} lasts about {span(battery.seconds, battery.wanted)} at {amps(battery.average)} on average; {span(battery.wanted)} is wanted.",
                "The model goes dark before the show is over. Three quarters of the rated capacity is counted on; age and cold take the rest.",
                (*battery.path, "runs_for"),
                remedy=f"Cells of at least {needed / 3.6:.0f} mAh, or {amps(battery.average * battery.seconds / battery.wanted)} on average.",
                figures={"average": Figure(battery.average, "A"), "lasts": Figure(battery.seconds, "s")},
                limit=Limited(battery.wanted, "s", "runs_for in the build file"),
            )  # fmt: skip


def _dim_early(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["battery.dim"]
    for name, battery in survey.batteries.items():
        if not battery.dim or (battery.seconds or 0.0) < (battery.wanted or 0.0):
            continue  # it is too small altogether, and that is said already
        lamp, level = battery.dim[0]
        too_soon = (
            battery.dim_seconds is not None
            and battery.wanted is not None
            and battery.dim_seconds < battery.wanted
        )
        half_full = battery.wanted is None and level >= battery.usual_volts
        if not (too_soon or half_full) or level <= battery.empty_volts:
            continue
        early = [other for other, at in battery.dim if too_soon or at >= battery.usual_volts]
        when = (
            f" after about {span(battery.dim_seconds, battery.wanted or 0.0)}" if battery.dim_seconds else ""
        )
        wanted = f"; {span(battery.wanted)} is wanted" if battery.wanted is not None else ""
        yield Finding(
            "battery.dim-early", "caution", Subject("supply", name),
            f"{quoted(lamp)} has half its first current left once {quoted(name)} is down to {volts(level)}{when}{wanted}; the battery counts as empty only at {volts(battery.empty_volts)}.",
            f"The lamps fade long before the battery is empty: {listed(early)}. Too little voltage is left for the resistors to hold the current.",
            battery.path,
            remedy="One cell more with larger resistors, or fewer lamps in series.",
            figures={"dim": Figure(level, "V"), "empty": Figure(battery.empty_volts, "V")},
            limit=Limited(limit.value, limit.unit, limit.source),
        )  # fmt: skip


def _stops_early(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, battery in survey.batteries.items():
        if not battery.stops or (battery.seconds or 0.0) < (battery.wanted or 0.0):
            continue
        part, level = battery.stops[0]
        if (
            level <= battery.empty_volts or level > battery.usual_volts
        ):  # above it does not even begin: told elsewhere
            continue
        wanted, at = battery.wanted, battery.stops_seconds
        # where no time is asked for, only what goes out in the first half is worth a word
        enough = wanted if wanted is not None else 0.5 * (battery.seconds or 0.0)
        if at is None or at >= enough:
            continue
        when = f" after about {span(at)}" if at else ""
        yield Finding(
            "battery.stops-early", "caution" if wanted is not None else "note", Subject("supply", name),
            f"{quoted(part)} stops once {quoted(name)} is down to {volts(level)}{when}{f'; {span(wanted)} is wanted' if wanted is not None else ''}; the battery counts as empty only at {volts(battery.empty_volts)}.",
            f"What needs a least voltage goes out in the middle of a battery's life: {listed([other for other, _ in battery.stops])}.",
            battery.path,
            figures={"stops": Figure(level, "V"), "empty": Figure(battery.empty_volts, "V")},
            limit=Limited(level, "V", "the least voltage of the part, as the file gives it, and what its way costs"),
        )  # fmt: skip


def _lithium_sealed(survey: Survey) -> Iterator[Finding | NotJudged]:
    yield from _banks(survey)
    for name, battery in survey.batteries.items():
        place = survey.build.place.get(battery.place)
        if not battery.lithium or place is None or place.access != "sealed":
            continue
        safe = battery.protected is True
        yield Finding(
            "battery.lithium-sealed", "caution" if safe else "stop", Subject("supply", name),
            f"{quoted(name)} is a lithium battery sealed into {quoted(battery.place)}"
            + (", where nobody can see it swell." if safe else " without a protection board."),
            "A lithium cell that is shorted, overcharged or too empty can swell and burn, and here nobody can look at it or take it out. "
            "Follow its maker's rules and local codes; never charge it inside the model.",
            (*battery.path, "place"),
            remedy="Put it behind a cover from which it comes out for charging"
            + ("." if safe else ", and use a cell or pack with a protection board."),
        )  # fmt: skip


def _banks(survey: Survey) -> Iterator[Finding | NotJudged]:
    """Power banks are lithium packs; batteries of which nothing is said may be."""
    for name, supply in survey.build.supply.items():
        place = survey.build.place.get(supply.place)
        sealed = place is not None and place.access == "sealed"
        if supply.port == "power-bank" and sealed:
            yield Finding(
                "battery.lithium-sealed", "stop", Subject("supply", name),
                f"{quoted(name)} is a power bank sealed into {quoted(supply.place)}.",
                "It is a lithium battery with a charger: it can swell and burn, it must be seen and taken out to be charged, "
                "and it never lies still. Follow its maker's rules and local codes.",
                ("supply", name, "place"),
                remedy="Put it behind a cover from which it comes out for charging.",
            )  # fmt: skip
        if supply.kind == "battery" and supply.chemistry is None:
            yield NotJudged(
                name,
                "whether it is a lithium battery, and protected",
                'its chemistry, such as chemistry = "alkaline"',
                vital=sealed,
            )


def _unprotected(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, battery in survey.batteries.items():
        if not battery.lithium or battery.protected is True:
            continue
        known = battery.protected is False
        yield Finding(
            "battery.unprotected", "stop" if known else "caution", Subject("supply", name),
            f"{quoted(name)} is a lithium battery {'without' if known else 'and the file does not say that it has'} a protection board.",
            "Nothing ends a short or stops it from being emptied too far: it can swell and burn. "
            "Use protected cells only, a proper charger, and never charge it unattended.",
            (*battery.path, "protected"),
            remedy="Use a cell or pack with a protection board, and write protected = true.",
            because_of=f"battery.lithium-sealed:{name}",
        )  # fmt: skip


def _overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, battery in survey.batteries.items():
        if (
            battery.most is None
            and survey.build.supply[name].chemistry == "lithium-coin"
            and battery.highest > 0.0
        ):
            yield NotJudged(
                name,
                f"whether its cells may give {amps(battery.highest)}",
                'their size, such as size = "cr2032"',
            )
        if battery.most is None or battery.highest <= battery.most:
            continue
        stop = battery.lithium
        yield Finding(
            "battery.overload", "stop" if stop else "caution", Subject("supply", name),
            f"{quoted(name)} gives up to {amps(battery.highest)}; its cells are good for {amps(battery.most)}.",
            "Cells drawn on too hard sag and get hot" + (", and lithium cells may burn." if stop else ", and last far shorter than their rating says."),
            battery.path,
            figures={"load": Figure(battery.highest, "A")},
            limit=Limited(battery.most, "A", "the cell's data"),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "battery.too-short", "caution", "supply", "a battery does not last as long as wanted",
        "The model goes dark before the show is over.",
        "time = share x capacity / average current", ("battery.derate",),
        "a plain share of the rated capacity; common practice", _too_short,
    ),
    Check(
        "battery.dim-early", "caution", "supply", "lamps fade long before the battery is empty",
        "A lamp whose string takes nearly the whole voltage follows the battery down.",
        "V = V0 + share x (V_full - V0), V0 where the string begins to conduct", ("battery.dim",),
        "straight line through the lamp's nominal point", _dim_early,
    ),
    Check(
        "battery.stops-early", "caution", "supply", "a load or board stops long before the battery is empty",
        "What needs a least voltage follows the battery down.", "volts of the battery at which the part has its least voltage",
        (), "straight line from full to empty over the capacity", _stops_early,
    ),
    Check(
        "battery.lithium-sealed", "stop", "supply", "a lithium battery is sealed in",
        "A lithium cell must be seen and reached; one without protection may burn.",
        "chemistry and access", (), "cell makers' rules: removable, protected, not charged inside; defers to local codes",
        _lithium_sealed, dangerous=True,
    ),
    Check(
        "battery.unprotected", "stop", "supply", "a lithium battery has no protection board",
        "Nothing ends a short or deep discharge.", "chemistry and protected", (),
        "cell makers' rules: protected cells only", _unprotected, dangerous=True,
    ),
    Check(
        "battery.overload", "stop", "supply", "more current than the cells may give",
        "Cells drawn on too hard sag, heat up and age.", "highest load against the cell's most current", (),
        "the cell's data, file or catalogue", _overload, dangerous=True,
    ),
)  # fmt: skip
