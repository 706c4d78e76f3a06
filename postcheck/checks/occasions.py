"""Whether a build has anything that a check looks at: one that has not was not passed, it had nothing to judge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from postcheck.checks.record import Check
from postcheck.description.naming import passages_of

if TYPE_CHECKING:
    from postcheck.survey import Survey

Occasion = Callable[["Survey"], Any]


def _of(section: str) -> Occasion:
    """Where the build has entries of a section."""
    return lambda survey: getattr(survey.build, section)


def _any(section: str, which: Callable[[Any], Any]) -> Occasion:
    """Where any entry of a section, a list or by names, is such a one."""

    def occasion(survey: Survey) -> bool:
        entries = getattr(survey.build, section)
        return any(map(which, entries.values() if isinstance(entries, Mapping) else entries))

    return occasion


def _supplies(*kinds: str) -> Occasion:
    return _any("supply", lambda supply: supply.kind in kinds)


def _circuits(*behaviours: str) -> Occasion:
    return _any("circuit", lambda circuit: circuit.behaviour in behaviours)


def _unsteady(survey: Survey) -> bool:
    """Whether anything goes on and off: a circuit, or a lamp with a chip in it."""
    lamps = any(lamp.flashes is not None for lamp in survey.parts.lamps)
    return lamps or _circuits("flash", "dim", "fade")(survey)


def _passages(survey: Survey) -> Any:
    return passages_of(survey.build)


# By the kind of a check's subject, where its name is not listed.
_SUBJECTS: Mapping[str, Occasion] = MappingProxyType(
    {
        "acceptance": _of("accept"),
        "board": _of("board"),
        "circuit": _of("circuit"),
        "join": _of("join"),
        "lamp": _of("lamp"),
        "load": _of("load"),
        "passage": _passages,
        "place": _of("place"),
        "plug": _of("plug"),
        "proof": _of("proof"),
        "run": _of("run"),
        "strip": _of("strip"),
        "supply": _of("supply"),
    }
)
# By the name of a check, or of the family before its dot.
_NAMES: Mapping[str, Occasion] = MappingProxyType(
    {
        "board.overload": _any("board", lambda board: board.limit or board.total),
        "battery": _supplies("battery", "usb"),  # a power bank is one
        "circuit.step": _unsteady,
        "circuit.steady-on-flasher": _unsteady,
        "circuit.unswitched": _circuits("flash", "dim", "fade"),
        "converter": _supplies("converter"),
        "dim": _circuits("dim", "fade"),
        "flash": _unsteady,
        "fuse": _any("supply", lambda supply: supply.fuse),
        "fuse.absent": _of("supply"),
        "lamp.dip": _any("load", lambda load: load.kind == "motor"),
        "lamp.not-as-wanted": _any("lamp", lambda lamp: lamp.wanted is not None),
        "lamp.strobe": _circuits("flash", "dim", "fade"),
        "lead": _any("lamp", lambda lamp: lamp.lead is not None),
        "motor": _any("load", lambda load: load.kind == "motor"),
        "output": _any("circuit", lambda circuit: circuit.output or circuit.board),
        "output.overload": _any("circuit", lambda circuit: circuit.output and circuit.output.limit),
        "passage.plug": _of("plug"),
        "passage.plug-alone": _of("plug"),
        "supply.mains-inside": _supplies("adaptor"),
        "supply.switches-off": _supplies("usb"),
        "supply.type-c": _supplies("usb"),
        "supply.unloaded": _supplies("adaptor"),
        "way": _of("way"),
    }
)


def nothing_to_judge(survey: Survey, checks: Iterable[Check], heard: Iterable[str]) -> tuple[str, ...]:
    """The names of the checks that had nothing to judge, in order; `heard`: those that found, asked or compared something."""
    known = frozenset(heard)
    closing = survey.stage == "closing"
    there = cache(lambda occasion: occasion(survey))  # many checks share one answer
    return tuple(
        check.name
        for check in checks
        if check.name not in known
        and not (
            (closing or not check.name.startswith("closing."))
            and there(_occasion_of(check.name, check.subject))
        )
    )


def has_an_occasion(check: Check, survey: Survey) -> bool:
    """Whether the build has anything that a check looks at, by what the file says alone."""
    return bool(_occasion_of(check.name, check.subject)(survey))


@cache
def _occasion_of(name: str, subject: str) -> Occasion:
    return _NAMES.get(name) or _NAMES.get(name.partition(".")[0]) or _SUBJECTS.get(subject) or _always


def _always(_: Survey) -> bool:
    return True
