"""A passage as it is drawn: plain frozen records."""

from __future__ import annotations

from dataclasses import dataclass

from postcheck.report import Finding, NotJudged, WhatIf

__all__ = ["BoreCircle", "BorePicture"]


@dataclass(frozen=True, slots=True)
class BoreCircle:
    """One thing in a bore where it is drawn. Lengths in m, the centre from the middle of the bore, y upwards.

    `kind` is run, lead (then `leg` says supply, return or link) or cable (then `holds` names what lies in it). `wire` and
    `colour` are as the file words them, empty where it does not. `flat`: of a flat cable its extent sideways and up and
    down; its `diameter` is then that of a round one of its area.
    """

    number: int
    name: str
    kind: str
    diameter: float
    x: float
    y: float
    leg: str = ""
    wire: str = ""
    colour: str = ""
    holds: tuple[str, ...] = ()
    flat: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class BorePicture:
    """A passage with all that lies in it, to be drawn to scale. Lengths in m, fill as shares of the bore's area.

    `smallest_bore`: the smallest enclosing circle found, which is what the circles show. `spare`: the widest further wire that
    still fits; `spare_easy`: the widest within the fill limit and the room to pull; None where that is not known.
    `unknown`: what goes through too, with a wire that nobody knows, and so is not drawn. `what_if`: the keys with other
    values than in the file. `findings` and `not_judged`: what the check says of the passage: of threading plugs and
    joints through it too, which the circles do not show.
    """

    build: str
    file: str
    passage: str
    bore: float
    verdict: str
    smallest_bore: float
    fill: float
    fill_limit: float
    circles: tuple[BoreCircle, ...] = ()
    spare: float | None = None
    spare_easy: float | None = None
    unknown: tuple[str, ...] = ()
    what_if: tuple[WhatIf, ...] = ()
    findings: tuple[Finding, ...] = ()
    not_judged: tuple[NotJudged, ...] = ()
