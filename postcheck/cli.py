"""The command line: reads arguments, prints, exits. The only module that does either."""

from __future__ import annotations

import argparse
import contextlib
import gc
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from postcheck import __version__

if TYPE_CHECKING:
    from datetime import date

    from postcheck.report import BorePicture, FileReport, Report

__all__ = ["main", "run"]

CLEAR, FOUND, UNUSABLE, OUR_FAULT, INTERRUPTED = 0, 1, 2, 70, 130

_CAUTIONS = (
    "Mains adaptors, lithium cells, heat in closed bodies and flashing light can hurt people. postcheck judges "
    "low-voltage wiring only; local rules and licensed people have the last word."
)


def run() -> None:
    """Entry point of the installed command."""
    # A run is short and keeps nearly all that it makes: the collector would only walk the freshly imported modules.
    gc.set_threshold(50_000)
    # In this process nobody has plugins for pydantic; looking for them reads the metadata of every installed package.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    sys.exit(main())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code: 0 nothing found, 1 something found, 2 unusable, 70 our own bug."""
    parser = _parser()
    try:
        options = parser.parse_args(arguments)
    except SystemExit as done:  # help, version or a usage error, printed already
        return _tell("", int(done.code or 0))
    if not hasattr(options, "do"):
        return _tell(parser.format_help(), UNUSABLE)
    try:
        code, text = options.do(options)
    except KeyboardInterrupt:
        _complain("stopped")
        return INTERRUPTED
    except Exception as fault:  # a crash must never look like a finding
        _own_up(fault)
        return OUR_FAULT
    return _tell(text, code)


def _own_up(fault: Exception, file: str | None = None) -> None:
    """Say that a fault is ours; `file` is the build that brought it out."""
    if os.environ.get("POSTCHECK_TRACEBACK"):
        raise fault
    where = f", at '{_shown(file)}'" if file is not None else ""
    _complain(
        f"a bug of ours, not of your build{where}: {type(fault).__name__}: {_shown(str(fault))} ({_innermost(fault)})"
    )
    _complain("please report it with the build file; POSTCHECK_TRACEBACK=1 shows more")


def _innermost(fault: BaseException) -> str:
    trace = fault.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    return "" if trace is None else f"{os.path.basename(trace.tb_frame.f_code.co_filename)}:{trace.tb_lineno}"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="postcheck",
        description="Checks the lighting of a display model before it is glued shut.",
        epilog=_CAUTIONS,
    )
    parser.add_argument("--version", action="version", version=f"postcheck {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    check = commands.add_parser(
        "check", help="judge build files", description="Judge one or more build files."
    )
    check.add_argument("files", nargs="+", metavar="FILE", help="a .post.toml file; - reads standard input")
    check.add_argument(
        "--format", choices=("text", "json"), default="text", help="what to write (default: text)"
    )
    check.add_argument(
        "--output", metavar="FILE", help="write there instead of to the terminal; - is standard output"
    )
    check.add_argument(
        "--fail-on",
        choices=("stop", "caution"),
        default="stop",
        help="exit 1 from this weight up (default: stop)",
    )
    check.add_argument(
        "--for",
        dest="stage",
        choices=("planning", "wiring", "closing"),
        help="the stage to judge for, instead of the file's",
    )
    check.add_argument(
        "--closing",
        action="append",
        default=[],
        metavar="PLACE",
        help="judge whether this place may be closed now, whatever the file's stage; may be repeated",
    )
    _effort(check)
    check.add_argument(
        "--today", metavar="DATE", help="the day that counts for proofs and acceptances, such as 2026-11-25"
    )
    check.set_defaults(do=_check)

    post = commands.add_parser(
        "post",
        help="draw the post's bore and what lies in it",
        description="Draw the bore of the post, and of every other passage, to scale with all that lies in it.",
    )
    post.add_argument("file", metavar="FILE", help="a .post.toml file; - reads standard input")
    post.add_argument("--passage", metavar="NAME", help="draw this passage alone; the post is 'post'")
    post.add_argument("--svg", metavar="OUT", help="write an SVG drawing there instead")
    _effort(post)
    post.set_defaults(do=_post)

    sheet = commands.add_parser(
        "sheet",
        help="print the sheet for the wall: joints, bench settings, boxes to tick",
        description="Write the sheet that is taped to the wall: hub map, bench card, post, voltages, supply budget, closing list and the client's card, on A4 or Letter.",
    )
    sheet.add_argument("file", metavar="FILE", help="a .post.toml file; - reads standard input")
    sheet.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        required=True,
        help="where to: OUT.html, OUT.md, or - for standard output",
    )
    sheet.add_argument(
        "--part",
        action="append",
        default=[],
        choices=("hub", "bench", "post", "volts", "supply", "closing", "client"),
        help="print this part alone; may be given several times",
    )
    sheet.add_argument("--format", choices=("html", "markdown"), help="html, unless OUT ends in .md")
    _effort(sheet)
    sheet.add_argument("--today", metavar="DATE", help="the day that is printed on it, such as 2026-11-25")
    sheet.set_defaults(do=_sheet)

    start = commands.add_parser(
        "start", help="write a starter build", description="Write a commented starter build that passes."
    )
    start.add_argument(
        "file",
        nargs="?",
        default="my-model.post.toml",
        metavar="FILE",
        help="where to (default: my-model.post.toml)",
    )
    start.set_defaults(do=_start)

    explain = commands.add_parser(
        "explain",
        help="explain a check",
        description="Say what a check looks at, by which formula and limit, and why.",
    )
    explain.add_argument(
        "check", nargs="?", metavar="CHECK", help="its name, such as lamp.no-resistor; none lists them all"
    )
    explain.set_defaults(do=_explain)

    catalogue = commands.add_parser(
        "catalogue",
        help="list wires, lamps and the like",
        description="List what the catalogue knows, with sources.",
    )
    catalogue.add_argument(
        "kind",
        nargs="?",
        choices=("wire", "lamp", "strip", "resistor", "fuse", "plastic", "battery"),
        help="the kind to list; none tells what there is",
    )
    catalogue.add_argument("--matching", metavar="TEXT", help="only rows whose name holds this text")
    catalogue.set_defaults(do=_catalogue)

    # its words are read by `cli_ask`: with this prefix none of them is an option here
    ask = commands.add_parser("ask", help="answer a question of the bench", prefix_chars="\0", add_help=False)
    ask.add_argument("words", nargs="*")
    ask.set_defaults(do=_ask)
    return parser


