"""Remedies put into a file: one at a time, each proven again in the text that it makes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from postcheck.checking import check
from postcheck.description.models import Build
from postcheck.description.problems import BuildError
from postcheck.description.rewriting import Line, Put, RewriteError, changed_lines, rewritten
from postcheck.reading.loading import build_from
from postcheck.reading.source import Source
from postcheck.report import Effort, FileReport, Finding, Stage
from postcheck.trial import left_of
from postcheck.wiring.doors import takes_build

__all__ = ["Line", "Mending", "Step"]


@dataclass(frozen=True, slots=True)
class Step:
    """A remedy as an edit: the finding that it cures, and the lines that change."""

    finding: Finding
    lines: tuple[Line, ...]


class Mending:
    """The text of a build with more and more of its remedies in it. Nothing is written to any file here.

    `report`: of the text as it stands; `by_hand`: by the names of findings, the lines to type for a remedy that cannot be put
    into this text. Raises ValueError for a build whose text is not known.
    """

    def __init__(
        self, build: Build, *, stage: Stage | None = None, today: date | None = None, effort: Effort = "quick"
    ) -> None:
        takes_build("Mending", build)
        if build.text is None:
            raise ValueError("only a build that was read from a text can be mended")
        self.build: Build = build
        self.text: str = build.text
        self.stage: Stage | None = stage
        self.today: date | None = today
        self.effort: Effort = effort
        self.report: FileReport = self._judged(build)
        self.left: set[str] = set()
        self.by_hand: dict[str, tuple[str, ...]] = {}

    def next(self) -> Step | None:
        """The first remedy that can be typed and was not passed over; None where there is none."""
        for finding in self.report.findings:
            if finding.id in self.left or finding.accepted is not None or not finding.edits:
                continue
            text = self._with(finding)
            if text is not None:
                return Step(finding, tuple(changed_lines(self.text, text)))
        return None

    def skip(self, step: Step) -> None:
        """Pass a remedy over."""
        self.left.add(step.finding.id)

    def take(self, step: Step) -> bool:
        """Put a remedy into the text. False where the text it makes does not have its finding cured: then nothing changes."""
        text = self._with(step.finding)
        self.left.add(step.finding.id)
        if text is None:
            return False
        try:
            build = build_from(Source(self.build.file, text), path=self.build.file)
        except BuildError:
            return False
        report = self._judged(build)
        if any(left_of(step.finding, finding) for finding in report.findings):
            return False
        self.text, self.report = text, report
        return True

    def _judged(self, build: Build) -> FileReport:
        return check(build, stage=self.stage, today=self.today, effort=self.effort).files[0]

    def _with(self, finding: Finding) -> str | None:
        try:
            return rewritten(self.text, (Put(edit.path, edit.value) for edit in finding.edits or ()))
        except RewriteError as error:
            self.by_hand[finding.id] = error.lines
            return None
