"""Whether conductors are long enough for their way, to a tenth of a millimetre. The post is 160 mm long."""

from __future__ import annotations

import pytest

from postcheck.checks import conductors
from postcheck.checks.fact import Fact
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import lamp, survey

from .facts import asked, facts, units, values

FEED, NEGATIVE = Subject("run", "feed"), Subject("run", "negative")
POST = 'bore = "5 mm"\nlength = "160 mm"\n'


def long(
    feed: float, negative: float | None = None, more: str = "", hull: str = 'access = "cover"', **parts: str
) -> Survey:
    """With runs so long, mm."""
    made = survey(post=POST + more, hull=hull, **parts)
    lengths = (feed, feed if negative is None else negative)
    runs = [
        run.model_copy(update={"length": mm / 1e3}) for run, mm in zip(made.build.run, lengths, strict=False)
    ]
    return Survey(made.build.model_copy(update={"run": (*runs, *made.build.run[2:])}))


@pytest.mark.parametrize(
    ("feed", "case", "shown"),
    [(160.1, None, 0), (160.0, "as long", 0.16), (159.99, "shorter", 0.1599), (159.9, "shorter", 0.1599)],
)
def test_a_conductor_that_does_not_come_out(feed, case, shown):
    got = facts(conductors, "passage.run-short", long(feed, 300.0))
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == pytest.approx({"length": shown, "way": 0.16, "enough": 0.19})
        assert set(units(fact).values()) == {"m"}
        assert (fact.severity, fact.subject, fact.path, fact.parts) == ("stop", FEED, ("run", 0), {"conductor": FEED})  # fmt: skip
        assert fact.limit is not None
        assert fact.limit.value == 0.16


def test_a_lead_is_its_lamps():
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "130 mm"\n'
    (fact,) = facts(conductors, "passage.run-short", survey(extra=arm, lamps=lamp()))
    assert (fact.subject, fact.path[:2]) == (Subject("lamp", "bow lamp"), ("lamp", 0))
    assert fact.parts == {"conductor": Subject("lead", "bow lamp")}
    assert values(fact)["length"] == 0.12
    horn = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "bow"\ntypical = "9 mA"\nlead = "120 mm to hull"\n'
    (fact,) = facts(conductors, "passage.run-short", survey(extra=arm + horn, lamps=""))
    assert (fact.subject, fact.path[:2]) == (Subject("lead", "horn"), ("load", 0))
    # and of two lamps each lead its own lamp's
    both = facts(
        conductors,
        "passage.run-short",
        survey(extra=arm, lamps=lamp() + lamp().replace("bow lamp", "second lamp")),
    )
    assert [fact.subject for fact in both] == [Subject("lamp", "bow lamp"), Subject("lamp", "second lamp")]


def test_through_two_passages_both_count():
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "50.06 mm"\nslack = "3 mm"\n'
    run = '[[run]]\nname = "through"\nline = "lights"\nends = ["base", "bow"]\nthrough = ["post", "arm"]\nlength = "205 mm"\n'
    got = facts(conductors, "passage.run-short", survey(extra=arm + run))
    (fact,) = [fact for fact in got if fact.subject.name == "through"]
    # 210.06 mm to a tenth up, its slack, and 15 mm at each end
    assert values(fact) == pytest.approx({"length": 0.205, "way": 0.2101, "enough": 0.2431})


# -- 15 mm at each end are left to end it anew (FAA AC 43.13-1B, 11-118; three times 5 mm is judgement)


@pytest.mark.parametrize(
    ("feed", "slack", "found", "left"), [(190.0, 0, False, 0), (189.9, 0, True, 0.0149), (192.0, 2, False, 0), (191.9, 2, True, 0.0149), (162.1, 2, True, 0.0)]
)  # fmt: skip
def test_a_run_that_cannot_be_ended_anew(feed, slack, found, left):
    got = facts(conductors, "run.no-spare", long(feed, 300.0, f'slack = "{slack} mm"' if slack else ""))
    assert [(fact.severity, fact.subject, fact.case) for fact in got] == [("caution", FEED, "")] * found
    for fact in got:
        assert values(fact) == pytest.approx({"length": feed / 1e3, "way": 0.16 + slack / 1e3, "left": left, "enough": 0.19 + slack / 1e3})  # fmt: skip
        assert set(units(fact).values()) == {"m"}
        assert fact.limit is not None
        assert (fact.limit.value, fact.parts, fact.path) == (0.015, {}, ("run", 0))


@pytest.mark.parametrize(("feed", "found"), [(210.0, False), (209.9, True)])
def test_a_cover_that_comes_out_takes_its_part(feed, found):
    got = facts(conductors, "run.no-spare", long(feed, 300.0, hull='access = "cover"\nopening = "20 mm"'))
    assert [(fact.subject, fact.case) for fact in got] == [(FEED, "cover")] * found
    for fact in got:
        assert values(fact) == pytest.approx({"length": feed / 1e3, "way": 0.16, "over": 0.0499, "opening": 0.02, "enough": 0.21})  # fmt: skip
        assert fact.parts == {"covers": (Subject("place", "hull"),)}
    # what is too short for its ends is told without
    (fact,) = facts(
        conductors, "run.no-spare", long(180.0, 300.0, hull='access = "cover"\nopening = "20 mm"')
    )
    assert fact.case == ""
    # a place that stands open has none
    assert facts(conductors, "run.no-spare", long(190.0, 300.0, hull='access = "open"')) == []


