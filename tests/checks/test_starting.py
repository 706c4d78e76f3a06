"""The moment of switching on: what is compared with what, on both sides of each limit, with figures of our own."""

from __future__ import annotations

import pytest

from postcheck.checks import starting
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import Sag
from tests.survey.small import adaptor, survey

from .facts import asked, facts, judged, units, values, with_figures

DECK = '[circuit.deck]\nsupply = "main"\n[[run]]\nline = "deck"\nends = ["base", "hull"]\nlength = "300 mm"\n'
WINCH = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "100 mA"\nlowest = "11 V"\n{}\n'
HORN = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "{}"\nplace = "hull"\ntypical = "50 mA"\nlowest = "9 V"\n'
STARTS = 'starting = "600 mA"'


def build(more: str = STARTS, supply: str | None = None, horn: str = "deck", board: str = "") -> Survey:
    return survey(supply=supply, extra=WINCH.format(more) + HORN.format(horn) + DECK + board)


@pytest.fixture(scope="module")
def made() -> Survey:
    return build()


def with_load(made: Survey, name: str, **figures: float | None) -> Survey:
    loads = {**made.electrics.loads, name: made.electrics.loads[name]._replace(**figures)}
    return with_figures(made, loads=loads)


def with_supply(made: Survey, **figures: float) -> Survey:
    return with_figures(made, supplies={"main": made.electrics.supplies["main"]._replace(**figures)})


# -- load.no-start: its own least, 11 V, to a thousandth


@pytest.mark.parametrize(("volts", "found"), [(11.0, False), (10.99, False), (10.98, True), (-2.0, True)])
def test_a_load_that_gets_less_than_it_works_at(made, volts, found):
    got = facts(starting, "load.no-start", with_load(made, "winch", start_volts=volts))
    assert len(got) == found
    if found:
        (fact,) = got
        assert (fact.severity, fact.subject, fact.path) == ("stop", Subject("load", "winch"), ("load", 0, "starting"))  # fmt: skip
        assert values(fact) == {"start": max(volts, 0.0), "needs": 11.0, "starting": 0.6}
        assert units(fact) == {"start": "V", "needs": "V", "starting": "A"}
        assert fact.limit is not None
        assert fact.limit.value == 11.0
        assert fact.because_of == "load.low-volts:winch"


def test_what_has_no_start_is_not_judged_by_it(made):
    assert judged(starting, "load.no-start", with_load(made, "winch", start_volts=None)) == []
    # the horn starts as it runs
    assert facts(starting, "load.no-start", with_load(made, "horn", start_volts=1.0)) == []
    assert facts(starting, "load.no-start", with_load(build(""), "winch", start_volts=1.0)) == []


# -- load.resets


def sag(volts: float, *, before: float = 11.9, low: float = 11.3, given: bool = True, name: str = "horn", kind: str = "load") -> Sag:  # fmt: skip
    return Sag(kind, name, "winch", 9.0, volts, before, low, 0.6, given)


@pytest.mark.parametrize(
    ("volts", "low", "severity", "case"),
    [
        (9.0, 9.0, None, None), (8.992, 8.992, None, None), (8.98, 8.5, "stop", "always"), (-1.0, -2.0, "stop", "always"),
        # with a low supply 2 V less, and 10.9 - 2 V without the other's start were enough
        (9.9, 8.98, "caution", "supply low"), (9.9, 8.992, None, None),
    ],
)  # fmt: skip
def test_a_load_that_another_pulls_down(made, volts, low, severity, case):
    got = facts(starting, "load.resets", with_figures(made, sags=(sag(volts, low=low),)))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {
            "volts": max(volts, 0.0), "lowest": max(volts if case == "always" else low, 0.0), "needs": 9.0, "starting": 0.6,
        }  # fmt: skip
        assert units(fact) == {"volts": "V", "lowest": "V", "needs": "V", "starting": "A"}
        assert (fact.subject, fact.path) == (Subject("load", "horn"), ("load", 1, "lowest"))
        assert fact.parts == {"load": Subject("load", "winch")}
        assert fact.because_of == "load.no-start:winch"


