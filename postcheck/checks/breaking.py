"""What a fuse is made to interrupt, against what a short at the supply draws."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from postcheck.checks.fact import Fact, Within
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.physics.fuse import breaks
from postcheck.report import Figure, Limited, Subject
from postcheck.survey import Survey
from postcheck.survey.network.supplies import prospective

_SOURCE = "IEC 60127-2: glass 35 A or ten times the rating, ceramic 1500 A; UL 248-14: 35 A"


def _breaking(survey: Survey) -> Iterator[Fact | Within]:
    for name, supply in survey.build.supply.items():
        fuse = supply.fuse
        if fuse is None or (short := prospective(supply)) == inf:
            continue  # if nothing known limits a short, that is already asked
        most = Limited(breaks(fuse.rated, fuse.kind, fuse.body), "A", _SOURCE)
        yield (within := Within(Subject("supply", name), short, most))
        if within.kept:
            continue
        kind = f"{fuse.kind} {fuse.body or 'glass'}" if fuse.kind in ("quick", "slow") else fuse.kind
        yield Fact(
            "caution", within.subject, ("supply", name, "fuse"),
            figures={"short": Figure(short, "A"), "rated": Figure(fuse.rated, "A")},
            words={"kind": kind}, firm=DANGER,
            limit=most,
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "fuse.breaking", "caution", "supply", "a short draws more than the fuse is made to interrupt",
        "It may burst, or go on burning as an arc, instead of opening.",
        "full volts / resistance inside the supply against the fuse's breaking capacity", (), _SOURCE, _breaking, dangerous=True,
        held="any finding",
        wording={
            "": Wording(
                "A short beside {subject} draws up to {short:apart}. A {kind} fuse of {rated} is made to interrupt {limit:apart}.",
                "A fuse that cannot interrupt a short bursts or burns on as an arc.",
                "Use a ceramic fuse with its kind of time, which interrupts far more.",
            )
        },
    ),
)  # fmt: skip
