"""Supplies and strips on both sides of each limit, with figures of our own."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import alone, strips, supplies
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

MAIN = Subject("supply", "main")
FIVE = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\n{}\n[circuit.low]\nsupply = "five"\n'
BANK = 'kind = "usb"\nplace = "base"\nport = "power-bank"\n{}'


def load(made: Survey, name: str = "main", **figures: Any) -> Survey:
    each = {**made.electrics.supplies, name: made.electrics.supplies[name]._replace(**figures)}
    return with_figures(made, supplies=each)


# -- load: the rating with typical lamps, four fifths of it at worst (NFPA 70 210.19(A)(1))


@pytest.mark.parametrize(
    ("most", "highest", "severity", "limit"),
    [
        (1.0, 0.8, None, 0),
        (1.001, 0.5, "stop", 1.0),
        (0.7, 0.801, "caution", 0.8),
        (1.001, 0.801, "stop", 1.0),
    ],
)
def test_a_supply_with_too_much_on_it(most, highest, severity, limit):
    made = load(survey(), most=most, highest=highest, nominal=0.66)
    got = facts(supplies, "supply.overload", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, severity)] if severity else [])
    for fact in got:
        assert values(fact) == {"nominal": 0.66, "highest": highest, "rated": 1.0, "free": pytest.approx(0.2)}
        assert units(fact) == {"nominal": "A", "highest": "A", "rated": "A", "free": "share"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.subject, fact.path, fact.because_of) == (MAIN, ("supply", "main"), None)


def test_what_flows_through_a_bare_lamp_chooses_no_supply():
    made = load(survey(lamps=string(resistor=None)), most=3.0, highest=5.0, nominal=4.0)
    (fact,) = facts(supplies, "supply.overload", made)
    assert (fact.case, values(fact)) == ("bare lamp", {"rated": 1.0, "free": pytest.approx(0.2)})
    assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}
    assert fact.because_of == "lamp.no-resistor:bow lamp"


def test_a_supply_is_judged_by_its_rating_else_by_its_limit():
    limited = survey(supply=adaptor().replace('rated = "1 A"', 'current_limit = "2 A"'))
    assert facts(supplies, "supply.overload", load(limited, most=2.0, highest=1.6)) == []
    (fact,) = facts(supplies, "supply.overload", load(limited, most=2.1, highest=1.6))
    assert values(fact)["rated"] == 2.0
    both = survey(supply=adaptor() + '\ncurrent_limit = "2 A"')
    assert len(facts(supplies, "supply.overload", load(both, most=1.1, highest=0.5))) == 1
    cells = survey(supply='kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8')
    assert judged(supplies, "supply.overload", load(cells, most=99.0, highest=99.0)) == []


@pytest.mark.parametrize(
    ("said", "rated"), [('rated = "1 A"', 1.0), ('current_limit = "800 mA"', 0.8), ('rated = "1 A"\ncurrent_limit = "700 mA"', 0.7), ('rated = "600 mA"\ncurrent_limit = "700 mA"', 0.6)]
)  # fmt: skip
def test_a_converter_by_the_less_of_both(said, rated):
    made = survey(extra=FIVE.format(said))
    assert facts(supplies, "converter.overload", load(made, "five", most=rated, highest=0.8 * rated)) == []
    (fact,) = facts(supplies, "converter.overload", load(made, "five", most=1.01 * rated, highest=0.0))
    assert (values(fact)["rated"], fact.subject) == (rated, Subject("supply", "five"))
    assert judged(supplies, "supply.overload", load(made, "five", most=9.0, highest=9.0))[0].subject == MAIN  # type: ignore[union-attr]


def test_without_a_rating_it_is_asked():
    bare = survey(supply=adaptor().replace('rated = "1 A"', ""))
    (question,) = asked(supplies, "supply.no-rating", load(bare, nominal=0.4, highest=0.55))
    assert question.vital
    assert "400 mA, up to 550 mA" in question.what
    assert asked(supplies, "supply.no-rating", load(bare, highest=0.0)) == []
    assert asked(supplies, "supply.no-rating", load(survey(), highest=9.0)) == []


@pytest.mark.parametrize(
    ("least", "case"),
    [('least_input = "12 V"', "too weak"), ('least_input = "12.1 V"', "too few volts"), ("", "too weak")],
)
def test_a_converter_that_does_not_start(least, case):
    made = survey(extra=FIVE.format(f'rated = "1 A"\n{least}'))
    twice = with_figures(made, no_start=(("five", "all on"), ("five", "half on"), ("no such", "all on")))
    (fact,) = facts(supplies, "converter.no-start", twice)
    assert (fact.case, fact.words, fact.parts) == (case, {"state": "all on"}, {"source": MAIN})
    least_input = {"least_input": float(least.split('"')[1].split()[0])} if least else {}
    assert values(fact) == {"given": 12.0, **least_input}
    assert (fact.severity, fact.path) == ("stop", ("supply", "five"))


# -- power banks: what is said, or 50 mA as they usually ask; ten seconds until one takes a small load for none


@pytest.mark.parametrize(("average", "severity"), [(0.06, None), (0.0599, "stop")])
def test_a_bank_that_takes_a_small_load_for_none(average, severity):
    made = load(
        survey(supply=BANK.format('switches_off_below = "60 mA"')),
        average=average,
        least_average=average,
        gap=0.0,
    )
    got = facts(supplies, "supply.switches-off", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "small load")] if severity else [])
    for fact in got:
        assert values(fact) == {"average": average, "asks": 0.06}
        assert fact.path == ("supply", "main", "switches_off_below")


@pytest.mark.parametrize(
    ("waits", "gap", "severity"),
    [
        ('switches_off_after = "30 s"', 29.9, "caution"),
        ('switches_off_after = "30 s"', 30.0, "stop"),
        ("", 9.9, "caution"),
        ("", 10.0, "stop"),
        ("", None, "stop"),
    ],
)
def test_a_bank_that_a_flash_may_keep_on(waits, gap, severity):
    """Flashes lift the load each time before it switches off: whether it goes by the average nobody says."""
    made = load(
        survey(supply=BANK.format(f'switches_off_below = "60 mA"\n{waits}')),
        average=0.04,
        least_average=0.04,
        gap=gap,
    )
    (fact,) = facts(supplies, "supply.switches-off", made)
    flashes = severity == "caution"
    assert (fact.severity, fact.case) == (severity, "flashes" if flashes else "small load")
    assert values(fact) == {"average": 0.04, "asks": 0.06, **({"gap": gap} if flashes else {})}


@pytest.mark.parametrize(("least", "found"), [(0.06, False), (0.0599, True)])
def test_a_bank_that_may_take_the_lowest_load_for_none(least, found):
    made = load(
        survey(supply=BANK.format('switches_off_below = "60 mA"')), average=0.07, least_average=least, gap=0.0
    )
    got = facts(supplies, "supply.switches-off", made)
    assert [(fact.severity, fact.case) for fact in got] == [("caution", "small at worst")] * found
    for fact in got:
        assert values(fact) == {"average": 0.07, "least": least, "asks": 0.06}


@pytest.mark.parametrize(
    ("most", "highest", "severity"),
    [(0.3, 0.3, None), (0.3, 0.301, "caution"), (0.301, 0.3, "stop")],
)
def test_a_supply_that_is_limited_to_less_than_its_rating(most, highest, severity):
    made = load(
        survey(supply=adaptor() + '\ncurrent_limit = "300 mA"'), most=most, highest=highest, nominal=0.2
    )
    got = facts(supplies, "supply.overload", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "limited")] if severity else [])
    for fact in got:
        assert fact.limit is not None
        assert (fact.limit.value, fact.path) == (0.3, ("supply", "main", "current_limit"))


def test_a_bank_of_which_nobody_says_it():
    made = survey(supply=BANK.format(""))
    assert len(asked(supplies, "supply.switches-off", load(made, average=0.001, gap=0.0))) == 1
    assert asked(supplies, "supply.switches-off", load(made, average=0.5, gap=0.0)) == []
    # for ten seconds it is dark, and nobody says when it goes
    assert len(asked(supplies, "supply.switches-off", load(made, average=0.5, gap=10.0))) == 1
    assert asked(supplies, "supply.switches-off", load(made, average=0.5, gap=9.9)) == []
    assert len(asked(supplies, "supply.switches-off", load(made, average=0.5, gap=None))) == 1


@pytest.mark.parametrize(("gap", "found"), [(29.9, False), (30.0, True), (31.0, True)])
def test_a_bank_that_goes_between_flashes(gap, found):
    said = BANK.format('switches_off_below = "60 mA"\nswitches_off_after = "30 s"')
    got = facts(
        supplies,
        "supply.switches-off",
        load(survey(supply=said), average=0.5, least_average=0.4, gap=gap, dark=0.01),
    )
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.case, fact.path) == (
            "stop",
            "dark gaps",
            ("supply", "main", "switches_off_after"),
        )
        assert values(fact) == {"dark": 0.01, "asks": 0.06, "gap": gap}
        assert units(fact) == {"dark": "A", "asks": "A", "gap": "s"}


def test_what_of_a_bank_is_vital():
    for said, gap, vital in (
        ('switches_off_below = "60 mA"', 10.0, [True]), ('switches_off_below = "60 mA"', 9.9, []), ('switches_off_after = "30 s"', 30.0, [False]),
        ('switches_off_after = "30 s"', 29.9, []),
    ):  # fmt: skip
        made = load(survey(supply=BANK.format(said)), average=0.5, gap=gap, dark=0.01)
        assert [question.vital for question in asked(supplies, "supply.switches-off", made)] == vital


# -- a lamp by itself: half as much again as its rating; a quarter more on an unregulated supply


def lit(made: Survey, **figures: float) -> Survey:
    return with_figures(made, lamps={"bow lamp": made.electrics.lamps["bow lamp"]._replace(**figures)})


OWN: dict[str, Any] = {"lamps": string("own", "470 ohm 1/4 W"), "extra": own_kind()}


@pytest.mark.parametrize(
    ("highest", "by_itself", "found"),
    [(0.03, 0.03, False), (0.03, 0.0301, True), (0.0301, 0.05, False), (0.01, 0.031, True)],
)
def test_a_lamp_that_relies_on_the_others(highest, by_itself, found):
    made = lit(survey(**OWN), highest=highest, alone=by_itself, nominal=0.009)
    got = facts(alone, "lamp.alone", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"nominal": 0.009, "alone": by_itself, "rated": 0.02}
        assert set(units(fact).values()) == {"A"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(0.03)
        assert (fact.severity, fact.because_of, fact.path) == ("note", "line.drop:lights", ("lamp", 0))


@pytest.mark.parametrize(
    ("more", "key", "volts"),
    [('unloaded = "17 V"', "unloaded", 17.0), ('regulation = "25 %"', "regulation", 15.0)],
)
@pytest.mark.parametrize(("by_itself", "found"), [(0.025, False), (0.0251, True)])
def test_a_supply_whose_volts_rise(more, key, volts, by_itself, found):
    made = lit(survey(supply=f"{adaptor()}\n{more}", **OWN), alone=by_itself)
    got = facts(alone, "supply.unloaded", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == {
            "unloaded": pytest.approx(volts),
            "volts": 12.0,
            "current": by_itself,
            "rated": 0.02,
        }
        assert units(fact) == {"unloaded": "V", "volts": "V", "current": "A", "rated": "A"}
        assert (fact.subject, fact.path) == (MAIN, ("supply", "main", key))
        assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}
    # and then the lamp alone is no other matter
    assert judged(alone, "lamp.alone", made) == []
    assert judged(alone, "supply.unloaded", lit(survey(**OWN), alone=9.0)) == []


# -- strips of 12 V, 25 mA a chain: a tenth more volts and a quarter more current, or 15 % less volts and a tenth of the current


STRIP = '[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\n{}\n'
BAY = Subject("strip", "bay")


def bay(said: str = "segments = 6", volts: float = 12.0, **figures: Any) -> Survey:
    made = survey(lamps=STRIP.format(said))
    strip = made.electrics.strips["bay"]._replace(**figures)
    main = made.electrics.supplies["main"]._replace(volts=volts)
    return with_figures(made, strips={"bay": strip}, supplies={"main": main})


@pytest.mark.parametrize(
    ("volts", "current", "highest", "severity", "case", "limit"),
    [
        (13.2, 0.05, 0.05, None, None, 0), (13.3, 0.0312, 0.025, None, None, 0), (13.3, 0.0313, 0.025, "stop", "high", 0.03125),
        (13.3, 0.0312, 0.0251, "caution", "high", 0.025), (10.2, 0.0025, 0.02, None, None, 0), (10.19, 0.0025, 0.02, "caution", "weak", 10.2),
        (10.19, 0.00249, 0.02, "stop", "dark", 0.0025), (10.8, 0.0001, 0.02, None, None, 0), (10.79, 0.0001, 0.02, "stop", "dark", 0.0025),
    ],
)  # fmt: skip
def test_a_strip_on_other_volts(volts, current, highest, severity, case, limit):
    got = facts(
        strips, "strip.wrong-volts", bay(volts=volts, segment_current=current, segment_highest=highest)
    )
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {"supply": volts, "strip": 12.0, "current": current, "rated": 0.025}
        assert units(fact) == {"supply": "V", "strip": "V", "current": "A", "rated": "A"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.subject, fact.path, fact.parts) == (BAY, ("strip", 0, "kind"), {"source": MAIN})
        assert bool(fact.firm) is (case == "high" and severity == "stop")


# a tenth of the volts, or a quarter of the light
@pytest.mark.parametrize(
    ("first", "last", "dimmer", "case", "limit"),
    [
        (11.9, 10.8, 0.25, None, 0), (11.9, 10.79, 0.2, "along", 0.1), (11.3, 10.79, 0.2, "before", 0.1), (11.9, 11.8, 0.26, "before", 0.25),
        (11.38, 10.78, 0.2, "before", 0.1), (11.4, 10.78, 0.2, "along", 0.1), (10.7, 10.75, 0.2, "before", 0.1),
    ],
)  # fmt: skip
def test_a_strip_that_is_dim_at_its_end(first, last, dimmer, case, limit):
    made = bay(segments=((first, 0.02), (last, 0.019)), light_lost=dimmer)
    got = facts(strips, "strip.dim", made)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {
            "last": last, "first": first, "supply": 12.0, "missing": pytest.approx(12.0 - last), "lost": pytest.approx(1.0 - last / 12.0), "dimmer": dimmer,
            "along": pytest.approx(max(first - last, 0.0)), "leds": 3.0,
        }  # fmt: skip
        assert units(fact) == {"last": "V", "first": "V", "supply": "V", "missing": "V", "lost": "share", "dimmer": "share", "along": "V", "leds": ""}  # fmt: skip
        assert fact.limit is not None
        assert (fact.limit.value, fact.severity) == (limit, "caution")
    # where its volts are wrong, that is told
    assert judged(strips, "strip.dim", bay(volts=10.0, segments=((9.0, 0.02), (5.0, 0.01)))) == []


THROUGH = 'segments = 7\ntrace = "0.2 ohm/m"\nthrough = "{}"'


@pytest.mark.parametrize(
    ("through", "nominal", "highest", "severity", "pieces"),
    [
        (1.0, 0.5, 1.0, None, 0),
        # three of seven segments take 0.99 of 2.31 A; so three pieces
        (2.31, 1.0, 2.31, "caution", 3), (2.31, 2.31, 2.31, "stop", 3), (1.1, 1.0, 1.1, "caution", 2), (1.1, 1.01, 1.1, "stop", 2), (7.0, 7.0, 7.0, "stop", 7),
        # not even one segment
        (7.1, 7.1, 7.1, "stop", 0), (3.5, 3.5, 3.5, "stop", 4), (1.1, 1.0, 0.0, "stop", 2),
    ],
)  # fmt: skip
def test_more_than_its_traces_withstand(through, nominal, highest, severity, pieces):
    made = bay(THROUGH.format("1 A"), through=through, nominal=nominal, highest=highest)
    got = facts(strips, "strip.over-through", made)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {
            "through": through,
            "stands": 1.0,
            **({"pieces": float(pieces)} if pieces else {}),
        }
        assert units(fact) == {"through": "A", "stands": "A"} | ({"pieces": ""} if pieces else {})
        assert fact.path == ("strip", 0, "through")


def test_traces_of_which_nobody_knows_the_resistance():
    both = 'segments = 7\nthrough = "1 A"\nfar_end = "base"'
    assert len(asked(strips, "strip.over-through", bay(both, through=9.0))) == 1
    assert facts(strips, "strip.over-through", bay(both, through=9.0)) == []
    assert judged(strips, "strip.over-through", bay(through=9.0)) == []


# 50 mm a segment, and 1 mm beside a mark is within its pads
@pytest.mark.parametrize(
    ("length", "severity", "lit", "dark"), [("151 mm", None, 0, 0.0), ("151.1 mm", "caution", 3, 0.0011), ("199 mm", None, 0, 0.0), ("198.9 mm", "caution", 3, 0.0489), ("48.9 mm", "stop", 0, 0.0489)]
)  # fmt: skip
def test_a_strip_that_is_cut_between_marks(length, severity, lit, dark):
    got = facts(strips, "strip.not-at-mark", survey(lamps=STRIP.format(f'length = "{length}"')))
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == pytest.approx(
            {"length": float(length.split()[0]) / 1e3, "segment": 0.05, "dark": dark, "lit": lit}
        )
        assert units(fact) == {"length": "m", "segment": "m", "dark": "m", "lit": ""}
        assert fact.case == ("between marks" if lit else "before the first")
        assert fact.path == ("strip", 0, "length")


def test_what_a_bank_asks_for_is_compared_where_it_is_said():
    said = load(
        survey(supply=BANK.format('switches_off_below = "60 mA"')), average=0.5, least_average=0.3, gap=0.0
    )
    within, lowest = judged(supplies, "supply.switches-off", said)
    assert lowest == within._replace(value=0.3)  # type: ignore[union-attr]
    assert within.limit.value == 0.06  # type: ignore[union-attr]
    assert (
        judged(supplies, "supply.switches-off", load(survey(supply=BANK.format("")), average=0.5, gap=0.0))
        == []
    )


def test_a_bank_of_which_nobody_says_it_is_not_held_against_its_least():
    made = load(survey(supply=BANK.format("")), average=0.5, least_average=0.001, gap=0.0)
    assert judged(supplies, "supply.switches-off", made) == []


def test_a_bank_without_a_least_load_is_held_against_its_usual_one():
    made = load(
        survey(supply=BANK.format('switches_off_below = "60 mA"')), average=0.5, least_average=None, gap=0.0
    )
    (within,) = judged(supplies, "supply.switches-off", made)
    assert within.value == 0.5  # type: ignore[union-attr]
