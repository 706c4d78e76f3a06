"""`postcheck sheet`: prints the sheet for the wall."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING

from postcheck.cli.kinds import FILE
from postcheck.cli.options import effort, one_build, read_build, read_changes, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, day, saved, shown

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    sheet = commands.add_parser(
        "sheet",
        help="print the sheet for the wall: joints, bench settings, boxes to tick",
        description="The sheet that is taped to the wall: hub map, bench card, unmarked leads, post, voltages, supply budget, what to cut and to buy, closing list and the client's card, on A4 or Letter.",
        examples=(
            ("sheet airship.post.toml -o sheet.html", "writes it; print it from the browser"),
            ("sheet airship.post.toml -o buy.csv --part buy", "writes what has to be bought as a table"),
        ),
    )
    one_build(sheet)
    sheet.add_argument(
        "-o",
        "--output",
        type=FILE,
        metavar="OUT",
        required=True,
        help="where to: OUT.html, OUT.md, OUT.csv, or - for standard output",
    )
    sheet.add_argument(
        "--part",
        action="append",
        default=[],
        choices=("hub", "bench", "which", "post", "volts", "supply", "cut", "buy", "closing", "client"),
        help="print this part alone; all without it",
    )
    sheet.add_argument(
        "--format",
        choices=("html", "markdown", "csv"),
        help="what to write; without it by how OUT ends; csv has the part cut or buy",
    )
    what_if(sheet, "the file stays as it is, and the sheet says so")
    effort(sheet)
    sheet.add_argument(
        "--today", metavar="DATE", help="the day that is printed on it, as 2026-11-25; today without it"
    )
    sheet.set_defaults(do=_sheet)


def _sheet(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.checking import sheet_of  # noqa: PLC0415

    usable, today = day(options.today)
    if not usable or not read_changes(options):
        return UNUSABLE, ""
    form = options.format or _form(options.output)
    if form is None or options.output.lower().endswith(".pdf"):
        complain(f"'{shown(options.output)}' is not written: {_other_form(options.output)}")
        return UNUSABLE, ""
    if form == "csv" and (len(set(options.part)) != 1 or options.part[0] not in ("cut", "buy")):
        complain("CSV is one table: add `--part cut` or `--part buy`, and no other part")
        return UNUSABLE, ""
    build = read_build(options, options.output)
    if build is None:
        return UNUSABLE, ""
    with working("working out the sheet"):
        drawn = sheet_of(build, options.part, today=today, effort=options.effort)
    if form == "markdown":
        from postcheck.renderers import sheet_markdown  # noqa: PLC0415

        text, size = sheet_markdown.render(drawn), ""
    elif form == "csv":
        from postcheck.renderers import sheet_csv  # noqa: PLC0415

        text, size = sheet_csv.render(drawn), ""
    else:
        from postcheck.renderers import sheet as page  # noqa: PLC0415

        text, pages = page.printed(drawn)
        size = f", {pages} {'page' if pages == 1 else 'pages'} on A4 or Letter"
    if options.output == "-":
        return CLEAR, text
    code = saved(options.output, text, CLEAR)
    return code, f"Wrote {shown(options.output)}{size}.\n" if code == CLEAR else ""


_FORMS = {
    ".html": "html",
    ".htm": "html",
    ".md": "markdown",
    ".markdown": "markdown",
    ".csv": "csv",
    "": "html",
}


def _form(output: str) -> str | None:
    """The form that a file's name asks for; None for one that there is not."""
    return _FORMS.get(os.path.splitext(output)[1].lower())


def _other_form(output: str) -> str:
    if output.lower().endswith(".pdf"):
        return "write OUT.html, open it in the browser and print it to PDF from there"
    return "a sheet is HTML, Markdown or CSV; name it OUT.html, OUT.md or OUT.csv, or say which with --format"
