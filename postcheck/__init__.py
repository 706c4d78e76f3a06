"""postcheck: checks the lighting of a display model before it is glued shut.

`load` or `loads` a build, `check` it, read its report or `render` it; `compare` two reports. What stands in `__all__` here,
and in that of the rooms of `postcheck.physics`, is what other programs can rely on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from postcheck.checking import check, parts_list, reach, unreadable
    from postcheck.checks.record import Check, Judge
    from postcheck.comparison import Changed, Comparison, Moved, Part, compare
    from postcheck.description.consumers import lamp_names, strip_names
    from postcheck.description.models import Build
    from postcheck.description.naming import run_names
    from postcheck.description.problems import BuildError, Problem
    from postcheck.expected import Expected
    from postcheck.guidebook.book import guide
    from postcheck.identification import Identification
    from postcheck.identifying import ReadingError, which
    from postcheck.materials import Item, ItemKind, Materials, Piece, Sleeved
    from postcheck.planned import Planned
    from postcheck.planner.planning import plan
    from postcheck.reading.loading import load, loads
    from postcheck.reading.revision import load_revision
    from postcheck.reading.what_if import what_if
    from postcheck.recorded import BenchTest, Judged, MeterReading, Outcome
    from postcheck.recording import bench_tests, judge_reading
    from postcheck.rendering import Format, render
    from postcheck.repair import Reading, Repair, Spot
    from postcheck.report import (
        Edit,
        Effort,
        FailOn,
        Figure,
        FileReport,
        Finding,
        Limited,
        NotJudged,
        Report,
        Rule,
        Severity,
        Stage,
        Subject,
        Typed,
        Verdict,
        WhatIf,
        Where,
    )
    from postcheck.reported import Figures
    from postcheck.survey import Survey

__all__ = [
    "BenchTest",
    "Build",
    "BuildError",
    "Changed",
    "Check",
    "Comparison",
    "Edit",
    "Effort",
    "Expected",
    "FailOn",
    "Figure",
    "Figures",
    "FileReport",
    "Finding",
    "Format",
    "Identification",
    "Item",
    "ItemKind",
    "Judge",
    "Judged",
    "Limited",
    "Materials",
    "MeterReading",
    "Moved",
    "NotJudged",
    "Outcome",
    "Part",
    "Piece",
    "Planned",
    "Problem",
    "Reading",
    "ReadingError",
    "Repair",
    "Report",
    "Rule",
    "Severity",
    "Sleeved",
    "Spot",
    "Stage",
    "Subject",
    "Survey",
    "Typed",
    "Verdict",
    "WhatIf",
    "Where",
    "__version__",
    "bench_tests",
    "check",
    "compare",
    "guide",
    "judge_reading",
    "lamp_names",
    "load",
    "load_revision",
    "loads",
    "parts_list",
    "plan",
    "reach",
    "render",
    "run_names",
    "strip_names",
    "unreadable",
    "what_if",
    "which",
]

__version__ = "0.1.0"

# Imported on first use: a hook that only asks for the version must not wait for the models.
_HOMES = {
    "postcheck.reading.loading": ("load", "loads"),
    "postcheck.description.models": ("Build",),
    "postcheck.description.consumers": ("lamp_names", "strip_names"),
    "postcheck.description.naming": ("run_names",),
    "postcheck.description.problems": ("BuildError", "Problem"),
    "postcheck.reading.revision": ("load_revision",),
    "postcheck.reading.what_if": ("what_if",),
    "postcheck.checking": ("check", "parts_list", "reach", "unreadable"),
    "postcheck.checks.record": ("Check", "Judge"),
    "postcheck.comparison": ("Changed", "Comparison", "Moved", "Part", "compare"),
    "postcheck.expected": ("Expected",),
    "postcheck.guidebook.book": ("guide",),
    "postcheck.materials": ("Item", "ItemKind", "Materials", "Piece", "Sleeved"),
    "postcheck.identification": ("Identification",),
    "postcheck.identifying": ("ReadingError", "which"),
    "postcheck.planned": ("Planned",),
    "postcheck.planner.planning": ("plan",),
    "postcheck.recorded": ("BenchTest", "Judged", "MeterReading", "Outcome"),
    "postcheck.recording": ("bench_tests", "judge_reading"),
    "postcheck.rendering": ("Format", "render"),
    "postcheck.repair": ("Reading", "Repair", "Spot"),
    "postcheck.report": (
        "Edit",
        "Effort",
        "FailOn",
        "Figure",
        "FileReport",
        "Finding",
        "Limited",
        "NotJudged",
        "Report",
        "Rule",
        "Severity",
        "Stage",
        "Subject",
        "Typed",
        "Verdict",
        "WhatIf",
        "Where",
    ),
    "postcheck.reported": ("Figures",),
    "postcheck.survey": ("Survey",),
}


if not TYPE_CHECKING:  # to a type checker it would say that every name is there

    def __getattr__(name: str) -> Any:
        from importlib import import_module  # noqa: PLC0415 - see _HOMES

        for home, names in _HOMES.items():
            if name in names:
                return getattr(import_module(home), name)
        raise AttributeError(f"module 'postcheck' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
