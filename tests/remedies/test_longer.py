"""How long a conductor has to be, whose length is typed, and what a passage asks for to the millimetre."""

from __future__ import annotations

from math import radians

import pytest

from postcheck.remedies.table import proposals
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import lamp, survey

from .offers import given, offers
from .test_passage import most_turn

POST = ("passage", "post")
ARM = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "4 mm"\nlength = "112 mm"\n'
LEGS = lamp().replace(
    'lead = "120 mm to hull"', 'lead = { length = "120 mm", to = "hull", feed = { length = "130 mm" } }'
)


def of_post(more: str, **figures: object) -> Survey:
    """A build whose post has figures of our own."""
    made = survey(post=f'bore = "5 mm"\nlength = "160 mm"\n{more}')
    made.passages["post"] = made.passages["post"]._replace(**figures)  # type: ignore[index]
    return made


@pytest.mark.parametrize(
    ("needed", "shown"), [(0.0101, "11 mm"), (0.01, "10 mm"), (0.01000001, "11 mm"), (0.0005, "1 mm")]
)
def test_slack_and_grip_to_a_whole_millimetre_up(needed, shown):
    slack = of_post('turn = "180 deg"', slack_needed=needed)
    assert offers(slack, given("passage.slack", POST)) == [
        (f"Leave at least {shown} of slack in every wire, with the post straight.", f'post.slack = "{shown}"')
    ]
    grip = of_post('turn = "180 deg"\nto_joint = "300 mm"', grip=needed)
    assert offers(grip, given("passage.grip", POST))[0] == (
        f"Leave at least {shown} from the last grip to the first joint.",
        f'post.to_joint = "{shown}"',
    )


# from grip to grip 160 mm, its slack, and 15 mm at each end for making it anew (FAA AC 43.13-1B, 11-118; 3 x 5 mm is judgement)
@pytest.mark.parametrize(("slack", "length"), [(109, None), (110, None), (111, 301), (160, 350), (200, 390)])
def test_conductors_as_long_as_slack_takes(slack, length):
    made = of_post('turn = "180 deg"\nslack = "1 mm"\nto_joint = "20 mm"', slack_needed=slack / 1e3)
    plain = f"Leave at least {slack} mm of slack in every wire, with the post straight"
    edit = f'post.slack = "{slack} mm"'
    assert offers(made, given("passage.slack", POST)) == [
        (f"{plain}.", edit),
        *(
            (
                f"{plain}, and take conductors of {length} mm or more.",
                edit,
                f'run.0.length = "{length} mm"',
                f'run.1.length = "{length} mm"',
            )
            for _ in range(length is not None)
        ),
    ]


def test_a_way_that_is_named_is_told_by_its_name():
    made = survey(extra=ARM + 'turn = "90 deg"\n')
    made.passages["arm"] = made.passages["arm"]._replace(slack_needed=0.0022)  # type: ignore[index]
    assert offers(made, given("passage.slack", ("passage", "arm")))[0] == (
        "Leave at least 3 mm of slack in every wire, with 'arm' straight.",
        'passage.arm.slack = "3 mm"',
    )


@pytest.mark.parametrize(
    ("conductor", "edits"),
    [
        ("run:feed", ['run.0.length = "123.4 mm"']),
        ("run:negative", ['run.1.length = "123.4 mm"']),
        ("lead:bow lamp", ["lamp.0.lead.length ?"]),
        ("run:no such", None),
    ],
)
def test_whose_length_is_typed(conductor, edits):
    made = survey(extra=ARM)
    parts = {"conductor": Subject(*conductor.split(":"))}
    finding = given("passage.run-short", POST, figures={"enough": 0.1234}, parts=parts)
    assert offers(made, finding) == ([] if edits is None else [("Mend it.", *edits)])


def test_a_run_is_its_own_subject_too():
    made = survey()
    finding = given("run.no-spare", ("run", "negative"), ("run", 1), figures={"enough": 0.345})
    assert offers(made, finding) == [("Mend it.", 'run.1.length = "345 mm"')]
    finding = given("run.no-spare", ("run", "negative"), ("run", 1), figures={"enough": 0.345}, remedy=None)
    assert offers(made, finding) == []


def test_a_leg_with_a_length_of_its_own_gets_it_there():
    parts = {"conductor": Subject("lead", "bow lamp")}
    finding = given("passage.run-short", ("passage", "arm"), figures={"enough": 0.2}, parts=parts)
    assert offers(survey(extra=ARM, lamps=LEGS), finding) == [
        ("Mend it.", "lamp.0.lead.feed.length ?", "lamp.0.lead.length ?")
    ]