def test_how_long_a_run_is_has_to_be_said():
    spare = '[[run]]\nname = "reserve"\nspare = true\nends = ["base", "hull"]\n'
    (question,) = asked(conductors, "run.no-spare", survey(extra=spare))
    assert (question.subject, question.vital) == ("reserve", False)
    assert "out of the post" in question.what
    assert asked(conductors, "run.no-spare", survey(extra=spare + 'length = "300 mm"\n')) == []


# -- what a passage takes of a conductor: its length, slack, and the way to the first joint


@pytest.mark.parametrize(("feed", "found"), [(200.0, False), (199.9, True), (175.0, True)])
def test_lengths_that_contradict_each_other(feed, found):
    # 160 mm, 10 of slack and 30 to the joint
    made = long(feed, 300.0, 'turn = "45 deg"\nstop = true\nslack = "10 mm"\nto_joint = "30 mm"')
    got = facts(conductors, "passage.lengths", made)
    assert [fact.severity for fact in got] == ["stop"] * found
    for fact in got:
        shown = values(fact)
        assert shown["length"] == pytest.approx(feed / 1e3)
        assert shown["taken"] == pytest.approx(0.2)
        assert shown["short"] == pytest.approx(0.2 - feed / 1e3)
        assert (shown["slack_taken"], shown["to_joint_taken"]) == (pytest.approx(0.01), pytest.approx(0.03))
        # of the larger what is then left of it, 160 and 10 taken
        assert shown["to_joint_left"] == pytest.approx(feed / 1e3 - 0.17)
        assert shown["enough"] == pytest.approx(0.2)
        assert "others" not in shown
        assert (fact.path, fact.parts, fact.reason) == (("post", "to_joint"), {"conductor": FEED}, "turns")


def test_what_one_of_its_passages_takes_too_much_of_has_nothing_to_spare():
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "50 mm"\n{}'
    run = '[[run]]\nname = "through"\nline = "lights"\nends = ["base", "bow"]\nthrough = ["post", "arm"]\nlength = "212 mm"\n'

    def spare(more: str) -> list[Fact]:
        made = survey(extra=arm.format(more) + run)
        return [fact for fact in facts(conductors, "run.no-spare", made) if fact.subject.name == "through"]

    # 2 mm over, one at each end; but where its arm has 220 mm of it, that is told
    (fact,) = spare("")
    assert values(fact) == pytest.approx({"length": 0.212, "way": 0.21, "left": 0.001, "enough": 0.24})
    assert spare('free = "220 mm"\n') == []


def test_the_shortest_is_told_and_the_others_counted():
    more = 'slack = "70 mm"'
    (fact,) = facts(conductors, "passage.lengths", long(210.0, 205.0, more))
    shown = values(fact)
    assert (fact.parts, fact.path, fact.reason) == ({"conductor": NEGATIVE}, ("post", "slack"), "still")
    assert (shown["length"], shown["others"]) == (pytest.approx(0.205), 1.0)
    # of 205 mm 45 are over, and 30 are for its ends; with both 260 are enough: 160, 70 and 30
    assert shown["slack_left"] == pytest.approx(0.015)
    assert shown["enough"] == pytest.approx(0.26)
    # nothing is left once its ends have theirs
    (fact,) = facts(conductors, "passage.lengths", long(190.0, 300.0, more))
    assert "slack_left" not in values(fact)


# -- a lone run of a line that a hand pulls apart: soft copper of 220 N/mm2 at least


@pytest.mark.parametrize(("wire", "found"), [("enamel-0.16", True), ("enamel-0.18", False)])
def test_a_run_that_a_hand_breaks(wire, found):
    bow = f'[[run]]\nname = "fine"\nline = "lights"\nends = ["hull", "bow"]\nlength = "90 mm"\nwire = "{wire}"\n'
    got = [fact for fact in facts(conductors, "run.weak", survey(extra=bow)) if fact.subject.name == "fine"]
    assert len(got) == found
    for fact in got:
        # 0.0201 mm2
        assert 3.8 < values(fact)["breaks"] < 5.0
        assert units(fact) == {"breaks": "N"}
        assert (fact.severity, fact.path, fact.words) == ("note", ("run", 2, "wire"), {"wire": wire})
        assert fact.parts == {"ends": (Subject("place", "hull"), Subject("place", "bow"))}
    # two side by side hold twice as much; what is in reserve, or carries no power, is none of the network
    for more in ("conductors = 2", 'carries = "data"'):
        made = survey(extra=f"{bow}{more}\n")
        assert "fine" not in {fact.subject.name for fact in facts(conductors, "run.weak", made)}
    spare = survey(extra=bow.replace('line = "lights"', "spare = true"))
    assert "fine" not in {fact.subject.name for fact in facts(conductors, "run.weak", spare)}
