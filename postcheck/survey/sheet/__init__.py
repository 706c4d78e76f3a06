"""The parts of the printed sheet, gathered from the survey as records that a renderer only words and draws."""

from __future__ import annotations

from collections.abc import Collection

from postcheck.report import ChangedLimit, Finding, Verdict
from postcheck.sheet import PARTS, Sheet
from postcheck.survey import Survey
from postcheck.survey.post.pictures import bore_picture
from postcheck.survey.sheet.bench import bench_places
from postcheck.survey.sheet.budget import budgets
from postcheck.survey.sheet.buy import materials
from postcheck.survey.sheet.client import client_card
from postcheck.survey.sheet.closing import closing_places
from postcheck.survey.sheet.hub import hub_places
from postcheck.survey.sheet.paths import circuit_paths
from postcheck.survey.sheet.which import which_places
from postcheck.wiring.looked_up import shares_unsaid
from postcheck.wiring.parts import LampPart

__all__ = ["sheet_of"]


def sheet_of(
    survey: Survey, wanted: Collection[str], verdict: Verdict, findings: tuple[Finding, ...], limits: tuple[ChangedLimit, ...] = ()
) -> Sheet:  # fmt: skip
    """The sheet of one build with the parts that are wanted (names of `PARTS`), none for all of them."""
    parts = tuple(part for part in PARTS if part in wanted or not wanted)
    which = which_places(survey) if "which" in parts else ()
    if not which and "which" not in wanted:
        parts = tuple(part for part in parts if part != "which")
    stops = tuple(
        finding.says for finding in findings if finding.severity == "stop" and finding.accepted is None
    )
    return Sheet(
        build=survey.build.build.name,
        file=survey.build.file,
        today=survey.today.isoformat(),
        stage=survey.stage,
        verdict=verdict,
        stops=stops,
        parts=parts,
        waived=tuple((finding.says, finding.accepted) for finding in findings if finding.accepted is not None),
        limits=limits,
        hub=hub_places(survey) if "hub" in parts else (),
        own_legs=tuple(dict.fromkeys(part.entry for part in survey.parts.every if isinstance(part, LampPart) and shares_unsaid(part.said))) if "hub" in parts else (),
        bench=bench_places(survey) if "bench" in parts else (),
        which=which,
        bores=tuple(bore_picture(survey.wiring, passage, survey.limits) for passage in survey.passages.values()) if "post" in parts else (),
        paths=circuit_paths(survey) if "volts" in parts else (),
        supplies=budgets(survey) if "supply" in parts else (),
        closing=closing_places(survey) if "closing" in parts else (),
        client=client_card(survey) if "client" in parts else None,
        materials=materials(survey) if "cut" in parts or "buy" in parts else None,
    )  # fmt: skip
