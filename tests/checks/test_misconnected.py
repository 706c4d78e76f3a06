"""What a wrong plug, a wrong adaptor or a joint does to a part: on both sides of each limit, with faults of our own."""

from __future__ import annotations

from math import inf
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck.checks import joined_supplies, plugs
from postcheck.checks.misconnections import compared, harm, harmed, hurt, worst
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault, WrongAdaptorFault
from tests.survey.small import adaptor, lamp, survey

from .facts import asked, facts, judged, units, values, with_figures

HORN = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\nhighest = "15 V"\n'
DIODE = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\ndiode = "1N4001"\n'
BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\nmost_volts = "14 V"\n'
STRIP = (
    '[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = 3\n'
)
FOOT = '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = false\npart_way = true\n'
AFT = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "{}"\nrated = "1 A"\nshares_negative_with = "main"\nsocket = "5.5/2.1 mm"\n'


@pytest.fixture(scope="module")
def made() -> Survey:
    return survey(
        supply=adaptor() + '\nsocket = "5.5/2.1 mm"',
        extra=HORN + DIODE + BOARD + STRIP + FOOT + AFT.format("24 V"),
    )


def fault(kind: str, part: str, how: str = "crossed", **more: Any) -> PlugFault:
    return PlugFault("foot", how, kind, part, **more)


def lost(made: Survey, one: PlugFault) -> tuple[str, dict[str, float], float] | None:
    """The case, figures and limit of what is lost."""
    if not hurt(made, one):
        return None
    case, figures, limit = harm(made, one)
    return case, {name: figure.value for name, figure in figures.items()}, limit.value


# -- reverse: 5 V of an LED, 0.3 V of electronics (absolute maximum ratings), or as its sheet says; at it to a thousandth


@pytest.mark.parametrize(
    ("one", "found"),
    [
        (fault("lamp", "bow lamp", reverse=5.0, dice=1), None), (fault("lamp", "bow lamp", reverse=5.004, dice=1), None),
        (fault("lamp", "bow lamp", reverse=5.01, dice=1), ("reversed", {"reverse": 5.01, "withstands": 5.0}, 5.0)),
        (fault("lamp", "bow lamp", reverse=5.01, dice=2), ("die reversed", {"reverse": 5.01, "withstands": 5.0}, 5.0)),
        (fault("lamp", "bow lamp", reverse=5.01, dice=3), ("die reversed", {"reverse": 5.01, "withstands": 5.0}, 5.0)),
        (fault("lamp", "bow lamp", reverse=7.0, dice=1, reverse_stood=7.0), None),
        (fault("lamp", "bow lamp", reverse=7.1, dice=1, reverse_stood=7.0), ("reversed", {"reverse": 7.1, "withstands": 7.0}, 7.0)),
        # what electronics withstand is a guess, and no figure of theirs
        (fault("load", "horn", reverse=0.3), None), (fault("load", "horn", reverse=0.31), ("reversed", {"reverse": 0.31}, 0.3)),
        (fault("load", "horn", reverse=9.1, reverse_stood=9.0), ("reversed", {"reverse": 9.1, "withstands": 9.0}, 9.0)),
        (fault("load", "horn", reverse=1.0, reverse_stood=inf), None), (fault("load", "horn", reverse=0.0, reverse_stood=-1.0), None),
    ],
)  # fmt: skip
def test_volts_the_wrong_way_round(made, one, found):
    assert lost(made, one) == found


# -- the right way round: a tenth more than it gets as it should be (12.6 V of the highest supply), and more than it withstands


@pytest.mark.parametrize(
    ("one", "found"),
    [
        (fault("board", "driver", volts=14.0), None), (fault("board", "driver", volts=14.02), ("too many volts", {"volts": 14.02, "withstands": 14.0}, 14.0)),
        (fault("load", "horn", volts=15.0), None), (fault("load", "horn", volts=15.02), ("too many volts", {"volts": 15.02, "withstands": 15.0}, 15.0)),
        # nobody says what it withstands
        (fault("load", "winch", volts=99.0), None), (fault("lamp", "bow lamp", volts=99.0), None),
    ],
)  # fmt: skip
def test_too_many_volts(made, one, found):
    assert lost(made, one) == found


