"""Trimmers turned down, and currents that are wanted: on both sides of each limit, with currents of our own. Rated 20 mA."""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest

from postcheck.checks import resistors, trimmers, unlike
from postcheck.checks.fact import Fact, Within
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

BOW = Subject("lamp", "bow lamp")
SET, OPEN = "470 ohm 1/4 W + trimmer 1k set to 300 ohm", "470 ohm 1/4 W + trimmer 1k"


def made(resistor: str = SET, **more: object) -> Survey:
    return survey(lamps=string("own", resistor=resistor, **more), extra=own_kind())


def lit(build: Survey, **figures: Any) -> Survey:
    return with_figures(build, lamps={"bow lamp": build.electrics.lamps["bow lamp"]._replace(**figures)})


# -- turned down: of one that is set a caution, its tolerances in proportion; of one that nobody set as any lamp


@pytest.mark.parametrize(
    ("zero", "likely", "highest", "severity", "limit"),
    [
        # set: twice as much as now, so 12 and 15 mA become 24 and 30
        (0.02, 0.0125, 0.015, None, 0), (0.0201, 0.012, 0.014, "caution", 0.02), (0.02, 0.01251, 0.015, "caution", 0.025), (0.02, 0.0125, 0.01501, "caution", 0.03),
        (0.101, 0.01, 0.01, "stop", 0.025),
    ],
)  # fmt: skip
def test_a_trimmer_that_is_set_and_slips(zero, likely, highest, severity, limit):
    build = lit(made(), nominal=0.01, likely_highest=likely, highest=highest, turned=(zero, 0.005))
    got = facts(trimmers, "trimmer.turned-down", build)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        gone = severity == "stop"
        up = zero / 0.01
        shown = {} if gone else {"now": 0.01, "nominal": zero, "highest": pytest.approx(highest * up)}
        assert values(fact) == {"trimmer": 1000.0, "rated": 0.02, **shown}
        assert units(fact) == {"trimmer": "ohm", "rated": "A"} | dict.fromkeys(shown, "A")
        assert (fact.case, fact.path) == ("destroys" if gone else "too much", ("lamp", 0, "resistor"))
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)


@pytest.mark.parametrize(
    ("nominal", "likely", "severity"),
    [(0.02, 0.025, None), (0.0201, 0.025, "caution"), (0.02, 0.0251, "stop"), (0.101, 0.101, "stop")],
)
def test_a_trimmer_that_nobody_set(nominal, likely, severity):
    build = lit(made(OPEN), nominal=nominal, likely_highest=likely, highest=nominal, turned=(9.0, 0.001))
    got = facts(trimmers, "trimmer.turned-down", build)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert "now" not in values(fact)
        assert (fact.case == "destroys") is (nominal > 0.1)


def test_what_has_no_trimmer_or_is_backwards():
    assert judged(trimmers, "trimmer.turned-down", made("470 ohm 1/4 W")) == []
    assert (
        judged(trimmers, "trimmer.turned-down", lit(made(backwards="true"), nominal=9.0, turned=(9.0, 0.0)))
        == []
    )
    dark = lit(made(), nominal=0.0, likely_highest=0.0, highest=0.0, turned=(9.0, 0.0))
    assert facts(trimmers, "trimmer.turned-down", dark) == []


@pytest.mark.parametrize(
    ("resistor", "access", "found"),
    [
        (f"{OPEN} at hull", "sealed", True),
        (f"{SET} at hull", "sealed", False),
        (f"{OPEN} at hull", "cover", False),
        (OPEN, "sealed", False),
    ],
)
def test_a_trimmer_that_nobody_will_reach(resistor, access, found):
    build = survey(lamps=string("own", resistor=resistor), extra=own_kind(), hull=f'access = "{access}"')
    got = facts(trimmers, "trimmer.sealed", build)
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.parts, values(fact)) == ("caution", {"place": Subject("place", "hull")}, {"trimmer": 1000.0})  # fmt: skip


# -- its track: all of its power over all of its track is the current that any part of it bears: 0.1 W on 1k are 10 mA


