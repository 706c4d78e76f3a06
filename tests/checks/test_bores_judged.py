"""How full and how tight a bore is, and what colours say, on both sides of each limit. The bore is 5 mm."""

from __future__ import annotations

from math import hypot

import pytest

from postcheck.checks import colours, passages
from postcheck.physics import bundle
from postcheck.report import NotJudged, Subject
from postcheck.survey import Survey
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values, with_passage

POST = Subject("passage", "post")
FEED = Subject("run", "feed")


def post(more: str = "", length: str = "160 mm", **parts: str) -> Survey:
    return survey(post=f'bore = "5 mm"\nlength = "{length}"\n{more}', **parts)


@pytest.fixture(scope="module")
def made() -> Survey:
    return post()


def only(made: Survey, count: int, **figures: object) -> Survey:
    """With so many members."""
    member = made.passages["post"].members[0]
    return with_passage(made, members=(member,) * count, **figures)


@pytest.mark.parametrize(
    ("verdict", "found"), [(bundle.CANNOT, True), (bundle.FITS, False), (bundle.NOT_FOUND, False)]
)
@pytest.mark.parametrize("count", [1, 2])
def test_what_does_not_go_through(made, verdict, found, count):
    got = facts(passages, "passage.cannot-fit", only(made, count, verdict=verdict, smallest_bore=0.0061))
    assert [fact.case for fact in got] == ["one" if count == 1 else "several"] * found
    for fact in got:
        assert values(fact) == {"bore": 0.005, "bundle": 0.0061, "conductors": float(count)}
        assert units(fact) == {"bore": "m", "bundle": "m", "conductors": ""}
        assert fact.parts == ({"conductor": FEED} if count == 1 else {})
        assert (fact.severity, fact.subject, fact.path) == ("stop", POST, ("post", "bore"))


def test_a_wire_that_nobody_knows_is_asked_about(made):
    unknown = with_passage(made, unknown=("pigtail",))
    assert all(isinstance(one, NotJudged) for one in judged(passages, "passage.cannot-fit", unknown))
    assert judged(passages, "passage.cannot-fit", with_passage(made, members=())) == []
    (question,) = asked(passages, "passage.cannot-fit", unknown)
    assert (question.vital, question.subject) == (True, "post")
    assert "'pigtail'" in question.missing
    arm = survey(extra='[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "50 mm"\n')
    (question,) = asked(passages, "passage.cannot-fit", with_passage(arm, "arm", unknown=("pigtail",)))
    assert question.vital is False
    # what cannot go through cannot whatever it is
    assert (
        asked(passages, "passage.cannot-fit", with_passage(made, unknown=("pigtail",), verdict=bundle.CANNOT))
        == []
    )


# -- full: 53 % for one, 31 for two, 40 for more (NFPA 70 chapter 9 table 1)


@pytest.mark.parametrize(
    ("count", "fill", "found"), [(1, 0.53, False), (1, 0.531, True), (2, 0.31, False), (2, 0.311, True), (3, 0.4, False), (3, 0.401, True), (9, 0.401, True)]
)  # fmt: skip
def test_how_full_a_bore_may_be(count, fill, found):
    # longer than half a metre and bent it is pulled through
    long = post('bends = "90 deg"', "600 mm")
    got = facts(passages, "passage.full", only(long, count, fill=fill))
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"fill": fill, "conductors": float(count)}
        assert units(fact) == {"fill": "share", "conductors": ""}
        assert (fact.severity, fact.reason, fact.path, fact.because_of) == (
            "caution",
            "pulled",
            ("post", "bore"),
            "passage.tight:post",
        )
    assert judged(passages, "passage.full", only(long, count, fill=9.0, verdict=bundle.CANNOT)) == []
    assert judged(passages, "passage.full", only(long, 0, fill=9.0)) == []


@pytest.mark.parametrize(
    ("rolled", "length", "bends", "severity", "reason"),
    [((), "600 mm", "90 deg", "caution", "pulled"), ((0,), "600 mm", "90 deg", "caution", "roll"), ((0, 1), "600 mm", "90 deg", "caution", "roll"), ((1,), "160 mm", "0 deg", "note", "roll"), ((), "160 mm", "0 deg", "note", "easy")],
)  # fmt: skip
def test_why_a_bore_is_too_full(rolled, length, bends, severity, reason):
    # one roll whose outside has no room for a sheath is enough
    long = post(f'bends = "{bends}"', length)
    members = tuple(
        member._replace(bare=(0.0007, 0.0007) if n in rolled else ())
        for n, member in enumerate(long.passages["post"].members)
    )
    (fact,) = facts(passages, "passage.full", with_passage(long, members=members, fill=0.5))
    assert (fact.severity, fact.reason) == (severity, reason)


