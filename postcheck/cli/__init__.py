"""The command line, a module a command: reads arguments, prints, exits. The only room that does either."""

from __future__ import annotations

import argparse
import contextlib
import gc
import os
import sys
from collections.abc import Sequence

from postcheck import __version__
from postcheck.cli import (
    ask,
    check,
    compare,
    completion,
    guide,
    look_up,
    mend,
    plan,
    post,
    reach,
    record,
    schema,
    sheet,
    start,
    vary,
    which,
)
from postcheck.cli.talk import INTERRUPTED, OUR_FAULT, UNUSABLE, complain, own_up, write_out

__all__ = ["main", "run", "whole_parser"]

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
    code = main()
    # All is said and written. Taking apart object by object what the system takes back at once would be a fifth of the run.
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, OSError):  # there is none, or its reader has gone
            stream.flush()
    os._exit(code)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code: 0 nothing found, 1 something found, 2 unusable, 70 our own bug."""
    parser = whole_parser()
    try:
        options = parser.parse_args(arguments)
    except SystemExit as done:  # help, version or a usage error, printed already
        return write_out("", int(done.code or 0))
    except (AttributeError, OSError):  # argparse of early 3.11, whose complaint nobody can hear
        return UNUSABLE
    if not hasattr(options, "do"):
        return write_out(parser.format_help(), UNUSABLE)
    try:
        code, text = options.do(options)
    except KeyboardInterrupt:
        complain("stopped")
        return INTERRUPTED
    except Exception as fault:  # a crash must never look like a finding
        own_up(fault)
        return OUR_FAULT
    return write_out(text, code)


def whole_parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    parser = argparse.ArgumentParser(
        prog="postcheck",
        description="Checks the lighting of a display model before it is glued shut.",
        epilog=_CAUTIONS,
    )
    parser.add_argument("--version", action="version", version=f"postcheck {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in (
        check,
        plan,
        mend,
        record,
        vary,
        which,
        compare,
        post,
        sheet,
        reach,
        start,
        guide,
        look_up,
        ask,
        schema,
        completion,
    ):
        command.add(commands)
    return parser
