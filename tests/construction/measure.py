"""Counts over random builds: `python -m tests.construction.measure N [FIRST]` makes N sound ones and N faulty ones."""

from __future__ import annotations

import sys
from collections import Counter
from datetime import date

import postcheck
from postcheck.report import FileReport
from tests.construction import sound
from tests.construction.faults import SORTS
from tests.construction.faults.record import Asked, Found, NotHere, Sort

TODAY = date(2026, 12, 1)


def judged(text: str, name: str) -> FileReport:
    """The report of a text, no remedies."""
    return postcheck.check(postcheck.loads(text, f"{name}.post.toml"), today=TODAY, remedies=False).files[0]


def told(report: FileReport) -> list[str]:
    """All that is found or asked and keeps a build from being clear."""
    found = [f"{one.severity} {one.id}: {one.says}" for one in report.findings]
    return found + [
        f"asks {one.subject}: {one.what}; {one.missing}" for one in report.not_judged if one.vital
    ]


def sound_ones(first: int, many: int) -> Counter[str]:
    """Prints what is not clear."""
    count: Counter[str] = Counter()
    for seed in range(first, first + many):
        model = sound.made(seed)
        report = judged(sound.text(model), f"sound-{seed}")
        clear = report.verdict == "clear" and not report.findings
        count["clear" if clear else "not clear"] += 1
        count[f"stage {model.tables['build']['stage']}"] += 1
        count.update(f"with {one}" for one in model.has)
        if not clear:
            print(f"sound {seed}: {report.verdict}; " + " | ".join(told(report)))
    return count


def faulty_one(seed: int, sort: Sort) -> tuple[str, Found | Asked] | None:
    """The text of a build with the fault in it, and what has to be found; None where no build of a hundred has a place for it."""
    for attempt in range(100):
        model = sound.made(f"{seed} {sort.name} {attempt}", sort.wants)
        try:
            wanted = sort.make(model)
        except NotHere:
            continue
        return sound.text(model), wanted
    return None


def caught(report: FileReport, wanted: Found | Asked) -> str:
    """Whether it was told by the check that has to, by others alone, or not at all."""
    if isinstance(wanted, Asked):
        asked = any(
            one.vital and one.subject == wanted.subject and wanted.words in one.what
            for one in report.not_judged
        )
        return "caught" if asked else "missed" if report.verdict == "clear" else "other"
    checks = wanted.check.split("|")
    for one in report.findings:
        if (
            one.check in checks
            and (wanted.note or one.severity != "note")
            and one.subject.name in wanted.subject.split("|")
        ):
            return "caught"
    return "missed" if report.verdict == "clear" else "other"


def faulty_ones(first: int, many: int) -> dict[str, Counter[str]]:
    """Prints what was not caught by the right check."""
    counts: dict[str, Counter[str]] = {}
    for seed in range(first, first + many):
        sort = SORTS[seed % len(SORTS)]
        count = counts.setdefault(sort.name, Counter())
        made = faulty_one(seed, sort)
        if made is None:
            count["no place"] += 1
            continue
        text, wanted = made
        try:
            report = judged(text, f"faulty-{seed}")
        except postcheck.BuildError as error:
            count["refused"] += 1
            print(f"faulty {seed} {sort.name}: refused: {error}")
            continue
        outcome = caught(report, wanted)
        count[outcome] += 1
        if outcome != "caught":
            print(
                f"faulty {seed} {sort.name}: {outcome}, wanted {wanted}; {report.verdict}: "
                + " | ".join(told(report))
            )
    return counts


def main() -> None:
    """Print the counts."""
    many = int(sys.argv[1])
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    for name, number in sorted(sound_ones(first, many).items()):
        print(f"{name}: {number}")
    total: Counter[str] = Counter()
    for name, count in faulty_ones(first, many).items():
        total += count
        print(f"{name}: " + ", ".join(f"{number} {outcome}" for outcome, number in sorted(count.items())))
    print(
        f"faulty, {len(SORTS)} sorts: "
        + ", ".join(f"{number} {outcome}" for outcome, number in sorted(total.items()))
    )


if __name__ == "__main__":
    main()
