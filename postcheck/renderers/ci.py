"""What the renderers for other programs have in common: how a file is named there, and what is told of a finding."""

from __future__ import annotations

import os
from collections.abc import Iterator

from postcheck.renderers.words import limit_words, safe
from postcheck.report import Finding


def within(path: str, folder: str, here: str) -> str:
    """A path, relative to `here`, as it is from `folder`, with forward slashes; absolute if it is not in there.

    `-`, which is standard input, stays as it is.
    """
    if path == "-":
        return path
    whole = os.path.normpath(os.path.join(here, path))
    home = os.path.join(os.path.normpath(folder), "")
    return (whole.removeprefix(home)).replace(os.sep, "/")


def details(finding: Finding) -> Iterator[str]:
    """What is told of a finding beyond what it says, line by line."""
    yield f"Why: {safe(finding.why)}"
    if finding.remedy is not None:
        yield f"Do: {safe(finding.remedy)}"
        yield from (f"    {safe(line)}".rstrip() for line in finding.lines)
    if finding.limit is not None:
        yield f"Limit: {limit_words(finding.limit)}"
    if finding.accepted is not None:
        yield f"Accepted: {safe(finding.accepted)}"
