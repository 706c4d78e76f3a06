"""Lamps and resistors with too much, on both sides of each limit, with figures of our own.

The lamp here is rated 20 mA and takes 3.2 V; ten times its current is far beyond what destroys it.
"""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import brightness, chips, lamps, resistors, strings
from postcheck.checks.fact import Within
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import ParallelStringFault
from tests.survey.small import survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

BOW = Subject("lamp", "bow lamp")


def made(
    resistor: str | None = "470 ohm 1/4 W", circuit: str = "", kind: str = "own", **more: object
) -> Survey:
    return survey(lamps=string(kind, resistor=resistor, **more), extra=own_kind(), circuit=circuit)


def lit(build: Survey, **figures: Any) -> Survey:
    return with_figures(build, lamps={"bow lamp": build.electrics.lamps["bow lamp"]._replace(**figures)})


def gets(build: Survey, nominal: float, likely: float, highest: float, **more: Any) -> Survey:
    return lit(build, nominal=nominal, likely_highest=likely, highest=highest, **more)


# -- its rating with typical parts; a quarter more as likely; half as much again stacked


@pytest.mark.parametrize(
    ("nominal", "likely", "highest", "severity", "case", "limit"),
    [
        (0.02, 0.025, 0.03, None, None, 0), (0.0201, 0.025, 0.03, "caution", "typical", 0.02), (0.02, 0.0251, 0.03, "stop", "likely", 0.025),
        (0.02, 0.025, 0.0301, "caution", "stacked", 0.03), (0.0201, 0.0251, 0.0301, "stop", "likely", 0.025),
        # to a millionth
        (0.02 * (1 + 0.9e-6), 0.025, 0.03, None, None, 0), (0.02 * (1 + 1.1e-6), 0.025, 0.03, "caution", "typical", 0.02),
    ],
)  # fmt: skip
def test_a_lamp_over_its_rating(nominal, likely, highest, severity, case, limit):
    got = facts(lamps, "lamp.over-rating", gets(made(), nominal, likely, highest))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {
            "rated": 0.02,
            "nominal": nominal,
            "likely_highest": likely,
            "highest": highest,
        }
        assert set(units(fact).values()) == {"A"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.subject, fact.path, fact.reason, fact.because_of, fact.firm) == (BOW, ("lamp", 0), "die", None, "")  # fmt: skip


def test_beyond_what_destroys_it_no_current_means_anything():
    # five times its rating
    (fact,) = facts(lamps, "lamp.over-rating", gets(made(), 0.101, 0.11, 0.12))
    assert (fact.case, values(fact), bool(fact.firm)) == ("burns out", {"rated": 0.02}, True)
    (fact,) = facts(lamps, "lamp.over-rating", gets(made(), 0.099, 0.11, 0.12))
    assert (fact.case, bool(fact.firm)) == ("likely", False)


@pytest.mark.parametrize(
    ("rated", "outside", "nominal", "severity", "case", "shown", "because"),
    [
        # as far over in the room's air: then that is what is told
        (0.018, 0.02, 0.0201, "caution", "typical", (0.02, None), None), (0.018, 0.02, 0.0185, "caution", "typical", (0.018, 70.0), "place.too-hot:bow"),
        # two per cent less are not worth a word
        (0.0197, 0.02, 0.0199, "caution", "typical", (0.0197, None), "place.too-hot:bow"), (0.0195, 0.02, 0.0199, "caution", "typical", (0.0195, 70.0), "place.too-hot:bow"),
    ],
)  # fmt: skip
def test_a_rating_that_heat_has_lowered(rated, outside, nominal, severity, case, shown, because):
    build = gets(made(), nominal, nominal, nominal, rated=rated, rated_outside=outside, hottest=70.0)
    (fact,) = facts(lamps, "lamp.over-rating", build)
    assert (fact.severity, fact.case, fact.because_of) == (severity, case, because)
    assert (values(fact)["rated"], values(fact).get("air")) == shown


def test_what_its_place_leaves_nothing_of():
    build = gets(made(), 0.01, 0.01, 0.01, rated=1e-6, rated_outside=0.02, hottest=150.0)
    (fact,) = facts(lamps, "lamp.over-rating", build)
    assert (fact.case, fact.limit, fact.parts) == ("cooked", None, {"place": Subject("place", "bow")})
    assert fact.because_of == "place.too-hot:bow"


# -- filaments by their volts: V ~ I ** (1 / 0.55); a tenth more a caution at worst, 30 % a stop as likely


