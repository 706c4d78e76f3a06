"""A report, or what is different between two, as text in any of the forms that the commands write."""

from __future__ import annotations

import os
from functools import partial
from typing import TYPE_CHECKING, Literal, get_args

from postcheck import __version__
from postcheck.report import FailOn, FileReport, Report

if TYPE_CHECKING:
    from postcheck.comparison import Comparison

__all__ = ["Format", "render"]

Format = Literal["text", "json", "sarif", "junit", "github"]


def render(
    told: Report | FileReport | Comparison, format: Format = "text", *, width: int | None = None, colour: bool = False, ascii: bool = False,  # noqa: A002 - the plain words for it
    quiet: bool = False, fail_on: FailOn = "stop", code: int | None = None, folder: str | os.PathLike[str] | None = None,
) -> str:  # fmt: skip
    """A report, or a comparison of two, as a text that ends in a line break.

    "text" is for people: with a `width`, as a screen no wider than that (24 columns at least); without, line by line, each
    finding beginning with path:line:column. `colour` brings escape sequences in, `ascii` keeps to ASCII, and with `quiet` the
    clear builds share a line and all are named by their files, in text alone.
    "json" is the form that other programs rely on; "sarif" (2.1.0), "junit" and "github" (workflow commands) are for CI.
    There `fail_on` says from which weight up a finding fails, `code` is the exit code of the run if it is not the report's
    own, and paths are told from `folder` on (if not given, the current one).

    ValueError for another format; a comparison has the first two.
    """
    if isinstance(told, FileReport):
        told = Report((told,))
    if not isinstance(told, Report):
        return _comparison(told, format, width, colour=colour, plain=ascii)
    report = told
    if format == "text":
        return _text(report, width, colour=colour, plain=ascii, quiet=quiet)
    if format == "json":
        from postcheck.renderers import json_renderer  # noqa: PLC0415 - each renderer on its first use

        return json_renderer.render(report, __version__)
    if format == "junit":
        from postcheck.checks.table import CHECKS  # noqa: PLC0415
        from postcheck.renderers import junit  # noqa: PLC0415

        names = [*(check.name for check in CHECKS), *(rule.name for rule in report.own)]
        return junit.render(report, names, fail_on)
    if format not in get_args(Format):
        raise ValueError(f"format is one of {', '.join(get_args(Format))}; not {format!r}")
    from postcheck.renderers.ci import within  # noqa: PLC0415

    here = _here()
    named = partial(within, folder=os.path.join(here, folder or ""), here=here)
    if format == "github":
        from postcheck.renderers import github  # noqa: PLC0415

        return github.render(report, named=named)
    from postcheck.renderers import sarif  # noqa: PLC0415
    from postcheck.rules import rules  # noqa: PLC0415

    code = report.exit_code(fail_on) if code is None else code
    return sarif.render(report, __version__, rules(report.own), code=code, named=named)


def _here() -> str:
    """The current folder; the root where that has been taken away meanwhile, so that absolute names stay so."""
    try:
        return os.getcwd()
    except FileNotFoundError:
        return os.sep


def _comparison(comparison: Comparison, form: Format, width: int | None, *, colour: bool, plain: bool) -> str:
    from postcheck.renderers import compared  # noqa: PLC0415

    if form == "json":
        return compared.render_json(comparison, __version__)
    if form != "text":
        raise ValueError(f"a comparison is told as text or json; not {form!r}")
    return compared.render(comparison, width, colour=colour, ascii=plain)


def _text(report: Report, width: int | None, *, colour: bool, plain: bool, quiet: bool) -> str:
    if width is not None:
        from postcheck.renderers import terminal  # noqa: PLC0415

        return terminal.render(report, width=width, colour=colour, ascii=plain, quiet=quiet)
    from postcheck.renderers import plain_text, streams  # noqa: PLC0415

    text = plain_text.render(report, colour=colour, quiet=quiet)
    return streams.ascii_words(text, "ascii") if plain else text
