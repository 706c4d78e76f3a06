"""What public functions take as a build: one that was changed since it was read is held to the same rules, at the door."""

from __future__ import annotations

from postcheck.description.models import Build
from postcheck.taken import takes

__all__ = ["takes_build"]


def takes_build(by: str, value: object) -> None:
    """TypeError unless the value that `by` was given is a build; BuildError for one that no file could say.

    Such is a copy with a table changed or gone that others name.
    """
    takes(by, value, Build)
    assert isinstance(value, Build)
    if getattr(value._kept.what, "build", None) is value:
        return  # as it was read
    from postcheck.description.contradictions import contradictions  # noqa: PLC0415 - few programs change one
    from postcheck.description.names import name_problems  # noqa: PLC0415
    from postcheck.description.problems import BuildError  # noqa: PLC0415
    from postcheck.wiring.refused import wiring_problems  # noqa: PLC0415

    problems = [*name_problems(value), *contradictions(value)] or wiring_problems(value)
    if problems:
        raise BuildError(value.file or "build", problems)