@pytest.mark.parametrize(
    ("likely", "highest", "severity", "case"),
    [
        (1.0, 1.1, None, None),
        (1.0, 1.101, "caution", "filament caution"),
        (1.3, 1.0, None, None),
        (1.301, 1.4, "stop", "filament stop"),
    ],
)
def test_a_filament_on_more_volts(likely, highest, severity, case):
    rice = made(None, kind="rice-12v")
    rated = rice.electrics.lamps["bow lamp"].rated
    got = facts(lamps, "lamp.over-rating", gets(rice, rated, rated * likely**0.55, rated * highest**0.55))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        over = likely if severity == "stop" else highest
        assert values(fact)["share"] == pytest.approx(over)
        assert values(fact)["volts"] == pytest.approx(12.0 * over)
        assert (values(fact)["rated_volts"], fact.reason) == (12.0, "filament")
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(12.0 * (1.3 if severity == "stop" else 1.1))
        assert {units(fact)[name] for name in ("volts", "rated_volts", "share")} == {"V", "share"}


def test_what_flows_backwards_through_a_bulb_is_no_current_of_it():
    rice = made(None, kind="rice-12v")
    rated = rice.electrics.lamps["bow lamp"].rated
    likely, highest = judged(lamps, "lamp.over-rating", gets(rice, rated, -rated, -0.5 * rated))
    assert isinstance(likely, Within)
    assert isinstance(highest, Within)
    assert (likely.value, highest.value) == (0.0, 0.0)


def test_strings_of_one_bag_behind_one_resistor_move_together():
    build = gets(made(parallel=3, one_resistor="true", matched="true"), 0.02, 0.09, 0.09, shares=())
    assert facts(lamps, "lamp.over-rating", build) == []
    (fact,) = facts(lamps, "lamp.over-rating", gets(made(parallel=3, one_resistor="true", matched="true"), 0.0251, 0.0, 0.0, shares=()))  # fmt: skip
    assert (fact.severity, fact.case) == ("stop", "typical")


# -- strings behind one resistor: a quarter more than their fair part


@pytest.mark.parametrize(
    ("shares", "severity", "limit"),
    [
        # 30 mA in three: 10 each, and a quarter more
        ((0.0125, 0.00875, 0.00875), None, 0), ((0.0126, 0.0087, 0.0087), "caution", 0.0125), ((0.0251, 0.0249, 0.0249), "stop", 0.025), ((0.025, 0.025, 0.025), None, 0),
        ((), None, 0),
    ],
)  # fmt: skip
def test_strings_that_share_one_resistor(shares, severity, limit):
    build = lit(made(parallel=3, one_resistor="true"), shares=shares)
    got = facts(strings, "lamp.shared-resistor", build)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "unequal")] if severity else [])
    for fact in got:
        assert values(fact) == {"strings": 3.0, "greatest": shares[0], "least": shares[-1], "rated": 0.02}
        assert units(fact) == {"strings": "", "greatest": "A", "least": "A", "rated": "A"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.path, fact.firm) == (("lamp", 0, "resistor"), "")
    (burns,) = facts(strings, "lamp.shared-resistor", lit(build, shares=(0.2, 0.0, 0.0)))
    assert burns.firm


@pytest.mark.parametrize(("current", "found"), [(0.02, False), (0.0201, True)])
def test_what_the_others_get_once_one_is_dark(current, found):
    build = lit(made(parallel=3, one_resistor="true"), shares=(), nominal=0.009)
    fault = ParallelStringFault("lights", "open", "bow lamp", "bow lamp", current, 0.02)
    got = facts(strings, "lamp.shared-resistor", with_figures(build, parallel_string_faults=(fault,)))
    assert [fact.case for fact in got] == ["one dark"] * found
    for fact in got:
        assert values(fact) == {"strings": 3.0, "left": current, "nominal": 0.009, "rated": 0.02}
        assert (fact.severity, fact.because_of) == ("caution", "lamp.over-rating:bow lamp")
    other = fault._replace(other="stern lamp")
    assert facts(strings, "lamp.shared-resistor", with_figures(build, parallel_string_faults=(other,))) == []


@pytest.mark.parametrize(
    ("parallel", "other", "case"),
    [(3, "bow lamp", "of its own"), (2, "bow lamp", "the other"), (2, "stern lamp", "of another lamp")],
)
def test_strings_on_one_constant_current_output(parallel, other, case):
    build = made(None, 'output = "60 mA constant, compliance 2 V"', parallel=parallel)
    some = [ParallelStringFault("lights", how, "bow lamp", other, amps, 0.02) for how, amps in (("open", 0.02), ("short", 9.0), ("open", 0.03), ("open", 0.025))]  # fmt: skip
    (fact,) = facts(strings, "lamp.sibling-open", with_figures(build, parallel_string_faults=tuple(some)))
    assert (fact.severity, fact.case, fact.path) == ("caution", case, ("circuit", "lights"))
    assert values(fact) == {
        "left": 0.03,
        "steady": pytest.approx(0.06),
        "rated": 0.02,
        "strings": float(parallel),
    }
    assert fact.parts == {"failed": BOW, "other": Subject("lamp", other)}
    assert (
        facts(strings, "lamp.sibling-open", with_figures(build, parallel_string_faults=tuple(some[:2]))) == []
    )
    plain = with_figures(made(), parallel_string_faults=tuple(some))
    assert judged(strings, "lamp.sibling-open", plain) == []


