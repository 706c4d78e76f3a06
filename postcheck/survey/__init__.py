"""Everything computed of one build, each section once and only when asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.reported import Figures
from postcheck.survey.untouched import untouched
from postcheck.wiring import Wiring, resolve
from postcheck.wiring.parts import Parts

if TYPE_CHECKING:
    from postcheck.physics.bundle import Effort
    from postcheck.survey.bench.bench import Bench
    from postcheck.survey.bench.ends import ConductorEnd
    from postcheck.survey.beyond import Beyond
    from postcheck.survey.closing.access import Reached
    from postcheck.survey.closing.figures import Closing
    from postcheck.survey.heat.conductors import InUse
    from postcheck.survey.heat.faults import Faults
    from postcheck.survey.heat.figures import BatteryFigures, ConductorFault, HotSpot, PlaceFigures
    from postcheck.survey.heat.metal import BareMetal
    from postcheck.survey.heat.motors import MotorHeat
    from postcheck.survey.network.figures import Electrics
    from postcheck.survey.post.figures import PassageFigures
    from postcheck.survey.test_records.records import TestRecords

__all__ = ["Survey"]


class Survey:
    """The survey of one build. Sections are computed on first use; checks read them and compute nothing.

    What stays from version to version: `build`, `figures`, `limits`, `stage`, `effort` and `today`, as they are judged by.

    `effort`: quick or long, how hard the packing of a passage is tried. `closing`: the places that are about to be
    closed; if none is named and the stage is closing, every sealed one. `today` counts for dates.
    """

    def __init__(
        self, build: Build, limits: Limits | None = None, stage: str | None = None, effort: Effort = "quick",
        closing: Iterable[str] = (), today: date | None = None,
    ) -> None:  # fmt: skip
        self.build = build
        self.effort: Effort = effort
        self.limits: Limits = limits or Limits()
        self.stage: str = stage or build.build.stage
        self.today: date = today or date.today()
        self.named_closing: tuple[str, ...] = tuple(dict.fromkeys(closing))

    @cached_property
    def figures(self) -> Figures:
        """The figures that every report carries: their names stay while those of the sections below may change."""
        from postcheck.survey.summary import reported_figures  # noqa: PLC0415 - a remedy that is tried reports none

        return reported_figures(self)

    def again(
        self,
        build: Build | None = None,
        limits: Limits | None = None,
        changed: Iterable[tuple[str | int, ...]] | None = None,
    ) -> Survey:
        """The survey of a changed build, or by other limits, judged as this one is.

        `changed`: the paths of all that differs in the build; sections that depend on none of them are not computed again.
        """
        other = Survey(
            build or self.build,
            limits or self.limits,
            self.stage,
            closing=self.named_closing,
            today=self.today,
        )
        if limits is None and changed is not None and not self.beyond.pushed:
            known = vars(self)
            vars(other).update({name: known[name] for name in untouched(changed) if name in known})
        return other

    @cached_property
    def wiring(self) -> Wiring:
        """What is joined to what."""
        return resolve(self.build)

    @property
    def parts(self) -> Parts:
        """Wires, dice and resistors, looked up."""
        return self.wiring.parts

    @cached_property
    def kinds_by_name(self) -> dict[str, str]:
        """The kind of thing that each name stands for where a test record gives no kind."""
        from postcheck.description.subjects import kinds_by_name  # noqa: PLC0415 - few builds have records

        return kinds_by_name(self.build)

    @cached_property
    def electrics(self) -> Electrics:
        """Currents, drops and loads in all states and corners."""
        from postcheck.survey.network.electrics import electrics_of  # noqa: PLC0415 - a run that only packs needs no network

        return electrics_of(self.wiring, self.limits)

    @cached_property
    def beyond(self) -> Beyond:
        """What has no figures that mean anything."""
        from postcheck.survey.beyond import beyond_figures  # noqa: PLC0415

        return beyond_figures(self)

    @cached_property
    def passages(self) -> dict[str, PassageFigures]:
        """Fill and twist of every passage."""
        from postcheck.survey.post.passages import passages_figures  # noqa: PLC0415

        return passages_figures(self.wiring, self.limits, self.effort)

    @cached_property
    def places(self) -> dict[str, PlaceFigures]:
        """Heat in every place."""
        from postcheck.survey.heat.places import places_figures  # noqa: PLC0415

        return places_figures(self.build, self.electrics, self.limits, self.beyond.pushing)

    @cached_property
    def spots(self) -> dict[str, tuple[str, float]]:
        """For each place of known material, the material and what a small spot of it withstands, degC."""
        from postcheck.survey.heat.places import spots  # noqa: PLC0415

        return spots(self.build, self.limits)

    @cached_property
    def hot_spots(self) -> tuple[HotSpot, ...]:
        """Glass and resistors that get warm, against what they sit on."""
        from postcheck.survey.heat.places import hot_spots  # noqa: PLC0415

        return tuple(hot_spots(self.build, self.electrics, self.limits, self.places))

    @cached_property
    def motors(self) -> tuple[MotorHeat, ...]:
        """How hot the case of each motor gets, running and held fast."""
        if not self.build.load:
            return ()
        from postcheck.survey.heat.motors import motors  # noqa: PLC0415 - few builds have any

        return tuple(motors(self.wiring, self.electrics, self.limits, self.places))

    @cached_property
    def held_for_good(self) -> frozenset[str]:
        """The motors that may be held fast for good: those that stall, and that no fuse soon ends."""
        if not any(load.kind == "motor" for load in self.build.load):
            return frozenset()
        from postcheck.survey.network.starting import held_for_good  # noqa: PLC0415 - few builds have any

        soon = self.limits.value("motor.fuse")
        return frozenset(
            part.name
            for part in self.parts.loads
            if held_for_good(self.wiring, self.electrics, part, soon) is not None
        )

    @cached_property
    def shorts(self) -> Faults:
        """The shorts of the wiring, to be worked out with other fuses too."""
        from postcheck.survey.heat.faults import Faults  # noqa: PLC0415

        return Faults(self.wiring, self.limits, self.in_use)

    @cached_property
    def faults(self) -> tuple[ConductorFault, ...]:
        """What a short does to every conductor."""
        return tuple(self.shorts.found())

    @cached_property
    def metal(self) -> tuple[BareMetal, ...]:
        """Posts and spars whose bare metal is a conductor."""
        if not any(run.body for run in self.parts.runs):
            return ()
        from postcheck.survey.heat.metal import bare_metal  # noqa: PLC0415 - few builds have any

        return bare_metal(self.wiring)

    @cached_property
    def in_use(self) -> InUse:
        """How hot every conductor gets in use, and how much it warms the others of its bore."""
        from postcheck.survey.heat.conductors import in_use  # noqa: PLC0415

        return in_use(self.wiring, self.electrics, self.passages, self.beyond.pushing)

    @cached_property
    def batteries(self) -> dict[str, BatteryFigures]:
        """How long every battery lasts."""
        if all(supply.kind != "battery" for supply in self.build.supply.values()):
            return {}
        from postcheck.survey.heat.batteries import battery_figures  # noqa: PLC0415

        return battery_figures(self.wiring, self.electrics, self.limits)

    @cached_property
    def bench(self) -> Bench:
        """Every conductor end: what the full supply does there, and how it is tested safely."""
        from postcheck.survey.bench.bench import Bench  # noqa: PLC0415

        return Bench(self.wiring, self.limits)

    @cached_property
    def ends(self) -> tuple[ConductorEnd, ...]:
        """Every conductor's end at every place."""
        from postcheck.survey.bench.ends import conductor_ends  # noqa: PLC0415

        return conductor_ends(self.wiring)

    @cached_property
    def poor_light(self) -> Mapping[tuple[str, str], float]:
        """How different plain colours look in poor light, by their letters."""
        from postcheck.survey.bench.ends import poor_light_differences  # noqa: PLC0415

        return poor_light_differences(self.limits)

    @cached_property
    def test_records(self) -> TestRecords:
        """What was tested, and measured currents against computed ones."""
        from postcheck.survey.test_records.records import TestRecords  # noqa: PLC0415

        return TestRecords(self.wiring, self.bench, self.limits, self.today)

    @cached_property
    def access(self) -> tuple[Reached, ...]:
        """How one gets at every joint, resistor, board, plug and lamp of the finished model."""
        from postcheck.survey.closing.access import reached  # noqa: PLC0415

        return reached(self.wiring)

    def closes(self, place: str) -> bool:
        """Whether a place is about to be closed, for good or by a cover."""
        return self.stage == "closing" and (not self.named_closing or place in self.named_closing)

    @cached_property
    def closing(self) -> dict[str, Closing]:
        """What has to be proven before each place that is about to be closed, and what proves it."""
        places = self.named_closing
        if not places and self.stage == "closing":
            places = tuple(name for name, place in self.build.place.items() if place.access == "sealed")
        if not places:
            return {}
        from postcheck.survey.closing.coverage import closings  # noqa: PLC0415

        return closings(self.wiring, self.bench, self.test_records, self.access, places)