def test_what_it_gets_as_it_should_be_is_another_matter():
    low = survey(extra=BOARD.replace("14 V", "9 V"))
    # 12.6 V and a tenth
    assert lost(low, fault("board", "driver", volts=13.85)) is None
    assert lost(low, fault("board", "driver", volts=13.87)) is not None


# what a load gets of its supply's volts it gets of the highest too; of a supply that gives nothing all of that
@pytest.mark.parametrize(
    ("volts", "highest", "gets", "usual"), [(12.0, 12.6, 6.0, 6.3), (0.8, 0.84, 0.4, 0.42), (0.0, 12.6, 0.0, 12.6)]
)  # fmt: skip
def test_what_a_load_gets_as_it_should_be_is_its_part_of_the_highest_supply(volts, highest, gets, usual):
    horn = survey(extra=HORN.replace("15 V", "0.1 V"))
    electrics = horn.electrics
    horn = with_figures(
        horn,
        supplies={"main": electrics.supplies["main"]._replace(volts=volts, highest_volts=highest)},
        loads={"horn": electrics.loads["horn"]._replace(volts=gets)},
    )
    assert lost(horn, fault("load", "horn", volts=1.099 * usual)) is None
    assert lost(horn, fault("load", "horn", volts=1.101 * usual)) is not None


# -- current: a quarter more than its rating, and a tenth more than it gets as it should be


def test_too_much_current(made):
    get = made.electrics.lamps["bow lamp"].highest
    rated = get
    assert lost(made, fault("lamp", "bow lamp", current=1.25 * rated, rated=rated)) is None
    (case, figures, limit) = lost(made, fault("lamp", "bow lamp", current=1.26 * rated, rated=rated)) or (
        "",
        {},
        0,
    )
    assert (case, limit) == ("too much current", pytest.approx(1.25 * rated))
    assert figures == {"current": 1.26 * rated, "rated": rated}
    # of what has no rating no current is too much
    assert lost(made, fault("lamp", "bow lamp", current=9.0, rated=0.0)) is None
    # what it gets anyhow
    assert lost(made, fault("lamp", "bow lamp", current=1.09 * get, rated=0.1 * get)) is None
    assert lost(made, fault("lamp", "bow lamp", current=1.11 * get, rated=0.1 * get)) is not None
    strip = made.electrics.strips["bay"].segment_highest
    assert lost(made, fault("strip", "bay", current=1.09 * strip, rated=0.1 * strip)) is None
    assert lost(made, fault("strip", "bay", current=1.11 * strip, rated=0.1 * strip)) is not None
    assert lost(made, fault("lamp", "bow lamp", current=9.0, rated=0.0)) is None


def test_what_has_no_current_as_it_should_be_is_judged_by_its_rating_alone(made):
    dark = with_figures(made, lamps={}, strips={})
    for kind, part in (("lamp", "bow lamp"), ("strip", "bay")):
        assert lost(dark, fault(kind, part, current=0.125, rated=0.1)) is None
        assert lost(dark, fault(kind, part, current=0.126, rated=0.1)) is not None


def test_a_filament_by_its_volts():
    # 30 % more volts: I ~ V ** 0.55 near its rating (makers' sheets), 15.5 % more current
    rice = survey(lamps=lamp().replace("smd-0402-red", "rice-12v").replace('resistor = "1k5 1/4 W"', ""))
    rated = 1.0
    assert lost(rice, fault("lamp", "bow lamp", current=1.3**0.55, rated=rated)) is None
    assert lost(rice, fault("lamp", "bow lamp", current=1.3**0.55 * 1.002, rated=rated)) is not None


def test_the_first_thing_that_harms_it_is_told_and_the_worst_counts(made):
    both = fault("load", "horn", reverse=0.6, volts=30.0)
    assert (lost(made, both) or ("",))[0] == "reversed"
    assert worst(made, both) == pytest.approx(2.0)
    assert worst(made, fault("load", "horn", reverse=0.3, volts=30.0)) == pytest.approx(2.0)
    assert list(compared(made, both)) == ["reversed", "too many volts"]
    assert worst(made, fault("load", "horn")) == 0.0
    assert harmed(fault("converter", "five")) == Subject("supply", "five")
    assert harmed(fault("short", "main")) == Subject("supply", "main")
    assert harmed(fault("board", "driver")) == Subject("board", "driver")


