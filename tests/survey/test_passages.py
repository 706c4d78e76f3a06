"""What lies in a passage, and what its turning does, against handbook tables and hand-worked strains."""

from math import hypot, pi, sqrt

import pytest

from .small import lamp, survey
from .strands import seven


def _spares(count, conductors=1):
    run = '[[run]]\nname = "spare {n}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\nconductors = {c}\n'
    return "".join(run.format(n=n, c=conductors) for n in range(count))


def test_every_conductor_counts_and_the_post_itself_does_not():
    made = survey(extra=_spares(2, conductors=3) + (
        '[[run]]\nname = "tube"\nline = "main-"\nends = ["base", "hull"]\nbody = true\nohms = "10 mohm"\n'
    ))  # fmt: skip
    names = [member.name for member in made.passages["post"].members]
    assert sorted(names) == ["feed", "negative", *["spare 0"] * 3, *["spare 1"] * 3]


def test_a_sheathed_cable_counts_once_with_its_own_diameter():
    cabled = survey(
        extra='[cable.post]\noutside = "3 mm"\n'
        + _spares(2).replace("spare = true", 'spare = true\ncable = "post"')
    )
    members = cabled.passages["post"].members
    assert [member.kind for member in members].count("cable") == 1
    assert max(member.diameter for member in members) == 0.003


def test_both_legs_of_a_lead_lie_in_a_passage_that_names_it_or_spans_it():
    named = survey(post='bore = "5 mm"\nlength = "160 mm"\nthrough = ["bow lamp"]')
    assert [m.leg for m in named.passages["post"].members if m.kind == "lead"] == ["supply", "return"]
    spanned = survey(extra='[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "1 mm"\nlength = "60 mm"\n')
    assert [(m.name, m.leg) for m in spanned.passages["arm"].members] == [
        ("bow lamp", "supply"),
        ("bow lamp", "return"),
    ]
    # IEC 60317-0-1 by manufacturer table: 0.100 mm grade 1 is at most 0.117 mm overall
    assert spanned.passages["arm"].members[0].diameter == pytest.approx(0.117e-3)


# NFPA 70 chapter 9 table 1: 53, 31 and 40 % for one, two and more conductors
@pytest.mark.parametrize(("extra", "limit"), [(0, 0.31), (1, 0.40), (5, 0.40)])
def test_the_handbook_limit_goes_with_the_count(extra, limit):
    assert survey(extra=_spares(extra)).passages["post"].fill_limit == limit


# Seven equal wires pack in three diameters exactly (Graham; closed form 3)
def test_seven_equal_wires_need_three_diameters():
    post = survey(extra=_spares(5)).passages["post"]
    d = post.members[0].diameter
    assert post.smallest_bore == pytest.approx(3 * d, rel=0.02)
    assert post.fill == pytest.approx(7 * d**2 / 0.005**2)
    assert post.verdict == "fits"


# forty wires of 0.74 mm and one of 2.65: the search for a slimmest bundle stops at 6.04 mm, that for 6 mm finds 5.99
def test_the_arrangement_that_fits_is_the_one_that_is_told():
    thick = '[wire.thick]\nstrands = 7\nstrand = "0.1 mm"\noutside = "2.65 mm"\n'
    made = survey(
        post='bore = "6 mm"\nlength = "160 mm"',
        extra=thick + _spares(19, conductors=2) + _spares(1).replace("spare 0", "thick") + 'wire = "thick"\n',
    )
    post = made.passages["post"]
    assert (len(post.members), post.verdict) == (41, "fits")
    assert post.smallest_bore <= 0.006
    reach = max(hypot(x, y) + m.diameter / 2 for m, (x, y) in zip(post.members, post.centres, strict=True))
    assert 2 * reach == pytest.approx(post.smallest_bore, rel=1e-6)


def test_two_wires_wider_than_the_bore_cannot_fit():
    assert survey(post='bore = "1.2 mm"\nlength = "160 mm"').passages["post"].verdict == "cannot fit"


# NFPA 70 chapter 9 table 1, informational note 2: the ratio is meant for three conductors
def test_a_jam_ratio_is_only_given_for_three():
    assert survey(extra=_spares(1)).passages["post"].jam_ratio == pytest.approx(
        0.005 / survey().passages["post"].members[0].diameter
    )
    assert survey(extra=_spares(2)).passages["post"].jam_ratio is None


