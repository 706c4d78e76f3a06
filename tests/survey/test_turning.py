"""What turning does at each place of the bundle: the turn that is safe, the slack that cures, against SciPy."""

from __future__ import annotations

from math import degrees, hypot, pi, radians, sqrt

import pytest
from scipy.optimize import brentq

from postcheck.physics import copper, twist
from postcheck.survey.post.bores import turn_borne

from .small import survey
from .strands import seven

TURN = 'bore = "5 mm"\nlength = "{length} mm"\nturn = "{turn} deg"\nstop = true\n{more}'
SPARES = "".join(
    f'[[run]]\nname = "spare {n}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\n'
    for n in range(5)
)


# a strand of 0.127 mm by itself in the sheath of a 7/0.127 wire: no lay
SINGLE = '[wire.single]\nstrand = "0.127 mm"\noutside = "0.74 mm"\n'


def post(length=60, turn=180, more="", extra=SPARES, wire="ptfe-28"):
    made = survey(post=TURN.format(length=length, turn=turn, more=more), wire=wire, extra=extra + SINGLE)
    return made.passages["post"]


def test_a_strain_for_each_place():
    # seven equal wires: one in the middle, six a diameter from it (Graham)
    made = post(more='slack = "0 mm"', wire="single")
    wire = made.members[0].wire
    strand, diameter = wire.strand_diameter, made.members[0].diameter
    places = sorted(
        zip((hypot(x, y) for x, y in made.centres), made.strains, strict=True), key=lambda row: row[0]
    )
    assert places[0][0] == pytest.approx(0.0, abs=diameter / 50)
    assert [place for place, _ in places[1:]] == pytest.approx([diameter] * 6, rel=0.02)
    # by hand: gamma = 2 r k/(1 + X2), axial = sqrt(1 + X2) - 1, X = a theta/L (Saint-Venant, helix geometry)
    for place, strain in places:
        index = place * pi / 0.06
        shear = strand * pi / 0.06 / (1 + index**2)
        axial = sqrt(1 + index**2) - 1
        assert strain.shear == pytest.approx(shear)
        assert strain.axial == pytest.approx(axial, abs=1e-12)
        bend = strand / 2 * place * (pi / 0.06) ** 2 / (1 + index**2)
        assert strain.equivalent == pytest.approx(sqrt((axial + bend) ** 2 + shear**2 / 3))


def test_strands_laid_round_each_other_bear_their_lay_besides():
    made = post()
    assert [member.wire.strands for member in made.members] == [7] * 7
    for strain, (x, y) in zip(made.strains, made.centres, strict=True):
        assert strain.axial == pytest.approx(0.0, abs=1e-9)
        assert strain.equivalent == pytest.approx(seven(0.127e-3, 0.06, pi, hypot(x, y)), rel=0.01)
        assert strain.equivalent > 1.15 * strain.shear / sqrt(3)


def test_the_slack_named_takes_the_stretch_away():
    taut = post(more='slack = "0 mm"')
    assert max(strain.axial for strain in taut.strains) > copper.YIELD / copper.ELASTIC_MODULUS
    cured = post(more=f'slack = "{taut.slack_needed * 1e3 + 1e-6:.6f} mm"')
    assert max(strain.axial for strain in cured.strains) == pytest.approx(0.0, abs=1e-9)
    # 7 x 0.74 mm over 60 mm, half a turn: (a theta)2/(2 L) with a one diameter
    a = taut.members[0].diameter
    assert taut.slack_needed == pytest.approx((a * pi) ** 2 / (2 * 0.06), rel=0.03)


def test_hands_leave_two_millimetres_at_most():
    assert post().slack == pytest.approx(post().slack_needed)
    assert post(length=20, turn=720).slack == 0.002