def test_of_a_cable_each_core_that_is_shorter():
    core = (
        '[[run]]\nname = "c{0}"\ncable = "grey"\nspare = true\nends = ["base", "hull"]\nlength = "{0} mm"\n'
    )
    cable = '[cable.grey]\noutside = "3 mm"\n' + "".join(
        core.format(length) for length in (200, 270, 300, 250)
    )
    parts = {"conductor": Subject("cable", "grey")}
    finding = given("passage.run-short", POST, figures={"enough": 0.27}, parts=parts)
    assert offers(survey(extra=cable), finding) == [
        ("Mend it.", 'run.2.length = "270 mm"', 'run.5.length = "270 mm"')
    ]


WAYS = '[[way]]\nfrom = "base"\nto = "hull"\nlength = "350 mm"\n[[way]]\nfrom = "hull"\nto = "bow"\nlength = "{} mm"\n'


@pytest.mark.parametrize(
    ("way", "lead", "edits"),
    [
        # 120 mm, and 130 mm of the one leg
        (140, None, 'lamp.0.lead = "140 mm to hull"'),
        (120, None, None),
        (110, None, None),
        (140, LEGS, 'lamp.0.lead = { length = "120 mm", to = "hull", feed = { length = "140 mm" } }'),
        (125, LEGS, 'lamp.0.lead = { length = "125 mm", to = "hull", feed = { length = "130 mm" } }'),
        (110, LEGS, None),
    ],
)
def test_as_long_as_the_way_that_it_lies_along(way, lead, edits):
    made = survey(extra=WAYS.format(way), lamps=lead or lamp())
    assert offers(made, given("way.short", ("lamp", "bow lamp"), ("lamp", 0))) == (
        [] if edits is None else [("Mend it.", edits)]
    )
    assert offers(made, given("way.short", ("run", "negative"), ("run", 1))) == [
        ("Mend it.", 'run.1.length = "350 mm"')
    ]
    assert offers(made, given("way.short", ("run", "no such"), ("run", 9))) == []


# -- stops: a whole turn each way throws no loop (6.2832 rad); half of that is the least that is turning


@pytest.mark.parametrize(
    ("borne", "degrees"),
    [(None, 360), (286.5, 286), (183.0, 183), (181.5, 181), (179.5, None), (400.0, 360)],
)
def test_a_stop_at_what_the_wires_bear(borne, degrees):
    made = of_post('turn = "720 deg"', turn_borne=None if borne is None else radians(borne))
    stops = ([degrees] if degrees else []) + [360]
    assert offers(made, given("passage.loops", POST)) == [
        (f"Fit a stop that ends its turn at {stop} deg each way.", f'post.turn = "{stop} deg"', "post.stop = true") for stop in stops
    ]  # fmt: skip


@pytest.mark.parametrize("turn", ["360 deg", "350 deg"])
def test_a_turn_that_throws_no_loop_wants_its_stop_alone(turn):
    assert offers(of_post(f'turn = "{turn}"'), given("passage.loops", POST)) == [
        (f"Fit a stop that ends its turn at {turn} each way.", "post.stop = true")
    ]


# -- bores. Two of 0.74 mm want 1.48 mm, a quarter more 1.85; beside a bush 0.5 mm more


@pytest.mark.parametrize(("bore", "bush"), [("2.34 mm", False), ("2.36 mm", True)])
def test_a_bush_only_where_the_wires_have_room_beside_it(bore, bush):
    made = survey(post=f'bore = "{bore}"\nlength = "160 mm"')
    more = ", or fit a bush or a bit of sleeving" if bush else ""
    assert offers(made, given("passage.edge", POST)) == [
        (f"Countersink and polish both ends{more}.", 'post.edges = "rounded"')
    ]


@pytest.mark.parametrize("check", ["passage.tight", "passage.full", "passage.cannot-fit"])
def test_a_tube_as_it_is_sold_then_a_tenth_and_another(check):
    made = survey(post='bore = "1.7 mm"\nlength = "160 mm"')
    more = "or fewer or thinner conductors."
    assert offers(made, given(check, POST)) == [
        (f"Take a bore of 2 mm (tube 3 x 0.5 mm; 1.9 mm is the least), {more}", 'post.bore = "2 mm"'),
        *((f"Take a bore of {bore} mm, {more}", f'post.bore = "{bore} mm"') for bore in ("1.9", "2", "2.1")),
    ]


