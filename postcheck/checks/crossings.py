"""Lines that get through a post or passage by a plug alone: no plug is as long as a bore."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import NotJudged, Subject
from postcheck.survey import Survey


def _plug_alone(survey: Survey) -> Iterator[Fact | NotJudged]:
    wiring = survey.wiring
    for index, plug in enumerate(survey.build.plug):
        for name, passage in survey.passages.items():
            if plug.ends is None or set(plug.ends) != {passage.passage.start, passage.passage.end}:
                continue
            inside = {
                wiring.nets.at(line, place)
                for member in passage.members
                for line in member.lines
                for place in plug.ends
            }
            across = [line for line in plug.pins if wiring.nets.at(line, plug.ends[1]) not in inside]
            if across:
                yield Fact(
                    "caution",
                    Subject("plug", plug.name),
                    ("plug", index, "ends"),
                    parts={
                        "lines": tuple(Subject("line", line) for line in dict.fromkeys(across)),
                        "passage": Subject("passage", name),
                        "start": Subject("place", plug.ends[0]),
                        "end": Subject("place", plug.ends[1]),
                    },
                )
                break


CHECKS: tuple[Check, ...] = (
    Check(
        "passage.plug-alone", "caution", "plug", "a line that crosses a passage by a plug alone",
        "Its conductor is missing from the bore, and from what is lost on the way.",
        "lines of a plug between the two ends of a passage, less those of the conductors in it", (),
        "geometry: a plug joins what meets at one place", _plug_alone,
        wording={
            "": Wording(
                "{subject} takes {lines} from {start} to {end}. No wire of that lies in {passage}.",
                "A plug sits at one end of a bore. The wires between are neither in the bundle nor in the voltage drop.",
                "Write a [[run]] of each line from {start} to {end}, and in the plug at = the end where it sits, instead of ends.",
            )
        },
    ),
)  # fmt: skip
