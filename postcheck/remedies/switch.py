"""Switches: the least usual rating that carries and makes what is behind them, and a place where a hand gets at them."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator

from postcheck.description import oneline
from postcheck.description.models import SwitchSpec
from postcheck.description.printing import format_quantity
from postcheck.description.problems import QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.wiring.switches import Switch

# Ratings of small switches for direct current, A.
RATINGS = (0.1, 0.3, 0.5, 1.0, 2.0, 3.0, 5.0, 6.0, 10.0, 16.0, 20.0)


def _switch(survey: Survey, finding: Finding) -> Switch | None:
    of = (finding.subject.kind, finding.subject.name)
    return next((one for one in survey.wiring.switches.values() if (one.kind, one.name) == of), None)


def _change(switch: Switch, spec: SwitchSpec) -> Change:
    values = {
        "rated": None if spec.rated is None else format_quantity(spec.rated, Dimension.CURRENT),
        "volts": None if spec.volts is None else format_quantity(spec.volts, Dimension.VOLTAGE),
        "contact": None if spec.contact is None else format_quantity(spec.contact, Dimension.RESISTANCE),
        "place": spec.place,
    }
    table = {key: value for key, value in values.items() if value is not None}
    line = " ".join(table[key] for key in ("rated", "volts") if key in table)
    line = f"{line} at {spec.place}".strip() if spec.place is not None else line
    with contextlib.suppress(QuantityError):
        if oneline.switch(line) == table:
            return Change((switch.kind, switch.name, "on_off"), spec, in_toml(line))
    return Change((switch.kind, switch.name, "on_off"), spec, in_toml(table))


def _stronger(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    switch = _switch(survey, finding)
    if switch is None:
        return
    figures = survey.electrics.switches[switch.line]
    most = max(figures.highest, figures.starting)
    for rated in RATINGS:
        if not above(most, rated):
            words = format_quantity(rated, Dimension.CURRENT)
            new = switch.spec.model_copy(update={"rated": rated})
            yield Proposal(f"Use one that is rated for {words} of direct current.", (_change(switch, new),))
            return


def _moved(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """To where its line begins, if a hand gets there."""
    switch = _switch(survey, finding)
    if switch is None or switch.begins:
        return
    drivers, supplies = survey.wiring.drivers, survey.build.supply
    home = supplies[switch.name].place if switch.kind == "supply" else drivers[switch.name].place
    if home is not None and survey.build.place[home].access != "sealed":
        new = switch.spec.model_copy(update={"place": home})
        yield Proposal(f"Put it at {quoted(home)}.", (_change(switch, new),))


SWITCHES: dict[str, Proposer] = {"switch.overload": _stronger, "switch.sealed": _moved}