def test_what_comes_on_with_it_begins_anew(made):
    together = build(horn="lights")
    (fact,) = facts(starting, "load.resets", with_figures(together, sags=(sag(8.5, low=8.0),)))
    assert (fact.severity, fact.case) == ("caution", "together")


def test_what_has_too_little_without_it_is_not_its_fault(made):
    for before, judges in ((8.98, False), (8.992, True), (9.0, True)):
        assert bool(judged(starting, "load.resets", with_figures(made, sags=(sag(8.0, before=before),)))) is judges  # fmt: skip
    # 9.5 V while it runs, 9.2 as it starts; low 8.6 and 8.9 running: too little already
    low = with_figures(made, sags=(sag(9.2, before=9.5, low=8.6),))
    assert facts(starting, "load.resets", low) == []
    # 0.3 V more than low are just what it needs
    low = with_figures(made, sags=(sag(9.2, before=9.5, low=8.7),))
    assert [fact.case for fact in facts(starting, "load.resets", low)] == ["supply low"]


def test_the_one_that_leaves_it_least_is_told(made):
    both = (sag(8.8), sag(8.4), sag(8.6))
    (fact,) = facts(starting, "load.resets", with_figures(made, sags=both))
    assert values(fact)["volts"] == 8.4


def test_a_start_that_nobody_states_is_asked_about(made):
    unknown = with_figures(made, sags=(sag(8.4, given=False),))
    assert facts(starting, "load.resets", unknown) == []
    (question,) = asked(starting, "load.resets", unknown)
    assert question.subject == "winch"
    assert not question.vital
    assert asked(starting, "load.resets", with_figures(made, sags=(sag(9.4, low=9.3, given=False),))) == []
    # one that is stated is told, and then no other is asked about
    both = with_figures(made, sags=(sag(8.4, given=False), sag(8.6)))
    assert [values(fact)["volts"] for fact in facts(starting, "load.resets", both)] == [8.6]
    assert asked(starting, "load.resets", both) == []
    # stated and sound, and unstated and not
    both = with_figures(made, sags=(sag(8.4, given=False), sag(9.6, low=9.5)))
    assert (facts(starting, "load.resets", both), len(asked(starting, "load.resets", both))) == ([], 1)


def test_a_board_is_told_by_its_least_volts():
    board = '[board.driver]\nplace = "base"\nsupply = "main"\nleast_volts = "9 V"\n'
    made = build(board=board)
    (fact,) = facts(starting, "load.resets", with_figures(made, sags=(sag(8.4, name="driver", kind="board"),)))  # fmt: skip
    assert (fact.subject, fact.path) == (Subject("board", "driver"), ("board", "driver", "least_volts"))
    assert (fact.severity, fact.case) == ("stop", "always")


def test_a_battery_that_is_half_empty():
    # it falls by as much as its middle lies below fresh cells
    made = build(supply='kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8')
    battery = made.batteries["main"]
    fallen = battery.usual_volts - battery.half_volts
    assert fallen > 0.5
    for volts, before, found in (
        (9.0 + fallen - 0.02, 9.1 + fallen, True),
        (9.0 + fallen, 9.1 + fallen, False),
        (9.0 + fallen - 0.02, 8.99 + fallen, False),
    ):
        got = facts(starting, "load.resets", with_figures(made, sags=(sag(volts, before=before, low=1.0),)))
        assert [(fact.severity, fact.case) for fact in got] == [("caution", "half empty")] * found
        for fact in got:
            assert values(fact)["lowest"] == pytest.approx(volts - fallen, rel=1e-9)


# -- supply.no-start: small supplies give twice their rating for a moment, or what they say


