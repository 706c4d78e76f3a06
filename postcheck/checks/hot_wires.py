"""Conductors that are too hot in normal use."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, of_rating
from postcheck.checks.protection import FIRE, heated
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.physics import copper
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey

# Less warmth than this from what lies beside a conductor is not worth a word, K.
_WORTH_TELLING = 5.0


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["wire.insulation"]
    found: set[tuple[str, str]] = set()
    first: dict[str, str] = {}  # the first hot one of a bore: what lies with it is hot for the same reason
    for used in survey.in_use.wires:
        # the lead of a lamp carries what the lamp withstands; one without a resistor is a matter of its own
        if used.name in survey.electrics.lamps and used.kind == "lead":
            continue
        withstands = of_rating(limit, used.wire.insulation_celsius, "degC")
        gets = copper.MELTING if used.celsius is None else used.celsius
        yield (within := Within(Subject(used.kind, used.name), gets, withstands))
        if within.kept or (used.kind, used.name) in found:
            continue
        found.add((used.kind, used.name))
        cause = next((first[passage] for passage in used.passages if passage in first), None)
        for passage in used.passages:
            first.setdefault(passage, used.name)
        beside = survey.in_use.company(used.passages, used.key)
        yield Fact(
            "stop",
            within.subject,
            used.path,
            figures={
                "current": Figure(used.current, "A"),
                **heated(used.celsius),
                **({"beside": Figure(beside, "K")} if beside >= _WORTH_TELLING else {}),
            },
            words={"wire": used.wire.name},
            limit=withstands,
            because_of=None if cause is None else f"wire.hot:{cause}",
        )


CHECKS: tuple[Check, ...] = (
    Check(
        "wire.hot", "stop", "run", "a conductor is too hot in normal use",
        "Its insulation softens with nothing wrong.",
        "heat made I2R'(T) against heat lost to still air (Morgan) or across a bore, with all others in it", ("wire.insulation",),
        "Morgan 1975, checked against Preece; IEC 60364-5-54 annex A", _hot, dangerous=True,
        wording={
            "": Wording(
                "{subject} ({wire}) carries up to {current} in use[ and gets to {hottest:apart}][ and melts ({melts:apart})]. "
                "[{beside} of that comes from what lies beside it. ]Its insulation withstands {limit:apart}.",
                f"It is too hot with nothing wrong at all. {FIRE}", "Use thicker wire, or lay more conductors side by side.",
            )
        },
    ),
)  # fmt: skip
