"""Build files in folders: which there are below those that were named, and what is said of a folder that has none."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from time import monotonic

from postcheck.cli.talk import complain, reason, shown

__all__ = ["builds", "no_builds", "once_late"]

LONG_WALK = 5.0
"""Seconds of walking through folders after which it is likely not the folder that was meant."""


def once_late() -> Callable[[str], None]:
    """Says on standard error, once, that the walk takes long and where it is: in a pipe nothing else shows it."""
    began, announced = monotonic(), False

    def say(words: str) -> None:
        nonlocal announced
        if not announced and monotonic() - began > LONG_WALK:
            announced = True
            complain(
                f"still {words}; if that is not where your builds are, press Ctrl-C and name their folder"
            )

    return say


def builds(names: Sequence[str], say: Callable[[str], None] = lambda _: None) -> Iterator[str]:
    """The files named, and those in and below the folders named, in the order of their names; hidden folders are passed over.

    A folder is among them where it has none, may not be read, or is linked to from below one that was named and lies
    elsewhere: `judged` says which. `say` is told where the walk is.
    """
    for name in names:
        found: list[str] = []
        for folder, inner, files in (
            os.walk(name, onerror=_noted(found)) if name != "-" and os.path.isdir(name) else ()
        ):
            say(f"looking for builds in {shown(folder)}")
            inner[:] = [one for one in inner if not one.startswith(".")]
            found += [os.path.join(folder, file) for file in files if file.endswith(".post.toml")]
            found += [path for path in (os.path.join(folder, one) for one in inner) if _leads_out(path, name)]
        yield from sorted(found) or [name]


def _noted(found: list[str]) -> Callable[[OSError], None]:
    return lambda error: found.append(error.filename)


def _leads_out(path: str, top: str) -> bool:
    """Whether a folder is a link to one that is not walked from this top folder on."""
    if not os.path.islink(path):
        return False
    below = os.path.relpath(os.path.realpath(path), os.path.realpath(top))
    return below == os.pardir or any(
        part.startswith(".") and part != os.curdir for part in below.split(os.sep)
    )


def no_builds(folder: str, files: Sequence[str]) -> str:
    """What is said of a folder in which none could be judged."""
    name = shown(folder)
    try:
        with os.scandir(folder):
            pass
    except OSError as error:
        return f"the folder '{name}' was not looked into: {reason(error)}"
    if folder not in files and os.path.islink(folder):
        return f"'{name}' is a link to another folder and was not looked into; name it too, and it is"
    new = shown(os.path.normpath(os.path.join(folder, "NAME.post.toml")))
    where = "this folder" if folder == os.curdir else f"the folder '{name}'"
    return f"there is no build in {where}, nothing that ends in .post.toml; `postcheck start {new}` writes a first one"