@pytest.mark.parametrize(
    ("likely", "highest", "severity", "case", "current"),
    [
        (0.005, 0.005, None, None, 0),
        (0.00501, 0.005, "stop", "likely", 0.01002),
        (0.004, 0.00501, "caution", "stacked", 0.01002),
    ],
)
def test_what_a_track_bears(likely, highest, severity, case, current):
    # turned to zero twice the current flows
    build = lit(made("470 ohm 1/4 W + trimmer 1k 1/10 W set to 300 ohm"), nominal=0.004, likely_highest=likely, highest=highest, turned=(0.008, 0.002))  # fmt: skip
    got = facts(resistors, "trimmer.overloaded", build)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == pytest.approx(
            {"current": current, "rated": 0.1, "track": 1000.0, "highest": (2.0 * highest) ** 2 * 1000.0}
        )
        assert units(fact) == {"current": "A", "rated": "W", "track": "ohm", "highest": "W"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(sqrt(0.1 / 1000.0))
        assert fact.because_of == "trimmer.turned-down:bow lamp"
    # as it is, where zero gives less; one that destroys the lamp is told as that
    down = lit(build, turned=(0.003, 0.002), likely_highest=0.0101, highest=0.0101)
    assert [values(fact)["current"] for fact in facts(resistors, "trimmer.overloaded", down)] == [
        pytest.approx(0.0101)
    ]
    assert judged(resistors, "trimmer.overloaded", lit(build, turned=(0.2, 0.002))) == []
    assert judged(resistors, "trimmer.overloaded", lit(build, nominal=0.0)) == []


def test_strings_behind_one_trimmer_add_up():
    shared = made("470 ohm 1/4 W + trimmer 1k 1/10 W set to 300 ohm", parallel=3, one_resistor="true")
    figures = {"nominal": 0.002, "turned": (0.002, 0.001), "highest": 0.003}
    assert facts(resistors, "trimmer.overloaded", lit(shared, likely_highest=0.0033, **figures)) == []
    (fact,) = facts(resistors, "trimmer.overloaded", lit(shared, likely_highest=0.0034, **figures))
    assert values(fact)["current"] == pytest.approx(0.0102)


@pytest.mark.parametrize(
    ("highest", "asks", "vital"),
    [(0.00707, 0, None), (0.00708, 1, False), (0.01118, 1, False), (0.01119, 1, True)],
)
def test_a_track_of_which_nobody_says_the_power(highest, asks, vital):
    # 50 mW and 125 mW in 1k
    build = lit(made(), nominal=0.004, likely_highest=0.004, highest=highest, turned=(0.004, 0.002))
    questions = asked(resistors, "trimmer.overloaded", build)
    assert [question.vital for question in questions] == [vital] * asks
    for question in questions:
        assert "trimmer 1 kohm 1/2 W set 300 ohm" in question.missing


def test_values_that_are_not_sold():
    two = string("own", resistor="333 ohm 1/4 W") + string(
        "own", resistor="333 ohm 1/4 W + 470 ohm 1/4 W"
    ).replace("bow lamp", "other")
    (fact,) = facts(resistors, "resistor.not-in-series", survey(lamps=two, extra=own_kind()))
    assert (fact.severity, fact.subject, values(fact)) == ("note", BOW, {"ohms": 333.0})
    assert fact.parts == {"lamps": (BOW, Subject("lamp", "other"))}
    assert fact.path == ("lamp", 0, "resistor")
    for sold in ("330 ohm 1/4 W", "442 ohm 1/4 W", "trimmer 333 ohm set to 100 ohm"):
        assert facts(resistors, "resistor.not-in-series", made(sold)) == []


# -- wanted: within a quarter of one value; in a range


@pytest.mark.parametrize(
    ("nominal", "case", "away"),
    [(0.01, None, 0), (0.006, None, 0), (0.0101, "more", 0.2625), (0.0059, "less", 0.2625)],
)
def test_a_current_that_is_wanted(nominal, case, away):
    build = lit(made("470 ohm 1/4 W", wanted='"8 mA"'), nominal=nominal)
    got = facts(unlike, "lamp.not-as-wanted", build)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {
            "nominal": nominal,
            "wanted": pytest.approx(0.008),
            "difference": pytest.approx(away),
        }
        assert units(fact) == {"nominal": "A", "wanted": "A", "difference": "share"}
        assert (fact.severity, fact.words) == ("caution", {})
        assert fact.because_of == ("lamp.over-rating:bow lamp" if case == "more" else "line.drop:lights")
    assert judged(unlike, "lamp.not-as-wanted", made("470 ohm 1/4 W")) == []


@pytest.mark.parametrize(
    ("nominal", "case", "limit"),
    [(0.006, None, 0), (0.009, None, 0), (0.00599, "below", 0.006), (0.00901, "above", 0.009)],
)
def test_a_range_that_is_wanted(nominal, case, limit):
    build = lit(made("470 ohm 1/4 W", wanted='"6..9 mA"'), nominal=nominal)
    got = facts(unlike, "lamp.not-as-wanted", build)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {"nominal": nominal}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert fact.because_of == ("lamp.over-rating:bow lamp" if case == "above" else "line.drop:lights")


@pytest.mark.parametrize(
    ("zero", "whole", "case", "gets", "turned"),
    [(0.02, 0.002, None, 0, None), (0.0059, 0.002, "less", 0.0059, "zero"), (0.006, 0.002, None, 0, None), (0.02, 0.0101, "more", 0.0101, "its whole track"), (0.02, 0.0099, None, 0, None)],
)  # fmt: skip
def test_a_trimmer_that_reaches_what_is_wanted(zero, whole, case, gets, turned):
    build = lit(made(OPEN, wanted='"8 mA"'), nominal=zero, turned=(zero, whole))
    got = facts(unlike, "lamp.not-as-wanted", build)
    assert [(fact.case, values(fact)["nominal"], fact.words) for fact in got] == (
        [(case, gets, {"turned": turned})] if case else []
    )
    # set, it is as it is set
    kept = lit(made(wanted='"8 mA"'), nominal=0.02, turned=(0.02, 0.002))
    assert [fact.case for fact in facts(unlike, "lamp.not-as-wanted", kept)] == ["more"]


@pytest.mark.parametrize(
    ("zero", "whole", "gets", "case"),
    [
        # in the range as near as it can be to what it is now, at zero
        (0.02, 0.002, 0.009, None), (0.02, 0.01, 0.01, "above"), (0.008, 0.002, 0.008, None), (0.005, 0.002, 0.005, "below"),
    ],
)  # fmt: skip
def test_a_trimmer_that_reaches_a_range(zero, whole, gets, case):
    build = lit(made(OPEN, wanted='"6..9 mA"'), nominal=zero, turned=(zero, whole))
    found = judged(unlike, "lamp.not-as-wanted", build)
    assert [one.value for one in found if isinstance(one, Within)] == pytest.approx([gets, gets])
    assert [one.case for one in found if isinstance(one, Fact)] == ([case] if case else [])


# -- whites of several kinds behind equal resistors: a quarter more


@pytest.mark.parametrize(("other", "found"), [(0.0125, False), (0.0126, True)])
def test_whites_of_several_kinds(other, found):
    kinds = "".join(
        own_kind(forward=forward).replace("own", name) + 'colour = "white"\n'
        for name, forward in (("one", "3.2 V"), ("two", "2.9 V"))
    )
    lamps = "".join(
        string(kind, "470 ohm 1/4 W").replace("bow lamp", f"lamp {kind}") for kind in ("one", "two")
    )
    build = survey(lamps=lamps, extra=kinds)

    def lit_both(first: float, second: float) -> Survey:
        each = {
            name: lamp._replace(nominal=current)
            for (name, lamp), current in zip(build.electrics.lamps.items(), (first, second), strict=True)
        }
        return with_figures(build, lamps=each)

    got = [fact for fact in facts(unlike, "lamp.unequal", lit_both(0.01, other)) if fact.case == "whites"]
    assert len(got) == found
    for fact in got:
        assert values(fact) == {
            "nominal": 0.01,
            "usual": other,
            "difference": pytest.approx(other / 0.01 - 1.0),
        }
        assert (fact.severity, fact.subject.name, fact.parts["other"]) == (
            "caution",
            "lamp one",
            Subject("lamp", "lamp two"),
        )
        assert fact.words == {"white": "white"}
    # one that is as good as off is none of them
    for dark, count in ((0.0001, 0), (0.000101, 1)):
        assert (
            len(
                [
                    fact
                    for fact in facts(unlike, "lamp.unequal", lit_both(dark, 0.01))
                    if fact.case == "whites"
                ]
            )
            == count
        )
