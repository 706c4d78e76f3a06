"""`postcheck start`: writes a first build."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING, TextIO

from postcheck.cli.kinds import FILE
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, reason, shown, write_file_out

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    start = commands.add_parser(
        "start",
        help="write a first build, commented, that passes",
        examples=(
            ("start airship.post.toml", "writes it; change it to what you build"),
            ("start -", "prints it and writes nothing"),
        ),
    )
    start.add_argument(
        "file",
        nargs="?",
        type=FILE,
        default="my-model.post.toml",
        metavar="FILE",
        help="where to; - prints it",
    )
    start.set_defaults(do=_start)


def _write(file: TextIO, text: str) -> None:
    """The text whole; of a file that the disk has no room for nothing is left."""
    try:
        file.write(text)
        file.flush()
    except OSError:
        os.unlink(file.name)
        raise


def _start(options: argparse.Namespace) -> tuple[int, str]:
    from pkgutil import get_data  # noqa: PLC0415

    text = (get_data("postcheck.description", "starter.toml") or b"").decode()
    if options.file == "-":
        return write_file_out(text, CLEAR), ""
    name = shown(options.file)
    try:
        with open(options.file, "x", encoding="utf-8", newline="\n") as file:
            _write(file, text)
    except FileExistsError:
        complain(f"'{name}' is already there and is left as it is; name another file")
        return UNUSABLE, ""
    except (OSError, ValueError) as error:
        complain(f"'{name}' cannot be written: {reason(error)}")
        return UNUSABLE, ""
    if not options.file.endswith(".post.toml"):
        complain("build files usually end in .post.toml; hooks and editors look for that")
    return CLEAR, f"Wrote {name}. Next: postcheck check {name}\n"