# Torsion of a strand about its own axis, gamma = r 2 theta / L, von Mises gamma / sqrt 3 (Saint-Venant); 24 AWG solid
# (0.5106 mm, ASTM B258) over 100 mm, turned 180 degrees each way: 0.926 %
def test_strain_of_a_solid_wire_in_the_middle():
    post = survey(
        post='bore = "5 mm"\nlength = "100 mm"\nturn = "180 deg"\nstop = true', wire="bell",
        extra='[wire.bell]\nstrand = "0.5106 mm"\noutside = "0.52 mm"\n',
    ).passages["post"]  # fmt: skip
    assert post.strain[0] == pytest.approx(0.00926, rel=0.01)
    assert post.strain[0] == pytest.approx(0.2553e-3 * 2 * pi / 0.1 / sqrt(3), rel=0.01)


def test_solder_makes_a_strand_as_stiff_as_the_whole_conductor():
    turn = 'bore = "5 mm"\nlength = "100 mm"\nturn = "180 deg"\nstop = true\nslack = "5 mm"'
    free, stiff = survey(post=turn), survey(post=turn + "\nsoldered_inside = true")
    # seven strands of 0.127 mm: the conductor is three strands thick, and its surface shears three times as much as a strand's;
    # free strands bear what their lay does to them besides, 20 % more. Two wires, each 0.37 mm off the middle
    alone, laid = 0.127e-3 * pi / 0.1 / sqrt(3), seven(0.127e-3, 0.1, pi, 0.37e-3)
    assert stiff.passages["post"].strain[0] == pytest.approx(3.0 * alone, rel=0.02)
    assert free.passages["post"].strain[0] == pytest.approx(laid, rel=0.005)
    assert laid / alone == pytest.approx(1.2, abs=0.01)


def test_no_slack_at_all_stretches_the_outer_wires():
    turn = 'bore = "8 mm"\nlength = "30 mm"\nturn = "360 deg"\nstop = true\nslack = "{}"'
    taut, slack = (
        survey(post=turn.format("0 mm"), extra=_spares(9)),
        survey(post=turn.format("3 mm"), extra=_spares(9)),
    )
    assert max(taut.passages["post"].strain) > max(slack.passages["post"].strain)
    assert taut.passages["post"].slack_needed > 0.0


def test_cycles_come_from_the_file_or_the_limit():
    assert survey().passages["post"].cycles == 10_000
    # ten a day for ten years of 365.25 days
    counted = survey(post='bore = "5 mm"\nlength = "160 mm"\ncycles = "10 /day for 10 years"')
    assert counted.passages["post"].cycles == pytest.approx(36_525)


def test_a_spare_without_a_wire_is_named_as_unknown():
    made = survey(wire="ptfe-28", extra=_spares(1))
    assert made.passages["post"].unknown == ()
    bare = made.build.model_copy(update={"usual": made.build.usual.model_copy(update={"run": None})})
    assert type(made)(bare).passages["post"].unknown == ("feed", "negative", "spare 0")


def test_a_lead_that_starts_and_ends_at_one_place_lies_in_no_passage():
    made = survey(lamps=lamp(lead="120 mm to hull").replace('place = "bow"', 'place = "hull"'))
    assert all(member.kind == "run" for member in made.passages["post"].members)


@pytest.mark.parametrize("turn", [0.5, 1.0, 1.5])
def test_a_turn_of_so_many_radians_strains_the_strands(turn):
    """Seven of 0.127 mm over 100 mm, 0.37 mm off the middle; no turn at all strains nothing."""
    made = survey(post=f'bore = "5 mm"\nlength = "100 mm"\nturn = "{turn} rad"\nstop = true\nslack = "5 mm"')
    assert made.passages["post"].strain[0] == pytest.approx(seven(0.127e-3, 0.1, turn, 0.37e-3), rel=0.005)
    still = survey(post='bore = "5 mm"\nlength = "100 mm"\nslack = "5 mm"').passages["post"]
    assert still.strain == (0.0, 0.0)
    assert (still.turn_borne, still.folding) == (None, None)


def test_a_sheathed_cable_is_as_long_as_the_shortest_run_whose_length_is_known():
    runs = _spares(3).replace("spare = true", 'spare = true\ncable = "post"')
    runs = runs.replace('length = "300 mm"\n', "", 1).replace("300 mm", "340 mm", 1)
    made = survey(extra='[cable.post]\noutside = "3 mm"\n' + runs)
    assert [run.length for run in made.parts.runs if run.name.startswith("spare")] == [0.0, 0.34, 0.3]
    (cable,) = (member for member in made.passages["post"].members if member.kind == "cable")
    assert cable.length == 0.3