# -- the wrong way round: 5 V of its sheet, to a thousandth, and what the supply can give above its volts


@pytest.mark.parametrize(("volts", "severity"), [(5.0, "caution"), (5.004, "caution"), (5.01, "stop")])
@pytest.mark.parametrize("series", [1, 3])
def test_a_lamp_that_is_wired_backwards(volts, severity, series):
    build = lit(made(backwards="true", series=series), joint_volts=volts / 1.05)
    (fact,) = facts(brightness, "lamp.backwards", build)
    assert fact.severity == severity
    assert fact.reason == ("beyond" if severity == "stop" else "within")
    assert values(fact) == {
        "reverse": pytest.approx(volts),
        "rated": 5.0,
        **({"dice": 3.0} if series > 1 else {}),
    }
    assert fact.path == ("lamp", 0, "backwards")
    assert facts(brightness, "lamp.backwards", made()) == []


# -- resistors: four fifths of their power a caution, all of it a stop; flashing less


@pytest.mark.parametrize(
    ("likely", "share", "severity", "case", "limit"),
    [
        (0.2, 1.0, None, None, 0), (0.201, 1.0, "caution", "over", 0.2), (0.25, 1.0, "caution", "over", 0.2), (0.251, 1.0, "stop", "over", 0.25),
        (0.3, 0.5, "stop", "steadily", 0.25), (0.21, 0.5, "caution", "steadily", 0.2), (0.6, 0.5, "stop", "over", 0.25),
    ],
)  # fmt: skip
def test_a_resistor_that_gets_too_hot(likely, share, severity, case, limit):
    build = lit(
        made(),
        resistor_likely=likely,
        resistor_fraction=share,
        resistor_nominal=0.123,
        resistor_highest=0.456,
    )
    got = facts(resistors, "resistor.overloaded", build)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        told = likely * share if case == "over" else likely
        assert values(fact) == {
            "nominal": 0.123, "likely": told, "highest": pytest.approx(build.electrics.lamps["bow lamp"].resistor_load), "share": pytest.approx(told / 0.25), "rated": 0.25,
        }  # fmt: skip
        assert units(fact) == {"nominal": "W", "likely": "W", "highest": "W", "share": "share", "rated": "W"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.path, fact.because_of) == (("lamp", 0, "resistor"), "lamp.over-rating:bow lamp")
        assert fact.parts == ({"circuit": Subject("circuit", "lights")} if case == "steadily" else {})
    assert judged(resistors, "resistor.overloaded", lit(build, highest=0.0)) == []
    assert judged(resistors, "resistor.overloaded", lit(made(backwards="true"), resistor_likely=9.0)) == []


@pytest.mark.parametrize(
    ("highest", "asks", "vital"), [(0.05, 0, None), (0.0501, 1, False), (0.125, 1, False), (0.1251, 1, True)]
)
def test_a_resistor_of_which_nobody_says_the_power(highest, asks, vital):
    build = lit(made("470 ohm"), resistor_highest=highest)
    questions = asked(resistors, "resistor.overloaded", build)
    assert [question.vital for question in questions] == [vital] * asks
    for question in questions:
        assert 'resistor = "470 ohm 1/4 W"' in question.missing


@pytest.mark.parametrize(
    ("likely", "severity", "ohms"),
    [(0.3, None, 0), (0.301, "caution", 400.0), (0.376, "stop", 400.0), (0.45, "stop", 400.0)],
)
def test_of_several_the_one_that_is_nearest_to_its_rating(likely, severity, ohms):
    # 600 ohm in all: two thirds on 400 ohm of 1/4 W, a third on 200 of 1/4 W
    build = lit(made("200 ohm 1/4 W + 400 ohm 1/4 W"), resistor_likely=likely, resistor_fraction=1.0)
    got = facts(resistors, "resistor.overloaded", build)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "one over")] if severity else [])
    for fact in got:
        load = build.electrics.lamps["bow lamp"].resistor_load
        assert values(fact) == {
            "ohms": ohms, "likely": pytest.approx(likely * 2 / 3), "rated": 0.25, "share": pytest.approx(likely * 2 / 3 / 0.25), "highest": pytest.approx(load * 2 / 3),
        }  # fmt: skip
        assert units(fact) == {"ohms": "ohm", "likely": "W", "rated": "W", "share": "share", "highest": "W"}


