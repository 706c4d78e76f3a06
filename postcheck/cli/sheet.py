"""`postcheck sheet`: prints the sheet for the wall."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD, FILE
from postcheck.cli.options import as_if, effort, read_changes, what_if
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, day, loaded, may_write, saved, shown

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    sheet = commands.add_parser(
        "sheet",
        help="print the sheet for the wall: joints, bench settings, boxes to tick",
        description="Write the sheet that is taped to the wall: hub map, bench card, unmarked leads, post, voltages, supply budget, what to cut and to buy, closing list and the client's card, on A4 or Letter.",
    )
    sheet.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file; - reads standard input")
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
        help="print this part alone; may be given several times",
    )
    sheet.add_argument(
        "--format",
        choices=("html", "markdown", "csv"),
        help="html, unless OUT ends in .md or .csv; csv has the part cut or buy",
    )
    what_if(sheet, "the file stays as it is, and the sheet says so")
    effort(sheet)
    sheet.add_argument("--today", metavar="DATE", help="the day that is printed on it, such as 2026-11-25")
    sheet.set_defaults(do=_sheet)


def _sheet(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.checking import sheet_of  # noqa: PLC0415

    usable, today = day(options.today)
    if not usable or not read_changes(options):
        return UNUSABLE, ""
    form = options.format or _form(options.output)
    if form == "csv" and (len(set(options.part)) != 1 or options.part[0] not in ("cut", "buy")):
        complain("CSV is one table: add `--part cut` or `--part buy`, and no other part")
        return UNUSABLE, ""
    to_file = options.output != "-"
    if to_file and not may_write(options.output, [options.file]):
        return UNUSABLE, ""
    build = as_if(loaded(options.file), options)
    if build is None:
        return UNUSABLE, ""
    drawn = sheet_of(build, options.part, today=today, effort=options.effort)
    if form == "markdown":
        from postcheck.renderers import sheet_markdown  # noqa: PLC0415

        text, size = sheet_markdown.render(drawn), ""
    elif form == "csv":
        from postcheck.renderers import sheet_csv  # noqa: PLC0415

        text, size = sheet_csv.render(drawn), ""
    else:
        from postcheck.renderers import sheet as page  # noqa: PLC0415

        pages = page.page_count(drawn)
        text, size = page.render(drawn), f", {pages} {'page' if pages == 1 else 'pages'} on A4 or Letter"
    if not to_file:
        return CLEAR, text
    code = saved(options.output, text, CLEAR)
    return code, f"Wrote {shown(options.output)}{size}.\n" if code == CLEAR else ""


def _form(output: str) -> str:
    """The form that a file's name asks for."""
    name = output.lower()
    if name.endswith((".md", ".markdown")):
        return "markdown"
    return "csv" if name.endswith(".csv") else "html"
