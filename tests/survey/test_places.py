"""Heat in closed places: every watt is found again, and the rise agrees with a worked box."""

import pytest

from .small import lamp, survey

SEALED = 'access = "sealed"\nmaterial = "styrene"\nsurface = "108 cm2"'


# Worked by hand: polystyrene box 60 x 40 x 30 mm, A = 0.0108 m2; 0.5 W over U = 3.27 W/(m2 K) gives 14.2 K. With the
# U of 3.5 taken here, 13.2 K.
def test_rise_of_a_worked_box():
    made = survey(hull=SEALED + '\nheat = "0.5 W"', lamps=lamp(at=""))
    place = made.places["hull"]
    assert dict(place.parts)["what else is in it"] == 0.5
    assert place.heat == pytest.approx(0.5, rel=1e-4)  # and what the wires to the bow lamp lose there
    assert place.rise == pytest.approx(14.2 * 3.27 / 3.5, rel=0.01)
    assert place.hottest == pytest.approx(35.0 + place.rise)


def test_open_places_are_left_out():
    assert set(survey().places) == {"hull"}


# energy: what the supply gives, less what the copper takes, is all in lamp and resistor
def test_lamp_and_resistor_together_take_what_the_supply_gives():
    made = survey(
        hull=SEALED, lamps=lamp(at=" at hull", lead="120 mm").replace('place = "bow"', 'place = "hull"')
    )
    given = made.electrics.supplies["main"].nominal * 12.0
    assert made.places["hull"].heat == pytest.approx(given, rel=1e-3)


def test_a_flasher_counts_for_the_share_it_is_on():
    steady = survey(hull=SEALED, lamps=lamp(at=" at hull")).places["hull"].heat
    flash = survey(
        hull=SEALED,
        lamps=lamp(at=" at hull"),
        circuit='behaviour = "flash"\nrate = "60 /min"\non_share = "25 %"',
    ).places["hull"]
    assert flash.heat == pytest.approx(0.25 * steady, rel=1e-6)


def test_without_a_surface_there_is_heat_but_no_rise():
    place = survey(lamps=lamp(at=" at hull")).places["hull"]
    assert place.heat > 0.05
    assert place.rise is None
    assert place.hottest is None


# HIPS: HDT 70 to 84 degC by suppliers' tables; the limit lies below it
def test_what_a_material_stands():
    assert survey(hull=SEALED).places["hull"].stands < 70.0
    unknown = survey(hull='access = "sealed"\nmaterial = "old tin and glue"').places["hull"]
    assert unknown.stands == 60.0


# Thick film of 1/4 W runs 85 K hot at its rating (film limit 155 degC less 70 degC, data sheet of a CRCW e3 type)
def test_the_wall_beside_a_resistor():
    made = survey(hull=SEALED, lamps=lamp(at=" at hull"))
    place = made.places["hull"]
    (resistor,) = [watts for part, watts in place.parts if "resistor" in part]
    (spot,) = made.hot_spots
    assert (spot.kind, spot.name, spot.stuck) == ("resistor", "bow lamp", False)
    assert spot.air == place.hottest
    assert spot.celsius - spot.air == pytest.approx(0.5 * 85.0 * resistor / 0.25)


def test_an_output_warms_where_its_board_sits():
    made = survey(
        hull=SEALED, lamps=lamp(),
        extra='[board.flasher]\nplace = "hull"\nsupply = "main"\nidle = "10 mA"\n[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n',
    )  # fmt: skip
    assert dict(made.places["hull"].parts)["flasher"] == pytest.approx(
        0.12, rel=1e-3
    )  # 10 mA at 12 V less its run


# DEVELOPERS.md: 38 cm2, or 9 cm2 (30 x 30 mm) a lamp and 30 x 20 mm along a strip, whose four sides are 100 mm round
def test_how_many_of_the_smallest_bodies_hold_what_is_in_one():
    inside = lamp(at=" at hull", lead="120 mm").replace('place = "bow"', 'place = "hull"')
    lamps = "".join(inside.replace("bow lamp", f"lamp {n}") for n in range(10))
    assert survey(hull=SEALED, lamps=inside).places["hull"].bodies == 1.0
    assert survey(hull=SEALED, lamps=lamps).places["hull"].bodies == pytest.approx(90.0 / 38.0)
    strings = inside.replace("circuit", "series = 3\nparallel = 4\ncircuit", 1)
    assert survey(hull=SEALED, lamps=strings).places["hull"].bodies == pytest.approx(12 * 9.0 / 38.0)
    strip = '[[strip]]\nname = "cabin"\nkind = "strip-12v-warm-white-60"\ncircuit = "lights"\nplace = "hull"\nsegments = 10\n'
    made = survey(hull=SEALED, lamps=lamps + strip)
    length = made.parts.strips[0].length
    assert length == pytest.approx(0.5)  # sixty LEDs a metre, three a segment
    assert made.places["hull"].bodies == pytest.approx((90.0 + length * 1000.0) / 38.0)