# -- plugs


def of_plug(made: Survey, check: str, *faults: PlugFault) -> Any:
    (one,) = judged(plugs, check, with_figures(made, plug_faults=faults))
    return one


def test_a_plug_that_can_be_turned_round(made):
    one, other = fault("lamp", "bow lamp", reverse=6.0, dice=1), fault("load", "horn", reverse=9.0)
    fact = of_plug(made, "plug.crossed", one, other, fault("lamp", "bow lamp", reverse=1.0, dice=1), fault("load", "horn", "part way", reverse=99.0))  # fmt: skip
    # thirty times its least hurts the horn most
    assert (fact.severity, fact.case, fact.path) == ("stop", "reversed", ("plug", 0, "keyed"))
    assert values(fact) == {"reverse": 9.0}
    assert fact.parts == {
        "harmed": Subject("load", "horn"),
        "lost": (Subject("load", "horn"), Subject("lamp", "bow lamp")),
    }
    assert fact.words == {"layout": "- + -"}


def test_a_diode_that_is_a_short_then(made):
    fact = of_plug(made, "plug.crossed", fault("load", "winch", reverse=9.0))
    assert (fact.case, values(fact)) == ("reversed diode", {"reverse": 9.0})
    fact = of_plug(made, "plug.part-way", fault("load", "winch", "part way", reverse=9.0, pin=1))
    assert (fact.case, values(fact)) == ("reversed", {"reverse": 9.0, "pin": 2.0})
    assert fact.parts["line"] == Subject("line", "main-")
    assert fact.path == ("plug", 0, "part_way")


@pytest.mark.parametrize(
    ("kind", "crossed", "part_way"),
    [
        ("short", "shorted", "nothing lost"),
        ("lamp", "nothing lost", "nothing lost"),
        ("unsolved", None, None),
        ("untried", None, None),
    ],
)
def test_a_plug_by_which_nothing_is_lost(made, kind, crossed, part_way):
    for check, how, case, severity in (
        ("plug.crossed", "crossed", crossed, "caution"),
        ("plug.part-way", "part way", part_way, "note"),
    ):
        one = of_plug(made, check, fault(kind, "main", how))
        if case is None:
            assert one.subject == "foot"
            assert ("keyed plug" in one.missing) is (kind == "untried")
        else:
            assert (one.case, one.severity) == (case, severity)
            assert one.parts == ({"shorted": (Subject("supply", "main"),)} if case == "shorted" else {})


def test_which_plugs_can_be_turned():
    pins = FOOT.replace("keyed = false\n", "{}\n")
    assert len(asked(plugs, "plug.crossed", survey(extra=pins.format("")))) == 1
    assert judged(plugs, "plug.crossed", survey(extra=pins.format("keyed = true"))) == []
    same = FOOT.replace('["lights", "main-"]', '["main-", "lights", "main-"]')
    assert judged(plugs, "plug.crossed", survey(extra=same)) == []


