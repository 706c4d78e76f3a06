"""What every renderer is given: one finished report per run, plain data and nothing to compute."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple, cast, get_args

from postcheck.reported import Figures, meanings, no_figures

__all__ = [
    "ChangedLimit",
    "Edit",
    "Figure",
    "FileReport",
    "Finding",
    "KnownFigure",
    "Limited",
    "NotJudged",
    "Report",
    "Rule",
    "Severity",
    "Subject",
    "Typed",
    "Verdict",
    "WhatIf",
    "Where",
]

Severity = Literal["stop", "caution", "note"]
FailOn = Literal["stop", "caution"]
Stage = Literal["planning", "wiring", "closing"]
Effort = Literal["quick", "long"]
Verdict = Literal["clear", "incomplete", "caution", "stop", "unreadable"]
SEVERITIES: tuple[Severity, ...] = ("stop", "caution", "note")


@dataclass(frozen=True, slots=True)
class Subject:
    """What a finding is about: `kind` is a word such as lamp, run, supply, place; `name` as in the file."""

    kind: str
    name: str


@dataclass(frozen=True, slots=True)
class Where:
    """A position in a build file; line and column count from 1, columns in characters."""

    path: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Figure:
    """A finite number in SI (degrees Celsius excepted) with its unit: "share" for a part of the whole, empty for a count."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Limited:
    """The limit a finding was judged by; `name`: as `[[limit]]` and `postcheck explain` call it, empty for a part's own rating."""

    value: float
    unit: str
    source: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Typed:
    """What an editor does for an edit: what stands from line and column up to the end's gives way to `text`.

    Lines and columns count from 1, columns in characters; where start and end are one, nothing gives way.
    """

    line: int
    column: int
    end_line: int
    end_column: int
    text: str


@dataclass(frozen=True, slots=True)
class Edit:
    """A change of one value in the file: document path and the new TOML text; `typed` where that is known.

    A path that ends with "+" adds its value to a list. Without a value, what stands at the path is taken out.
    """

    path: tuple[str | int, ...]
    value: str | None
    typed: Typed | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One judgement. `because_of` names the finding that causes it; such findings are shown folded under it.

    `lines`: what belongs into the file for the remedy, line by line as it is typed there. `firm`: why it cannot be
    accepted, where its check alone does not say so already. `parts`: every part besides the subject that its sentences name,
    by its role; `words`: what they show that is neither number nor part; `remedy_figures`: what a worked remedy shows besides
    its edits. `case`: which sentences of its check these are; None
    where a check wrote them itself.
    """

    check: str
    severity: Severity
    subject: Subject
    says: str
    why: str
    path: tuple[str | int, ...] = ()
    remedy: str | None = None
    edits: tuple[Edit, ...] | None = None
    where: Where | None = None
    figures: Mapping[str, Figure] = field(default_factory=dict)
    limit: Limited | None = None
    because_of: str | None = None
    accepted: str | None = None
    lines: tuple[str, ...] = ()
    firm: str = ""
    parts: Mapping[str, Subject | tuple[Subject, ...]] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    remedy_figures: Mapping[str, Figure] = field(default_factory=dict)
    case: str | None = None

    @property
    def id(self) -> str:
        """The check's name and the subject's: stable while neither is renamed."""
        return f"{self.check}:{self.subject.name}"


def rank(finding: Finding) -> int:
    """The place of a finding's severity, the heaviest first: 0 for a stop."""
    return SEVERITIES.index(finding.severity)


@dataclass(frozen=True, slots=True)
class NotJudged:
    """Something that the file does not say enough about. `vital`: the verdict cannot be clear without it.

    `subject`: the bare name; renderers put it in quotes. `what` could not be judged, as in "how warm it gets"; `missing`:
    what the file would have to say. `case`: which question it is, whatever the numbers and names in it; None where a check
    wrote it itself. `plannable`: a plan would answer it. `lines`: what can be typed as it stands, valid TOML; where `under`
    is empty these are whole tables, else keys of the table at that document path. `where`: what the file says of the
    subject.
    """

    subject: str
    what: str
    missing: str
    vital: bool = False
    case: str | None = None
    plannable: bool = False
    lines: tuple[str, ...] = ()
    under: tuple[str | int, ...] = ()
    where: Where | None = None