# -- tight: a quarter of room, for one alone 8 %


@pytest.mark.parametrize(
    ("count", "smallest", "found"),
    [(2, 0.004, False), (2, 0.00401, True), (1, 0.00462, False), (1, 0.00464, True)],
)
def test_how_tight_a_bore_may_be(made, count, smallest, found):
    got = facts(passages, "passage.tight", only(made, count, smallest_bore=smallest))
    assert [(fact.severity, fact.case) for fact in got] == [
        ("caution", "one" if count == 1 else "several")
    ] * found
    for fact in got:
        assert values(fact) == {"bore": 0.005, "bundle": smallest, "conductors": float(count)}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(smallest * (1.08 if count == 1 else 1.25))
        assert fact.parts == ({"conductor": FEED} if count == 1 else {})
        assert fact.words == {}


def test_what_was_sought_for_long_is_not_sought_again(made):
    missing = only(made, 3, smallest_bore=0.001, verdict=bundle.NOT_FOUND)
    longer = Survey(missing.build, missing.limits, effort="long")
    longer.__dict__["passages"] = missing.passages
    (fact,) = facts(passages, "passage.tight", longer)
    assert (fact.case, fact.words) == ("not found", {})


def test_what_no_search_finds_a_way_for(made):
    missing = only(made, 3, smallest_bore=0.001, verdict=bundle.NOT_FOUND)
    (fact,) = facts(passages, "passage.tight", missing)
    assert (fact.severity, fact.case, fact.words) == ("stop", "not found", {"harder": "--effort long"})
    (fact,) = facts(passages, "passage.tight", only(made, 1, smallest_bore=0.001, verdict=bundle.NOT_FOUND))
    assert fact.case == "one"
    assert facts(passages, "passage.tight", only(made, 3, verdict=bundle.CANNOT, smallest_bore=9.0)) == []


# -- three that jam: between 2.8 and 3.2 times a wire (NFPA 70 chapter 9 table 1, note 2)


@pytest.mark.parametrize(
    ("ratio", "found", "nearest", "least"),
    [
        (2.79, False, 2.8, False),
        (2.8, True, 3.2, True),
        (3.0, True, 3.2, True),
        (3.2, True, 3.2, True),
        (3.21, False, 3.2, True),
    ],
)
def test_three_that_may_jam(made, ratio, found, nearest, least):
    within, *got = judged(passages, "passage.jam", with_passage(made, jam_ratio=ratio))
    assert (within.limit.value, within.least) == (nearest, least)  # type: ignore[union-attr]
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"ratio": ratio, "low": 2.8}  # type: ignore[arg-type]
        assert (fact.severity, fact.because_of) == ("note", "passage.tight:post")  # type: ignore[union-attr]
    assert judged(passages, "passage.jam", with_passage(made, jam_ratio=None)) == []


# -- flat cables: folded to and fro as often as makes them least across their corners


@pytest.mark.parametrize(
    ("flat", "layers", "shown"),
    [("6 x 1 mm", 2, "3.7 mm"), ("1.4 x 1.2 mm", 1, "1.9 mm"), ("38 x 0.8 mm", 7, "7.8 mm")],
)
def test_a_flat_cable_is_asked_about(flat, layers, shown):
    across, thin = (float(one) for one in flat.removesuffix(" mm").split(" x "))
    folded = [hypot(across / n, thin * n) for n in range(1, 20)]
    assert folded.index(min(folded)) + 1 == layers
    assert 0.0 <= float(shown.split()[0]) - min(folded) < 0.1
    cable = f'[cable.grey]\nflat = "{flat}"\n' + "".join(
        f'[[run]]\nname = "c{n}"\ncable = "grey"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\n'
        for n in range(2)
    )
    for more, asks in (
        ('turn = "90 deg"\nstop = true', 1),
        ('fold = "45 deg"\nfree = "60 mm"', 1),
        ('bends = "90 deg"', 1),
        ('bend_radius = "20 mm"', 1),
        ("", 0),
    ):
        made = survey(post=f'bore = "45 mm"\nlength = "160 mm"\n{more}', extra=cable)
        questions = [one for one in asked(passages, "passage.cannot-fit", made) if one.subject == "grey"]
        assert len(questions) == asks
        for question in questions:
            assert f'outside = "{shown}"' in question.missing
    joint = (
        '[[run]]\nname = "fat"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\njoint = "2 mm"\n'
    )
    made = survey(post='bore = "45 mm"\nlength = "160 mm"', extra=cable + joint)
    assert [one.subject for one in asked(passages, "passage.cannot-fit", made)] == ["grey"]


