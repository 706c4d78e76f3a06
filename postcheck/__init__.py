"""postcheck: checks the lighting of a display model before it is glued shut.

`load` or `loads` a build, `check` it, read its report or `render` it; `compare` two reports. What stands in `__all__` here,
and in that of the rooms `ask`, `catalogue` and of `physics`, is what other programs can rely on.
"""

from __future__ import annotations

TYPE_CHECKING = False  # that of typing, which takes long to import
if TYPE_CHECKING:
    from typing import Any

    from postcheck import ask, catalogue
    from postcheck.answered import Answer
    from postcheck.checking import check, parts_list, pictures, sheet_of, unreadable
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
    from postcheck.mending import Mending
    from postcheck.pictured import BorePicture
    from postcheck.planned import Planned
    from postcheck.planner.planning import plan
    from postcheck.reaching import reach
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
        KnownFigure,
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
    from postcheck.rules import explain
    from postcheck.sheet import Sheet
    from postcheck.survey import Survey
    from postcheck.variation import Variation
    from postcheck.varying import vary

__all__ = [
    "Answer",
    "BenchTest",
    "BorePicture",
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
    "KnownFigure",
    "Limited",
    "Materials",
    "Mending",
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
    "Sheet",
    "Sleeved",
    "Spot",
    "Stage",
    "Subject",
    "Survey",
    "Typed",
    "Variation",
    "Verdict",
    "WhatIf",
    "Where",
    "__version__",
    "ask",
    "bench_tests",
    "catalogue",
    "check",
    "compare",
    "explain",
    "guide",
    "judge_reading",
    "lamp_names",
    "load",
    "load_revision",
    "loads",
    "parts_list",
    "pictures",
    "plan",
    "reach",
    "render",
    "run_names",
    "sheet_of",
    "strip_names",
    "unreadable",
    "vary",
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
    "postcheck.answered": ("Answer",),
    "postcheck.checking": ("check", "parts_list", "pictures", "sheet_of", "unreadable"),
    "postcheck.reaching": ("reach",),
    "postcheck.checks.record": ("Check", "Judge"),
    "postcheck.comparison": ("Changed", "Comparison", "Moved", "Part", "compare"),
    "postcheck.expected": ("Expected",),
    "postcheck.guidebook.book": ("guide",),
    "postcheck.materials": ("Item", "ItemKind", "Materials", "Piece", "Sleeved"),
    "postcheck.mending": ("Mending",),
    "postcheck.identification": ("Identification",),
    "postcheck.identifying": ("ReadingError", "which"),
    "postcheck.pictured": ("BorePicture",),
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
        "KnownFigure",
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
    "postcheck.rules": ("explain",),
    "postcheck.sheet": ("Sheet",),
    "postcheck.survey": ("Survey",),
    "postcheck.variation": ("Variation",),
    "postcheck.varying": ("vary",),
}
_ROOMS = ("ask", "catalogue")


if not TYPE_CHECKING:  # to a type checker it would say that every name is there

    def __getattr__(name: str) -> Any:
        from importlib import import_module  # noqa: PLC0415 - see _HOMES

        if name in _ROOMS:
            return import_module(f"postcheck.{name}")
        for home, names in _HOMES.items():
            if name in names:
                return getattr(import_module(home), name)
        raise AttributeError(f"module 'postcheck' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