def test_a_lone_wire_cannot_be_fewer():
    # 1.08 times 0.74 mm: 0.8; a tube of 2 x 0.5 mm has 1 mm
    arm = ARM.replace('"bow"', '"stern"') + 'through = ["reserve"]\n[place.stern]\naccess = "open"\n'
    alone = '[[run]]\nname = "reserve"\nspare = true\nends = ["hull", "stern"]\nlength = "200 mm"\n'
    made = survey(extra=arm.replace("4 mm", "0.7 mm") + alone)
    found = offers(made, given("passage.tight", ("passage", "arm")))
    assert [says.rpartition(", or ")[2] for says, _ in found] == ["a thinner conductor."] * len(found)


def test_what_a_passage_is_offered_has_to_do_without_a_new_note():
    made = survey(post='bore = "1.7 mm"\nlength = "160 mm"')
    some = [*proposals(made, given("passage.tight", POST))]
    assert {proposal.spotless for proposal in some} == {True}
    # thinner wire is told beside it: 30 AWG, then 32
    for proposal in some:
        assert [other.says.split()[2] for other in proposal.instead] == ["ptfe-30", "ptfe-32"]
    figures = {name: figure.value for name, figure in some[0].figures.items()}
    assert figures == pytest.approx({"bore": 0.002, "outside": 0.003, "wall": 0.0005, "least": 0.0019})
    assert {figure.unit for figure in some[0].figures.values()} == {"m"}


# 315 degrees each way are what copper bears on 160 mm (see test_passage.py)
@pytest.mark.parametrize(
    ("free", "longer"), [("100 mm", True), ("150 mm", True), ("158 mm", True), ("160 mm", False)]
)
def test_a_stop_with_more_free_length_only_where_there_is_more(free, longer):
    made = survey(post=f'bore = "5 mm"\nlength = "160 mm"\nturn = "370 deg"\nstop = true\nfree = "{free}"')
    found = [says for says, *_ in offers(made, given("passage.loops", POST))]
    with_length = [says for says in found if "of free length between the grips" in says]
    assert len(with_length) == longer
    assert 0.0 <= most_turn(0.16) - 315.0 < 1.0
    for says in with_length:
        assert (
            says
            == "Fit a stop that ends its turn at 315 deg each way, with 160 mm of free length between the grips."
        )


# what slack and the grip ask for is one length: 160 mm of the bore, 40 to the joint, 120 of slack; or 15 at each end and an opening


@pytest.mark.parametrize(
    ("turn", "away", "grip", "hull", "length"),
    [
        ("45 deg", "5 mm", 0.04, 'access = "cover"', 320), ("45 deg", "40 mm", 0.04, 'access = "cover"', 320), ("45 deg", "50 mm", 0.04, 'access = "cover"', 330),
        ("45 deg", None, 0.04, 'access = "cover"', 310), ("45 deg", "5 mm", 0.02, 'access = "cover"\nopening = "25 mm"', 335), ("45 deg", "5 mm", 0.02, 'access = "open"', 310),
    ],
)  # fmt: skip
def test_slack_with_what_the_grip_is_due(turn, away, grip, hull, length):
    joint = "" if away is None else f'\nto_joint = "{away}"'
    made = survey(post=f'bore = "5 mm"\nlength = "160 mm"\nturn = "{turn}"\nslack = "1 mm"{joint}', hull=hull)
    made.passages["post"] = made.passages["post"]._replace(slack_needed=0.12, grip=grip)  # type: ignore[index]
    found = offers(made, given("passage.slack", POST))
    assert found[1][0].endswith(f", and take conductors of {length} mm or more.")
    assert found[1][2:] == (f'run.0.length = "{length} mm"', f'run.1.length = "{length} mm"')


@pytest.mark.parametrize(("axial", "length"), [(0.0, 310), (0.00064, 310), (0.00065, 350)])
def test_the_grip_with_what_slack_is_due(axial, length):
    # 120 mm to the joint are 310 with 30 of slack that is there; 70 more where the wires are stretched
    made = survey(
        post='bore = "5 mm"\nlength = "160 mm"\nturn = "45 deg"\nslack = "30 mm"\nto_joint = "5 mm"'
    )
    strain = made.passages["post"].strains[0]._replace(axial=axial)
    made.passages["post"] = made.passages["post"]._replace(
        slack_needed=0.07, grip=0.12, strains=(strain._replace(axial=0.0), strain)
    )  # type: ignore[index]
    found = offers(made, given("passage.grip", POST))
    assert (
        found[1][0]
        == f"Leave at least 120 mm from the last grip to the first joint, and take conductors of {length} mm or more."
    )