@pytest.mark.parametrize(
    ("more", "starts", "severity", "case", "gives"),
    [
        ("", 2.0, None, "", 0), ("", 2.001, None, "", 0), ("", 2.01, "stop", "at the latest", 2.0),
        ('\ncurrent_limit = "1.3 A"', 1.3, None, "", 0), ('\ncurrent_limit = "1.3 A"', 1.32, "stop", "stated", 1.3),
    ],
)  # fmt: skip
def test_a_supply_that_gives_up(more, starts, severity, case, gives):
    made = with_supply(build(supply=adaptor() + more), starting=starts, nominal=0.15)
    got = facts(starting, "supply.no-start", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {"starting": starts, "gives": gives, "asks": 0.6, "rated": 1.0}
        assert set(units(fact).values()) == {"A"}
        assert fact.parts == {"load": Subject("load", "winch")}
        assert fact.because_of == "supply.overload:main"


@pytest.mark.parametrize(("starts", "asks"), [(1.0, False), (1.0005, False), (1.002, True), (2.0, True)])
def test_between_its_rating_and_twice_that_it_is_asked(made, starts, asks):
    supply = with_supply(made, starting=starts, nominal=0.15)
    questions = asked(starting, "supply.no-start", supply)
    assert len(questions) == asks
    stated = with_supply(build(supply=adaptor() + '\ncurrent_limit = "3 A"'), starting=starts, nominal=0.15)
    assert asked(starting, "supply.no-start", stated) == []


def test_no_start_no_question(made):
    # as much as runs, to a thousandth
    assert judged(starting, "supply.no-start", with_supply(made, starting=3.0029, nominal=3.0)) == []
    assert judged(starting, "supply.no-start", with_supply(made, starting=3.004, nominal=3.0)) != []
    assert judged(starting, "supply.no-start", with_supply(build(""), starting=5.0, nominal=0.1)) == []


def test_the_load_that_asks_for_most_is_named():
    second = WINCH.format('starting = "700 mA"').replace("winch", "crane")
    made = survey(extra=WINCH.format(STARTS) + second)
    (fact,) = facts(starting, "supply.no-start", with_supply(made, starting=5.0, nominal=0.2))
    assert (fact.parts, values(fact)["asks"]) == ({"load": Subject("load", "crane")}, 0.7)


FIVE, NINE = (
    f'[supply.{name}]\nkind = "converter"\nfrom = "{source}"\nplace = "base"\nvolts = "{volts} V"\nrated = "2 A"\n'
    for name, source, volts in (("five", "{}", 5), ("nine", "main", 9))
)


@pytest.mark.parametrize(
    "converters",
    [FIVE.format("main"), NINE + FIVE.format("nine"), FIVE.format("nine") + NINE],
    ids=["one", "in a row", "the last first in the file"],
)
def test_through_converters_it_is_the_source_that_starts_it(converters):
    low = (
        '[circuit.low]\nsupply = "five"\n[[run]]\nline = "low"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    )
    winch = WINCH.format(STARTS).replace('"lights"', '"low"').replace("11 V", "4 V")
    made = survey(extra=converters + low + winch)
    (fact,) = facts(starting, "supply.no-start", with_supply(made, starting=2.5, nominal=0.2))
    assert fact.parts == {"load": Subject("load", "winch")}


# -- fuses: a quick one may open in 10 ms at four times its rating, 50 ms at 2.75 (IEC 60127-2 sheet II)


@pytest.mark.parametrize(
    ("fuse", "starts", "opens"),
    [
        # 0.15 A run, and 0.5 A more as the winch starts; more than that are cold bulbs, soon warm
        ("160 mA", 0.64, 0.01), ("160 mA", 0.44, 0.05), ("160 mA", 9.0, 0.01 * (0.64 / 0.65) ** 2), ("500 mA resettable", 0.6, None), ("500 mA", 0.6, None),
    ],
)  # fmt: skip
def test_a_fuse_that_may_open_as_it_starts(fuse, starts, opens):
    made = with_supply(build(supply=adaptor(fuse=fuse)), starting=starts, nominal=0.15)
    got = facts(starting, "fuse.opens-at-start", made)
    assert len(got) == (opens is not None)
    for fact in got:
        assert values(fact) == pytest.approx({"starting": min(starts, 0.65), "rated": 0.16, "opens": opens})
        assert units(fact) == {"starting": "A", "rated": "A", "opens": "s"}
        assert (fact.severity, fact.path, fact.words) == ("caution", ("supply", "main", "fuse"), {"fuse": "quick"})  # fmt: skip
        assert fact.limit is not None
        assert fact.limit.value == 0.5
        assert fact.because_of == "supply.no-start:main"


def test_without_a_fuse_or_a_start_nothing_opens(made):
    bare = with_supply(build(supply=adaptor(fuse=None)), starting=5.0, nominal=0.15)
    assert judged(starting, "fuse.opens-at-start", bare) == []
    assert judged(starting, "fuse.opens-at-start", with_supply(made, starting=0.15, nominal=0.15)) == []


def test_a_motor_of_which_nobody_says_its_start():
    # five times its current, as motors do: 150 mA run and 0.4 A more are 3.4 times 160 mA
    (question,) = asked(starting, "fuse.opens-at-start", with_supply(build("", supply=adaptor(fuse="160 mA")), nominal=0.15))  # fmt: skip
    assert question.subject == "winch"
    assert "160 mA" in question.what
    assert 'starting = "500 mA"' in question.missing
    assert asked(starting, "fuse.opens-at-start", with_supply(build("", supply=adaptor(fuse="1 A")), nominal=0.15)) == []  # fmt: skip
    assert asked(starting, "fuse.opens-at-start", with_supply(build(supply=adaptor(fuse="160 mA")), nominal=0.15)) == []  # fmt: skip


def test_what_is_no_motor_takes_no_more_at_its_start():
    horn = survey(supply=adaptor(fuse="160 mA"), extra=HORN.format("lights"))
    assert asked(starting, "fuse.opens-at-start", with_supply(horn, nominal=9.0)) == []
    both = survey(supply=adaptor(fuse="160 mA"), extra=HORN.format("lights") + WINCH.format(""))
    assert [one.subject for one in asked(starting, "fuse.opens-at-start", with_supply(both, nominal=9.0))] == ["winch"]  # fmt: skip


def test_cold_bulbs_alone_start_no_motor():
    plain = with_supply(survey(supply=adaptor(fuse="160 mA")), starting=5.0, nominal=0.1)
    assert judged(starting, "fuse.opens-at-start", plain) == []
    assert judged(starting, "supply.no-start", plain) == []


# -- cold bulbs: their I2t against the least that melts such a fuse; 29 % of it wears the link


@pytest.mark.parametrize("fuse", ["500 mA", "500 mA slow", "1 A"])
def test_cold_bulbs_that_wear_a_fuse(fuse):
    made = survey(supply=adaptor(fuse=fuse), lamps="")

    def share(peak: float) -> tuple[float, str | None]:
        got = judged(starting, "fuse.cold-filaments", with_supply(made, starting=peak, nominal=0.2))
        within, *_ = got
        (fact, *_) = [
            *facts(starting, "fuse.cold-filaments", with_supply(made, starting=peak, nominal=0.2)),
            None,
        ]
        if fact is not None:
            assert values(fact) == {
                "peak": min(peak, 2.0),
                "rated": 1.0 if fuse == "1 A" else 0.5,
                "pulse": within.value,
            }
            assert units(fact) == {"peak": "A", "rated": "A", "pulse": "share"}
            assert (fact.path, fact.because_of, fact.words["kind"]) == (
                ("supply", "main", "fuse"),
                "fuse.too-small:main",
                "slow" if "slow" in fuse else "quick",
            )
        return within.value, None if fact is None else fact.case

    for peak in (0.3, 0.6, 0.9, 1.2, 1.6, 2.0):
        pulse, case = share(peak)
        assert case == ("opens" if pulse > 1.0 else "ages" if pulse > 0.29 else None)
    # the adaptor gives no more than twice its rating
    assert share(9.0) == share(2.0)
    assert judged(starting, "fuse.cold-filaments", with_supply(made, starting=0.2, nominal=0.2)) == []
    assert (
        judged(
            starting,
            "fuse.cold-filaments",
            with_supply(survey(supply=adaptor(fuse=None)), starting=2.0, nominal=0.2),
        )
        == []
    )
