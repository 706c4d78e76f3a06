"""`postcheck vary`: judges a build over a range of one key, or of two."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import CHECK, FILE, number
from postcheck.cli.options import (
    effort,
    for_stage,
    on_day,
    one_build,
    read_build,
    read_changes,
    text_or_json,
    what_if,
)
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, day, saved, shown, width

if TYPE_CHECKING:
    from datetime import date

    from postcheck.cli.parser import Commands
    from postcheck.description.models import Build
    from postcheck.variation import Variation
    from postcheck.varying import Varied


def add(commands: Commands) -> None:
    """The command's words and options."""
    vary = commands.add_parser(
        "vary",
        help="judge a build over a range of values",
        description="Judges a build over the values of a key, finer where the verdict or the findings turn; or over those of two "
        "keys, as a map. The file stays as it is.",
        examples=(
            ("vary airship.post.toml post.bore '2 mm..6 mm'", "says which bores would do"),
            ("vary airship.post.toml supply.main.volts '9 V, 12 V, 15 V'", "tries three supplies"),
        ),
        exits={0: "judged, whatever was found"},
    )
    one_build(vary)
    vary.add_argument("key", metavar="KEY", help="as in the file: post.bore, 'lamp.nose lamp.resistor'")
    vary.add_argument(
        "values",
        metavar="VALUES",
        help="a range such as '3 mm..8 mm' or 1..5, or a list such as 'ptfe-28, ptfe-30'",
    )
    vary.add_argument("other_key", nargs="?", metavar="KEY", help="a second key, for a map")
    vary.add_argument("other_values", nargs="?", metavar="VALUES", help="the values of the second key")
    vary.add_argument(
        "--svg", type=FILE, metavar="OUT", help="write an SVG drawing there too; - is standard output, alone"
    )
    text_or_json(vary)
    vary.add_argument(
        "--margin",
        type=CHECK,
        metavar="CHECK",
        help="draw how near this check comes to its limit; without it the one that the verdict turns with",
    )
    for_stage(vary)
    on_day(vary)
    vary.add_argument(
        "--seconds",
        type=number,
        metavar="N",
        help="compute no longer than this to look closer at one key; 5 without it",
    )
    what_if(vary)
    effort(vary)
    vary.set_defaults(do=_vary)


def _vary(options: argparse.Namespace) -> tuple[int, str]:
    usable, today = day(options.today)
    keys = _keys(options)
    if not usable or keys is None or not read_changes(options):
        return UNUSABLE, ""
    if options.seconds is not None and not 0.0 <= options.seconds <= 3600.0:
        complain("--seconds needs a number from 0 to 3600")
        return UNUSABLE, ""
    build = read_build(options, options.svg)
    variation = None if build is None else _variation(build, keys, options, today)
    if variation is None:
        return UNUSABLE, ""
    if options.svg is None:
        return CLEAR, _rendered(variation, options)
    from postcheck.renderers import varied_svg  # noqa: PLC0415

    drawing = varied_svg.render(variation)
    if options.svg == "-":
        return CLEAR, drawing
    code = saved(options.svg, drawing, CLEAR)
    text = _rendered(variation, options)
    wrote = "" if options.format == "json" or code != CLEAR else f"\nWrote {shown(options.svg)}.\n"
    return code, text + wrote


def _keys(options: argparse.Namespace) -> list[Varied] | None:
    """The keys with their values, None where one cannot be read, and said why."""
    from postcheck.description.problems import QuantityError  # noqa: PLC0415
    from postcheck.description.ranges import values_of  # noqa: PLC0415
    from postcheck.reading.what_if import key_steps  # noqa: PLC0415
    from postcheck.varying import Varied  # noqa: PLC0415

    pairs = [(options.key, options.values)]
    if options.other_key is not None:
        if options.other_values is None:
            complain(f"which values of {shown(options.other_key)}? Name them, as in '3 mm..8 mm'")
            return None
        pairs.append((options.other_key, options.other_values))
    try:
        return [Varied(key_steps(key), values_of(values)) for key, values in pairs]
    except QuantityError as error:
        complain(str(error))
        return None


def _variation(
    build: Build, keys: list[Varied], options: argparse.Namespace, today: date | None
) -> Variation | None:
    """What comes of it; None where nothing does, and said why."""
    from postcheck.description.problems import BuildError, QuantityError  # noqa: PLC0415
    from postcheck.varying import SECONDS, MarginError, varied  # noqa: PLC0415

    try:
        with working("judging") as say:
            return varied(
                build, keys, stage=options.stage, today=today, effort=options.effort,
                margin=options.margin, seconds=SECONDS if options.seconds is None else options.seconds, progress=lambda done: say(f"judged so far: {done}"),
            )  # fmt: skip
    except BuildError as error:
        for line in str(error).splitlines():
            complain(line)
    except (QuantityError, MarginError) as error:
        complain(str(error))
    return None


def _rendered(variation: Variation, options: argparse.Namespace) -> str:
    if options.format == "json":
        from postcheck import __version__  # noqa: PLC0415
        from postcheck.renderers import varied_json  # noqa: PLC0415

        return varied_json.render(variation, __version__)
    from postcheck.renderers import braille, streams, varied  # noqa: PLC0415

    if sys.stdout is None or not sys.stdout.isatty():
        return varied.render(variation)
    plain = not streams.encodable(sys.stdout, braille.DOTS)
    return varied.render(
        variation, width(), colour=streams.colour_wanted(sys.stdout, os.environ), ascii=plain
    )