@dataclass(frozen=True, slots=True)
class ChangedLimit:
    """A limit that the build file changes: its value now and before in its unit, why, and what it hides.

    `hides`: the ids of the findings that are there, or are heavier, by the limit as it was.
    """

    name: str
    value: float
    was: float
    unit: str
    reason: str
    hides: tuple[str, ...] = ()
    where: Where | None = None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A key that was judged with another value than the file has: both as TOML, `was` None where the file has none.

    `where`: what stands there in the file, of a key that it does not have the table.
    """

    key: str
    value: str
    was: str | None
    where: Where | None = None


class KnownFigure(NamedTuple):
    """A figure of a report: of which part in which section, its value in SI (None where it is not known), unit and meaning."""

    section: str
    name: str
    figure: str
    value: float | str | None
    unit: str
    says: str


@dataclass(frozen=True, slots=True)
class FileReport:
    """All that is known of one build. `figures` are those that other programs rely on, in SI.

    `what_if`: the keys that were judged with other values than the file's. `nothing_to_judge`: the checks that found
    nothing because the build has nothing that they look at.
    """

    file: str
    verdict: Verdict
    findings: tuple[Finding, ...] = ()
    not_judged: tuple[NotJudged, ...] = ()
    figures: Figures = field(default_factory=no_figures)
    name: str = ""
    stage: str = ""
    limits: tuple[ChangedLimit, ...] = ()
    what_if: tuple[WhatIf, ...] = ()
    nothing_to_judge: tuple[str, ...] = ()

    def each_figure(self) -> Iterator[KnownFigure]:
        """All figures of the build one by one, each with its unit and what it means."""
        meant = meanings()
        sections = cast("Mapping[str, Mapping[str, Mapping[str, Any]]]", self.figures)
        for section, rows in sections.items():
            for name, row in rows.items():
                for figure, value in row.items():
                    known = meant[section][figure]
                    yield KnownFigure(section, name, figure, value, known.unit, known.says)

    def failing(self, fail_on: FailOn = "stop") -> tuple[Finding | NotJudged, ...]:
        """What of a build makes the exit code 1: findings of that weight up that are not accepted.

        With `caution`, and at the stage of closing, what is vital and not known counts too.
        """
        if fail_on not in get_args(FailOn):
            raise ValueError(f"fail_on is one of {', '.join(get_args(FailOn))}; not {fail_on!r}")
        weights = SEVERITIES[: SEVERITIES.index(fail_on) + 1]
        strict = fail_on == "caution" or self.stage == "closing"
        return (
            *(
                finding
                for finding in self.findings
                if finding.accepted is None and finding.severity in weights
            ),
            *(question for question in self.not_judged if strict and question.vital),
        )

    def exit_code(self, fail_on: FailOn = "stop") -> int:
        """0 where nothing fails, 1 where something does, 2 for a file that cannot be read as a build."""
        if self.verdict == "unreadable":
            return 2
        return 1 if self.failing(fail_on) else 0


@dataclass(frozen=True, slots=True)
class Rule:
    """What a check looks at, in words: its name, the heaviest it gives, one line, why it is asked, its formula, its source.

    `not_waived`: which of its findings cannot be accepted; empty where all can. `asks`: it finds nothing, and lists what
    could not be judged.
    """

    name: str
    severity: Severity
    line: str
    why: str
    formula: str
    source: str
    not_waived: str = ""
    asks: bool = False


@dataclass(frozen=True, slots=True)
class Report:
    """The reports of all files of one run, in the order given. `own`: the checks of a project that were judged besides."""

    files: tuple[FileReport, ...]
    own: tuple[Rule, ...] = ()

    @classmethod
    def joined(cls, parts: Iterable[Report | FileReport]) -> Report:
        """The reports of several builds as those of one run; each check of a project counts once."""
        files: list[FileReport] = []
        own: dict[str, Rule] = {}
        for part in parts:
            files += part.files if isinstance(part, Report) else [part]
            own |= {rule.name: rule for rule in part.own} if isinstance(part, Report) else {}
        return cls(tuple(files), tuple(own.values()))

    def exit_code(self, fail_on: FailOn = "stop") -> int:
        """The highest of all files; 0 where there are none."""
        return max((file.exit_code(fail_on) for file in self.files), default=0)