def test_what_is_fixed_is_not_laid_again():
    run = '[[run]]\nname = "old"\nline = "lights"\nends = ["base", "hull"]\nlength = "{} mm"\nfixed = true\n'
    for length, offered in ((305, False), (320, True)):
        made = survey(
            post='bore = "5 mm"\nlength = "160 mm"\nturn = "45 deg"\nslack = "1 mm"', extra=run.format(length)
        )
        made.passages["post"] = made.passages["post"]._replace(slack_needed=0.15)  # type: ignore[index]
        # 310 mm are taken, and 340 with both ends; what is fixed has its ends
        assert len(offers(made, given("passage.slack", POST))) == 1 + offered


@pytest.mark.parametrize(("fixed", "offered"), [("", True), ("fixed = true\n", False)])
def test_a_cable_that_is_fixed_is_not_laid_again(fixed, offered):
    core = f'[[run]]\nname = "{{}}"\ncable = "grey"\nspare = true\nends = ["base", "hull"]\nlength = "305 mm"\n{fixed}'
    cable = '[cable.grey]\noutside = "2 mm"\n' + core.format("c1") + core.format("c2")
    made = survey(post='bore = "5 mm"\nlength = "160 mm"\nturn = "45 deg"\nslack = "1 mm"', extra=cable)
    made.passages["post"] = made.passages["post"]._replace(slack_needed=0.15)  # type: ignore[index]
    assert len(offers(made, given("passage.slack", POST))) == 1 + offered


def test_what_goes_through_another_passage_alone_stays_as_long_as_it_is():
    """The lead of the lamp lies in the arm, where it is just long enough."""
    turned = 'turn = "180 deg"\nslack = "1 mm"\nto_joint = "20 mm"'
    made = survey(post=f'bore = "5 mm"\nlength = "160 mm"\n{turned}', extra=ARM)
    made.passages["post"] = made.passages["post"]._replace(slack_needed=0.2)  # type: ignore[index]
    assert [edit.split(" ", 1)[0] for edit in offers(made, given("passage.slack", POST))[1][1:]] == [
        "post.slack", "run.0.length", "run.1.length",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("fixed", "edits"), [("", ["passage.arm.slack", "lamp.0.lead.length"]), (", fixed = true", None)]
)
def test_a_lead_that_is_painted_over_is_not_laid_again(fixed, edits):
    """112 mm of arm and 20 mm of slack are more than its 120 mm."""
    lamps = lamp().replace('lead = "120 mm to hull"', f'lead = {{ length = "120 mm", to = "hull"{fixed} }}')
    made = survey(extra=ARM + 'turn = "90 deg"\nslack = "1 mm"\n', lamps=lamps)
    made.passages["arm"] = made.passages["arm"]._replace(slack_needed=0.020)  # type: ignore[index]
    found = [
        [edit.split(" ", 1)[0] for edit in edited]
        for _, *edited in offers(made, given("passage.slack", ("passage", "arm")))
    ]
    assert found == [["passage.arm.slack"], *([edits] if edits else [])]


# 10 000 times, 77 mm of it bear 152 degrees each way (see test_passage.py), told in steps of five: of 300 that is just half
@pytest.mark.parametrize(("turn", "offered"), [("300 deg", True), ("310 deg", False)])
def test_a_stop_that_leaves_less_than_half_of_the_turn_is_no_remedy(turn, offered):
    assert 150.0 <= most_turn(0.077) < 155.0
    more = f'turn = "{turn}"\nstop = true\nfree'
    says = "stop end its turn at 150 deg each way"
    longer = survey(post=f'bore = "5 mm"\nlength = "77 mm"\n{more} = "9 mm"')
    found = [says for says, *_ in offers(longer, given("passage.strain", POST))]
    assert (
        any(one.startswith("Fit a stop that ends its turn at 150 deg each way, with 76 mm") for one in found)
        is offered
    )
    as_it_is = survey(post=f'bore = "5 mm"\nlength = "77 mm"\n{more} = "77 mm"')
    found = [says for says, *_ in offers(as_it_is, given("passage.strain", POST))]
    assert any(says in one for one in found) is offered
