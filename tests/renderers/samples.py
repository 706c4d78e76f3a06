"""Reports of our own invention, as every renderer gets them."""

from __future__ import annotations

from dataclasses import replace

from postcheck.renderers.sarif import Help
from postcheck.report import (
    Edit,
    Figure,
    FileReport,
    Finding,
    Limited,
    NotJudged,
    Report,
    Severity,
    Subject,
    Typed,
    WhatIf,
    Where,
)
from postcheck.reported import no_figures

SOUND = FileReport(
    "mail_airship.post.toml",
    "clear",
    figures={
        **no_figures(),
        "lamps": {"port running lamp": {"nominal": 0.0066, "lowest": 0.0058, "highest": 0.0073}},
        "supplies": {"main": {"nominal": 0.0152, "highest": 0.0171, "headroom": 0.9829, "rated": 1.0}},
        "runs": {"running feed": {"current": 0.0066, "drop": 0.0004}},
        "passages": {"post": {"fill": 0.081, "smallest_bore": 0.00153, "verdict": "fits", "bore": 0.005}},
        "places": {"car": {"heat": 0.013, "rise": 0.9}, "tail": {"heat": 0.01, "rise": 1.4}},
    },
    name="Mail airship, 1:144",
    stage="wiring",
)


def finding(
    check: str, severity: Severity, kind: str, name: str, says: str, why: str, line: int, **more: object
) -> Finding:
    where = Where("survey_submersible.post.toml", line, 1)
    return replace(Finding(check, severity, Subject(kind, name), says, why, where=where), **more)  # type: ignore[arg-type]


_BARE = finding(
    "lamp.no-resistor", "stop", "lamp", "bow lamp",
    "'bow lamp' has no resistor: nothing but wire limits its current, and more than 200 mA would flow where 20 mA is its rating.",
    "An LED takes ever more current from a few hundredths of a volt more; only a resistor, or a constant-current output, sets it.",
    41,
    remedy='resistor = "680 1/4 W at hub" gives 13.4 mA, at most 15.8 mA.',
    edits=(Edit(("lamp", 0, "resistor"), '"680 1/4 W at hub"', Typed(41, 9, 41, 9, '\nresistor = "680 1/4 W at hub"')),),
    figures={"rated": Figure(0.02, "A"), "highest": Figure(0.2, "A")},
    limit=Limited(0.02, "A", "the part's rated continuous current, as its data sheet or the file gives it"),
)  # fmt: skip
_HOT = finding(
    "place.too-hot", "stop", "place", "bow",
    "'bow' would reach 74 degC inside; styrene stands 60 degC.",
    "Kit plastic sags and paint lifts long before anything burns.", 22,
    limit=Limited(60.0, "degC", "judgement, below the softening figures of plastics suppliers' tables"),
    because_of="lamp.no-resistor:bow lamp",
)  # fmt: skip
_OVERLOAD = finding(
    "supply.overload", "caution", "supply", "main",
    "the load reaches 560 mA of the 600 mA that 'main' is rated for.",
    "A small adaptor run near its rating gets hot and its voltage sags.", 8,
    because_of="lamp.no-resistor:bow lamp",
)  # fmt: skip
_TIGHT = finding(
    "passage.tight", "caution", "passage", "post",
    "the bundle in the post is 4.41 mm at its slimmest, in a bore of 5 mm.",
    "Wires never lie as neatly as a drawing: without room they jam half way, or scrape.", 14,
    remedy="A bore of 5.51 mm, or fewer or thinner conductors.",
    limit=Limited(1.25, "", "FAA AC 43.13-1B, 11-249: about 25 % larger"),
)  # fmt: skip
_SOLID = finding(
    "passage.solid", "note", "passage", "post",
    "'negative' is solid wire and goes through the post, which turns.",
    "Solid copper hardens and breaks where it bends each time.", 57,
    remedy="A stranded wire of the same section.",
)  # fmt: skip
_ACCEPTED = finding(
    "lamp.unequal", "caution", "lamp", "stern lamp",
    "'stern lamp' gets 31 % less than the others of its kind.",
    "Lamps beside one another look different from a quarter less.", 63,
    accepted="the client wants the stern dimmer",
)  # fmt: skip

FAULTY = FileReport(
    "survey_submersible.post.toml",
    "stop",
    (_BARE, _HOT, _OVERLOAD, _TIGHT, _ACCEPTED, _SOLID),
    (
        NotJudged("claw", "how warm it gets", "its surface (surface)", vital=True),
        NotJudged("port lamp", "whether its lead lets 'hub' open", "the spare length at its joint (spare)"),
        NotJudged("bow lamp", "whether its lead lets 'hub' open", "the spare length at its joint (spare)"),
    ),
    {
        **no_figures(),
        "supplies": {
            "main": {"nominal": 0.487, "highest": 0.56, "headroom": 1 - 0.56 / 0.6, "rated": 0.6},
            "pumps": {"nominal": 0.8, "highest": 1.25, "headroom": -0.25, "rated": 1.0},
            "spare": {"nominal": 0.0, "highest": 0.0, "headroom": None, "rated": None},
        },
        "passages": {
            "arm": {"fill": 0.3, "smallest_bore": 0.0011, "verdict": "fits", "bore": 0.002},
            "post": {"fill": 0.61, "smallest_bore": 0.00441, "verdict": "fits", "bore": 0.005},
        },
        "places": {"bow": {"heat": 2.2, "rise": 39.0}, "claw": {"heat": 0.1, "rise": None}},
    },
    name="Survey submersible, 1:72",
    stage="closing",
)

UNREADABLE = FileReport(
    "tender.post.toml",
    "unreadable",
    (
        Finding(
            "file.no-unit", "stop", Subject("file", "post.bore"), "'5' has no unit",
            "The file cannot be judged until this is put right.", ("post", "bore"),
            remedy='write it with its unit, such as "260 mm"', where=Where("tender.post.toml", 9, 8),
        ),
    ),
)  # fmt: skip

INCOMPLETE = replace(
    SOUND,
    file="tender2.post.toml",
    verdict="incomplete",
    not_judged=(NotJudged("post", "whether everything goes through", "the wire of 'feed'", vital=True),),
    figures=no_figures(),
    name="",
)

ASKED = replace(
    SOUND,
    what_if=(
        WhatIf("post.bore", '"6 mm"', '"5 mm"', Where("mail_airship.post.toml", 35, 1)),
        WhatIf('lamp."port running lamp".series', "2", None, Where("mail_airship.post.toml", 80, 1)),
    ),
)

REPORTS = {
    "what-if": Report((ASKED,)),
    "sound": Report((SOUND,)),
    "faulty": Report((FAULTY,)),
    "unreadable": Report((UNREADABLE,)),
    "several": Report((SOUND, UNREADABLE, INCOMPLETE, FAULTY)),
    "none": Report(()),
}

RULES = (
    Help(
        "lamp.no-resistor", "stop", "an LED with nothing to limit its current", "Only a resistor sets it.",
        "lamp.no-resistor\nWhy: ...\n", "**Why:** ...\n",
    ),
    Help("passage.tight", "caution", "a bundle with little room", "It jams.", "passage.tight\n", "**Why:** ...\n"),
    Help("file.no-unit", "stop", "A number has no unit.", "A number has no unit.", "file.no-unit\n", "...\n"),
)  # fmt: skip
