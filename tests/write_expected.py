"""What each faulty or half build must give, word by word: `python -m tests.write_expected` writes it anew; look at the difference."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import postcheck
from postcheck.report import FileReport, Finding, NotJudged

FAULTY = Path(__file__).parent / "builds" / "faulty"
HALF = Path(__file__).parent / "builds" / "half"
TODAY = date(2026, 11, 30)


def to_be_closed(path: Path) -> tuple[str, ...]:
    """The places that a build file says in a comment are to be closed, as in `# closing: bow, stern`."""
    found = re.search(r"^# closing: (.*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    return tuple(found[1].split(", ")) if found else ()


@cache
def report(path: Path) -> FileReport:
    """The report of a build file. It is frozen: all tests of a process are given the same one."""
    return postcheck.check(postcheck.load(path), closing=to_be_closed(path), today=TODAY).files[0]


@cache
def found(text: str, path: Path) -> dict[str, Finding]:
    """What is found, by name, if the build file has this text; no remedy is worked out."""
    build = postcheck.loads(text, str(path), folder=path.parent)
    told = postcheck.check(build, closing=to_be_closed(path), today=TODAY, remedies=False)
    return {finding.id: finding for finding in told.files[0].findings}


def beside(path: Path) -> Path:
    """The file with what a build must give."""
    return path.with_name(path.name.replace(".post.toml", ".expected"))


def expected(file: FileReport) -> str:
    """All findings and open questions of a report, each a paragraph."""
    told = [*map(_finding, file.findings), *map(_question, file.not_judged)]
    return "\n".join("".join(f"{line}\n" for line in lines) for lines in told)


def _finding(finding: Finding) -> Iterator[str]:
    yield f"{finding.severity} {finding.id}{'' if finding.accepted is None else ' (accepted)'}"
    yield f"    {finding.says}"
    yield f"    Why: {finding.why}"
    if finding.remedy is not None:
        yield f"    Do: {finding.remedy}"
    yield from (f"        {line}" for line in finding.lines)
    if finding.because_of is not None:
        yield f"    It follows from {finding.because_of}"


def _question(question: NotJudged) -> Iterator[str]:
    yield f"{'vital' if question.vital else 'open'} {question.subject}"
    yield f"    Not judged: {question.what}"
    yield f"    Missing: {question.missing}"
    yield from (f"        {line}".rstrip() for line in question.lines)


if __name__ == "__main__":
    for path in sorted([*FAULTY.glob("*.post.toml"), *HALF.glob("*.post.toml")]):
        beside(path).write_text(expected(report(path)), encoding="utf-8")
