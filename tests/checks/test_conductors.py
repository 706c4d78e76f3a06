import pytest

from postcheck.checks import conductors, passages, turning
from postcheck.survey import Survey
from tests.survey.small import lamp, survey

from .run import run, severities


def _ids(made):
    return severities(made, passages, turning, conductors)


def test_a_joint_inside():
    (finding,), _ = run(conductors, "passage.joint-inside", _bore_of("160 mm", "joints_inside = true"))
    assert finding.path == ("post", "joints_inside")
    assert "breaks" not in finding.why


def test_a_run_must_be_longer_than_all_it_goes_through():
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "5 mm"\nlength = "150 mm"\nthrough = ["feed"]\n'
    assert _ids(survey(post='bore = "5 mm"\nlength = "269 mm"')) == {}
    (finding,), _ = run(conductors, "passage.run-short", survey(extra=arm, lamps=lamp(lead="200 mm to hull")))
    # 160 mm of post and 150 mm of arm against 300 mm of run
    assert (finding.subject.name, finding.figures["way"].value) == ("feed", pytest.approx(0.31))
    short = survey(extra=arm.replace('through = ["feed"]', ""), lamps=lamp(lead="120 mm to hull"))
    (finding,), _ = run(conductors, "passage.run-short", short)
    assert (finding.subject.kind, finding.subject.name) == ("lamp", "bow lamp")


def test_a_run_as_long_as_its_way_does_not_come_out():
    (finding, other), _ = run(conductors, "passage.run-short", _bore_of("300 mm"))
    assert finding.says == "'feed' is 300 mm long, just as long as the way through."
    assert other.subject.name == "negative"
    (finding, _), _ = run(conductors, "passage.run-short", _bore_of("300.4 mm"))
    assert finding.says == "'feed' is 300 mm long. The way through alone is 300.4 mm."
    (finding, _), _ = run(conductors, "passage.run-short", _bore_of("1300.43 mm"))
    assert finding.says == "'feed' is 300 mm long. The way through alone is 1300.5 mm."
    assert finding.remedy == "Take a conductor of 1330.5 mm or more: that leaves enough at both ends."


def _bore_of(length, more="", **other):
    return survey(post=f'bore = "5 mm"\nlength = "{length}"\n{more}', **other)


# runs of 300 mm through a post of 160 mm: between the grips or through the bore, with the slack, to the first joint
@pytest.mark.parametrize(
    ("more", "key"),
    [
        ('free = "300 mm"', None),
        ('free = "301 mm"', "free"),
        ('to_joint = "140 mm"', None),
        ('to_joint = "141 mm"', "to_joint"),
        ('slack = "139 mm"', None),
        ('slack = "141 mm"', "slack"),
        ('free = "250 mm"\nslack = "20 mm"\nto_joint = "30 mm"', None),
        ('free = "250 mm"\nslack = "21 mm"\nto_joint = "30 mm"', "free"),
        ('free = "20 mm"\nto_joint = "250 mm"', None),
        ('free = "20 mm"\nto_joint = "30 mm"\nslack = "139 mm"', None),
        ('free = "20 mm"\nto_joint = "30 mm"\nslack = "141 mm"', "slack"),
    ],
)
def test_a_passage_takes_no_more_than_a_conductor_has(more, key):
    findings, _ = run(conductors, "passage.lengths", _bore_of("160 mm", more))
    assert [finding.path for finding in findings] == ([("post", key)] if key else [])


def test_lengths_that_contradict_are_told_once_with_what_would_do():
    (finding,), _ = run(
        conductors,
        "passage.lengths",
        _bore_of("160 mm", 'free = "400 mm"\nto_joint = "25 mm"\nturn = "90 deg"'),
    )
    assert finding.says == (
        "'feed' is 300 mm long, which is 125 mm too short. The lengths given for the post take 425 mm of it: 400 mm between the grips, "
        "25 mm from the last grip to the first joint. 1 more conductor is too short for that."
    )
    assert (
        finding.remedy
        == "Take conductors of 425 mm or more. Or measure again. At most 275 mm between the grips would do as well."
    )
    assert "turning" in finding.why
    mended = _bore_of("160 mm", 'free = "275 mm"\nto_joint = "25 mm"')
    assert run(conductors, "passage.lengths", mended) == ([], [])


# an inch is 25.4 mm exactly: 160 + 25.4 = 185.4; with 15 mm at each end beyond way and slack a run is enough: 190, 202.4
@pytest.mark.parametrize(
    ("more", "told", "needed", "asked", "left"),
    [
        ('to_joint = "1 in"', "160 mm of way through, 25.4 mm from", "185.4 mm", "190 mm", "20 mm from"),
        ('to_joint = "25.43 mm"', "160 mm of way through, 25.5 mm from", "185.5 mm", "190 mm", "20 mm from"),
        ('slack = "12.35 mm"\nto_joint = "20.2 mm"', "20.2 mm from the last grip to the first joint, 12.4 mm of slack", "192.6 mm", "202.4 mm", "7.6 mm from"),
    ],
)  # fmt: skip
def test_lengths_add_up_and_what_is_asked_for_is_enough(more, told, needed, asked, left):
    short = _bore_of("160 mm", more)
    runs = [run.model_copy(update={"length": 0.18}) for run in short.build.run]
    (finding,), _ = run(conductors, "passage.lengths", Survey(short.build.model_copy(update={"run": runs})))
    assert "The lengths given for the post take " + needed in finding.says
    assert told in finding.says
    assert finding.remedy.startswith(f"Take conductors of {asked} or more. Or measure again. At most {left}")
    long = [run.model_copy(update={"length": float(needed.split()[0]) / 1e3}) for run in short.build.run]
    assert run(conductors, "passage.lengths", Survey(short.build.model_copy(update={"run": long}))) == (
        [],
        [],
    )


