"""How far may this post turn."""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees as in_degrees
from math import floor, radians

from postcheck.answered import Answer
from postcheck.ask.bundle import listed_things, survey_of_post
from postcheck.ask.mistake import Mistake
from postcheck.ask.small import found, limited
from postcheck.ask.words import cycles, quantity, things
from postcheck.checks import passages, turning
from postcheck.checks.shown import degrees, millimetres
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.plain import quoted
from postcheck.report import Figure, Limited
from postcheck.survey import Survey

# Any turn will do: what is asked for is how far, and that does not depend on it.
_SOME = "1 deg"


def turn(
    length: str,
    what: Iterable[str],
    often: str | None = None,
    bore: str | None = None,
    by: str | None = None,
) -> Answer:
    """The greatest turn each way that these wires live with over a free length, as `check` would give it; or whether `by` is within."""
    wanted = quantity(by, Dimension.ANGLE, "--by") if by is not None else None
    quantity(length, Dimension.LENGTH, "the length")
    if often is not None:
        cycles(often)
    listed = things(what)
    measured = next((thing for thing in listed if thing.wire is None), None)
    if measured is not None:
        raise Mistake(
            f"{quoted(measured.written)} does not say how it is stranded, and that decides; name the wire, such as ptfe-28"
        )
    # laid with room where no bore is given: the wires then lie as close as they can
    across = (
        bore if bore is not None else f"{4.0 * sum(thing.pieces * thing.diameter for thing in listed)!r} m"
    )
    if bore is not None:
        quantity(bore, Dimension.LENGTH, "--bore")
    post = {"bore": across, "length": length, "turn": _SOME, "stop": True}
    survey = survey_of_post({**post, "cycles": often} if often is not None else post, listed)
    return _answer(survey, listed_things(listed), wanted, often is not None)


def _answer(survey: Survey, they: str, wanted: float | None, given: bool) -> Answer:
    """`wanted`: a turn each way (rad) that is asked about. `given`: whether the question says how often."""
    figures = survey.passages["post"]
    borne, over = figures.turn_borne or 0.0, millimetres(figures.passage.length)
    whole = radians(floor(in_degrees(borne) + 1e-9))
    loops = not below(borne, survey.limits.value("twist.turn.caution"))
    times = f"{figures.cycles:,.0f} times to and fro"
    live = "lives" if len(figures.members) == 1 else "live"
    says = f"Up to {degrees(whole)} each way, with a stop there"
    reason = f"over {over} of free length {they} surely {live} {times}"
    if loops:
        reason += ", and further round wires throw loops"
    elif whole == 0.0:
        says, reason = "Not at all", f"over {over} of free length {they} would break before {times}"
    shown = {
        "turn": Figure(whole, "rad"),
        "length": Figure(figures.passage.length, "m"),
        "cycles": Figure(figures.cycles, ""),
        "slack": Figure(figures.slack, "m"),
    }
    within = whole > 0.0
    if wanted is not None:
        within = within and not above(wanted, borne)
        says = f"{'Yes' if within else 'No'}, {says[0].lower()}{says[1:]}"
        shown["wanted"] = Figure(wanted, "rad")
    return Answer("turn", within, says, reason, shown, _limit(survey, loops, given), _caution(survey))


def _limit(survey: Survey, loops: bool, given: bool) -> Limited:
    if loops:
        return limited(survey, "twist.turn.caution")
    figures = survey.passages["post"]
    return Limited(figures.cycles, "", "as asked" if given else survey.limits["twist.cycles"].source)


def _caution(survey: Survey) -> str | None:
    findings = found(
        survey,
        (*passages.CHECKS, *turning.CHECKS),
        ("passage.enamelled", "passage.solid", "passage.cannot-fit", "passage.tight"),
    )
    if "passage.cannot-fit" in findings or "passage.tight" in findings:
        return "But they do not go through that bore with room: `postcheck ask bore` says which they want."
    if "passage.enamelled" in findings:
        return "Enamelled wire bears the twist, but it is weak, kinks for good and rubs through: end it at a joint before the post, and go on with stranded wire."
    if "passage.solid" in findings:
        return "Solid wire hardens where it moves and breaks inside its insulation: use stranded wire of the same gauge."
    return None
