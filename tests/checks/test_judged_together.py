"""What becomes of findings together: by checks of our own, what is kept, what comes first, what is nearest to its limit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from postcheck.checks.causes import settled, unlinked
from postcheck.checks.fact import Within
from postcheck.checks.judge import Judgement, judge
from postcheck.checks.occasions import has_an_occasion
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.limits import Limits
from postcheck.report import Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, lamp, survey

from .test_lamps import own_kind, string

NAMED = {check.name: check for check in CHECKS}


def finding(
    check: str, severity: str = "caution", name: str = "bow lamp", because_of: str | None = None, **more: Any
) -> Finding:
    return Finding(
        check,
        severity,
        Subject("lamp", name),
        more.pop("says", "it is so"),
        "why",
        because_of=because_of,
        **more,
    )  # type: ignore[arg-type]


def within(value: float, limit: float = 10.0, name: str = "bow lamp", *, least: bool = False) -> Within:
    return Within(Subject("lamp", name), value, Limited(limit, "A", "judgement"), least)


def check(name: str, *results: object, severity: str = "stop", dangerous: bool = False) -> Check:
    def told(_: Survey) -> Iterator[Any]:
        yield from results

    return Check(name, severity, "lamp", "", "", "", (), "", told, dangerous)  # type: ignore[arg-type]


class _Instead:
    """Something with other attributes."""

    def __init__(self, of: object, **attributes: object) -> None:
        self.of = of
        self.__dict__.update(attributes)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.of, name)


def of(*checks: Check, made: Survey | None = None) -> Judgement:
    return judge(made or survey(), checks)


def test_each_finding_once_and_as_a_whole_sentence():
    first, again = finding("a.one", says="it is so"), finding("a.one", says="it is otherwise")
    judgement = of(
        check("a.one", first, again),
        check(
            "a.two",
            finding("a.two", says="'bow lamp' is so"),
            finding("a.two", name="other", says="12 V is so"),
        ),
    )
    assert [(one.id, one.says) for one in judgement.findings] == [
        ("a.one:bow lamp", "It is so"), ("a.two:bow lamp", "'bow lamp' is so"), ("a.two:other", "12 V is so"),
    ]  # fmt: skip


def test_what_came_nearest_to_its_limit():
    judgement = of(
        check("a.kept", within(3.0), within(9.0), within(5.0)),
        check("a.equal", within(9.0, name="first"), within(9.0, name="second")),
        check("a.least", within(20.0, least=True), within(12.5, least=True)),
        check("a.found", within(11.0), within(2.0), finding("a.found")),
        check("a.nothing"),
        check("a.zero", within(0.0)),
    )
    assert {name: one.value for name, one in judgement.nearest.items()} == {
        "a.kept": 9.0,
        "a.equal": 9.0,
        "a.least": 12.5,
        "a.zero": 0.0,
    }
    assert judgement.nearest["a.equal"].subject.name == "first"
    # what uses up most, found or not
    assert {name: one.value for name, one in judgement.compared.items()} == {
        "a.kept": 9.0,
        "a.equal": 9.0,
        "a.least": 12.5,
        "a.found": 11.0,
        "a.zero": 0.0,
    }
    assert judgement.compared["a.equal"].subject.name == "second"


@pytest.mark.parametrize("named", ["wiring", "beyond"])
def test_what_lacks_something_or_is_destroyed_is_not_near(named):
    made = survey()
    near = of(check("a.one", within(9.0), within(4.0, name="other")), made=made).nearest["a.one"]
    assert near.value == 9.0
    about = {("lamp", "bow lamp"): "burns out"} if named == "beyond" else frozenset({("lamp", "bow lamp")})
    without = _Instead(getattr(made, named), **{"fates" if named == "beyond" else "lacking": about})
    made.__dict__[named] = without
    near = of(check("a.one", within(9.0), within(4.0, name="other")), made=made).nearest["a.one"]
    assert near.value == 4.0


def test_what_is_not_kept_or_has_no_figure_is_not_near():
    judgement = of(
        check("a.one", within(11.0), within(4.0)),
        check("a.two", within(float("inf"), least=True), within(30.0, least=True)),
    )
    assert {name: one.value for name, one in judgement.nearest.items()} == {"a.one": 4.0, "a.two": 30.0}


@pytest.mark.parametrize(
    ("results", "verdict"),
    [
        ((), "clear"), ((finding("a.one", "note"),), "clear"), ((finding("a.one", "caution"),), "caution"), ((finding("a.one", "stop"),), "stop"),
        ((NotJudged("x", "what", "that"),), "clear"), ((NotJudged("x", "what", "that", vital=True),), "incomplete"),
        ((NotJudged("x", "what", "that", vital=True), finding("a.one", "caution")), "incomplete"), ((NotJudged("x", "what", "that", vital=True), finding("a.one", "stop")), "stop"),
    ],
)  # fmt: skip
def test_the_verdict(results, verdict):
    assert of(check("a.one", *results)).verdict == verdict


def test_vital_questions_first_then_by_name_each_once():
    asked = [NotJudged(subject, what, f"{subject}{what}", vital=vital) for subject, what, vital in (("b", "y", False), ("b", "x", False), ("a", "z", False), ("c", "w", True), ("a", "z", True))]  # fmt: skip
    judgement = of(check("a.one", *asked))
    assert [(one.subject, one.what, one.vital) for one in judgement.not_judged] == [
        ("c", "w", True),
        ("a", "z", False),
        ("b", "x", False),
        ("b", "y", False),
    ]


# -- order: causes before what follows from them, the heaviest group first


def order(*findings: Finding) -> list[str]:
    return [one.id for one in settled(findings)]


def test_the_heaviest_first_then_as_in_the_table_then_by_name():
    some = (
        finding("passage.tight", "caution"), finding("lamp.dim", "note"), finding("lamp.over-rating", "caution", "b"), finding("lamp.over-rating", "caution", "a"),
        finding("no.such", "caution", "a"), finding("wire.hot", "stop"),
    )  # fmt: skip
    names = [check.name for check in CHECKS]
    assert names.index("lamp.over-rating") < names.index("passage.tight")
    assert order(*some) == [
        "wire.hot:bow lamp",
        "lamp.over-rating:a",
        "lamp.over-rating:b",
        "passage.tight:bow lamp",
        "no.such:a",
        "lamp.dim:bow lamp",
    ]


def test_what_follows_stands_behind_its_cause_and_is_mended_with_it():
    cause = finding("lamp.dim", "caution", remedy="do this")
    follows = finding(
        "lamp.unequal", "caution", because_of="lamp.dim:bow lamp", remedy="do that", lines=("x = 1",)
    )
    last = finding("passage.tight", "note", because_of="lamp.unequal:bow lamp", remedy="or that")
    alone = finding("lamp.over-rating", "caution", remedy="or this")
    found = settled((follows, alone, last, cause))
    assert [one.id for one in found] == [
        "lamp.over-rating:bow lamp",
        "lamp.dim:bow lamp",
        "lamp.unequal:bow lamp",
        "passage.tight:bow lamp",
    ]
    assert [one.remedy for one in found] == ["or this", "do this", None, None]
    assert found[2].lines == ()


def test_a_stop_is_not_looked_for_below_a_caution():
    cause, follows = (
        finding("lamp.dim", "caution"),
        finding("wire.hot", "stop", because_of="lamp.dim:bow lamp"),
    )
    assert [one.because_of for one in unlinked((cause, follows))] == [None, None]
    equal = finding("wire.hot", "caution", because_of="lamp.dim:bow lamp")
    assert [one.because_of for one in unlinked((cause, equal))] == [None, "lamp.dim:bow lamp"]
    # nor below what is accepted, or not there
    waived = finding("lamp.dim", "caution", accepted="as meant")
    assert [one.because_of for one in unlinked((waived, equal))] == [None, None]
    assert [one.because_of for one in unlinked((equal,))] == [None]
    # what is accepted itself stays as it is
    accepted = finding("wire.hot", "caution", because_of="none:such", accepted="as meant")
    assert unlinked((accepted,)) == (accepted,)


def test_what_follows_from_itself_stands_alone():
    one = finding("lamp.dim", because_of="lamp.unequal:bow lamp")
    two = finding("lamp.unequal", because_of="lamp.dim:bow lamp")
    three = finding("wire.hot", because_of="lamp.unequal:bow lamp")
    linked = {one.id: one.because_of for one in unlinked((one, two, three))}
    # the first of the ring is cut, and the rest hangs on it
    assert linked == {
        "lamp.dim:bow lamp": None,
        "lamp.unequal:bow lamp": "lamp.dim:bow lamp",
        "wire.hot:bow lamp": "lamp.unequal:bow lamp",
    }
    itself = finding("lamp.dim", because_of="lamp.dim:bow lamp")
    assert [one.because_of for one in unlinked((itself,))] == [None]


def test_where_supplies_fight_no_load_chooses_anything():
    back = finding("supply.backfeed", "stop", "main")
    loads = [
        finding(name, "stop", "aft")
        for name in (
            "battery.overload",
            "converter.overload",
            "fuse.too-small",
            "supply.overload",
            "wire.hot",
        )
    ]
    other = finding("lamp.dim", "stop")
    found = {one.id: one.because_of for one in of(check("a", back, *loads, other)).findings}
    assert {name for name, cause in found.items() if cause == back.id} == {one.id for one in loads}
    assert {one.because_of for one in of(check("a", *loads, other)).findings} == {None}


# -- what may be accepted


ACCEPT = '[[accept]]\nfinding = "a.one:bow lamp"\nreason = "as meant"\n{}\n'


@pytest.mark.parametrize(
    ("severity", "more", "dangerous", "firm", "accepted"),
    [
        ("caution", "", False, "", True), ("note", "", False, "", True), ("stop", "", False, "", True), ("stop", 'up_to = "caution"', False, "", False), ("caution", 'up_to = "note"', False, "", False), ("caution", 'up_to = "caution"', False, "", True),
        ("stop", 'up_to = "stop"', True, "", False), ("caution", "", True, "", True), ("caution", "", False, "it burns", False), ("note", "", False, "it burns", True),
        ("note", "", True, "", True),
    ],
)  # fmt: skip
def test_what_can_burn_cannot_be_accepted(severity, more, dangerous, firm, accepted):
    made = survey(extra=ACCEPT.format(more))
    judgement = of(check("a.one", finding("a.one", severity, firm=firm), dangerous=dangerous), made=made)
    (one,) = [one for one in judgement.findings if one.check == "a.one"]
    assert (one.accepted == "as meant") is accepted


# -- whether a build has anything that a check looks at


MOTOR = '[[load]]\nname = "winch"\nkind = "{}"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n'
BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\n{}\n'
CELLS = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
USB = 'kind = "usb"\nplace = "base"\nport = "plain"'
FIVE = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.low]\nsupply = "five"\n'
CHIP = own_kind() + 'flashes = "2 Hz"\nworks = "2..14 V"\n'
FLASH = 'behaviour = "flash"\nrate = "60 /min"'


@pytest.mark.parametrize(
    ("name", "has", "has_not"),
    [
        ("battery.too-short", {"supply": CELLS}, {}), ("battery.overload", {"supply": USB}, {}), ("board.overload", {"extra": BOARD.format('limit = "1 A"')}, {"extra": BOARD.format("")}),
        ("board.overload", {"extra": BOARD.format('total = "1 A"')}, {}), ("board.wrong-volts", {"extra": BOARD.format("")}, {}), ("circuit.step", {"circuit": FLASH}, {}),
        ("circuit.steady-on-flasher", {"circuit": FLASH}, {}), ("circuit.unswitched", {"circuit": FLASH}, {}), ("converter.overload", {"extra": FIVE}, {}),
        ("dim.frequency", {"circuit": 'behaviour = "dim"'}, {"circuit": FLASH}), ("dim.frequency", {"circuit": 'behaviour = "fade"'}, {}), ("flash.rate", {"circuit": 'behaviour = "fade"'}, {}),
        ("flash.rate", {"lamps": string("own") + string().replace("bow lamp", "stern lamp"), "extra": CHIP}, {"lamps": string(), "extra": CHIP}),
        ("fuse.too-small", {}, {"supply": adaptor(fuse=None)}), ("lamp.dip", {"extra": MOTOR.format("motor")}, {"extra": MOTOR.format("sound")}),
        ("lamp.not-as-wanted", {"lamps": string(wanted='"5 mA"')}, {}), ("lamp.strobe", {"circuit": FLASH}, {}), ("motor.hot", {"extra": MOTOR.format("motor")}, {"extra": MOTOR.format("sound")}),
        ("output.compliance", {"circuit": 'output = "0.2 V drop"'}, {}), ("output.overload", {"circuit": 'output = "1 A, 0.2 V drop"'}, {"circuit": 'output = "0.2 V drop"'}),
        ("supply.mains-inside", {}, {"supply": USB}), ("supply.switches-off", {"supply": USB}, {}), ("supply.type-c", {"supply": USB}, {}), ("supply.unloaded", {}, {"supply": CELLS}),
        ("load.no-start", {"extra": MOTOR.format("sound")}, {}), ("lamp.dim", {}, {"lamps": ""}), ("lead.bare", {}, {"lamps": ""}), ("plug.overload", {"extra": '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\n'}, {}),
        ("way.short", {"extra": '[[way]]\nfrom = "base"\nto = "hull"\nlength = "350 mm"\n'}, {}),
    ],
)  # fmt: skip
def test_where_a_check_has_something_to_look_at(name, has, has_not):
    assert has_an_occasion(NAMED[name], survey(**has))
    if has_not or name not in ("fuse.too-small", "supply.mains-inside", "supply.unloaded", "lamp.dim"):
        assert not has_an_occasion(NAMED[name], survey(**has_not))


def test_a_post_is_a_passage():
    assert has_an_occasion(NAMED["passage.tight"], survey())
    without = Survey(survey().build.model_copy(update={"post": None}))
    assert not has_an_occasion(NAMED["passage.tight"], without)


def test_a_check_that_found_or_asked_something_was_not_without():
    empty = survey(lamps="")
    names = ("load.no-start", "load.resets", "load.low-volts")
    some = [check(name) for name in names]
    loads = [one._replace(subject="load") for one in some]
    assert of(*loads, made=empty).nothing == names
    asks = check(names[1], NotJudged("x", "what", "that"))._replace(subject="load")
    finds = check(names[2], finding(names[2]))._replace(subject="load")
    assert of(loads[0], asks, finds, made=empty).nothing == (names[0],)
    assert of(*loads, made=survey(lamps=lamp(), extra=MOTOR.format("motor"))).nothing == ()


# -- a changed limit hides nothing that can burn, and nothing vital


def changed(
    *results: Any,
    always: tuple[Any, ...] = (),
    extra: str = "",
    dangerous: bool = True,
    limits: tuple[str, ...] = ("lamp.current.stop",),
) -> Judgement:
    """By a check that finds these at the limit as it was, and what is found always."""

    def told(one: Survey) -> Iterator[Any]:
        yield from always
        if one.limits.value("lamp.current.stop") == Limits().value("lamp.current.stop"):
            yield from results

    made = survey(extra=extra)
    lax = Survey(made.build, Limits({"lamp.current.stop": (2.0, "as meant")}))
    return judge(lax, (Check("a.hot", "stop", "lamp", "", "", "", limits, "", told, dangerous),))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("severity", "firm", "dangerous", "hidden"),
    [("stop", "", True, True), ("stop", "", False, False), ("caution", "", True, False), ("caution", "it burns", False, True), ("note", "it burns", True, False)],
)  # fmt: skip
def test_what_burns_cannot_be_hidden_by_a_limit(severity, firm, dangerous, hidden):
    judgement = changed(finding("a.hot", severity, firm=firm), dangerous=dangerous)
    assert judgement.findings == ()
    assert [(one.subject, one.vital) for one in judgement.not_judged] == [("bow lamp", True)] * hidden
    assert judgement.verdict == ("incomplete" if hidden else "clear")
    for one in judgement.not_judged:
        assert "'a.hot:bow lamp'" in one.what
        assert "'lamp.current.stop' as this file changes it" in one.what
    plain = changed(finding("a.hot", "stop"), limits=("lamp.dim",))
    assert ["a limit that this file changes" in one.what for one in plain.not_judged] == [True]


def test_what_is_found_all_the_same_is_not_hidden():
    stop = finding("a.hot", "stop")
    # lighter than it was is hidden, as heavy is not
    assert len(changed(stop, always=(finding("a.hot", "caution", "other"),)).not_judged) == 1
    assert changed(always=(stop,)).not_judged == ()


def test_what_was_vital_stays_vital():
    vital = NotJudged("bow lamp", "what", "that", vital=True)
    assert [(one.subject, one.vital) for one in changed(vital).not_judged] == [("bow lamp", True)]
    assert changed(NotJudged("bow lamp", "what", "that")).not_judged == ()
    # asked either way it is asked once, and as vital
    once = changed(vital, always=(NotJudged("bow lamp", "other", "that"),))
    assert [(one.what, one.vital) for one in once.not_judged] == [("what", True), ("other", False)]
    # where a finding tells of it already it need not be asked; one that is accepted tells nothing
    assert changed(vital, always=(finding("a.hot", "caution"),)).not_judged == ()
    waived = '[[accept]]\nfinding = "a.hot:bow lamp"\nreason = "as meant"\n'
    assert len(changed(vital, always=(finding("a.hot", "caution"),), extra=waived).not_judged) == 1
    assert len(changed(vital, always=(finding("a.hot", "caution", "other"),)).not_judged) == 1


def test_by_the_limits_as_they_were_nothing_is_looked_at_again():
    vital = NotJudged("bow lamp", "what", "that")
    assert of(check("a.one", vital)).not_judged == (vital,)