@pytest.mark.parametrize(("length", "cycles"), [(60, 36525), (30, 10000), (20, 100000)])
def test_the_turn_that_is_safe(length, cycles):
    made = post(
        length=length, turn=180, more=f'cycles = "{cycles} cycles"\nslack = "2 mm"', extra="", wire="single"
    )
    strand = made.members[0].wire.strand_diameter / 2
    helix = max(hypot(x, y) for x, y in made.centres)
    allowed = min(
        twist.strain_allowed(cycles, name)
        for name in ("foil", "foil-poor", "slopes", "slopes-poor", "plastic")
    )

    def over(turn):
        k = turn / length * 1e3
        index = helix * k
        stretch = max(0.0, length * 1e-3 * sqrt(1 + index**2) / (length * 1e-3 + 0.002) - 1)
        along = stretch + strand * helix * k * k / (1 + index**2)
        return sqrt(along**2 + (2 * strand * k / (1 + index**2)) ** 2 / 3) - allowed

    want = brentq(over, 1e-3, 4 * pi)
    assert made.turn_borne == pytest.approx(min(want, 2 * pi), rel=1e-5)
    # the remedy goes in steps of five degrees, downwards, and never above the turn there is
    stepped = turn_borne(made, cycles)
    if stepped is not None:
        assert degrees(made.turn_borne) - 5 - 1e-6 <= degrees(stepped) or stepped == pytest.approx(
            radians(180)
        )
        assert stepped <= made.turn_borne + 1e-9


def test_the_safe_turn_is_never_more_than_one_that_loops():
    easy = post(length=300, turn=90, more='cycles = "100 cycles"')
    assert easy.turn_borne == pytest.approx(2 * pi, rel=1e-4)
    # Greenhill: 2 x 4.4934 x (1 + 0.34) rad
    assert degrees(easy.loop_turn) == pytest.approx(690, abs=0.5)
    assert easy.turn_borne < easy.loop_turn / 1.9


def test_a_post_that_stands_still_has_no_such_figures():
    still = survey().passages["post"]
    assert still.turn_borne is None
    assert set(still.strain) == {0.0}


# Judgement: solder creeps up strands, some 2 to 5 diameters of what is soldered; the sheath of a cable is not
def test_the_grip_is_ten_millimetres_or_ten_diameters_of_what_is_soldered():
    fat = '[wire.fat]\nstrand = "0.2 mm"\nstrands = 19\noutside = "1.6 mm"\n'
    run = '[[run]]\nname = "data"\nspare = true\n{more}\nends = ["base", "hull"]\nlength = "300 mm"\n'
    cable = '[cable.sheathed]\noutside = "3 mm"\n'
    assert post().grip == pytest.approx(0.010)
    assert post(extra=fat + run.format(more='wire = "fat"')).grip == pytest.approx(0.016)
    assert post(extra=cable + run.format(more='cable = "sheathed"')).grip == pytest.approx(0.010)
    mixed = run.format(more='cable = "sheathed"\nwire = "fat"') + run.replace("data", "other").format(
        more='cable = "sheathed"'
    )
    assert post(extra=cable + fat + mixed).grip == pytest.approx(0.016)


# 0.008 lb per circular mil and 220 N/mm2: 36 AWG yields at about 0.95 N (75 N/mm2) and breaks at 2.79 N
def test_the_weakest_wire_by_hand():
    made = survey(wire="thin", extra='[wire.thin]\nstrand = "0.127 mm"\noutside = "0.2 mm"\n').passages[
        "post"
    ]
    assert made.weak == (pytest.approx(0.95, abs=0.005), pytest.approx(2.79, abs=0.005))


# from a right angle on a fibre goes from the outside of the bend to the inside, whatever the turn; half a turn each way is
# 360 degrees there and as many back: that happens twice in it, and once in a quarter
def test_half_a_turn_each_way_spends_a_bend_twice_as_fast():
    quarter, half = (post(turn=turn, more='bend_radius = "8 mm"').end_bend for turn in (90, 180))
    assert half.swing == pytest.approx(quarter.swing)
    assert half.cycles_to_failure == pytest.approx([cycles / 2.0 for cycles in quarter.cycles_to_failure])
