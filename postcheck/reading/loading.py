"""From a file or a text to a build whose every name means something, or to one error holding all problems."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from pydantic import ValidationError

from postcheck.description.contradictions import contradictions
from postcheck.description.frozen import FrozenDict
from postcheck.description.implied import filled_in, wish_problems
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.names import name_problems
from postcheck.description.problems import MOST_PROBLEMS, BuildError, Problem
from postcheck.reading.shared_library import SharedLibrary
from postcheck.reading.source import DISK, Files, Source, decoded, parse_source, read_source
from postcheck.wiring import resolve
from postcheck.wiring.refused import wiring_problems


def load(path: str | bytes | os.PathLike[str]) -> Build:
    """Read a build file; `-` is standard input. Raises BuildError with everything that is wrong."""
    return build_from(read_source(os.fsdecode(path)))


def loads(
    text: str | bytes,
    name: str = "build",
    *,
    folder: str | os.PathLike[str] | None = None,
    top: str | os.PathLike[str] | None = None,
) -> Build:
    """Read a build from a text, or its bytes in UTF-8; `name` stands for the file in messages. Raises BuildError.

    Files under `use` are looked for from `folder` on, as if the text were a file there, and never outside `top`, which
    is that folder if not given; without a folder no file is opened, and `use` is refused.
    """
    if isinstance(text, bytes):
        text = decoded(name, text)
    if not isinstance(text, str):
        raise TypeError(f"loads() takes a str or bytes, not {type(text).__name__}")
    if folder is None:
        return build_from(Source(name, text), None)
    folder = folder or "."
    return build_from(
        Source(name, text),
        path=os.path.join(folder, os.path.basename(name)),
        root=os.fspath(folder if top is None else top),
    )


def built(tables: Mapping[str, Any], name: str = "build") -> Build:
    """The build that a file with these tables describes, judged by the same rules. Raises BuildError."""
    return whole(name, None, tables, (), list)


def build_from(
    source: Source, files: Files | None = DISK, path: str | None = None, root: str | None = None
) -> Build:
    """The build that a text says; `files`: where those that it uses come from. Raises BuildError.

    Without `files` none may be used. `path`: where the text stands among them, its name if not given. `root`: the
    folder that may not be left, if not the highest of these files.
    """
    library = SharedLibrary(path or source.name, parse_source(source), files, root)
    try:
        build = whole(source.name, source.text, library.tables, library.problems, library.attributed)
    except BuildError as error:
        error.used = tuple(library.paths)
        raise
    build._text, build._used = source.text, tuple(library.paths)
    build._shared = FrozenDict(library.shared)
    return build


def whole(
    name: str,
    text: str | None,
    tables: Mapping[str, Any],
    already: Iterable[Problem],
    attributed: Callable[[Iterable[Problem]], list[Problem]],
) -> Build:
    """The build of these tables. `already`: what is wrong with them; `attributed`: gives each problem the file that it stands in."""
    build, wrong, more = _validated(tables)
    problems = [*already, *attributed(wrong)]
    if build is not None and not problems:
        build._kept.what = resolve(build)  # a survey asks for it again
        problems = wiring_problems(build)
    if build is None or problems:
        if text is not None:
            from postcheck.description.positions import located  # noqa: PLC0415 - most files have no mistake

            problems = located(problems, text)
        raise BuildError(name, _capped(problems, more))
    build._file, build._tables = name, tables
    return build


def _validated(data: Mapping[str, Any]) -> tuple[Build | None, list[Problem], int]:
    """The build, as far as it is one, what is wrong with its values and names, and how much more is wrong."""
    try:
        build = Build.model_validate(data)
    except ValidationError as error:
        # most files have no mistake
        from postcheck.description.pruned import names_in_the_rest  # noqa: PLC0415
        from postcheck.description.refused import problems_from  # noqa: PLC0415

        more = max(0, error.error_count() - MOST_PROBLEMS)
        return None, [*problems_from(error, data, Build), *names_in_the_rest(data, error)], more
    wish = list(wish_problems(build))
    build = filled_in(build)
    return build, [*wish, *name_problems(build), *contradictions(build), *limit_changes(build)[1]], 0


def _capped(problems: list[Problem], more: int) -> list[Problem]:
    """The first problems and, last of all, how many more there are."""
    listed = problems[:MOST_PROBLEMS]
    more += len(problems) - len(listed)
    if not more:
        return listed
    says = f"{more} more {'problem is' if more == 1 else 'problems are'} not listed"
    return [*listed, listed[-1]._replace(check="file.more", path=(), says=says, hint="put these right first")]
