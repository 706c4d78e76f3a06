"""The command line, a module a command: reads arguments, prints, exits. The only room that does either.

Next to nothing is imported before `main` is at work: a Ctrl-C until then would show a traceback.
"""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from postcheck.cli.parser import Commands, Parser

__all__ = ["every_command", "main", "run"]


def run() -> None:
    """Entry point of the installed command."""
    code = 130
    try:
        import contextlib  # noqa: PLC0415
        import gc  # noqa: PLC0415

        # A run is short and keeps nearly all that it makes: the collector would only walk the freshly imported modules.
        gc.set_threshold(500_000)
        # In this process nobody has plugins for pydantic; looking for them reads the metadata of every installed package.
        os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
        code = main()
        # All is said and written. Taking apart object by object what the system takes back at once would be a fifth of the run.
        for stream in (sys.stdout, sys.stderr):
            with contextlib.suppress(AttributeError, OSError):  # there is none, or its reader has gone
                stream.flush()
    except KeyboardInterrupt:  # so early, or so late, that nothing was at work
        pass
    os._exit(code)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code: 0 nothing found, 1 something found, 2 unusable, 70 our own bug."""
    try:
        from postcheck.cli.parser import Refused, Shown  # noqa: PLC0415
        from postcheck.cli.talk import UNUSABLE, complain, write_out  # noqa: PLC0415

        try:
            code, text = _done(list(sys.argv[1:] if arguments is None else arguments))
        except Shown as page:
            code, text = 0, str(page)
        except Refused as refused:
            complain(str(refused))
            return UNUSABLE
        return write_out(text, code)
    except KeyboardInterrupt:
        from postcheck.cli.talk import INTERRUPTED, complain  # noqa: PLC0415

        complain("stopped")
        return INTERRUPTED


def _done(words: list[str]) -> tuple[int, str]:
    """What comes of a command line. Raises Refused or Shown."""
    from postcheck.cli.parser import Refused, Shown  # noqa: PLC0415
    from postcheck.cli.talk import OUR_FAULT, UNUSABLE, own_up  # noqa: PLC0415

    if words[:1] == ["help"]:
        if len(words) > 2 and words[1] != "ask":
            raise Refused(f"help shows one page at a time, and {words[2]!r} is one word too many")
        words = [*words[1:], "--help"]
    if not words or words[0] in ("-h", "--help"):
        from postcheck.cli.pages import first_page  # noqa: PLC0415

        return 0 if words else UNUSABLE, first_page(every_command())
    name, *rest = words
    if name == "--version":
        from postcheck import __version__  # noqa: PLC0415

        return 0, f"postcheck {__version__}\n"
    options = _parser(name).parse_args(rest)
    try:
        code, text = options.do(options)
    except (Refused, Shown):
        raise
    except Exception as fault:  # a crash must never look like a finding
        own_up(fault)
        return OUR_FAULT, ""
    return code, text


def _parser(name: str) -> Parser:
    """The parser of one command, and no other is made. Raises Refused where there is no such command."""
    from importlib import import_module  # noqa: PLC0415

    from postcheck.cli.commands import COMMANDS  # noqa: PLC0415
    from postcheck.cli.parser import Commands, Refused  # noqa: PLC0415

    if name in COMMANDS:
        commands = Commands()
        import_module(f"postcheck.cli.{name}").add(commands)
        return commands.parsers[name]
    from postcheck.plain import nearest, quoted  # noqa: PLC0415

    if name.startswith("-"):
        near = nearest(name, ("--help", "--version"))
        raise Refused(
            f"there is no option {quoted(name)} before a command; "
            + (f"did you mean {near}?" if near else "`postcheck help` shows what there is")
        )
    near = nearest(name, COMMANDS)
    if near is None and (name.endswith(".toml") or os.path.exists(name)):
        raise Refused(
            f"what is to be done with {quoted(name)}? `postcheck check` judges it, `postcheck help` shows what else there is"
        )
    hint = f"did you mean '{near}'?" if near else "`postcheck help` shows those that there are"
    raise Refused(f"there is no command {quoted(name)}; {hint}")


def every_command() -> Commands:
    """The parsers of all commands."""
    from importlib import import_module  # noqa: PLC0415

    from postcheck.cli.commands import COMMANDS  # noqa: PLC0415
    from postcheck.cli.parser import Commands  # noqa: PLC0415

    commands = Commands()
    for name in COMMANDS:
        import_module(f"postcheck.cli.{name}").add(commands)
    return commands
