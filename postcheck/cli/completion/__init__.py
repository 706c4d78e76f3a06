"""`postcheck completion`: a script with which a shell completes the command's words.

What it knows it has from the parser of the command line itself, and the names of checks and of the catalogue from their
tables. All of it stands in the script: a TAB starts no Python.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck.cli.talk import CLEAR

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands

__all__ = ["SHELLS", "add", "script"]

SHELLS = ("bash", "zsh", "fish")


def add(commands: Commands) -> None:
    """The command's words and options."""
    completion = commands.add_parser(
        "completion",
        help="print a script for completion in a shell",
        description="The script completes commands, options, build files and names. Write it anew after an update.",
        examples=(
            ("completion bash", "prints the script for bash; the README says where it goes"),
            ("completion fish", "prints the one for fish"),
        ),
    )
    completion.add_argument("shell", choices=SHELLS, help="which shell it is for")
    completion.set_defaults(do=_completion)


def _completion(options: argparse.Namespace) -> tuple[int, str]:
    return CLEAR, script(options.shell)


def script(shell: str) -> str:
    """The script for one of SHELLS."""
    from postcheck.cli import every_command  # noqa: PLC0415 - it knows this command too
    from postcheck.cli.completion.words import command_line  # noqa: PLC0415

    root = command_line(every_command())
    if shell == "bash":
        from postcheck.cli.completion import bash  # noqa: PLC0415

        return bash.script(root)
    if shell == "zsh":
        from postcheck.cli.completion import zsh  # noqa: PLC0415

        return zsh.script(root)
    from postcheck.cli.completion import fish  # noqa: PLC0415

    return fish.script(root)
