"""`postcheck explain`: what a check looks at."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck.cli.kinds import CHECK
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, page, shown

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    explain = commands.add_parser(
        "explain",
        help="say what a check looks at: formula, limit and source",
        examples=(
            ("explain lamp.no-resistor", "explains one check; a finding's name will do"),
            ("explain", "lists all checks"),
        ),
    )
    explain.add_argument(
        "check",
        nargs="?",
        type=CHECK,
        metavar="CHECK",
        help="its name, such as lamp.no-resistor; lamp lists those of a lamp; without one all are listed",
    )
    explain.set_defaults(do=_explain)


def _explain(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.checks.table import CHECKS  # noqa: PLC0415
    from postcheck.description.problems import FILE_CHECKS  # noqa: PLC0415
    from postcheck.limits import Limits  # noqa: PLC0415
    from postcheck.plain import nearest  # noqa: PLC0415
    from postcheck.renderers import explain  # noqa: PLC0415

    if options.check is None:
        return CLEAR, explain.render_list(CHECKS, page())
    name = options.check.split(":", 1)[0]
    for check in CHECKS:
        if check.name == name:
            limits = Limits()
            return CLEAR, explain.render_check(check, [limits[limit] for limit in check.limits], page())
    if name in FILE_CHECKS:
        return CLEAR, f"{name}\n{FILE_CHECKS[name]}\n"
    from postcheck.guidebook.topics import belonging, topic_of  # noqa: PLC0415

    if names := belonging(name, [check.name for check in CHECKS]):
        listed = explain.render_list([check for check in CHECKS if check.name in names], page())
        return CLEAR, f"{listed}\n`postcheck guide {topic_of(name)}` says what can be written there.\n"
    near = nearest(name, [*(check.name for check in CHECKS), *FILE_CHECKS])
    hint = f"; did you mean '{near}'?" if near else "; `postcheck explain` lists them"
    complain(f"there is no check '{shown(name)}'{hint}")
    return UNUSABLE, ""
