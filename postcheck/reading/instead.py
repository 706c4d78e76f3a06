"""What a build was changed in after it was read, as reports and drawings tell it; and where a part stands in the file."""

from __future__ import annotations

import os

from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.report import WhatIf, Where


def what_ifs(build: Build) -> tuple[WhatIf, ...]:
    """The keys that have other values than in the file, with their place there."""
    return tuple(WhatIf(one.key, one.value, one.was, where(build, one.path)) for one in build._assigned)


def where(build: Build, path: Path) -> Where | None:
    """Where something stands, in the build's own text or in that of a file it uses; None where that is not known."""
    if build.text is None:
        return None
    from postcheck.description.positions import find, line_column, locate  # noqa: PLC0415 - a sound build needs none

    file, text = build.file, build.text
    if (shared := build.shared.get(path[:2])) is not None:
        file, text, path = os.path.join(os.path.dirname(file), shared.file), shared.text, shared.path
    return Where(file, *line_column(text, find(locate(text), path).key_start))
