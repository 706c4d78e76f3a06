"""What follows from what: consequences under their cause, and the order in which findings are told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from postcheck.checks.table import CHECKS
from postcheck.report import Finding, rank

_PLACES = {check.name: place for place, check in enumerate(CHECKS)}
# Where one supply pushes into another, their loads mean nothing.
_LOADS = frozenset(
    {
        "battery.overload", "battery.too-short", "converter.overload", "fuse.too-small", "line.drop", "plug.overload",
        "supply.overload", "switch.overload", "wire.hot", "wire.hurt-before-fuse",
    }
)  # fmt: skip
# Warmth comes of currents and sets none: from that of a place follows only what is judged in its air.
_WARM = {
    "place.too-hot": frozenset(
        {
            "battery.hot", "lamp.alone", "lamp.over-rating", "lamp.pulses-only", "lamp.sibling-open", "lamp.strobe", "motor.hot",
            "part.hot-spot", "resistor.overloaded", "trimmer.overloaded", "wire.hot", "wire.hot-beside", "wire.hurt-before-fuse",
        }
    ),
    "part.hot-spot": frozenset[str](),
    "battery.hot": frozenset[str](),
}  # fmt: skip
# What is held against what an output or a part in the way is rated for warms nothing: the same loads do both.
_RATED = frozenset(
    {
        "battery.overload", "board.overload", "converter.overload", "fuse.too-small", "output.overload", "plug.overload", "supply.overload",
        "switch.overload",
    }
)  # fmt: skip
_OF_LOADS = frozenset({"part.hot-spot", "place.too-hot"})
# Volts lost on the way can be cured without another wire. What comes of a thin wire itself then stays.
_LOST = frozenset({"circuit.step", "lamp.dip", "line.drop", "load.low-volts", "strip.dim"})
_OF_A_WIRE = frozenset({"fuse.never-opens", "run.weak"})
# These are about other findings, whatever those are.
_OF_FINDINGS = ("accept.", "closing.")


def may_follow(check: str, cause: str) -> bool:
    """Whether what `check` finds may follow from what `cause` finds: however that is cured it changes, not by one cure alone.

    Both are names of checks.
    """
    return check.startswith(_OF_FINDINGS) or (
        check in _WARM.get(cause, (check,))
        and not (cause in _LOST and check in _OF_A_WIRE)
        and not (cause in _RATED and check in _OF_LOADS)
    )


def settled(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings in order, causes before their consequences; those have no remedy but that of their cause.

    Nobody looks for a stop below a caution.
    """
    linked = unlinked(findings)
    live = {finding.id: finding for finding in linked if finding.accepted is None}
    return in_order(
        replace(finding, remedy=None, edits=None, lines=(), remedy_figures={})
        if finding.because_of in live and finding.accepted is None
        else finding
        for finding in linked
    )


def unlinked(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, those by themselves whose cause is lighter, waived, not there, or a consequence of theirs."""
    findings = tuple(findings)
    live = {finding.id: finding for finding in findings if finding.accepted is None}
    for finding in findings:
        cause = live.get(finding.because_of or "")
        if finding.id in live and (cause is None or rank(cause) > rank(finding) or _in_ring(finding, live)):
            live[finding.id] = replace(finding, because_of=None)
    return tuple(live.get(finding.id, finding) for finding in findings)


def _in_ring(finding: Finding, live: Mapping[str, Finding]) -> bool:
    """Whether a finding follows from itself."""
    seen: set[str] = set()
    cause = live.get(finding.because_of or "")
    while cause is not None and cause.id not in seen:
        if cause.id == finding.id:
            return True
        seen.add(cause.id)
        cause = live.get(cause.because_of or "")
    return False


def fought(found: Mapping[str, Finding]) -> Iterator[Finding]:
    """The findings, what loads of supplies come to where one pushes into another listed under that."""
    cause = next((name for name, finding in found.items() if finding.check == "supply.backfeed"), None)
    for finding in found.values():
        follows = cause is not None and finding.check in _LOADS and finding.because_of not in found
        yield replace(finding, because_of=cause) if follows else finding


def unfolded(finding: Finding, found: dict[str, Finding]) -> Finding:
    """The finding, without its cause where that was not found."""
    if finding.because_of not in found:
        return replace(finding, because_of=None)
    return finding


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Groups of a cause and its consequences by their heaviest, then in the order of the table; the cause first."""
    live = {finding.id: finding for finding in findings}
    roots = {name: _root(finding, live) for name, finding in live.items()}
    weights: dict[str, int] = {}
    for name, finding in live.items():
        weights[roots[name]] = min(weights.get(roots[name], rank(finding)), rank(finding))

    def place(finding: Finding) -> tuple[int, int, str]:
        return (
            rank(finding),
            _PLACES.get(finding.check, len(_PLACES)),
            finding.subject.name,
        )

    def key(finding: Finding) -> tuple[object, ...]:
        root = roots[finding.id]
        beyond = live[root].check != "scope.volts"  # what can hurt a person comes first
        return (weights[root], beyond, place(live[root])[1:], root, finding.id != root, place(finding))

    return tuple(sorted(live.values(), key=key))


def _root(finding: Finding, live: Mapping[str, Finding]) -> str:
    """The name of the cause of causes; that of the finding itself where it stands alone."""
    while finding.accepted is None:
        cause = live.get(finding.because_of or "")
        if cause is None or cause.accepted is not None or _in_ring(finding, live):
            break
        finding = cause
    return finding.id
