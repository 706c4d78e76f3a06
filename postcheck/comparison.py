"""What is different between the reports of two builds, or of one build at two times: plain frozen records."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import inf, isclose, isfinite
from typing import cast

from postcheck.report import SEVERITIES, FailOn, Figure, FileReport, Finding, NotJudged, Report, Subject, rank
from postcheck.reported import PARTS, meanings
from postcheck.taken import takes

__all__ = ["SAME", "Changed", "Comparison", "Moved", "Part", "compare"]

SAME = 1e-3
"""Figures closer than this share of the larger one count as the same: no meter on a bench tells them apart."""
_NOTHING = {"A": 1e-7, "V": 1e-6, "W": 1e-6, "K": 1e-3, "share": 1e-5, "m": 1e-7}
"""Differences below these are none, in the units of the figures."""

_Rows = Mapping[str, Mapping[str, Mapping[str, float | str | None]]]


@dataclass(frozen=True, slots=True)
class Changed:
    """A finding of both reports that weighs or tells something else now, or is accepted in one of them only.

    Its subject may bear another name now: then nothing else of it differs.
    """

    before: Finding
    after: Finding


@dataclass(frozen=True, slots=True)
class Part:
    """A lamp, supply, run, passage or place, by the section of the figures and its name."""

    section: str
    name: str


@dataclass(frozen=True, slots=True)
class Moved:
    """A figure of a part of both reports that is another now, in SI or a text; None where it is not known."""

    part: Part
    figure: str
    unit: str
    before: float | str | None
    after: float | str | None

    @property
    def share(self) -> float:
        """By how much it differs, as a share of the larger value; infinite where one is a text or not known."""
        if not isinstance(self.before, int | float) or not isinstance(self.after, int | float):
            return inf
        return abs(self.after - self.before) / max(abs(self.after), abs(self.before))


@dataclass(frozen=True, slots=True)
class Comparison:
    """All that differs. `new` and `gone` are findings of the later and of the earlier report alone; `asked` is not judged any more, or vital only now; `answered` is judged now."""

    before: FileReport
    after: FileReport
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    changed: tuple[Changed, ...]
    asked: tuple[NotJudged, ...]
    answered: tuple[NotJudged, ...]
    added: tuple[Part, ...]
    removed: tuple[Part, ...]
    moved: tuple[Moved, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        lists = (
            self.new,
            self.gone,
            self.changed,
            self.asked,
            self.answered,
            self.added,
            self.removed,
            self.moved,
        )
        return self.before.verdict == self.after.verdict and not any(lists)

    def worse(self, fail_on: FailOn = "stop") -> tuple[Finding | NotJudged, ...]:
        """What fails in the later report and did not in the earlier one; one that was lighter there, too."""
        known = {finding.id: rank(finding) for finding in self.before.findings if finding.accepted is None}
        known |= {one.after.id: rank(one.before) for one in self.changed if one.before.accepted is None}
        asked = {_question(question) for question in self.before.not_judged if question.vital}

        def was_there(one: Finding | NotJudged) -> bool:
            if isinstance(one, NotJudged):
                return _question(one) in asked
            return known.get(one.id, len(SEVERITIES)) <= rank(one)

        return tuple(one for one in self.after.failing(fail_on) if not was_there(one))


def compare(before: Report, after: Report) -> Comparison:
    """What is different in `after`. ValueError unless each is the report of one build that could be read."""
    takes("compare", before, Report)
    takes("compare", after, Report)
    old, new = _build_of(before), _build_of(after)
    was = {finding.id: finding for finding in old.findings}
    now = {finding.id: finding for finding in new.findings}
    shut = {_question(question): question.vital for question in old.not_judged}
    still = {_question(question) for question in new.not_judged}
    rows, later = cast("_Rows", old.figures), cast("_Rows", new.figures)
    came = [finding for name, finding in now.items() if name not in was]
    went = [finding for name, finding in was.items() if name not in now]
    added, removed = tuple(_only(later, rows)), tuple(_only(rows, later))
    renamed = dict(_renamed(_about(went, removed), _about(came, added)))
    old_names = {finding.id for finding in renamed.values()}
    kept = [(was[name], finding) for name, finding in now.items() if name in was]
    return Comparison(
        old,
        new,
        new=tuple(finding for finding in came if finding.id not in renamed),
        gone=tuple(finding for finding in went if finding.id not in old_names),
        changed=(
            *(Changed(before, finding) for before, finding in kept if _other(before, finding)),
            *(Changed(renamed[finding.id], finding) for finding in came if finding.id in renamed),
        ),
        asked=tuple(
            one
            for one in new.not_judged
            if shut.get(_question(one), False) < one.vital or _question(one) not in shut
        ),
        answered=tuple(one for one in old.not_judged if _question(one) not in still),
        added=added,
        removed=removed,
        moved=tuple(_moved(rows, later)),
    )


def _build_of(report: Report) -> FileReport:
    if len(report.files) != 1 or report.files[0].verdict == "unreadable":
        raise ValueError("what is compared is the report of one build that could be read")
    return report.files[0]


def _about(findings: Iterable[Finding], parts: Iterable[Part]) -> list[Finding]:
    """The findings of these parts."""
    names = {part.name for part in parts}
    return [finding for finding in findings if finding.subject.name in names]


def _renamed(went: Iterable[Finding], came: Iterable[Finding]) -> Iterator[tuple[str, Finding]]:
    """Of findings that came, of new parts, the names; with those that went, of parts that are no more, and are the same but for the name."""
    left = list(went)
    for finding in came:
        for other in left:
            if other.check == finding.check and not _other(_called(other, finding.subject), finding):
                left.remove(other)
                yield finding.id, other
                break


def _other(before: Finding, after: Finding) -> bool:
    """Whether there is news: another order of the same parts, as of two lamps that changed places in the file, is none."""
    return _stated(before) != _stated(after) or not _alike_figures(before.figures, after.figures)


def _called(finding: Finding, subject: Subject) -> Finding:
    """A finding as it would be of a part of another name."""
    says = finding.says.replace(finding.subject.name, subject.name) if finding.case is None else finding.says
    parts = {
        role: _as(part, finding.subject, subject)
        if isinstance(part, Subject)
        else tuple(_as(one, finding.subject, subject) for one in part)
        for role, part in finding.parts.items()
    }
    return replace(finding, subject=subject, says=says, parts=parts)


def _as(part: Subject, before: Subject, after: Subject) -> Subject:
    return after if part == before else part


def _stated(finding: Finding) -> tuple[object, ...]:
    """What a finding states besides its figures; of one that a check has worded itself, its words."""
    parts: set[Subject] = set()
    for part in finding.parts.values():
        parts.update((part,) if isinstance(part, Subject) else part)
    words = (
        sorted(re.findall(r"[\w.%-]+", finding.says))
        if finding.case is None
        else (finding.case, dict(finding.words))
    )
    return finding.severity, finding.accepted is None, parts, words


def _alike_figures(before: Mapping[str, Figure], after: Mapping[str, Figure]) -> bool:
    return before.keys() == after.keys() and all(
        _alike(old.value, after[name].value, _NOTHING.get(old.unit, 0.0)) for name, old in before.items()
    )


def _question(one: NotJudged) -> tuple[str, str]:
    """What is asked and of what, without the figures and the other names in it: those change with the build."""
    return one.subject, one.case or re.sub(r"'[^']*'|\d[\d.,]*( [\w%]+)?", "", one.what)


def _only(these: _Rows, others: _Rows) -> Iterator[Part]:
    for section, rows in these.items():
        for name in rows if section in PARTS else ():
            if name not in others.get(section, {}):
                yield Part(section, name)


def _moved(before: _Rows, after: _Rows) -> Iterator[Moved]:
    known = meanings()
    for section, rows in after.items():
        for name, row in rows.items():
            old = before.get(section, {}).get(name)
            if old is None:
                continue
            for figure in dict.fromkeys((*row, *old)):
                was, now = _known(old.get(figure)), _known(row.get(figure))
                meant = known[section][figure]
                if not meant.follows and not _alike(was, now, _NOTHING.get(meant.unit, 0.0)):
                    yield Moved(Part(section, name), figure, meant.unit, was, now)


def _known(value: float | str | None) -> float | str | None:
    """A figure, None where it is no finite number."""
    return value if value is None or isinstance(value, str) or isfinite(value) else None


def _alike(one: float | str | None, other: float | str | None, nothing: float) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return isclose(one, other, rel_tol=SAME, abs_tol=nothing)
    return one == other
