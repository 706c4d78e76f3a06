"""What the eye sees of switching, on both sides of each limit, with steps and dips of our own."""

from __future__ import annotations

from math import floor

import pytest

from postcheck.checks import flicker
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import Dip, Step
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

FLASH = '[circuit.{}]\nsupply = "main"\nbehaviour = "flash"\nrate = "{}"\n'
STROBES = FLASH.format("strobe", "60 /min") + FLASH.format("beacon", "45 /min")
LAMPS = "".join(lamp().replace("bow lamp", name) for name in ("one", "two", "three"))


@pytest.fixture(scope="module")
def made() -> Survey:
    winch = (
        '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "100 mA"\n'
    )
    deck = '[circuit.deck]\nsupply = "main"\n[[run]]\nline = "deck"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    return survey(lamps=LAMPS, extra=STROBES + deck + winch.replace('"lights"', '"deck"') + winch.replace("winch", "pump"))  # fmt: skip


def step(name: str, share: float, flasher: str | None = "strobe", rate: float | None = 1.0, by: str = "circuit") -> Step:  # fmt: skip
    return Step("lamp", name, flasher, share, rate, by)  # type: ignore[arg-type]


def steps(made: Survey, *some: Step):
    return facts(flicker, "circuit.step", with_figures(made, steps=some))


# 3 % of a slow flasher, 1.5 % of one faster than three a second
@pytest.mark.parametrize(
    ("share", "rate", "limit"),
    [
        (0.03, 1.0, None), (0.0301, 1.0, 0.03), (-0.0301, 1.0, 0.03), (0.03, 3.0, None), (0.0151, 3.0, None), (0.0301, 3.0, 0.03), (0.0151, 3.01, 0.015),
        (0.015, 3.01, None), (0.03, None, None), (0.0301, None, 0.03),
    ],
)  # fmt: skip
def test_a_step_that_is_seen(made, share, rate, limit):
    got = steps(made, step("one", share, rate=rate))
    assert [fact.limit.value for fact in got if fact.limit] == ([limit] if limit else [])
    for fact in got:
        assert fact.case == ("one less" if share < 0 else "one more")
        assert values(fact) == {"step": abs(share), "lamps": 1.0}
        assert units(fact) == {"step": "share", "lamps": ""}
        assert (fact.severity, fact.subject, fact.path) == ("caution", Subject("circuit", "strobe"), ("circuit", "strobe"))  # fmt: skip
        assert fact.parts == {"lamp": Subject("lamp", "one"), "flashers": (Subject("circuit", "strobe"),)}


def test_the_worst_of_several_is_told(made):
    # by how far, up or down
    (fact,) = steps(made, step("one", 0.05), step("two", -0.07), step("three", 0.04))
    assert fact.case == "one less"
    assert fact.parts["lamp"] == Subject("lamp", "two")
    assert values(fact) == {"step": 0.07, "lamps": 3.0, "others": 2.0}


def test_each_flasher_by_itself(made):
    both = steps(made, step("one", 0.05), step("two", 0.07, "beacon", 0.75), step("one", 0.09, None))
    assert [(fact.subject.name, values(fact)["step"]) for fact in both] == [("strobe", 0.05), ("beacon", 0.07)]  # fmt: skip


def test_all_of_them_only_where_none_is_too_much_alone(made):
    (fact,) = steps(made, step("one", 0.02), step("one", -0.04, None))
    assert (fact.case, fact.subject) == ("all less", Subject("circuit", "strobe"))
    assert fact.parts["flashers"] == (Subject("circuit", "strobe"), Subject("circuit", "beacon"))


def test_a_lamp_that_flashes_by_itself_stands_where_it_is_described(made):
    (fact,) = steps(made, step("one", 0.04, "two", by="lamp"))
    assert (fact.subject, fact.path) == (Subject("lamp", "two"), ("lamp", 1))


# -- dips: 13 % as a motor starts, 3 % are a note


def dip(name: str, share: float, load: str = "winch", *, given: bool = True) -> Dip:
    return Dip("lamp", name, load, share, 0.5, given)


@pytest.mark.parametrize(
    ("share", "severity", "limit"),
    [(0.03, None, None), (0.0301, "note", 0.03), (0.13, "note", 0.03), (0.1301, "caution", 0.13)],
)
def test_a_dip_that_is_seen(made, share, severity, limit):
    got = facts(flicker, "lamp.dip", with_figures(made, dips=(dip("one", share),)))
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {"dip": share, "starting": 0.5}
        assert units(fact) == {"dip": "share", "starting": "A"}
        assert fact.limit is not None
        assert fact.limit.value == limit
        assert (fact.subject, fact.path) == (Subject("lamp", "one"), ("lamp", 0))
        assert fact.parts == {"load": Subject("load", "winch")}
        assert fact.because_of == "supply.no-start:main"


def test_on_the_same_circuit_it_is_a_note(made):
    (fact,) = facts(flicker, "lamp.dip", with_figures(made, dips=(dip("one", 0.4, "pump"),)))
    assert fact.severity == "note"


