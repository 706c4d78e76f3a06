"""What the trial of a remedy shows: it cures, harms nothing, and what goes with it is a consequence."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.checks.causes import may_follow, settled
from postcheck.checks.judge import judge
from postcheck.description.models import Accept
from postcheck.remedies.proposal import Change, Proposal
from postcheck.remedies.wires import thicker_wires
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.trial import with_remedies
from postcheck.wiring.data import wire_data
from tests.survey.small import adaptor, survey

FAULTY = Path(__file__).parent.parent / "builds" / "faulty"


def told(build: postcheck.Build) -> dict[str, Finding]:
    return {finding.id: finding for finding in postcheck.check(build).files[0].findings}


def faulty(name: str) -> postcheck.Build:
    return postcheck.load(FAULTY / f"{name}.post.toml")


@pytest.mark.parametrize(
    ("name", "cause"),
    [
        ("strip-wrong-volts-and-all-that-follows", "strip.wrong-volts:hall light"),
        ("circuit-step-thin-return", "line.drop:flash"),
        ("lamp-no-resistor-in-a-closed-body", "lamp.no-resistor:cabin lamps"),
    ],
)
def test_one_cause_and_all_the_rest_follows(name: str, cause: str) -> None:
    first, *others = told(faulty(name)).values()
    assert first.id == cause
    assert first.remedy
    assert len(others) >= 1
    for finding in others:
        if finding.check in ("run.weak", "fuse.never-opens"):
            continue  # a thin wire is easily torn, and lets little through in a short, whatever flows in it
        assert finding.because_of == cause
        assert finding.remedy is None
        assert finding.edits is None


def test_beyond_the_scope_there_are_no_recipes() -> None:
    """One finding; what of the supply is not judged for that is one vital question."""
    build = faulty("scope-volts-and-all-that-follows")
    (first,) = told(build).values()
    assert first.check == "scope.volts"
    (file,) = postcheck.check(build).files
    assert [question.subject for question in file.not_judged if question.vital] == ["block"]


def test_what_has_nothing_to_do_with_the_supply_beyond_the_scope_stands_alone() -> None:
    build = faulty("scope-volts-and-all-that-follows")
    low = build.supply["block"].model_copy(update={"volts": 12.0, "rated": 1.0})
    circuit = build.circuit["light"].model_copy(update={"supply": "low"})
    lamp = build.lamp[0].model_copy(update={"resistor": None})
    found = told(
        build.model_copy(
            update={
                "supply": {**build.supply, "low": low},
                "circuit": {"light": circuit},
                "lamp": [lamp],
                "text": None,
            }
        )
    )
    assert found["lamp.no-resistor:lantern light"].because_of is None
    assert found["lamp.no-resistor:lantern light"].remedy


def test_an_accepted_finding_is_the_cause_of_nothing() -> None:
    build = faulty("circuit-step-thin-return")
    assert told(build)["line.drop:steady"].because_of == "line.drop:flash"
    accept = [Accept(finding="line.drop:flash", reason="as meant")]
    found = told(build.model_copy(update={"accept": accept, "text": None}))
    assert found["line.drop:flash"].accepted
    assert found["line.drop:steady"].because_of is None
    assert found["line.drop:steady"].remedy


def test_a_consequence_by_rule_that_stays_is_told_by_itself() -> None:
    # a rule says that the heat is that of the lamp beyond its rating; most of it comes from something else
    hull = 'access = "sealed"\nmaterial = "styrene"\nsurface = "100 cm2"\nheat = "0.9 W"'
    lamps = '[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "smd-0603-red"\nplace = "hull"\nresistor = "270 ohm 2 W"\n'
    made = survey(hull=hull, lamps=lamps)
    found = told(made.build)
    assert found["lamp.over-rating:bow lamp"].remedy
    assert found["place.too-hot:hull"].because_of is None


def _stage(says: str, *changes: Change) -> list[dict[str, object]]:
    return [{"lamp.over-rating": lambda _survey, _finding: iter([Proposal(says, changes)])}]


@pytest.mark.parametrize(
    ("ohms", "offered"),
    [(1000.0, True), (300.0, False), (1e7, False)],  # good; still too much; so dim that it stays dark
)
def test_what_does_not_cure_or_harms_is_not_offered(ohms: float, offered: bool) -> None:
    lamps = '[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "smd-0603-red"\nplace = "bow"\nresistor = "270 ohm 2 W"\nlead = "100 mm to hull"\n'
    made = survey(lamps=lamps)
    findings, unjudged, *_ = judge(made)
    change = Change(("lamp", 0, "resistor", "ohms"), ohms, None)
    (finding,) = settled(with_remedies(made, findings, unjudged, _stage("x", change)))  # type: ignore[arg-type]
    assert (finding.remedy == "x") == offered


# -- wires


@pytest.mark.parametrize(
    ("name", "sort"),
    [
        ("enamel-0.063", "enamel-0."),
        ("enamel-awg40", "enamel-awg"),
        ("enamel-0.10-g2", "-g2"),
        ("pvc-28-solid", "-solid"),
    ],
)
def test_thicker_wire_is_of_the_same_sort(name: str, sort: str) -> None:
    made = survey()
    wire = wire_data(made.build, name)
    offered = thicker_wires(made, wire, wire.ohms_per_metre / 2)
    assert offered
    assert all(sort in other for other in offered)
    ohms = [wire_data(made.build, other).ohms_per_metre for other in offered]
    assert ohms == sorted(ohms, reverse=True)
    assert ohms[0] <= wire.ohms_per_metre / 2


def test_wire_in_stock_comes_first() -> None:
    made = survey(extra='[stock]\nwires = ["enamel-0.25", "ptfe-28"]\n')
    wire = wire_data(made.build, "enamel-0.10")
    first, second, *others = thicker_wires(made, wire, wire.ohms_per_metre / 2)
    assert (first, second) == ("enamel-0.25", "ptfe-28")
    assert "enamel-0.25" not in others


def test_one_remedy_for_one_conductor() -> None:
    found = told(faulty("circuit-step-thin-return"))
    changed = [edit for finding in found.values() for edit in finding.edits or ()]
    assert {edit.path for edit in changed} == {("run", 2, "wire")}
    assert len({edit.value for edit in changed}) == 1
    assert all("awg" not in edit.value for edit in changed)


def test_a_return_of_its_own() -> None:
    # the run is already the thickest of its sort: what is left is to part the returns
    text = (FAULTY / "circuit-step.post.toml").read_text()
    build = faulty("circuit-step")
    runs = [run.model_copy(update={"wire": "enamel-0.50", "length": 30.0}) for run in build.run]
    assert "own_return" not in text
    found = told(build.model_copy(update={"run": runs, "text": None}))
    remedy = next(finding.remedy for finding in found.values() if finding.check == "circuit.step")
    assert remedy
    assert "own_return = true" in remedy


# -- ratings


ROW = '[[lamp]]\nname = "row"\ncircuit = "lights"\nkind = "smd-0603-white"\nplace = "hull"\nseries = 3\nparallel = 40\nresistor = "180 ohm 1/4 W"\n'


# 1.5 A without end are too much for 0.14 mm of enamelled wire in the bore, and not for 0.16 mm
@pytest.mark.parametrize(
    ("wire", "remedy"), [("enamel-0.16", "Use one rated for 1.5 A or more."), ("enamel-0.14", None)]
)
def test_no_stronger_supply_where_a_short_then_burns_a_wire(wire: str, remedy: str | None) -> None:
    weak, strong = (
        survey(
            supply=adaptor(rated=rated, fuse=None) + f'\ncurrent_limit = "{rated}"\n', lamps=ROW, wire=wire
        ).build
        for rated in ("500 mA", "1.5 A")
    )
    found = told(weak)
    assert "fuse.absent:main" not in found
    assert found["supply.overload:main"].remedy == remedy
    assert ("fuse.absent:main" in told(strong)) == (remedy is None)


# Where nobody knows what it gives before it gives up, one of 1.5 A may give up to 3 A (twice its rating: makers' sheets, from
# memory), and whether that overheats the wire is a question that one of 500 mA does not raise
def test_no_stronger_supply_where_it_is_then_unknown_what_a_short_does() -> None:
    weak, strong = (
        survey(supply=adaptor(rated=rated, fuse=None), lamps=ROW, wire="enamel-0.16").build
        for rated in ("500 mA", "1.5 A")
    )
    short = "whether a short overheats {conductor}"
    asked = [
        [question.case for question in postcheck.check(build).files[0].not_judged if question.vital]
        for build in (weak, strong)
    ]
    assert [any((case or "").startswith(short) for case in cases) for cases in asked] == [False, True]
    assert told(weak)["supply.overload:main"].remedy is None


def test_a_larger_body_beside_a_wall() -> None:
    (finding,) = told(faulty("place-too-hot-beside-a-resistor")).values()
    assert finding.remedy
    assert finding.remedy.startswith("Use one of ")
    assert "off the wall" in finding.remedy
    assert finding.edits


def test_the_survey_of_the_build_itself_is_left_alone() -> None:
    build = faulty("lamp-over-rating")
    before = build.model_copy(deep=True)
    told(build)
    assert build == before
    assert Survey(build).parts == Survey(before).parts


def larger(build: postcheck.Build, place: str, square_metres: float) -> postcheck.Build:
    said = build.place[place].model_copy(update={"surface": square_metres})
    return build.model_copy(update={"place": {**build.place, place: said}, "text": None})


def test_what_another_cure_of_the_heat_leaves_does_not_come_of_it() -> None:
    """4.2 W in a larger place is cool enough, and the pin carries its 350 mA all the same."""
    build = faulty("place-too-hot-beside-a-plug")
    found = told(build)
    hot, pin = found["place.too-hot:hub"], found["plug.overload:mast plug"]
    assert (hot.because_of, pin.because_of) == (None, None)
    assert pin.edits == hot.edits
    assert pin.remedy == f"{hot.remedy} That mends place.too-hot:hub too."
    assert [*told(larger(build, "hub", 0.2))] == ["plug.overload:mast plug"]


def test_all_that_comes_of_joined_lines_follows_from_that() -> None:
    """Parted they are sound: nothing is amiss with the lamp of 5 V and its 300 ohm, (5 V - 2 V) / 300 ohm = 10 mA."""
    build = faulty("supply-backfeed-lines-joined")
    first, *others = told(build).values()
    assert first.id == "supply.backfeed:logic"
    assert "lamp.over-rating:lantern" in {finding.id for finding in others}
    assert {finding.because_of for finding in others} == {first.id}
    assert {finding.remedy for finding in others} == {None}
    parted = told(build.model_copy(update={"join": (), "text": None})).values()
    assert [finding.id for finding in parted if finding.severity != "note"] == []


@pytest.mark.parametrize(
    ("check", "cause", "may"),
    [
        ("plug.overload", "place.too-hot", False),
        ("supply.overload", "place.too-hot", False),
        ("lamp.over-rating", "place.too-hot", True),
        ("part.hot-spot", "place.too-hot", True),
        ("place.too-hot", "battery.hot", False),
        ("place.too-hot", "lamp.over-rating", True),
        ("supply.overload", "lamp.over-rating", True),
        ("place.too-hot", "board.overload", False),
        ("part.hot-spot", "supply.overload", False),
        ("place.too-hot", "wire.hot", True),
        ("output.overload", "board.overload", True),
        ("fuse.never-opens", "line.drop", False),
        ("run.weak", "circuit.step", False),
        ("circuit.step", "line.drop", True),
        ("closing.open", "place.too-hot", True),
        ("accept.outgrown", "battery.hot", True),
    ],
)
def test_what_may_come_of_what(check: str, cause: str, may: bool) -> None:
    """Currents warm, warmth sets no current; a thin wire is thin whatever is lost in it."""
    assert may_follow(check, cause) is may
