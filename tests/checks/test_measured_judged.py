"""A measured current against the band that is expected, on both sides of each end, with readings of our own."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from postcheck.checks import measured
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.bench.figures import Band
from postcheck.survey.test_records.readings import Expected, Explanation, Reading
from tests.survey.small import lamp, survey
from tests.survey.test_test_records import record

from .facts import asked, facts, judged, units, values

BOW = Subject("lamp", "bow lamp")


def build(**more: str) -> Survey:
    own = {
        "subject": '"bow lamp"',
        "volts": '"12 V"',
        "current": '"6.6 mA"',
        "hours": '"24 h"',
        "date": "2026-11-20",
    } | more
    return survey(extra=record(**own), lamps=lamp())


def read(made: Survey, *, explained: Sequence[Explanation] = (), bands: Sequence[tuple[float, float, float, bool]] = ((0.005, 0.0065, 0.008, False),), amps: float | None = None, **more: Any) -> Survey:  # fmt: skip
    """The one reading of a build, with what is expected of it: least, usual and most A, and whether a resistor is in the way."""
    (said,) = made.build.proof
    if amps is not None:
        said = said.model_copy(update={"current": amps})
    expected = tuple(Expected(Band(least, usual, most), resistor) for least, usual, most, resistor in bands)
    own: dict[str, Any] = {"fits": False, "rated": None} | more
    reading = Reading(0, said, "lamp", "bow lamp", own.pop("test_point", None), expected, **own)
    other = Survey(made.build, made.limits)
    other.__dict__["test_records"] = SimpleNamespace(readings=(reading,), explained=lambda _: list(explained))
    return other


@pytest.fixture(scope="module")
def made() -> Survey:
    return build()


# the meter's own three per cent on both sides
@pytest.mark.parametrize(
    ("amps", "kept"),
    [(0.00485, (True, True)), (0.00484, (False, True)), (0.00824, (True, True)), (0.00825, (True, False))],
)
def test_both_ends_as_far_as_the_meter_can_tell(made, amps, kept):
    least, most, *_ = judged(measured, "proof.current", read(made, amps=amps))
    assert (least.limit.value, most.limit.value) == (pytest.approx(0.00485), pytest.approx(0.00824))  # type: ignore[union-attr]
    assert (least.kept, most.kept) == kept  # type: ignore[union-attr]


def test_the_nearest_of_several_bands_counts(made):
    bands = ((0.001, 0.0015, 0.002, True), (0.005, 0.0065, 0.008, False))
    for amps, usual in (
        (0.0025, 0.0015),
        (0.0034, 0.0015),
        (0.0036, 0.0065),
        (0.009, 0.0065),
        (0.0005, 0.0015),
    ):
        (fact,) = facts(measured, "proof.current", read(made, bands=bands, amps=amps))
        assert values(fact)["usual"] == usual


# an eighth of the least that is expected is as good as dark
@pytest.mark.parametrize(
    ("amps", "severity"), [(0.000625, "stop"), (0.000626, "caution"), (0.0, "stop"), (0.02, "caution")]
)
def test_what_is_as_good_as_dark(made, amps, severity):
    (fact,) = facts(measured, "proof.current", read(made, amps=amps))
    assert (fact.severity, fact.subject, fact.path, fact.reason) == (
        severity,
        BOW,
        ("proof", 0, "current"),
        "differs",
    )
    assert values(fact) == {"current": amps, "least": 0.005, "usual": 0.0065, "most": 0.008, "volts": 12.0}
    assert units(fact) == {"current": "A", "least": "A", "usual": "A", "most": "A", "volts": "V"}
    assert (fact.parts, fact.because_of) == ({"thing": BOW}, None)
    assert fact.limit is not None
    assert fact.limit.value == pytest.approx(0.00485 if amps < 0.005 else 0.00824)


@pytest.mark.parametrize(
    ("amps", "over"),
    [(0.025, False), (0.025 * (1 + 0.9e-6), False), (0.025 * (1 + 1.2e-6), True), (0.02501, True)],
)
@pytest.mark.parametrize("fits", [True, False])
def test_a_lamp_that_was_driven_too_hard(made, amps, over, fits):
    # a quarter more than its rating
    got = facts(measured, "proof.current", read(made, amps=amps, rated=0.02, fits=fits))
    assert len(got) == (over or not fits)
    for fact in got:
        assert fact.severity == ("stop" if over else "caution")
        assert fact.reason == ("harmed" if over else "differs")
        assert values(fact).get("rated") == (0.02 if over else None)
        assert fact.because_of == ("lamp.over-rating:bow lamp" if fits else None)
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(0.025 if over else 0.00824)
        assert fact.case == (
            "plain, " + (("less" if fits else "not explained, harmed") if over else "not explained")
        )


@pytest.mark.parametrize(
    ("explained", "rated", "case"),
    [
        ((), None, "not explained"), ((Explanation("dark", ("bow lamp",)),), None, "dark"), ((Explanation("bridged", ("bow lamp",)),), None, "explained"),
        ((Explanation("bridged", ("bow lamp",)),), 0.001, "explained, harmed"), ((Explanation("bridged", ("bow lamp",)), Explanation("dark", ("bow lamp",))), None, "dark"), ((Explanation("dark", ("bow lamp",)),), 0.001, "dark"), ((), 0.001, "not explained, harmed"),
    ],
)  # fmt: skip
def test_which_remedy_it_has(made, explained, rated, case):
    (fact,) = facts(measured, "proof.current", read(made, amps=0.004, explained=explained, rated=rated))
    assert fact.case == f"plain, {case}"


@pytest.mark.parametrize(
    ("one", "figures", "parts"),
    [
        (Explanation("held"), {"held": 0.004}, {}), (Explanation("bridged", ("bow lamp",)), {}, {"bridged": (BOW,)}), (Explanation("missing", ("bow lamp",)), {}, {"missing": (BOW,)}),
        (Explanation("short", ("bow lamp",), 0.0, 1.0), {}, {"across": (BOW,)}), (Explanation("short", ("bow lamp",), 0.0, 2.0), {"leds": 2.0}, {"short": (BOW,)}),
        (Explanation("open", ("bow lamp",), 1.0, 4.0), {"dark": 1.0, "strings": 4.0}, {"open": (BOW,)}),
        (Explanation("resistor", ("bow lamp",), 220.0, 470.0), {"ohms": 220.0, "instead": 470.0}, {"misfit": (BOW,)}),
        (Explanation("pair", ("bow lamp",)), {}, {"pair": (BOW,)}),
        (Explanation("unstated", ("bow lamp",), 1000.0), {"unstated_ohms": 1000.0}, {"unstated": (BOW,)}),
        (Explanation("forward", ("bow lamp",), 2.0, 3.2), {"forward_volts": 2.0, "usual_volts": 3.2}, {"forward": (BOW,)}),
        (Explanation("segments", ("bow lamp",), 2.0, 6.0), {"lit": 2.0, "given_lit": 6.0}, {"segments": (BOW,)}), (Explanation("volts", (), 9.0, 12.0), {"stood": 9.0}, {}),
    ],
)  # fmt: skip
def test_what_would_explain_it(made, one, figures, parts):
    (fact,) = facts(measured, "proof.current", read(made, amps=0.004, explained=(one,)))
    base = {"current", "least", "usual", "most", "volts"}
    assert {name: value for name, value in values(fact).items() if name not in base} == figures
    assert fact.parts == {"thing": BOW, **parts}
    # a second of its sort is told as another
    (fact,) = facts(measured, "proof.current", read(made, amps=0.004, explained=(one, one)))
    other = {f"other_{name}": value for name, value in figures.items()}
    assert {name: value for name, value in values(fact).items() if name not in base} == {**figures, **other}


def test_where_and_through_what_it_was_measured():
    made = build(through='"220 ohm"', at='"hull"')
    (fact,) = facts(measured, "proof.current", read(made, amps=0.004))
    assert values(fact)["lead"] == 220.0
    assert units(fact)["lead"] == "ohm"
    assert fact.parts["at"] == Subject("place", "hull")


def test_one_dark_or_shorted_is_nearer(made):
    for how in ("open", "short"):
        (fact,) = facts(measured, "proof.current", read(made, amps=0.004, nearer=(how, 0.0039)))
        assert (values(fact)[f"{how}_usual"], values(fact)[f"{how}_nearer"]) == (0.0065, 0.0039)


def test_what_cannot_be_judged_is_asked(made):
    (question,) = asked(measured, "proof.current", read(made, amps=0.004, missing="this and that"))
    assert (question.missing, question.subject) == ("this and that", "bow lamp")
    assert "4 mA" in question.what
    assert facts(measured, "proof.current", read(made, amps=0.0065, fits=True)) == []
    assert asked(measured, "proof.current", read(made, amps=0.0065, fits=True)) == []


@pytest.mark.parametrize(
    ("held", "limit", "least"),
    [(False, '"4 mA"', 0.00485), (True, '"4 mA"', 0.00388), (True, '"9 mA"', 0.00485), (True, None, 0.00485)],
)
def test_a_bench_supply_that_held_at_its_limit(held, limit, least):
    made = build(**({"limit": limit} if limit else {}))
    first, *_ = judged(measured, "proof.current", read(made, amps=0.003, held=held))
    assert first.limit.value == pytest.approx(least)  # type: ignore[union-attr]


# with a resistor that may be in the way, and without it; of what is more than the limit that was set, the limit
@pytest.mark.parametrize(
    ("limit", "shown"),
    [
        (None, {"with_least": 0.001, "with_most": 0.002, "bare_least": 0.005, "bare_most": 0.008}), ("5 mA", {"with_least": 0.001, "with_most": 0.002, "bare_least": 0.005, "bare_most": 0.008}),
        ("4.9 mA", {"with_least": 0.001, "with_most": 0.002, "held_at": 0.0049}),
    ],
)  # fmt: skip
def test_the_bands_with_a_resistor_and_without(limit, shown):
    made = build(**({"limit": f'"{limit}"'} if limit else {}))
    test_point = SimpleNamespace(resistor_position="behind", resistor_positions=(("bow lamp", "behind"),))
    bands = ((0.001, 0.0015, 0.002, True), (0.005, 0.0065, 0.008, False))
    built = read(made, bands=bands, amps=0.003, test_point=test_point)
    (fact,) = facts(measured, "proof.current", built)
    base = {"current", "least", "usual", "most", "volts"}
    assert {name: value for name, value in values(fact).items() if name not in base} == pytest.approx(shown)
    assert fact.case == "resistor, not explained"
    ahead = read(
        made,
        bands=bands,
        amps=0.003,
        test_point=SimpleNamespace(resistor_position="ahead", resistor_positions=()),
    )
    (fact,) = facts(measured, "proof.current", ahead)
    assert fact.case == "plain, not explained"


def test_what_would_explain_it_is_told_by_what_it_is():
    horn = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n'
    proof = record(
        subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"', hours='"24 h"', date="2026-11-20"
    )
    made = read(
        survey(extra=horn + proof), amps=0.004, explained=(Explanation("dark", ("bow lamp", "horn")),)
    )
    (fact,) = facts(measured, "proof.current", made)
    assert fact.parts["dark"] == (BOW, Subject("load", "horn"))