def test_a_lamp_is_told_by_what_dips_it_most(made):
    some = (dip("one", 0.2), dip("one", 0.3, "pump"), dip("two", 0.25), dip("three", 0.031), dip("two", 0.1, "pump"))  # fmt: skip
    got = facts(flicker, "lamp.dip", with_figures(made, dips=some))
    assert [(fact.subject.name, fact.parts["load"], fact.severity) for fact in got] == [
        ("one", Subject("load", "pump"), "note"), ("two", Subject("load", "winch"), "caution"),
    ]  # fmt: skip
    assert "also" not in got[0].parts
    assert got[1].parts["also"] == (Subject("lamp", "three"),)
    # too little to be seen
    some = (dip("two", 0.25), dip("three", 0.03))
    (fact,) = facts(flicker, "lamp.dip", with_figures(made, dips=some))
    assert "also" not in fact.parts


def test_a_start_that_nobody_states_is_asked_about(made):
    unknown = with_figures(made, dips=(dip("one", 0.2, given=False),))
    assert facts(flicker, "lamp.dip", unknown) == []
    (question,) = asked(flicker, "lamp.dip", unknown)
    assert (question.subject, question.vital) == ("winch", False)
    assert "20 %" in question.what
    assert "500 mA" in question.what
    assert asked(flicker, "lamp.dip", with_figures(made, dips=(dip("one", 0.03, given=False),))) == []


# -- flashes a second: three (WCAG 2.2, 2.3.1)


@pytest.mark.parametrize(
    ("rate", "behaviour", "found"),
    [("180 /min", "flash", False), ("181 /min", "flash", True), ("181 /min", "fade", True), ("3 Hz", "fade", False)],
)  # fmt: skip
def test_more_than_three_a_second(rate, behaviour, found):
    made = survey(circuit=f'behaviour = "{behaviour}"\nrate = "{rate}"')
    got = facts(flicker, "flash.rate", made)
    assert len(got) == found
    for fact in got:
        assert (fact.case, fact.severity, fact.path) == ("fade" if behaviour == "fade" else "", "caution", ("circuit", "lights", "rate"))  # fmt: skip
        assert values(fact) == {"rate": pytest.approx(181 / 60)}
        assert fact.limit is not None
        assert fact.limit.value == 3.0


# fading between two levels is a flash from a tenth of difference on
def test_together_they_count_once_more():
    two = survey(circuit='behaviour = "flash"\nrate = "100 /min"', extra=FLASH.format("strobe", "110 /min"), lamps=lamp() + lamp().replace("bow lamp", "spot").replace('"lights"', '"strobe"'))  # fmt: skip
    (fact,) = facts(flicker, "flash.together", two)
    # 210 a minute; 180 of them are 0.857, down to a hundredth
    assert values(fact) == {"total": pytest.approx(3.5), "slower": 0.85}
    assert units(fact) == {"total": "Hz", "slower": "share"}
    assert fact.subject == Subject("circuit", "lights")
    assert fact.because_of == "flash.rate:strobe"
    assert fact.path == ("circuit", "lights", "rate")
    one = survey(circuit='behaviour = "flash"\nrate = "100 /min"', extra=FLASH.format("strobe", "80 /min"), lamps=lamp() + lamp().replace("bow lamp", "spot").replace('"lights"', '"strobe"'))  # fmt: skip
    assert facts(flicker, "flash.together", one) == []
    assert judged(flicker, "flash.together", survey(circuit='behaviour = "flash"\nrate = "190 /min"')) == []


# -- dimming: 3 to 30 Hz a stop, to 60 a caution that cannot be accepted, seen to 90, in motion to 1250


