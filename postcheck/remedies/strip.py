"""What to do about a strip: the kind for the volts of its supply, and where to cut it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck import catalogue
from postcheck.description.printing import format_quantity
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.remedies.proposal import Change, Proposal, Proposer, in_words_of, quantity, set_to
from postcheck.remedies.subjects import strip_part
from postcheck.remedies.table_spec import more, table_of
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from postcheck.wiring.looked_up import whole_segments
from postcheck.wiring.parts import StripPart

# A strip whose rated voltage is within this share of the supply's is the right one.
RIGHT_VOLTS = 0.1


def whole_lengths(length: float, segment: float) -> tuple[float, float]:
    """The lengths (m) of whole segments just below and just above `length`; the lower is 0 below one segment.

    To a whole millimetre, as on a rule: that is what is printed, written and proven.
    """
    whole = whole_segments(length, segment)
    return round(whole * segment, 3), round((whole + 1) * segment, 3)


def _cut(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Cut at the mark below; where that leaves nothing, at the one above."""
    part = strip_part(survey, finding.subject.name)
    if part is None:
        return
    for length in whole_lengths(finding.figures["length"].value, part.segment):
        count = whole_segments(length, part.segment)
        if count:
            shown = f"{round(length * 1e3)} mm"
            change = Change((*part.path, "length"), length, f'"{shown}"')
            yield Proposal(
                f"Cut it at {shown}: {count} whole segment{'s' if count > 1 else ''}.",
                (change,),
                figures={"segments": Figure(count, "")},
            )


def _other_kind(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The strip of the same colour and pitch that is made for the volts of the supply."""
    part = strip_part(survey, finding.subject.name)
    if part is None or part.said.kind not in catalogue.names("strip"):
        return
    volts = finding.figures["supply"].value
    sort = part.said.kind.split("-", 2)[2]
    for name in catalogue.names("strip"):
        row = catalogue.strip(name)
        if name.split("-", 2)[2] == sort and not above(abs(row.volts / volts - 1.0), RIGHT_VOLTS):
            yield Proposal(f"Use {name}.", (set_to((*part.path, "kind"), name),))
    source = finding.parts.get("source")
    if isinstance(source, Subject) and survey.build.supply[source.name].kind == "adaptor":
        shown = format_quantity(part.volts, Dimension.VOLTAGE)
        yield Proposal(
            f"Use an adaptor of {shown}.",
            (quantity(("supply", source.name, "volts"), part.volts, Dimension.VOLTAGE),),
        )


def _size(part: StripPart, segments: int) -> dict[str, float]:
    """So many segments, as the file has the size of the strip."""
    return {"length": segments * part.segment} if part.said.segments is None else {"segments": segments}


def _in_pieces(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The strip cut into pieces of whole segments, each with leads of its own."""
    part = strip_part(survey, finding.subject.name)
    pieces = int(finding.figures["pieces"].value) if "pieces" in finding.figures else 0
    if part is None or part.far_end is not None or not pieces:
        return
    segments = [part.segments // pieces + (number < part.segments % pieces) for number in range(pieces)]
    cut = [
        part.said.model_copy(update={"name": f"{part.name} {number}", **_size(part, count)})
        for number, count in enumerate(segments, 1)
    ]
    first, *rest = cut
    own = table_of(first)
    measured = "length" if part.said.segments is None else "segments"
    changes = [
        Change((*part.path, key), getattr(first, key), in_toml(own[key])) for key in ("name", measured)
    ]
    yield from in_words_of(finding, *changes, *map(more, rest))


CURRENTS: dict[str, Proposer] = {"strip.wrong-volts": _other_kind}
LENGTHS: dict[str, Proposer] = {"strip.not-at-mark": _cut, "strip.over-through": _in_pieces}