# -- check


def _effort(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--effort",
        choices=("quick", "long"),
        default="quick",
        help="long tries far harder to pack a bore",
    )


def _check(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.report import Report  # noqa: PLC0415

    today = _day(options.today)
    if options.today is not None and today is None:
        _complain(f"--today needs a date such as 2026-11-25, not '{_shown(options.today)}'")
        return UNUSABLE, ""
    to_file = options.output not in (None, "-")
    if to_file and not _may_write(options.output, options.files):
        return UNUSABLE, ""
    judged = [_one(name, options, today) for name in options.files]
    files = tuple(file for file in judged if not isinstance(file, int))
    # a file that brought out a bug of ours, or has no such place, is in no report, and hides none of the others
    code = max(file if isinstance(file, int) else _code(file, options) for file in judged)
    text = _rendered(Report(files), options.format, to_file=to_file) if files else ""
    if not to_file or not files:
        return code, text
    return _saved(options.output, text, code), ""


def _one(name: str, options: argparse.Namespace, today: date | None) -> FileReport | int:
    """The report of one file; an exit code where there is none."""
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415
    from postcheck.checking import check_one, no_such_place, unreadable  # noqa: PLC0415

    try:
        build = load(name)
        if problem := no_such_place(build, options.closing):
            _complain(f"{_shown(name)}: {problem}")
            return UNUSABLE
        return check_one(
            build, stage=options.stage, today=today, effort=options.effort, closing=options.closing
        )
    except BuildError as error:
        return unreadable(error)
    except Exception as fault:
        _own_up(fault, name)
        return OUR_FAULT


def _may_write(name: str, inputs: Sequence[str]) -> bool:
    from postcheck.output import refusal  # noqa: PLC0415

    if reason := refusal(name, inputs):
        _complain(f"'{_shown(name)}' is not written to: {reason}")
        return False
    return True


def _saved(name: str, text: str, code: int) -> int:
    from postcheck.output import save  # noqa: PLC0415

    try:
        save(name, text)
    except (OSError, ValueError) as error:
        _complain(f"'{_shown(name)}' cannot be written: {_reason(error)}")
        return UNUSABLE
    return code


def _code(file: FileReport, options: argparse.Namespace) -> int:
    if file.verdict == "unreadable":
        return UNUSABLE
    weights = {finding.severity for finding in file.findings if finding.accepted is None}
    strict = options.fail_on == "caution" or file.stage == "closing"
    if "stop" in weights or (options.fail_on == "caution" and "caution" in weights):
        return FOUND
    unsure = any(question.vital for question in file.not_judged)
    return FOUND if strict and unsure else CLEAR


def _rendered(report: Report, form: str, *, to_file: bool) -> str:
    if form == "json":
        from postcheck.faces import json_face  # noqa: PLC0415

        return json_face.render(report, __version__)
    from postcheck.faces import streams  # noqa: PLC0415

    out = None if to_file else sys.stdout
    if out is None or not out.isatty():
        from postcheck.faces import plain_text  # noqa: PLC0415

        return plain_text.render(report, colour=out is not None and streams.colour_wanted(out, os.environ))
    from postcheck.faces import terminal  # noqa: PLC0415

    return terminal.render(
        report,
        width=_width(),
        colour=streams.colour_wanted(out, os.environ),
        ascii=not streams.encodable(out),
    )


def _width() -> int:
    import shutil  # noqa: PLC0415

    return max(40, min(shutil.get_terminal_size().columns, 100))


def _page() -> int | None:
    """How wide a page of text may be; None where it is piped, and each thing stands on one line."""
    return _width() if sys.stdout.isatty() else None


def _day(text: str | None) -> date | None:
    from datetime import date  # noqa: PLC0415

    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError:
        return None


def _shown(text: str) -> str:
    from postcheck.plain import harmless  # noqa: PLC0415

    return harmless(text)


# -- the other commands


def _post(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.naming import passages_of  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415
    from postcheck.checking import pictures, unreadable  # noqa: PLC0415
    from postcheck.report import Report  # noqa: PLC0415

    to_file = options.svg not in (None, "-")
    if to_file and not _may_write(options.svg, [options.file]):
        return UNUSABLE, ""
    try:
        build = load(options.file)
    except BuildError as error:
        from postcheck.faces import plain_text  # noqa: PLC0415

        sys.stderr.write(plain_text.render(Report((unreadable(error),))))
        return UNUSABLE, ""
    names, problem = _passages_wanted(options.passage, list(passages_of(build)))
    if problem is not None:
        _complain(f"{_shown(build.file)}: {problem}")
        return UNUSABLE, ""
    drawn = pictures(build, names, options.effort)
    if options.svg is None:
        return CLEAR, _bores(drawn)
    from postcheck.faces import bore_svg  # noqa: PLC0415

    picture = bore_svg.render(drawn)
    if not to_file:
        return CLEAR, picture
    code = _saved(options.svg, picture, CLEAR)
    return code, f"Wrote {_shown(options.svg)}.\n" if code == CLEAR else ""


def _sheet(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415
    from postcheck.checking import sheet, unreadable  # noqa: PLC0415
    from postcheck.report import Report  # noqa: PLC0415

    today = _day(options.today)
    if options.today is not None and today is None:
        _complain(f"--today needs a date such as 2026-11-25, not '{_shown(options.today)}'")
        return UNUSABLE, ""
    to_file = options.output != "-"
    if to_file and not _may_write(options.output, [options.file]):
        return UNUSABLE, ""
    try:
        build = load(options.file)
    except BuildError as error:
        from postcheck.faces import plain_text  # noqa: PLC0415

        sys.stderr.write(plain_text.render(Report((unreadable(error),))))
        return UNUSABLE, ""
    drawn = sheet(build, options.part, today=today, effort=options.effort)
    form = options.format or ("markdown" if options.output.lower().endswith((".md", ".markdown")) else "html")
    if form == "markdown":
        from postcheck.faces import sheet_markdown  # noqa: PLC0415

        text, size = sheet_markdown.render(drawn), ""
    else:
        from postcheck.faces import sheet as page  # noqa: PLC0415

        pages = page.page_count(drawn)
        text, size = page.render(drawn), f", {pages} {'page' if pages == 1 else 'pages'} on A4 or Letter"
    if not to_file:
        return CLEAR, text
    code = _saved(options.output, text, CLEAR)
    return code, f"Wrote {_shown(options.output)}{size}.\n" if code == CLEAR else ""


def _passages_wanted(wanted: str | None, there: list[str]) -> tuple[list[str], str | None]:
    """The passages to draw, or what is wrong."""
    from postcheck.plain import nearest, quoted  # noqa: PLC0415

    if not there:
        return [], "there is nothing to draw: it has no [post] and no [passage.NAME]"
    if wanted is None:
        return there, None
    if wanted in there:
        return [wanted], None
    if wanted == "post":
        return [], f"it has no [post]; it has {_several(there)}"
    near = nearest(wanted, there)
    hint = f"did you mean {quoted(near)}?" if near else f"it has {_several(there)}"
    return [], f"there is no passage {quoted(wanted)}; {hint}"


def _several(names: list[str]) -> str:
    from postcheck.plain import quoted  # noqa: PLC0415

    listed = ", ".join(map(quoted, names[:8]))
    return f"{listed} and {len(names) - 8} more" if len(names) > 8 else listed


def _bores(drawn: Sequence[BorePicture]) -> str:
    """The bores as this stream can show them: drawn on a terminal that has the dots, else in words."""
    from postcheck.faces import streams  # noqa: PLC0415

    if sys.stdout.isatty():
        from postcheck.faces import bore_screen  # noqa: PLC0415

        if streams.encodable(sys.stdout, bore_screen.DOTS):
            colour = streams.colour_wanted(sys.stdout, os.environ)
            return bore_screen.render(drawn, width=_width(), colour=colour)
    from postcheck.faces import bore_words  # noqa: PLC0415

    return bore_words.render(drawn)


def _start(options: argparse.Namespace) -> tuple[int, str]:
    from pathlib import Path  # noqa: PLC0415

    text = (Path(__file__).parent / "build" / "starter.toml").read_text(encoding="utf-8")
    name = _shown(options.file)
    try:
        with open(options.file, "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        _complain(f"'{name}' is already there and is left as it is; name another file")
        return UNUSABLE, ""
    except (OSError, ValueError) as error:
        _complain(f"'{name}' cannot be written: {_reason(error)}")
        return UNUSABLE, ""
    if not options.file.endswith(".post.toml"):
        _complain("build files usually end in .post.toml; hooks and editors look for that")
    return CLEAR, f"Wrote {name}. Next: postcheck check {name}\n"


def _explain(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.build.problems import FILE_CHECKS  # noqa: PLC0415
    from postcheck.checks.table import CHECKS  # noqa: PLC0415
    from postcheck.faces import explain  # noqa: PLC0415
    from postcheck.limits import Limits  # noqa: PLC0415
    from postcheck.plain import nearest  # noqa: PLC0415

    if options.check is None:
        return CLEAR, explain.render_list(CHECKS, _page())
    name = options.check.split(":", 1)[0]
    for check in CHECKS:
        if check.name == name:
            limits = Limits()
            return CLEAR, explain.render_check(check, [limits[limit] for limit in check.limits], _page())
    if name in FILE_CHECKS:
        return CLEAR, f"{name}\n{FILE_CHECKS[name]}\n"
    near = nearest(name, [*(check.name for check in CHECKS), *FILE_CHECKS])
    hint = f"; did you mean '{near}'?" if near else "; `postcheck explain` lists them"
    _complain(f"there is no check '{_shown(name)}'{hint}")
    return UNUSABLE, ""


def _catalogue(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck import catalogue  # noqa: PLC0415
    from postcheck.faces import catalogue_list  # noqa: PLC0415

    if options.kind is None and options.matching is None:
        return CLEAR, catalogue_list.render_kinds(
            {kind: len(catalogue.names(kind)) for kind in catalogue.KINDS}
        )
    kinds = [options.kind] if options.kind else catalogue.KINDS
    parts = []
    for kind in kinds:
        rows = [
            row
            for row in catalogue.rows(kind)
            if not options.matching or options.matching.lower() in str(getattr(row, "name", "")).lower()
        ]
        if rows:
            parts.append(catalogue_list.render(kind, rows, _page()))
    if not parts:
        _complain("no row matches")
        return FOUND, ""
    return CLEAR, "\n".join(parts)


def _ask(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.cli_ask import Refused, answered  # noqa: PLC0415

    try:
        return CLEAR, answered(options.words, __version__)
    except Refused as refused:
        _complain(str(refused))
        return UNUSABLE, ""


# -- streams


def _tell(text: str, code: int) -> int:
    """Write to standard output, and give the exit code: a reader that has gone changes nothing of it."""
    if sys.stdout is None:
        if text:
            _complain("cannot write the report: standard output is closed")
        return UNUSABLE if text else code
    try:
        if text:
            _write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_output()
    except OSError as error:
        _complain(f"cannot write the report: {_reason(error)}")
        _drop_output()
        return UNUSABLE
    return code


def _write(text: str) -> None:
    from postcheck.faces import streams  # noqa: PLC0415

    out = sys.stdout
    if not streams.encodable(out):
        text = streams.ascii_words(text)
    try:
        out.write(text)
    except UnicodeEncodeError:
        encoding = out.encoding or "ascii"
        out.write(text.encode(encoding, "backslashreplace").decode(encoding))


def _drop_output() -> None:
    """Leave nothing for the interpreter to flush at exit, which would fail again."""
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(text: str) -> None:
    if sys.stderr is not None:  # printing to None would go to standard output
        with contextlib.suppress(OSError):
            print(f"postcheck: {text}", file=sys.stderr, flush=True)


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()
