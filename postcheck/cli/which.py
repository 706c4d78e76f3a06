"""`postcheck which`: tells unmarked leads apart at a setting that harms none of them."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import FILE
from postcheck.cli.options import as_if, one_build, read_changes, text_or_json, what_if
from postcheck.cli.talk import CLEAR, FOUND, INTERRUPTED, UNUSABLE, complain, loaded, page, reason, shown

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands
    from postcheck.identification import Identification
    from postcheck.identifying import Identifier

_MOST = 100_000
# What ends the readings, typed or piped, as in `record`.
_STOP = frozenset({"stop", "quit", "exit", "q"})
_HOW = (
    "Type all the digits that the meter shows, as in 1: 2.07 red; turned, 1: / 5.00.\n"
    "Also dark, in PLACE, whole; back takes the last out; stop or an empty line ends.\n"
)
# A pipe that somebody left open says nothing for so long, s.
_PATIENCE = 3.0


def add(commands: Commands) -> None:
    """The command's words and options."""
    which = commands.add_parser(
        "which",
        help="tell unmarked leads apart without harming any",
        description="Gives the bench setting that harms none of the leads that end at a place, whichever it is and either way "
        "round; what each of them reads there; and, reading by reading, which is which. Asks for readings where it can; nothing "
        "is written.",
        examples=(
            ("which airship.post.toml --at keel", "shows the setting, then asks for readings"),
            (
                "which airship.post.toml --at keel --readings '1: 2.07 red'",
                "takes a reading and says what it may be",
            ),
        ),
        exits={1: "what was read shows a fault, or fits nothing"},
    )
    one_build(which)
    which.add_argument("--at", metavar="PLACE", required=True, help="where the leads end")
    which.add_argument(
        "--readings",
        type=FILE,
        metavar="TEXT",
        help="what was read, as in 'lead 1: 2.07 red, lead 2: 4.99 / dark whole, lead 3 is nose lamp'; or a file of it; without it "
        "a pipe is read",
    )
    which.add_argument(
        "--bin",
        metavar="VOLTS",
        help="the LEDs of a kind are of one bin of forward voltage, so wide: '70 mV'",
    )
    text_or_json(which)
    what_if(which)
    which.set_defaults(do=_which)


def _which(options: argparse.Namespace) -> tuple[int, str]:
    if not read_changes(options):
        return UNUSABLE, ""
    usable, width = _bin(options.bin)
    readings = _readings(options.readings)
    if not usable or readings is None:
        return UNUSABLE, ""
    build = as_if(loaded(options.file), options)
    if build is None:
        return UNUSABLE, ""
    if options.readings is None and options.file != "-":
        readings = _piped()
    if readings is None:
        return UNUSABLE, ""
    from postcheck.identifying import Identifier, ReadingError  # noqa: PLC0415

    try:
        identifier = Identifier(build, options.at, width)
        identification = identifier.told(readings)
    except ReadingError as error:
        complain(str(error))
        return UNUSABLE, ""
    from postcheck.renderers import which  # noqa: PLC0415

    if options.format == "json":
        from postcheck import __version__  # noqa: PLC0415

        return _code(identification), which.render_json(identification, __version__)
    asks = options.readings is None and options.file != "-" and _talks()
    if not asks or identification.next is None:
        return _code(identification), which.render(identification, page())
    sys.stdout.write(which.render(identification, page()))
    return _asked(identifier, identification)


def _code(identification: Identification) -> int:
    return FOUND if identification.faults or identification.unexplained else CLEAR


def _bin(text: str | None) -> tuple[bool, float | None]:
    if text is None:
        return True, None
    from postcheck.description.problems import QuantityError  # noqa: PLC0415
    from postcheck.description.quantities import parse  # noqa: PLC0415
    from postcheck.description.units import Dimension  # noqa: PLC0415

    try:
        return True, float(parse(text, Dimension.VOLTAGE))
    except QuantityError as error:
        complain(f"--bin: {error}")
        return False, None


def _readings(text: str | None) -> str | None:
    """The readings as they were typed, or as a file has them: no reading goes without a colon or "is"."""
    if text is None or ":" in text or " is " in text or not text.strip():
        return text or ""
    try:
        with open(text, encoding="utf-8") as file:
            return file.read(_MOST)
    except (OSError, UnicodeDecodeError, ValueError) as error:
        why = "it is not text in UTF-8" if isinstance(error, UnicodeDecodeError) else reason(error)
        complain(f"--readings: '{shown(text)}' is no reading such as 'lead 1: 2.07', and no file: {why}")
        return None


def _piped() -> str | None:
    """What a pipe or a file says on standard input, up to a word that ends it; None where it cannot be taken, and was said."""
    import os  # noqa: PLC0415
    import select  # noqa: PLC0415
    import stat  # noqa: PLC0415

    try:
        number = sys.stdin.fileno() if sys.stdin is not None else -1
        mode = os.fstat(number).st_mode
    except (OSError, ValueError):
        return ""  # there is none, or it is no file of the system
    if not (stat.S_ISFIFO(mode) or stat.S_ISREG(mode)):
        return ""
    try:
        waiting = bool(select.select([number], [], [], _PATIENCE)[0])
    except (OSError, ValueError):
        waiting = True  # some systems wait for sockets alone
    if not waiting:
        complain("nothing comes from standard input: no reading was taken; give them with --readings")
        return ""
    try:
        lines = sys.stdin.read(_MOST).splitlines()
    except (OSError, UnicodeDecodeError) as error:
        why = "it is not text in UTF-8" if isinstance(error, UnicodeDecodeError) else reason(error)
        complain(f"standard input cannot be read: {why}")
        return None
    end = next((at for at, line in enumerate(lines) if line.strip().casefold() in _STOP), len(lines))
    return "\n".join(lines[:end])


def _talks() -> bool:
    return sys.stdin is not None and sys.stdin.isatty() and sys.stdout is not None and sys.stdout.isatty()


def _asked(identifier: Identifier, identification: Identification) -> tuple[int, str]:
    """Readings line by line, until all is known or nothing more is typed; Ctrl-D and Ctrl-C end with what is known."""
    from postcheck.identifying import ReadingError  # noqa: PLC0415
    from postcheck.renderers import which  # noqa: PLC0415

    sys.stdout.write(f"\n{_HOW}")
    taken: list[str] = []
    while not (identification.found and identification.next is None):
        try:
            line = input("> ").strip()
        except EOFError:
            sys.stdout.write("\n")
            break
        except KeyboardInterrupt:
            sys.stdout.write("\n")
            return INTERRUPTED, which.found(identification, page())
        except UnicodeDecodeError:
            line = "?"
        word = line.casefold()
        if not word or word in _STOP:
            break
        if word in ("help", "?"):
            sys.stdout.write(_HOW)
            continue
        if word == "back":
            if not taken:
                sys.stdout.write("  nothing was typed yet\n")
                continue
            sys.stdout.write(f"{shown(taken.pop())} is taken out.\n")
        try:
            identification = identifier.told("\n".join(taken if word == "back" else (*taken, line)))
        except ReadingError as error:
            sys.stdout.write(which.again(str(error), page()))
            continue
        if word != "back":
            taken.append(line)
        sys.stdout.write(which.found(identification, page()))
        sys.stdout.flush()
    return _code(identification), ""
