"""Names that try to repaint the screen, to turn the text round, to be markup or commands, or to be endless."""

from __future__ import annotations

import re

from postcheck.report import Figure, FileReport, Finding, Limited, NotJudged, Report, Subject, WhatIf, Where
from postcheck.reported import Figures

NAMES = {
    "escape": "\x1b[31mred\x1b[2J",
    "link": "\x1b]8;;http://example.invalid\x1b\\click\x1b]8;;\x1b\\",
    "c1": "\x9b31mred",
    "bidi": "lamp\u202egniht\u2066x\u2069",
    "markup": "[/x] [bold]big[/bold] :warning:",
    "long": "x" * 500,
    "long words": "feed " * 100,
    "command": "lamp\n::error::gotcha",
    "carriage return": "lamp\r\n##[error]gotcha",
    "colons": "::error file=a::gotcha",
    "colon": ":",
    "last colon": "a lamp :",
    "wrapped colons": "a lamp with a name that goes on to the end of the line ::error::gotcha",
    "cut colons": "x" * 30 + "::error::y" * 20,
    "other runners": "##vso[task.complete]a ##teamcity[buildStop]",
    "separators": "a\u2028b\u2029c\x85d\x0be",
    "surrogate": "lamp \udc80",
    "zero": "a\x00b\ufeff\u200b",
    "unseen": "lamp \u034f\ufe00\ufe0f\U00013430\U0001bca0\U0001d173\U000e0100",
    "noncharacters": "lamp \ufffe\uffff\ufdd0\U0001fffe",
    "wide": "\u706f\u53f0" * 30,
    "empty": "",
    "blank": "   ",
}
# what may not reach a screen or a log, other than the line breaks and colours that the renderer itself sets
FORBIDDEN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff\ufffe\uffff\ufdd0-\ufdef\U0001fffe"
    "\u034f\ufe00-\ufe0f\U00013430-\U0001345f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0100-\U000e01ef]"
)


def report(name: str) -> Report:
    """A report with the name in every place that comes from a file."""
    first = Finding(
        "lamp.no-resistor", "stop", Subject("lamp", name), f"{name} has no resistor", f"Why {name}.", ("lamp", name),
        remedy=f"change {name}", where=Where(name, 3, 5), figures={name: Figure(0.02, "A")},
        limit=Limited(0.02, "A", name),
    )  # fmt: skip
    second = Finding(
        "place.too-hot", "caution", Subject("place", name), f"{name} is hot", "Why.", because_of=first.id
    )
    third = Finding(
        "lamp.dim", "note", Subject("lamp", name), f"{name} is dim", "Why.", accepted=f"because {name}"
    )
    figures: Figures = {
        "lamps": {name: {"nominal": 0.1, "lowest": 0.1, "highest": 0.2}},
        "supplies": {name: {"nominal": 0.1, "highest": 0.2, "headroom": 0.8, "rated": 1.0}},
        "runs": {name: {"current": 0.1, "drop": 0.2}},
        "passages": {name: {"fill": 0.1, "smallest_bore": 0.002, "verdict": name, "bore": 0.005}},
        "places": {name: {"heat": 0.1, "rise": 3.0}},
    }
    unjudged = (NotJudged(name, f"what {name}", f"missing {name}", vital=True), NotJudged(name, name, name))
    asked = (WhatIf(name, name, name, Where(name, 1, 1)),)
    return Report(
        (FileReport(name, "stop", (first, second, third), unjudged, figures, name, name, (), asked),)
    )