@pytest.mark.parametrize(
    ("frequency", "severity", "case", "limit", "firm"),
    [
        ("2.9 Hz", "caution", "seen", 90.0, False), ("3 Hz", "stop", "common range", 60.0, True), ("30 Hz", "stop", "common range", 60.0, True),
        ("30.1 Hz", "caution", "some people", 60.0, True), ("59 Hz", "caution", "some people", 60.0, True), ("60 Hz", "caution", "seen", 90.0, False),
        ("89 Hz", "caution", "seen", 90.0, False), ("90 Hz", "note", "in motion", 1250.0, False), ("1.24 kHz", "note", "in motion", 1250.0, False),
        ("1.25 kHz", None, None, None, False),
    ],
)  # fmt: skip
@pytest.mark.parametrize("behaviour", ["dim", "fade"])
def test_how_fast_it_is_dimmed(frequency, severity, case, limit, firm, behaviour):
    more = 'on_share = "50 %"' if behaviour == "dim" else 'rate = "10 /min"'
    made = survey(circuit=f'behaviour = "{behaviour}"\nfrequency = "{frequency}"\n{more}')
    got = facts(flicker, "dim.frequency", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert fact.limit is not None
        assert (fact.limit.value, bool(fact.firm)) == (limit, firm)
        assert values(fact)["unseen"] == 1250.0
        assert units(fact) == {"frequency": "Hz", "unseen": "Hz"}
        assert fact.path == ("circuit", "lights", "frequency")
    assert asked(flicker, "dim.frequency", made) == []


# -- lamps that flash by themselves, at 2 Hz each: chips keep no step


@pytest.mark.parametrize(
    ("count", "case", "shown"),
    [(1, None, {}), (2, "lamps", {"total": 4.0, "lamps": 2.0}), (3, "lamps", {"total": 6.0, "lamps": 3.0})],
)
@pytest.mark.parametrize("how", ["series", "parallel"])
def test_several_chips_flash_as_often_as_all_of_them(count, case, shown, how):
    kind = own_kind() + 'flashes = "2 Hz"\nworks = "2..14 V"\n'
    made = survey(lamps=string("own", **{how: count}), extra=kind)
    got = facts(flicker, "flash.rate", made)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {"rate": 2.0, **shown}
        assert (fact.severity, fact.path) == ("caution", ("lamp", 0))


@pytest.mark.parametrize(("rate", "found"), [("3 Hz", 0), ("3.1 Hz", 1)])
def test_one_chip_alone(rate, found):
    made = survey(lamps=string("own"), extra=own_kind() + f'flashes = "{rate}"\nworks = "2..14 V"\n')
    assert [(fact.case, values(fact)) for fact in facts(flicker, "flash.rate", made)] == [
        ("lamp", {"rate": 3.1})
    ] * found


# -- all of them together, as fast as they flash: 3 Hz


@pytest.mark.parametrize(
    ("kinds", "rates", "case", "because"),
    [
        # a chip at 2 Hz, and another, or a circuit
        (("own", "own"), (), "chips", "bow lamp"), (("own",), (75,), "", "bow lamp"), ((), (75, 130), "", "deck"), ((), (130, 75), "", "lights"), (("own",), (60,), None, ""), ((), (75,), None, ""),
    ],
)  # fmt: skip
def test_what_flashes_at_moments_of_its_own_adds_up(kinds, rates, case, because):
    chips = "".join(
        string(kind).replace('"lights"', '"steady"').replace("bow lamp", f"{where} lamp")
        for kind, where in zip(kinds, ("bow", "stern"), strict=False)
    )
    flash = [f'behaviour = "flash"\nrate = "{rate} /min"' for rate in rates]
    circuits = '[circuit.steady]\nsupply = "main"\n' + (f'[circuit.deck]\nsupply = "main"\n{flash[1]}\n' if flash[1:] else "")  # fmt: skip
    lamps = "".join(
        lamp().replace("bow lamp", f"{name} lamp").replace('"lights"', f'"{name}"')
        for name, _ in zip(("lights", "deck"), rates, strict=False)
    )
    kind = own_kind() + 'flashes = "2 Hz"\nworks = "2..14 V"\n'
    made = survey(lamps=chips + lamps, circuit=flash[0] if flash else "", extra=circuits + kind)
    got = facts(flicker, "flash.together", made)
    assert [fact.case for fact in got] == ([case] if case is not None else [])
    for fact in got:
        total = 2.0 * len(kinds) + sum(rates) / 60.0
        # a hundredth down
        assert values(fact) == {
            "total": pytest.approx(total),
            "slower": pytest.approx(floor(300.0 / total) / 100.0),
        }
        assert len(fact.parts["flashers"]) == len(kinds) + len(rates)  # type: ignore[arg-type]
        assert (fact.severity, fact.because_of) == ("caution", f"flash.rate:{because}")
        assert fact.path == (("circuit", "lights", "rate") if fact.subject.kind == "circuit" else ("lamp", 0))


# -- what has to be said of a flasher: how long it is on, where heat or a battery counts; how fast


@pytest.mark.parametrize(
    ("supply", "hull", "at", "asks"),
    [
        (None, 'access = "cover"', " at hull", 1), (None, 'access = "open"', " at hull", 0), (None, 'access = "cover"', "", 0),
        ('kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8', 'access = "open"', "", 1),
        ('kind = "usb"\nplace = "base"\nport = "power-bank"', 'access = "open"', "", 1), ('kind = "usb"\nplace = "base"\nport = "plain"', 'access = "open"', "", 0),
    ],
)  # fmt: skip
def test_how_long_a_flasher_is_on(supply, hull, at, asks):
    made = survey(
        supply=supply, hull=hull, lamps=lamp(at=at), circuit='behaviour = "flash"\nrate = "60 /min"'
    )
    assert len([one for one in asked(flicker, "flash.rate", made) if "on_share" in one.missing]) == asks
    said = survey(supply=supply, hull=hull, lamps=lamp(at=at), circuit='behaviour = "flash"\nrate = "60 /min"\non_share = "20 %"')  # fmt: skip
    assert asked(flicker, "flash.rate", said) == []


def test_how_fast_it_is_has_to_be_said():
    for behaviour, rate, what in (("flash", "60", "flashes"), ("fade", "12", "fades")):
        made = survey(hull='access = "open"', circuit=f'behaviour = "{behaviour}"')
        (question,) = asked(flicker, "flash.rate", made)
        assert (f'rate = "{rate} /min"' in question.missing, what in question.what) == (True, True)
