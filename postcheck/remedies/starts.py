"""What to do where a load that starts pulls the volts down: its own, or those of a load or board beside it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from postcheck.description.problems import Path
from postcheck.remedies.drops import eased, lossy_runs, stiffer, works_from
from postcheck.remedies.proposal import Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.network.supplies import source_of


def _not_pulled_down(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Less resistance in what the two share: wire, then the supply itself; else one that works from what is left."""
    name, figures = finding.subject.name, finding.figures
    got, needs = figures["start" if "start" in figures else "lowest"].value, figures["needs"].value
    if finding.subject.kind == "board":
        feed, nets = survey.build.board[name].supply, set[str]()
        before = next((sag.before for sag in survey.electrics.sags if sag.name == name), 0.0)
        path: Path = ("board", name, "least_volts")
    else:
        load = survey.electrics.loads[name]
        driver = survey.wiring.drivers[load.part.circuit]
        feed, nets, before = driver.supply or "", {load.part.circuit, driver.return_net}, load.volts
        path = (*load.part.path[:2], "lowest")
    supply = survey.build.supply.get(feed)
    if supply is not None and supply.kind != "converter":
        volts = _given(survey, feed, finding)
        lost, allowed = volts - got, volts - needs
        runs = lossy_runs(survey, {f"{feed}+", f"{feed}-", *nets})
        if 0.0 < allowed < lost:
            yield from islice(eased(survey, runs, lost, allowed, source_of(supply, 0)[0] - before), 1)
            yield from islice(stiffer(survey, feed, allowed / lost), 2)
    yield from works_from(path, got)


def _given(survey: Survey, feed: str, finding: Finding) -> float:
    """The open volts of a supply in the state that a finding is about."""
    supply = survey.build.supply[feed]
    if finding.case == "half empty":
        return survey.batteries[feed].half_volts
    low = finding.check == "load.no-start" or finding.case == "supply low"
    return source_of(supply, -1 if low else 0)[0]


STARTS: dict[str, Proposer] = {"load.no-start": _not_pulled_down, "load.resets": _not_pulled_down}
