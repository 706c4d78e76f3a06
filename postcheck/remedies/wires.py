"""Wires that could take the place of one: those that a build may name, of the same sort, thicker."""

from __future__ import annotations

from postcheck import catalogue
from postcheck.limits import above
from postcheck.survey import Survey
from postcheck.wiring.data import WireData, wire_data

# The least copper that is laid through a post, m2: that of 36 AWG, judgement.
LEAST_COPPER = 0.0127e-6
# Sizes proposed one after the other differ in resistance by at least this.
_STEP = 0.85


def known_wires(survey: Survey) -> list[WireData]:
    """Every wire of the stock, then of the catalogue."""
    names = dict.fromkeys((*(survey.build.stock.wires or ()), *catalogue.names("wire")))
    return [wire_data(survey.build, name) for name in names]


def thicker_wires(survey: Survey, wire: WireData, ohms_per_metre: float) -> list[str]:
    """Wires of the same sort from this resistance down in clear steps, the slimmest first; those in stock before others.

    A name has the make, then the size, then perhaps a variant: enamel-0.20-g2. Sizes are metric or gauges; who lays the
    one does not buy the other.
    """
    stock = [name for name in survey.build.stock.wires or () if name != wire.name]
    alike = [name for name in catalogue.names("wire") if sort_of(name) == sort_of(wire.name)]
    chosen: list[str] = []
    for names in ([name for name in stock if sort_of(name) == sort_of(wire.name)], stock, alike):
        least = ohms_per_metre
        for other in sorted(
            (wire_data(survey.build, name) for name in names), key=lambda row: -row.ohms_per_metre
        ):
            if not above(other.ohms_per_metre, least) and other.name not in chosen:
                chosen.append(other.name)
                least = _STEP * other.ohms_per_metre
    return chosen


def sort_of(name: str) -> tuple[str, bool, str]:
    """Make, whether its size is a gauge, and variant: what stays the same when only the size is changed."""
    make, _, rest = name.partition("-")
    size, _, variant = rest.partition("-")
    return make, size.startswith("awg"), variant


def thicker_wire(survey: Survey, wire: WireData | None, fraction: float) -> str | None:
    """The slimmest wire of the same sort with no more than this fraction of its resistance; None where there is none."""
    names = [] if wire is None else thicker_wires(survey, wire, fraction * wire.ohms_per_metre)
    return names[0] if names else None