def test_of_two_that_are_too_short_the_shorter_is_told():
    short = _bore_of("160 mm", 'to_joint = "25 mm"')
    for lengths, told in (((0.18, 0.17), "'negative' is 170 mm"), ((0.17, 0.18), "'feed' is 170 mm")):
        runs = [
            one.model_copy(update={"length": long})
            for one, long in zip(short.build.run, lengths, strict=True)
        ]
        made = Survey(short.build.model_copy(update={"run": runs}))
        (finding,), _ = run(conductors, "passage.lengths", made)
        assert finding.says.startswith(told)
        assert finding.says.endswith("1 more conductor is too short for that.")


def test_slack_comes_on_top_of_all_that_a_run_goes_through():
    arm = '[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "5 mm"\nlength = "130 mm"\nthrough = ["feed"]\nslack = "{}"\n'
    wide = lamp(lead="200 mm to hull")
    assert (
        run(conductors, "passage.lengths", _bore_of("160 mm", extra=arm.format("10 mm"), lamps=wide))[0] == []
    )
    (finding,), _ = run(
        conductors, "passage.lengths", _bore_of("160 mm", extra=arm.format("11 mm"), lamps=wide)
    )
    assert (finding.subject.name, finding.path) == ("arm", ("passage", "arm", "slack"))
    assert "290 mm of way through, 11 mm of slack" in finding.says


def test_what_is_shorter_than_its_way_is_told_as_that_alone():
    assert _ids(_bore_of("310 mm", 'slack = "20 mm"\nto_joint = "20 mm"')) == {"passage.run-short": "stop"}


@pytest.mark.parametrize(
    ("wire", "breaks"),
    # soft copper at 220 N/mm2 (Smithells, table 22.7) by AWG: 36 2.79 N, 34 4.43 N, 32 7.05 N
    [("awg36", 2.79), ("awg34", 4.43), ("awg32", None)],
)
def test_a_run_that_a_hand_tears(wire, breaks):
    strand = {"awg36": "0.127 mm", "awg34": "0.1601 mm", "awg32": "0.2019 mm"}[wire]
    extra = (
        f'[wire.{wire}]\nstrand = "{strand}"\noutside = "0.3 mm"\n[place.stern]\naccess = "open"\n'
        f'[[run]]\nname = "stern"\nline = "lights"\nends = ["hull", "stern"]\nlength = "90 mm"\nwire = "{wire}"\n'
    )
    found, _ = run(conductors, "run.weak", survey(extra=extra))
    assert [(each.subject.name, each.figures["breaks"].value) for each in found] == (
        [("stern", pytest.approx(breaks, abs=6e-3))] if breaks else []
    )
    # in a cable the others hold it
    cabled = (
        extra.replace('length = "90 mm"', 'length = "90 mm"\ncable = "arm"')
        + '[cable.arm]\noutside = "2 mm"\n'
    )
    assert run(conductors, "run.weak", survey(extra=cabled)) == ([], [])
    # two of a line side by side hold twice as much
    extra = extra.replace('name = "stern"', 'name = "stern"\nconductors = 2')
    assert run(conductors, "run.weak", survey(extra=extra)) == ([], [])


@pytest.mark.parametrize(
    ("beside", "told"),
    [
        ("", ["stern"]),
        (
            '\n[[run]]\nname = "second"\nline = "main-"\nends = ["hull", "stern"]\nthrough = ["arm"]\nlength = "90 mm"\n',
            [],
        ),
    ],
)
def test_a_hand_gets_at_a_run_by_itself_where_nothing_else_is_in_its_passage(beside, told):
    extra = (
        '[wire.awg36]\nstrand = "0.127 mm"\noutside = "0.3 mm"\n[place.stern]\naccess = "open"\n'
        '[passage.arm]\nfrom = "hull"\nto = "stern"\nbore = "3 mm"\nlength = "50 mm"\n'
        '[[run]]\nname = "stern"\nline = "lights"\nends = ["hull", "stern"]\nthrough = ["arm"]\nlength = "90 mm"\nwire = "awg36"\n'
    )
    found, _ = run(conductors, "run.weak", survey(extra=extra + beside))
    assert [each.subject.name for each in found] == told


def test_a_run_is_long_enough_to_be_ended_anew():
    # FAA AC 43.13-1B, 11-118: two re-terminations; 300 mm of run and 160 mm of post with 111 mm of slack leave 14.5 mm an end
    assert run(conductors, "run.no-spare", _bore_of("160 mm", 'slack = "110 mm"')) == ([], [])
    (feed, negative), _ = run(conductors, "run.no-spare", _bore_of("160 mm", 'slack = "111 mm"'))
    assert (feed.figures["left"].value, feed.figures["enough"].value) == (
        pytest.approx(0.0145),
        pytest.approx(0.301),
    )
    assert negative.subject.name == "negative"
    assert run(conductors, "run.no-spare", _bore_of("299 mm", 'slack = "5 mm"')) == (
        [],
        [],
    )  # told as lengths that contradict
