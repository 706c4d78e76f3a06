"""A report, or any other record, as text in the forms that the commands write."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Literal, get_args, overload

from postcheck import __version__
from postcheck.report import FailOn, FileReport, Report

if TYPE_CHECKING:
    from postcheck.comparison import Comparison
    from postcheck.identification import Identification
    from postcheck.pictured import BorePicture
    from postcheck.planned import Planned
    from postcheck.repair import Repair
    from postcheck.sheet import Sheet
    from postcheck.variation import Variation

__all__ = ["Format", "render"]

Format = Literal["text", "json", "sarif", "junit", "github"]


@overload
def render(
    record: Report | FileReport, format: Format = "text", *, width: int | None = None, colour: bool = False, ascii: bool = False,
    quiet: bool = False, fail_on: FailOn = "stop", code: int | None = None, folder: str | os.PathLike[str] | None = None,
) -> str: ...  # fmt: skip
@overload
def render(
    record: Comparison | Planned | Repair | Identification, format: Literal["text", "json"] = "text", *,
    width: int | None = None, colour: bool = False, ascii: bool = False,
) -> str: ...  # fmt: skip
@overload
def render(
    record: Variation, format: Literal["text", "json", "svg"] = "text", *,
    width: int | None = None, colour: bool = False, ascii: bool = False,
) -> str: ...  # fmt: skip
@overload
def render(
    record: BorePicture | Sequence[BorePicture], format: Literal["text", "svg"] = "text", *,
    width: int | None = None, colour: bool = False,
) -> str: ...  # fmt: skip
@overload
def render(record: Sheet, format: Literal["html", "markdown", "csv"] = "html") -> str: ...


def render(
    record: Any, format: str | None = None, *, width: int | None = None, colour: bool = False, ascii: bool = False,  # noqa: A002
    quiet: bool = False, fail_on: FailOn = "stop", code: int | None = None, folder: str | os.PathLike[str] | None = None,
) -> str:  # fmt: skip
    """A report, or any other record that a function of the package gives, as a text that ends in a line break.

    "text" is for people: with a `width`, as a screen no wider than that (24 columns at least); without, line by line, each
    finding beginning with path:line:column. `colour` brings escape sequences in, `ascii` keeps to ASCII, and with `quiet` the
    clear builds share a line and all are named by their files, in text alone.
    "json" is the form that other programs rely on; "sarif" (2.1.0), "junit" and "github" (workflow commands) are for CI.
    There `fail_on` says from which weight up a finding fails, `code` is the exit code of the run if it is not the report's
    own, and paths are told from `folder` on (if not given, the current one).

    A comparison, a plan, a repair and an identification have the first two, a variation and pictures of bores "text" and
    "svg", a variation "json" too, and a sheet is "html", "markdown" or, of its part "cut" or "buy" alone, "csv".

    ValueError for another format, TypeError for something that is none of these.
    """
    if isinstance(record, FileReport):
        record = Report((record,))
    if not isinstance(record, Report):
        return _record(record, format, {"width": width, "colour": colour, "ascii": ascii})
    report, format = record, format or "text"  # noqa: A001 - as above
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


# By the name of a record its forms, the usual one first: the renderer's module and function, and what it takes besides.
_Form = tuple[str, str, tuple[str, ...]]
_LOOKS, _VERSION = ("width", "colour", "ascii"), ("version",)
_FORMS: Mapping[str, Mapping[str, _Form]] = {
    "Comparison": {"text": ("compared", "render", _LOOKS), "json": ("compared", "render_json", _VERSION)},
    "Identification": {"text": ("which", "render", ("width",)), "json": ("which", "render_json", _VERSION)},
    "Planned": {"text": ("plan", "render", ("width",)), "json": ("plan", "render_json", _VERSION)},
    "Repair": {"text": ("repaired", "render", ("width",)), "json": ("repaired", "render_json", _VERSION)},
    "Sheet": {
        "html": ("sheet", "render", ()),
        "markdown": ("sheet_markdown", "render", ()),
        "csv": ("sheet_csv", "render", ()),
    },
    "Variation": {
        "text": ("varied", "render", _LOOKS),
        "json": ("varied_json", "render", _VERSION),
        "svg": ("varied_svg", "render", ()),
    },
    "pictures": {"text": ("bore_words", "render", ()), "svg": ("bore_svg", "render", ())},
}


def _record(record: Any, form: str | None, looks: Mapping[str, Any]) -> str:
    """Any record but a report, in a form that it has."""
    from importlib import import_module  # noqa: PLC0415 - each renderer on its first use

    from postcheck.pictured import BorePicture  # noqa: PLC0415 - a check draws nothing

    if isinstance(record, BorePicture):
        record = (record,)
    pictures = isinstance(record, Sequence) and all(isinstance(one, BorePicture) for one in record)
    what = "pictures" if pictures else type(record).__name__
    forms = _FORMS.get(what)
    if forms is None:
        raise TypeError(f"render() takes a report, {', '.join(_FORMS)}; not {what}")
    form = form or next(iter(forms))
    if form not in forms:
        raise ValueError(f"of this, format is one of {', '.join(forms)}; not {form!r}")
    module, name, wanted = forms[form]
    if pictures and form == "text" and looks["width"] is not None:
        module, wanted = "bore_screen", ("width", "colour")
    renderer: Callable[..., str] = getattr(import_module(f"postcheck.renderers.{module}"), name)
    return renderer(record, **{key: {**looks, "version": __version__}[key] for key in wanted})


def _text(report: Report, width: int | None, *, colour: bool, plain: bool, quiet: bool) -> str:
    if width is not None:
        from postcheck.renderers import terminal  # noqa: PLC0415

        return terminal.render(report, width=width, colour=colour, ascii=plain, quiet=quiet)
    from postcheck.renderers import plain_text, streams  # noqa: PLC0415

    text = plain_text.render(report, colour=colour, quiet=quiet)
    return streams.ascii_words(text, "ascii") if plain else text
