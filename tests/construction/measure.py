"""Counts over random builds: `python -m tests.construction.measure N [FIRST]` makes N sound ones and N faulty ones."""

from __future__ import annotations

import sys
from collections import Counter
from datetime import date

import postcheck
from postcheck.report import FileReport
from tests.construction import sound

TODAY = date(2026, 12, 1)


def judged(text: str, name: str) -> FileReport:
    """The report of a text, no remedies."""
    return postcheck.check(postcheck.loads(text, f"{name}.post.toml"), today=TODAY, remedies=False).files[0]


def told(report: FileReport) -> list[str]:
    """All that is found or asked and keeps a build from being clear."""
    found = [f"{one.severity} {one.id}: {one.says}" for one in report.findings]
    return found + [f"asks {one.subject}: {one.what}; {one.missing}" for one in report.not_judged if one.vital]


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


def main() -> None:
    """Print the counts."""
    many = int(sys.argv[1])
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    for name, number in sorted(sound_ones(first, many).items()):
        print(f"{name}: {number}")


if __name__ == "__main__":
    main()