# -- one colour on both sides: twice as many make a rule


def leads(*orders: str) -> Survey:
    return survey(
        lamps="".join(
            lamp().replace("bow lamp", f"lamp {n}").replace('to hull"', f'to hull, {order}"')
            for n, order in enumerate(orders)
        )
    )


@pytest.mark.parametrize(
    ("orders", "case", "counts", "odd"),
    [
        (("red/black", "red/black"), None, {}, 0), (("red/black", "red/black", "blue/red"), "positive", {"positive": 2.0, "negative": 1.0}, 1),
        (("red/black", "blue/red"), "no rule", {"positive": 1.0, "negative": 1.0}, 0), (("blue/red", "green/red", "red/black"), "negative", {"negative": 2.0, "positive": 1.0}, 1),
        (("red/black", "red/white", "red/green", "blue/red", "violet/red"), "no rule", {"positive": 3.0, "negative": 2.0}, 0),
    ],
)  # fmt: skip
def test_a_colour_on_both_sides(orders, case, counts, odd):
    got = [fact for fact in facts(colours, "colour.both-poles", leads(*orders)) if fact.subject.name == "red"]
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == (counts if case != "no rule" else {name: counts[name] for name in counts})
        assert len(fact.parts.get("odd", ())) == odd  # type: ignore[arg-type]
        assert (fact.limit is not None) is (case != "no rule")
        assert (fact.severity, fact.words) == ("caution", {"colour": "red"})
        # of as many on both sides the negative is the odd one
        assert case != "no rule" or len(orders) != 2 or fact.path[:2] == ("lamp", 1)


@pytest.mark.parametrize(("labelled", "found"), [(0, True), (1, True), (2, True), (3, False)])
def test_where_there_is_no_rule_labels_on_all_of_one_side_tell_them_apart(labelled, found):
    made = leads("red/black", "red/white", "red/green", "blue/red", "violet/red")
    names = [f"lamp {n}" for n in range(labelled)]
    made.__dict__["ends"] = tuple(end._replace(own_label=end.name in names) for end in made.ends)
    cases = [fact.case for fact in facts(colours, "colour.both-poles", made) if fact.subject.name == "red"]
    assert cases == ["no rule"] * found


# -- which of two ways, and whether through both


def test_of_two_passages_which_one_is_meant():
    both = "".join(
        f'[passage.{name}]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "50 mm"\n'
        for name in ("port", "starboard")
    )
    questions = asked(passages, "passage.cannot-fit", survey(extra=both))
    (question,) = [one for one in questions if "which passage" in one.missing]
    assert (question.subject, question.vital) == ("port", True)
    assert "'hull' and 'bow'" in question.missing
    assert "('port', 'starboard')" in question.missing
    assert 'through = ["bow lamp"]' in question.missing


@pytest.mark.parametrize(("what", "vital"), [("run", True), ("lead", False), ("both", True)])
def test_through_several_in_a_row(what, vital):
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "50 mm"\n'
    run = '[[run]]\nname = "long"\nline = "lights"\nends = ["base", "bow"]\nlength = "400 mm"\n'
    far = lamp() if what == "run" else lamp(lead="400 mm to base", at=" at base")
    questions = asked(
        passages, "passage.cannot-fit", survey(extra=arm + (run if what != "lead" else ""), lamps=far)
    )
    (question,) = [one for one in questions if "go through" in one.missing or "goes through" in one.missing]
    assert (question.subject, question.vital) == ("post", vital)
    assert "'base' and 'bow'" in question.missing


def test_a_colour_that_looks_misspelt_is_told_once():
    (fact,) = facts(colours, "colour.misspelt", leads("gren/black", "gren/white"))
    assert (fact.words, fact.severity, fact.subject) == (
        {"known": "green"},
        "note",
        Subject("colour", "gren"),
    )
    both = facts(colours, "colour.misspelt", leads("gren/blak"))
    assert {one.words["known"] for one in both} == {"green", "black"}
    assert facts(colours, "colour.misspelt", leads("red/black", "tea/black")) == []
