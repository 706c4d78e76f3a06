"""The command line: reads arguments, prints, exits. The only module that does either."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, TextIO

from postcheck import __version__

if TYPE_CHECKING:
    from datetime import date

    from postcheck.report import FileReport, Report

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
    sys.exit(main())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code: 0 nothing found, 1 something found, 2 unusable, 70 our own bug."""
    options = _parser().parse_args(arguments)
    if not hasattr(options, "do"):
        _parser().print_help()
        return UNUSABLE
    try:
        code: int = options.do(options)
        sys.stdout.flush()
    except BrokenPipeError:
        # the reader has gone (`| head`): nothing more to say, and nothing for the interpreter to flush at exit
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLEAR
    except KeyboardInterrupt:
        print("postcheck: stopped", file=sys.stderr)
        return INTERRUPTED
    except Exception as fault:  # a crash must never look like a finding
        from postcheck.plain import harmless  # noqa: PLC0415

        place = _innermost(fault)
        print(
            f"postcheck: a bug of ours, not of your build: {type(fault).__name__}: {harmless(str(fault))} ({place})",
            file=sys.stderr,
        )
        if os.environ.get("POSTCHECK_TRACEBACK"):
            raise
        print(
            "postcheck: please report it with the build file; POSTCHECK_TRACEBACK=1 shows more",
            file=sys.stderr,
        )
        return OUR_FAULT
    return code


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
    check.add_argument("--output", metavar="FILE", help="write there instead of to the terminal")
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
        "--today", metavar="DATE", help="the day that counts for acceptances, such as 2026-11-25"
    )
    check.set_defaults(do=_check)

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
    return parser


# -- check


def _check(options: argparse.Namespace) -> int:
    from postcheck.report import Report  # noqa: PLC0415

    today = _day(options.today)
    if options.today is not None and today is None:
        print(
            f"postcheck: --today needs a date such as 2026-11-25, not '{_shown(options.today)}'",
            file=sys.stderr,
        )
        return UNUSABLE
    report = Report(tuple(_one(name, options.stage, today) for name in options.files))
    text = _rendered(report, options.format, to_file=options.output is not None)
    if options.output is None:
        _write(text)
    else:
        problem = _save(options.output, text)
        if problem is not None:
            print(f"postcheck: {problem}", file=sys.stderr)
            return UNUSABLE
    return max(_code(file, options) for file in report.files)


def _one(name: str, stage: str | None, today: date | None) -> FileReport:
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415
    from postcheck.checking import check_one, unreadable  # noqa: PLC0415

    try:
        return check_one(load(name), stage=stage, today=today)
    except BuildError as error:
        return unreadable(error)


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

    if to_file or not sys.stdout.isatty():
        from postcheck.faces import plain_text  # noqa: PLC0415

        return plain_text.render(report)
    from postcheck.faces import terminal  # noqa: PLC0415

    return terminal.render(
        report,
        width=_width(),
        colour=streams.colour_wanted(sys.stdout, os.environ),
        ascii=not streams.encodable(sys.stdout),
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


def _start(options: argparse.Namespace) -> int:
    from pathlib import Path  # noqa: PLC0415

    text = (Path(__file__).parent / "build" / "starter.toml").read_text(encoding="utf-8")
    try:
        with open(options.file, "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        print(
            f"postcheck: '{_shown(options.file)}' is already there and is left as it is; name another file",
            file=sys.stderr,
        )
        return UNUSABLE
    except OSError as error:
        print(f"postcheck: '{_shown(options.file)}' cannot be written: {error.strerror}", file=sys.stderr)
        return UNUSABLE
    name = _shown(options.file)
    _write(f"Wrote {name}. Next: postcheck check {name}\n")
    if not options.file.endswith(".post.toml"):
        print(
            "postcheck: build files usually end in .post.toml; hooks and editors look for that",
            file=sys.stderr,
        )
    return CLEAR


def _explain(options: argparse.Namespace) -> int:
    from postcheck.build.problems import FILE_CHECKS  # noqa: PLC0415
    from postcheck.checks.table import CHECKS  # noqa: PLC0415
    from postcheck.faces import explain  # noqa: PLC0415
    from postcheck.limits import Limits  # noqa: PLC0415
    from postcheck.plain import nearest  # noqa: PLC0415

    if options.check is None:
        _write(explain.render_list(CHECKS, _page()))
        return CLEAR
    name = options.check.split(":", 1)[0]
    for check in CHECKS:
        if check.name == name:
            limits = Limits()
            _write(explain.render_check(check, [limits[limit] for limit in check.limits], _page()))
            return CLEAR
    if name in FILE_CHECKS:
        _write(f"{name}\n{FILE_CHECKS[name]}\n")
        return CLEAR
    near = nearest(name, [*(check.name for check in CHECKS), *FILE_CHECKS])
    hint = f"; did you mean '{near}'?" if near else "; `postcheck explain` lists them"
    print(f"postcheck: there is no check '{_shown(name)}'{hint}", file=sys.stderr)
    return UNUSABLE


def _catalogue(options: argparse.Namespace) -> int:
    from postcheck import catalogue  # noqa: PLC0415
    from postcheck.faces import catalogue_list  # noqa: PLC0415

    if options.kind is None and options.matching is None:
        _write(catalogue_list.render_kinds({kind: len(catalogue.names(kind)) for kind in catalogue.KINDS}))
        return CLEAR
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
        print("postcheck: no row matches", file=sys.stderr)
        return FOUND
    _write("\n".join(parts))
    return CLEAR


# -- streams


def _write(text: str, stream: TextIO | None = None) -> None:
    from postcheck.faces import streams  # noqa: PLC0415

    out = stream or sys.stdout
    if not streams.encodable(out):
        text = streams.ascii_words(text)
    try:
        out.write(text)
    except UnicodeEncodeError:
        encoding = out.encoding or "ascii"
        out.write(text.encode(encoding, "backslashreplace").decode(encoding))


def _save(name: str, text: str) -> str | None:
    """Write a whole file or none: beside it first, then over it. The reason if it cannot be."""
    import tempfile  # noqa: PLC0415

    folder = os.path.dirname(os.path.abspath(name))
    try:
        handle, beside = tempfile.mkstemp(dir=folder, prefix=".postcheck-")
    except OSError as error:
        return f"'{_shown(name)}' cannot be written: {error.strerror}"
    try:
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace", newline="\n") as file:
            file.write(text)
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(beside, 0o666 & ~mask)
        os.replace(beside, name)
    except OSError as error:
        os.unlink(beside)
        return f"'{_shown(name)}' cannot be written: {error.strerror}"
    return None