def test_of_several_with_a_power_that_nobody_says():
    build = lit(made("200 ohm + 400 ohm 1/4 W"), resistor_highest=0.3, resistor_likely=0.1)
    load = build.electrics.lamps["bow lamp"].resistor_load
    (question,) = asked(resistors, "resistor.overloaded", build)
    assert question.vital is (load / 3 > 0.125)
    assert 'resistor = "200 ohm 1/4 W + 400 ohm 1/4 W"' in question.missing


@pytest.mark.parametrize(
    ("volts", "highest", "reverse"), [(0.0, 1.0, 3.0), (0.5, 1.0, 6.0), (10.0, 20.0, 6.0)]
)
def test_how_far_a_supply_rises(volts, highest, reverse):
    build = lit(made(backwards="true"), joint_volts=3.0)
    main = build.electrics.supplies["main"]._replace(volts=volts, highest_volts=highest)
    (fact,) = facts(brightness, "lamp.backwards", with_figures(build, supplies={"main": main}))
    assert values(fact)["reverse"] == pytest.approx(reverse)
    (fact,) = facts(brightness, "lamp.backwards", with_figures(build, supplies={}))
    assert values(fact)["reverse"] == pytest.approx(3.0)


# -- a chip works on 3 to 9 V: more than that a stop at the most of the supply, less a caution


@pytest.mark.parametrize(
    ("die", "severity", "case", "gets"),
    [
        (8.57, None, None, 0),
        (8.58, "stop", "too many", 8.58 * 1.05),
        (3.0, None, None, 0),
        (2.99, "caution", "too few", 2.99),
    ],
)
def test_the_volts_that_a_chip_works_on(die, severity, case, gets):
    kind = own_kind() + 'flashes = "1 Hz"\nworks = "3..9 V"\n'
    build = survey(lamps=string("own"), extra=kind)
    got = facts(chips, "lamp.chip", lit(build, string_volts=die))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == pytest.approx({"gets": gets})
        assert fact.limit is not None
        assert fact.limit.value == (9.0 if case == "too many" else 3.0)
        assert fact.because_of == ("lamp.over-rating:bow lamp" if case == "too many" else None)
    unsaid = survey(lamps=string("own"), extra=own_kind() + 'flashes = "1 Hz"\n')
    assert len(asked(chips, "lamp.chip", unsaid)) == 1
    assert judged(chips, "lamp.chip", made()) == []


# -- and begins anew whenever its circuit comes on: at one flash a second that has to last two of them


@pytest.mark.parametrize(
    ("circuit", "on", "found"),
    [
        ("", None, False),
        ('behaviour = "flash"\nrate = "0.1 Hz"\non_share = "20 %"', 2.0, False),
        ('behaviour = "flash"\nrate = "0.1 Hz"\non_share = "19 %"', 1.9, True),
        ('behaviour = "flash"\nrate = "0.25 Hz"', 2.0, False),
        ('behaviour = "flash"\nrate = "0.3 Hz"', 0.5 / 0.3, True),
        ('behaviour = "dim"\nfrequency = "2 kHz"\non_share = "20 %"', 1e-4, True),
        ('behaviour = "dim"\nfrequency = "2 kHz"\non_share = "100 %"', None, False),
        ('behaviour = "dim"', None, True),
        ('behaviour = "fade"\nrate = "0.01 Hz"\nfrequency = "2 kHz"', None, True),
    ],
)
def test_the_time_that_a_chip_has_to_flash(circuit, on, found):
    kind = own_kind() + 'flashes = "1 Hz"\nworks = "3..9 V"\n'
    build = survey(lamps=string("own"), extra=kind, circuit=circuit)
    got = facts(chips, "lamp.chip-restarts", build)
    assert [fact.severity for fact in got] == (["caution"] if found else [])
    if found and on is not None:
        assert values(got[0]) == pytest.approx({"on": on, "period": 1.0})
        assert got[0].limit is not None
        assert got[0].limit.value == 2.0
    plain = survey(lamps=string("own"), extra=own_kind(), circuit=circuit)
    assert judged(chips, "lamp.chip-restarts", plain) == []


def test_a_chip_on_a_flasher_of_which_nobody_says_how_often():
    kind = own_kind() + 'flashes = "1 Hz"\nworks = "3..9 V"\n'
    build = survey(lamps=string("own"), extra=kind, circuit='behaviour = "flash"')
    assert facts(chips, "lamp.chip-restarts", build) == []
    assert len(asked(chips, "lamp.chip-restarts", build)) == 1