def test_bare_pins_on_the_side_of_the_supply():
    bare = FOOT + 'bare_pins = "supply"\n'
    both = bare.replace('["lights", "main-"]', '["lights", "main-", "spot"]')
    spot = (
        '[circuit.spot]\nsupply = "aft"\n[[run]]\nline = "spot"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    )
    for volts, name, level, case in (("24 V", "aft", 24.0, "no fuse"), ("5 V", "main", 12.0, "fused")):
        (fact,) = facts(plugs, "plug.bare-pins", survey(extra=both + AFT.format(volts) + spot))
        assert (fact.case, fact.severity, fact.path) == (case, "caution", ("plug", 0, "bare_pins"))
        assert values(fact) == {"voltage": level, **({"fuse": 0.5} if case == "fused" else {})}
        assert fact.parts == {"supply": Subject("supply", name)}


# -- another adaptor in the socket: 24 V on what is made for 12


def wrong(
    made: Survey, lamp: str | None = None, current: float = 0.0, rated: float = 0.02, *, untried: bool = False
) -> Survey:
    return with_figures(
        made, wrong_adaptor_faults=(WrongAdaptorFault("main", "aft", lamp, current, rated, untried),)
    )


PLAIN = survey(supply=adaptor() + '\nsocket = "5.5/2.1 mm"', extra=AFT.format("18 V"))


@pytest.mark.parametrize(
    ("current", "case", "shown"),
    [(0.025, "fits", {}), (0.0251, "over its rating", {"rated": 0.02, "current": 0.0251}), (9.0, "burns out", {"rated": 0.02})],
)  # fmt: skip
def test_the_other_adaptor(current, case, shown):
    (fact,) = facts(joined_supplies, "supply.wrong-adaptor", wrong(PLAIN, "bow lamp", current))
    assert (fact.case, fact.severity) == (case, "caution" if case == "fits" else "stop")
    assert values(fact) == {"higher": 18.0, "lower": 12.0, **shown}
    assert units(fact) == {"higher": "V", "lower": "V"} | dict.fromkeys(shown, "A")
    assert fact.path == ("supply", "main", "socket")
    assert fact.parts["other"] == Subject("supply", "aft")
    assert fact.parts["socket"] == Subject("socket", "5.5/2.1 mm")
    assert ("lamp" in fact.parts) is (case != "fits")
    assert (fact.limit is not None) is (case != "fits")
    if fact.limit is not None:
        assert fact.limit.value == pytest.approx(0.025)


@pytest.mark.parametrize(
    ("extra", "volts", "who"),
    [
        (BOARD, "14 V", None), (BOARD, "14.1 V", Subject("board", "driver")), (STRIP, "18 V", None), (STRIP, "18.1 V", Subject("strip", "bay")),
        (HORN, "14.9 V", None), (HORN, "15.1 V", Subject("load", "horn")), (BOARD.replace('most_volts = "14 V"', ""), "24 V", None), (DIODE, "24 V", None),
    ],
)  # fmt: skip
def test_what_does_not_withstand_it(extra, volts, who):
    made = survey(supply=adaptor() + '\nsocket = "5.5/2.1 mm"', extra=AFT.format(volts) + extra)
    (fact,) = facts(joined_supplies, "supply.wrong-adaptor", wrong(made))
    assert (fact.case, fact.severity) == (("fits", "caution") if who is None else ("lost", "stop"))
    assert fact.parts.get("lost") == (None if who is None else (who,))


def test_what_was_not_tried_is_said():
    assert len(asked(joined_supplies, "supply.wrong-adaptor", wrong(PLAIN, untried=True))) == 1
    assert facts(joined_supplies, "supply.wrong-adaptor", wrong(PLAIN, untried=True)) == []


# -- supplies that feed each other


def fed(made: Survey, **figures: Any) -> Survey:
    supplies = {
        name: one._replace(**dict(zip(("reverse", "nominal"), figures.get(name, (0.0, 0.0)), strict=True)))
        for name, one in made.electrics.supplies.items()
    }
    return with_figures(made, supplies=supplies, joined=figures.get("joined", ()))


TWO = survey(supply=adaptor(), extra=AFT.format("12 V") + '[circuit.deck]\nsupply = "aft"\n')


@pytest.mark.parametrize(("reverse", "found"), [(1e-4, False), (1.01e-4, True), (0.3, True)])
def test_a_supply_that_is_fed_backwards(reverse, found):
    got = facts(joined_supplies, "supply.backfeed", fed(TWO, main=(reverse, 0.0), aft=(0.0, 0.4)))
    assert [(fact.subject.name, fact.case, fact.severity) for fact in got] == [
        ("main", "regulated", "stop")
    ] * found
    for fact in got:
        assert values(fact) == {"reverse": reverse, "volts": pytest.approx(12.0)}
        assert fact.parts == {"others": (Subject("supply", "aft"),)}
    (alone,) = facts(joined_supplies, "supply.backfeed", fed(TWO, main=(0.3, 0.0), aft=(0.0, 0.0)))
    assert alone.parts == {}


def test_a_cell_that_is_fed_backwards():
    cells = survey(supply='kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8')
    (fact,) = facts(joined_supplies, "supply.backfeed", fed(cells, main=(0.3, 0.0)))
    assert fact.case == "cell"


def test_supplies_side_by_side():
    both = ("main", "aft")
    (fact,) = facts(joined_supplies, "supply.backfeed", fed(TWO, joined=(both,)))
    assert (fact.severity, fact.case, fact.subject, fact.parts) == (
        "caution",
        "side by side",
        Subject("supply", "main"),
        {"other": Subject("supply", "aft")},
    )
    for pushed in ("main", "aft"):
        got = facts(joined_supplies, "supply.backfeed", fed(TWO, joined=(both,), **{pushed: (0.3, 0.0)}))
        assert [fact.case for fact in got] == ["regulated"]


def test_supplies_joined_straight():
    one = with_figures(TWO, conflict=("main", "no such", "main"))
    (fact,) = facts(joined_supplies, "supply.conflict", one)
    assert (fact.case, fact.subject, fact.path, fact.parts) == (
        "shorted",
        Subject("supply", "main"),
        ("supply", "main"),
        {},
    )
    other = survey(supply=adaptor(), extra=AFT.format("5 V"))
    (fact,) = facts(joined_supplies, "supply.conflict", with_figures(other, conflict=("aft", "main")))
    assert (fact.case, fact.subject) == ("joined", Subject("supply", "aft"))
    assert values(fact) == {"aft": 5.0, "main": 12.0, "lowest": 5.0, "highest": 12.0}
    assert fact.parts == {"supplies": (Subject("supply", "aft"), Subject("supply", "main"))}
    assert judged(joined_supplies, "supply.conflict", with_figures(TWO, conflict=())) == []


def test_a_network_without_a_solution():
    failed = (("all on", "it oscillates."), ("all off", "so does it"))
    (fact,) = facts(joined_supplies, "network.unsolved", with_figures(TWO, failed=failed))
    assert (fact.words, values(fact), fact.because_of) == (
        {"state": "all on", "reason": "it oscillates"},
        {"more": 1.0},
        None,
    )
    (fact,) = facts(
        joined_supplies, "network.unsolved", with_figures(TWO, failed=failed[:1], conflict=("none", "aft"))
    )
    assert (values(fact), fact.because_of) == ({}, "supply.conflict:aft")
    assert "without any resistance" in fact.words["reason"]
    (question,) = asked(joined_supplies, "network.unsolved", with_figures(TWO, failed=failed))
    assert question.vital
    assert judged(joined_supplies, "network.unsolved", TWO) == []


def test_a_load_on_no_volts_gets_what_its_supply_gives(made):
    loads = {"horn": made.electrics.loads["horn"]._replace(volts=6.0)}
    # half of 20 V as it should be, or all of it where nobody knows; a tenth more counts, and the 15 V that it withstands
    for volts, well, lost_at in ((12.0, 15.0, 15.1), (0.0, 21.9, 22.1)):
        main = made.electrics.supplies["main"]._replace(volts=volts, highest_volts=20.0)
        one = with_figures(made, loads=loads, supplies={"main": main})
        assert not hurt(one, fault("load", "horn", volts=well))
        assert hurt(one, fault("load", "horn", volts=lost_at))


def test_a_lamp_on_lines_that_fight_is_dim_for_that():
    """Half way between 12 and 5 V are 8.5 V, and three white LEDs take 9.6 V; of 12 V 2.4 V are left: 13 mA by 180 ohm."""
    path = Path(__file__).parents[1] / "builds" / "faulty" / "supply-backfeed-leaves-lamp-dim.post.toml"
    text = path.read_text(encoding="utf-8")
    found = {one.id: one for one in postcheck.check(postcheck.loads(text)).files[0].findings}
    assert found["lamp.dim:masthead"].because_of == "supply.backfeed:aux"
    apart = postcheck.check(postcheck.loads(text[: text.index("[[join]]")])).files[0].findings
    assert [one.id for one in apart if one.severity in ("stop", "caution")] == []
