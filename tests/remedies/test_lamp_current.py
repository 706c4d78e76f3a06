"""Another resistor for a lamp, or its first: R = (V - n Vf) / I less the wire, then the next values of the series.

The lamp here takes 3.2 V at its rated 20 mA, each one alike and whatever its heat. Of wire there is 240 mm of 2.195 ohm/m and 600 mm
of 0.198: 0.65 ohm. Power: (V + 5 % - n Vf)**2 / R at the least resistance, of which three quarters of what is sold are used.
"""

from __future__ import annotations

import pytest

from postcheck.remedies.constant_current import less_current
from postcheck.remedies.resistor import at_other_volts, less_light, resistance_for
from postcheck.remedies.resistor_power import load_of, supplied
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.checks.facts import with_figures
from tests.checks.test_lamps import own_kind, string
from tests.survey.small import adaptor, lamp, survey

from .offers import given, offers, typed

LAMP = ("lamp", "bow lamp")


def made(resistor: str | None, forward: str = "3.2 V", stock: str = "E12", **more: object) -> Survey:
    supply = more.pop("supply", None)
    circuit = str(more.pop("circuit", ""))
    return survey(
        lamps=string("own", resistor=resistor, **more),
        extra=own_kind(forward=forward) + f'[stock]\nseries = "{stock}"\n',
        circuit=circuit,
        supply=supply if isinstance(supply, str) else None,
    )


def told(made: Survey, check: str, **more: object) -> list[str]:
    """The words alone."""
    return [says for says, *_ in offers(made, given(check, LAMP, ("lamp", 0), **more))]


# 440 - 0.65 = 439.35; 120 - 0.65; 105 - 0.65; 60 - 0.65 = 59.35, just above 59.0; 30 - 0.65 = 29.35
@pytest.mark.parametrize(
    ("count", "forward", "series", "values"),
    [
        (1, "3.2 V", "E12", ["470 ohm", "560 ohm", "680 ohm"]), (1, "3.2 V", "E24", ["470 ohm", "510 ohm", "560 ohm"]),
        (1, "3.2 V", "E96", ["442 ohm", "453 ohm", "464 ohm"]), (3, "3.2 V", "E96", ["121 ohm", "124 ohm", "127 ohm"]),
        (3, "3.3 V", "E96", ["105 ohm", "107 ohm", "110 ohm"]), (3, "3.6 V", "E96", ["60.4 ohm", "61.9 ohm", "63.4 ohm"]),
        (3, "3.8 V", "E96", ["29.4 ohm", "30.1 ohm", "30.9 ohm"]),
    ],
)  # fmt: skip
def test_the_least_value_that_keeps_it_within_its_rating(count, forward, series, values):
    before = 100 if count == 1 else 10
    build = survey(
        lamps=string("own", resistor=f"{before} ohm 1 W 5 %", series=count),
        extra=own_kind(forward=forward) + f'[stock]\nseries = "{series}"\n',
    )
    assert offers(build, given("lamp.over-rating", LAMP)) == [
        (f"Use {value} 1 W instead of {before} ohm.", f'lamp.0.resistor = "{value} 1 W 5 %"')
        for value in values
    ]


def test_what_burns_out_is_given_a_resistor_by_its_data_too():
    # a resistor typed a hundred times too small: of what flows then nothing can be told, and 12 - 2.96 V over 8 mA, or
    # 12 - 3.12 V over 16 mA, is 1130 and 555 ohm
    assert "Use 560 ohm instead of 6.8 ohm." in told(made("6.8 ohm 1/4 W"), "lamp.over-rating")
    assert "Use 1.2 kohm instead of 6.8 ohm." in told(
        made("6.8 ohm 1/4 W", wanted='"8 mA"'), "lamp.over-rating"
    )
    # behind one resistor three strings take three times as much: 185 ohm
    assert "Use 220 ohm 1 W instead of 1 ohm." in told(
        made("1 ohm 1 W", parallel=3, one_resistor="true"), "lamp.over-rating"
    )


# on 470 ohm (9.4 / 0.95)**2 / 470 = 208 mW, more than 80 % of 1/4 W; on 560 ohm 175 mW
@pytest.mark.parametrize(
    ("resistor", "typed"),
    [
        ("100 ohm 1/4 W", ["470 ohm 1/2 W", "560 ohm 1/4 W", "680 ohm 1/4 W"]),
        ("100 ohm 1/8 W", ["470 ohm 1/2 W", "560 ohm 1/4 W", "680 ohm 1/4 W"]),
        ("330 ohm 1/2 W", ["470 ohm 1/2 W", "560 ohm 1/2 W", "680 ohm 1/2 W"]),
        ("330 ohm", ["470 ohm", "560 ohm", "680 ohm"]),
    ],
)
def test_with_more_power_where_it_needs_that(resistor, typed):
    assert [edit for _, edit in offers(made(resistor), given("lamp.over-rating", LAMP))] == [
        f'lamp.0.resistor = "{one}"' for one in typed
    ]


def test_by_the_rating_of_the_finding():
    # half of it: 880 ohm, with less voltage at less current
    assert told(made("100 ohm 1 W"), "lamp.over-rating", figures={"rated": 0.01}) == [
        f"Use {value} 1 W instead of 100 ohm." for value in ("1 kohm", "1.2 kohm", "1.5 kohm")
    ]


def test_of_what_is_there_already_nothing_is_offered():
    # 439.35 ohm: 442 is there
    assert told(made("442 ohm 1 W", stock="E96"), "lamp.over-rating") == [
        "Use 453 ohm 1 W instead of 442 ohm.",
        "Use 464 ohm 1 W instead of 442 ohm.",
    ]


def test_what_is_wanted_is_met_by_the_nearest():
    # 12 - 2.96 V at 8 mA: 1130 ohm, of E12 1.2k, of E24 1.1k
    for series, value in (("E12", "1.2 kohm"), ("E24", "1.1 kohm")):
        build = made("330 ohm 1 W", stock=series, wanted='"8 mA"')
        assert told(build, "lamp.not-as-wanted") == [f"Use {value} 1 W instead of 330 ohm."]


def test_one_resistor_of_three_strings_has_three_times_the_current():
    # 8.8 V / 60 mA = 146.7 less 0.65
    build = made("100 ohm 1 W", parallel=3, one_resistor="true")
    assert told(build, "lamp.over-rating") == [
        f"Use {value} ohm 1 W instead of 100 ohm." for value in (150, 180, 220)
    ]


@pytest.mark.parametrize(
    ("shared", "own"),
    [
        # each string alone gets three times what is shared now: 3 x 220 ohm
        (220, ("680 ohm", "820 ohm", "1 kohm")),
        # 300 ohm would leave each 29 mA, more than it is rated for: (12 - 3.17) V / 16 mA = 552 ohm
        (100, ("560 ohm", "680 ohm", "820 ohm")),
    ],
)
def test_each_of_three_strings_gets_a_resistor_of_its_own(shared, own):
    build = made(f"{shared} ohm 1 W", parallel=3, one_resistor="true")
    assert offers(build, given("lamp.shared-resistor", LAMP)) == [
        (f"Give each string its own {value} 1 W.", f'lamp.0.resistor = "{value} 1 W"', "lamp.0.one_resistor = false")
        for value in own
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("place", "share", "where", "typed"),
    [
        ("", "", "", ""),
        (" at hull", "", "", " at hull"),
        (" at base", "", " at 'hull'", " at hull"),
        (" at base", 'strings_share = "lead"\n', " beside it", ""),
    ],
)
def test_a_resistor_a_string_lies_with_the_lamps_or_at_the_joint(place, share, where, typed):
    lamps = string("own", resistor=f"100 ohm 1 W{place}", parallel=3, one_resistor="true") + share
    build = survey(lamps=lamps, extra=own_kind())
    assert offers(build, given("lamp.shared-resistor", LAMP))[0] == (
        f"Give each string its own 560 ohm 1 W{where}.",
        f'lamp.0.resistor = "560 ohm 1 W{typed}"',
        "lamp.0.one_resistor = false",
    )


# -- dim: at four fifths, 16 mA, 3.17 V each


def test_less_resistance_for_a_lamp_that_is_dim():
    # (12 - 3.17) / 0.016 = 552
    assert offers(made("15k 1/4 W"), given("lamp.dim", LAMP)) == [
        (f"Use {value} ohm instead of 15 kohm.", f'lamp.0.resistor = "{value} ohm 1/4 W"')
        for value in (560, 680)
    ]
    # 560 ohm is there: less would be more than four fifths
    assert offers(made("560 ohm 1/4 W"), given("lamp.dim", LAMP)) == []
    assert told(made("680 ohm 1/4 W"), "lamp.dim") == ["Use 560 ohm instead of 680 ohm."]


# fewer in series: 12 - 9.5 V / 16 mA = 157, 12 - 6.3: 353, 12 - 3.17: 552; no string of unequal length, none above 90 % of 12 V
@pytest.mark.parametrize(
    ("count", "strings", "offered"),
    [
        (4, 1, [(2, 2, 390), (1, 4, 560)]),
        (4, 2, [(2, 4, 390), (1, 8, 560)]),
        (6, 1, [(3, 2, 180), (2, 3, 390), (1, 6, 560)]),
        (5, 1, [(1, 5, 560)]),
    ],
)
def test_fewer_in_series_and_more_strings(count, strings, offered):
    build = survey(
        lamps=string("own", resistor="100 ohm 1/4 W", series=count, parallel=strings), extra=own_kind()
    )
    assert offers(build, given("lamp.dim", LAMP)) == [
        (
            (f"Put {each} in series, in {many} strings" if each > 1 else f"Put them in {many} strings of one") + f", each with {ohms} ohm.",
            f'lamp.0.resistor = "{ohms} ohm 1/4 W"',
            f"lamp.0.series = {each}",
            f"lamp.0.parallel = {many}",
        )
        for each, many, ohms in offered
    ]  # fmt: skip


# -- the wrong way round


@pytest.mark.parametrize(
    ("resistor", "stronger"),
    [("330 ohm 1/4 W", "330 ohm 1/2 W"), ("1k 1/4 W", None), ("330 ohm 1/2 W", None)],
)
def test_turned_round_its_resistor_bears_the_current(resistor, stronger):
    # (8.8 + 0.6)**2 / 0.95**2 / 330 = 297 mW; on 1k 98 mW
    turned = "lamp.0.backwards = false"
    more = [
        (
            "Swap its two wires, and use 330 ohm 1/2 W instead of its resistor.",
            turned,
            f'lamp.0.resistor = "{stronger}"',
        )
    ]
    assert offers(made(resistor, backwards="true"), given("lamp.backwards", LAMP)) == [
        ("Swap its two wires.", turned), *(more if stronger else []),
    ]  # fmt: skip


def test_without_a_resistor_only_its_wires_are_swapped():
    assert offers(made(None, backwards="true"), given("lamp.backwards", LAMP)) == [
        ("Swap its two wires.", "lamp.0.backwards = false")
    ]


# -- values that are not sold


@pytest.mark.parametrize(
    ("resistor", "value", "then"),
    [
        ("333 ohm 1/4 W", 333.0, ("330 ohm", "330 ohm 1/4 W")),
        ("317 ohm 1/4 W", 317.0, ("330 ohm", "330 ohm 1/4 W")),
        ("333 ohm 1/4 W", 334.0, None),
        ("100 ohm 1/4 W + 333 ohm 1/4 W", 333.0, ("330 ohm", "100 ohm 1/4 W + 330 ohm 1/4 W")),
        ("333 ohm 1/4 W + 100 ohm 1/4 W", 333.0, ("330 ohm", "330 ohm 1/4 W + 100 ohm 1/4 W")),
        # a trimmer has what track it has
        ("333 ohm 1/4 W + trimmer 333 ohm set to 90 ohm", 333.0, ("330 ohm", "330 ohm 1/4 W + trimmer 333 ohm set 90 ohm")),
    ],
)  # fmt: skip
def test_the_nearest_that_is_sold(resistor, value, then):
    assert offers(made(resistor), given("resistor.not-in-series", LAMP, figures={"ohms": value})) == (
        [] if then is None else [(f"Use {then[0]}, the nearest in E24.", f'lamp.0.resistor = "{then[1]}"')]
    )


# -- trimmers: turned down (12 - 3.17) / 16 mA = 552 ohm is left; what it was in all stays, as far as it reaches


@pytest.mark.parametrize(
    ("resistor", "then"),
    [
        # 250 mW on 560 ohm want 1/2 W at 5 %: (12.6 - 3.17)**2 / 0.95**2 / 560 = 176 mW on 1/4 W
        ("trimmer 1k set to 500 ohm", ["560 ohm 1/4 W + trimmer 1 kohm set 0 ohm", "680 ohm 1/4 W + trimmer 1 kohm set 0 ohm"]),
        ("100 ohm 1/4 W + trimmer 1k set to 900 ohm", ["560 ohm 1/4 W + trimmer 1 kohm set 440 ohm", "680 ohm 1/4 W + trimmer 1 kohm set 320 ohm"]),
        ("100 ohm 1/4 W + trimmer 1k", ["560 ohm 1/4 W + trimmer 1 kohm", "680 ohm 1/4 W + trimmer 1 kohm"]),
    ],
)  # fmt: skip
def test_a_fixed_resistor_before_a_trimmer(resistor, then):
    found = offers(made(resistor), given("trimmer.turned-down", LAMP))
    assert len(found) == 4
    assert found[:2] == [(f"Make it {one}.", f'lamp.0.resistor = "{one}"') for one in then]


# -- filaments: what is above their volts, by their rated current


def test_a_resistor_takes_up_what_is_above_a_filaments_volts():
    rice = survey(lamps=string("rice-3v", None))
    part = rice.parts.lamps[0].dice[0]
    assert part.filament_volts == 3.0
    # 9 V at 30 mA: 300 ohm; (12.6 / 12)**2 x 0.27 W = 298 mW is within three quarters of 1/2 W
    assert part.rated == 0.03
    assert offers(rice, given("lamp.over-rating", LAMP)) == [
        (f"Put {value} ohm 1/2 W at 'hull' before it.", f'lamp.0.resistor = "{value} ohm 1/2 W at hull"') for value in (330, 390, 470)
    ]  # fmt: skip
    assert told(survey(lamps=string("rice-3v", None, parallel=2)), "lamp.over-rating")[0] == (
        "Put 330 ohm 1/2 W at 'hull' before each of them."
    )
    # two in series leave 6 V: 200 ohm, 198 mW
    assert told(survey(lamps=string("rice-3v", None, series=2)), "lamp.over-rating")[0].startswith(
        "Put 220 ohm 1/2 W at"
    )
    # 11.99 V at its joints is not above 12 V
    assert offers(survey(lamps=string("rice-12v", None)), given("lamp.over-rating", LAMP)) == []


# -- power


@pytest.mark.parametrize(
    ("watts", "power", "percent"),
    [
        (0.29, "1/2 W", 58),
        (0.374, "1/2 W", 75),
        (0.376, "1 W", 38),
        (0.18, None, 0),
        (0.1876, "1/2 W", 38),
        (50.0, None, 0),
    ],
)
def test_the_least_power_of_which_three_quarters_are_enough(watts, power, percent):
    finding = given("resistor.overloaded", LAMP, figures={"highest": watts})
    assert offers(made("330 ohm 1/4 W"), finding) == (
        [] if power is None else
        [(f"Use one of {power}: it is then loaded to {percent} % at most.", f'lamp.0.resistor = "330 ohm {power}"')]
    )  # fmt: skip


def test_a_trimmer_whose_whole_track_stands_it():
    # a track is sold for all of its power
    build = made("100 ohm 1/8 W + trimmer 1k 1/10 W set to 500 ohm")
    for watts, power in ((0.1, None), (0.11, "1/8 W"), (0.25, "1/4 W"), (0.26, "1/2 W")):
        assert offers(build, given("trimmer.overloaded", LAMP, figures={"highest": watts})) == (
            [] if power is None else
            [(f"Use {power} for a trimmer.", f'lamp.0.resistor = "100 ohm 1/8 W + trimmer 1 kohm {power} set 500 ohm"')]
        )  # fmt: skip


@pytest.mark.parametrize(
    ("watts", "turned", "track"),
    # of 0.1 W and 1 kohm, P = I2 R: 0.51 W leave 196 ohm, 0.98 W 102, 1.1 W 91
    [(0.51, 90, 100), (0.98, 90, 100), (1.1, 40, 50), (1.1, 60, None), (0.51, 150, None), (0.49, 10, 200)],
)
def test_a_shorter_track_where_none_is_sold_for_so_much(watts, turned, track):
    build = made(f"100 ohm 1/8 W + trimmer 1k 1/10 W set to {turned} ohm")
    found = offers(build, given("trimmer.overloaded", LAMP, figures={"highest": watts}))
    if watts < 0.5:
        assert [says for says, _ in found] == ["Use 1/2 W for a trimmer."]
        return
    assert found == (
        [] if track is None else
        [(f"Use a trimmer of {track} ohm: its whole track stands that.",
          f'lamp.0.resistor = "100 ohm 1/8 W + trimmer {track} ohm 1/10 W set {turned} ohm"')]
    )  # fmt: skip


# tracks go 10, 20, 50 ohm and so on, up to 5 Mohm (from memory). Of 0.1 W and R what is left at 0.51 W is 0.196 R, at 1 W a tenth of it
@pytest.mark.parametrize(
    ("ohms", "watts", "track"),
    [("50 ohm", 0.51, None), ("52 ohm", 0.51, "10 ohm"), ("101 ohm", 0.51, "10 ohm"), ("200 ohm", 1.0, "20 ohm"), ("200 ohm", 1.01, "10 ohm"),
     ("500 ohm", 1.0, "50 ohm"), ("1k", 1.0, "100 ohm"), ("20k", 1.0, "2 kohm"), ("500k", 1.0, "50 kohm"), ("1M", 1.0, "100 kohm"),
     ("5M", 1.0, "500 kohm"), ("20M", 1.0, "2 Mohm"), ("90M", 1.0, "5 Mohm"), ("900M", 1.0, "5 Mohm")],
)  # fmt: skip
def test_tracks_as_they_are_sold(ohms, watts, track):
    found = told(
        made(f"100 ohm 1/8 W + trimmer {ohms} 1/10 W"), "trimmer.overloaded", figures={"highest": watts}
    )
    assert found == ([] if track is None else [f"Use a trimmer of {track}: its whole track stands that."])
    # of which nobody says what it stands
    assert (
        told(made(f"100 ohm 1/8 W + trimmer {ohms}"), "trimmer.overloaded", figures={"highest": watts}) == []
    )


def test_of_several_in_series_each_that_is_too_weak():
    # both leave some 64 mA of 12.6 - 3.2 V and more of a hot die: 0.12 W and 0.45 W; three quarters of 1/8 W are 94 mW, of 1/2 W 375
    build = made("30 ohm 1/8 W + 110 ohm 1/2 W")
    amps = build.electrics.lamps["bow lamp"].highest
    assert 0.094 / 30 < amps**2 < 0.1875 / 30
    assert 0.375 / 110 < amps**2 < 0.75 / 110
    assert offers(build, given("resistor.overloaded", LAMP, figures={"highest": 0.7})) == [
        (
            "Use 1/4 W for the 30 ohm and 1 W for the 110 ohm.",
            'lamp.0.resistor = "30 ohm 1/4 W + 110 ohm 1 W"',
        )
    ]
    # nothing for a resistor whose power nobody states, or which has enough
    assert (
        offers(made("30 ohm + 110 ohm 1 W"), given("resistor.overloaded", LAMP, figures={"highest": 0.7}))
        == []
    )


# -- the first resistor, at four fifths of 20 mA or as wanted; at the joint, then with the lamp


@pytest.mark.parametrize(
    ("more", "who", "values"),
    [
        # (12 - 3.17) / 0.016 = 552: (9.43 / 0.95)**2 / 560 = 176 mW, and 145 on 680
        ({}, "it", ["560 ohm 1/4 W", "680 ohm 1/4 W"]),
        ({"parallel": 4}, "each string", ["560 ohm 1/4 W", "680 ohm 1/4 W"]),
        # (12 - 9.5) / 0.016 = 156: (3.1 / 0.95)**2 / 180 = 58 mW, and 48 on 220
        ({"series": 3}, "it", ["180 ohm 1/8 W", "220 ohm 1/8 W"]),
        # (12 - 2.85) / 0.005 = 1830, so 1.8k comes nearest: (9.75 / 0.95)**2 / 2200 = 48 mW, and 39 on 2.7k
        ({"wanted": '"5 mA"'}, "it", ["1.8 kohm 1/8 W", "2.2 kohm 1/8 W", "2.7 kohm 1/8 W"]),
    ],
)
def test_the_first_resistor_of_a_lamp(more, who, values):
    assert offers(made(None, **more), given("lamp.no-resistor", LAMP)) == [
        (
            f"Give {who} a resistor of {value}{quoted}.",
            f'lamp.0.resistor = "{value}{typed}"',
        )
        for quoted, typed in ((" at 'hull'", " at hull"), ("", ""))
        for value in values
    ]


def test_the_usual_power_is_not_asked_for():
    with_usual = survey(
        lamps=string("own", resistor=None), extra=own_kind(), wire='ptfe-28"\nresistor = "1/4 W 5 %'
    )
    assert told(with_usual, "lamp.no-resistor")[:2] == [
        "Give it a resistor of 560 ohm at 'hull'.", "Give it a resistor of 680 ohm at 'hull'.",
    ]  # fmt: skip


def test_the_next_adaptor_where_the_volts_leave_a_resistor_nothing():
    # four take 12.7 V; of 15 V a tenth has to be left: 2.3 V at 16 mA are 145 ohm
    four = [
        (
            f"Use an adaptor of 15 V, and give 'bow lamp' a resistor of {value} ohm.",
            'supply.main.volts = "15 V"',
            f'lamp.0.resistor = "{value} ohm"',
        )
        for value in (150, 180)
    ]
    found = offers(made(None, series=4), given("lamp.no-resistor", LAMP))
    assert [one[1] for one in found] == [one[1] for one in four]
    assert found[0][0].startswith("Use an adaptor of 15 V, and give 'bow lamp' a resistor of ")
    # 13.5 V leave just a tenth of 15 V, 13.55 V do not: 18 V, of which 4.45 V are left
    for forward, volts in (("3.375 V", "15 V"), ("3.3875 V", "18 V")):
        just = made(None, series=4, forward=forward, wanted='"20 mA"')
        assert told(just, "lamp.no-resistor")[0].startswith(f"Use an adaptor of {volts}")
    # five take 15.9 V: 18 V; eight take 25.4 V, more than any adaptor gives
    assert told(made(None, series=5), "lamp.no-resistor")[0].startswith("Use an adaptor of 18 V")
    assert told(made(None, series=5, parallel=2), "lamp.no-resistor")[0].startswith(
        "Use an adaptor of 18 V, and give each string of 'bow lamp' a resistor of 1"
    )
    assert told(made(None, series=8), "lamp.no-resistor") == []
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    assert told(made(None, series=4, supply=cells), "lamp.no-resistor") == []


# -- a constant-current output: what one string withstands, and four fifths of it


@pytest.mark.parametrize(
    ("parallel", "words"), [(1, "its string withstands that"), (3, "any string withstands that alone")]
)
def test_an_output_that_sets_what_one_string_withstands(parallel, words):
    build = made(None, parallel=parallel, circuit='output = "60 mA constant, compliance 2 V"')
    less = [
        (f"Set the output of 'lights' to {amps}: {words}.", f'circuit.lights.output = "{amps} constant, compliance 2 V"')
        for amps in ("20 mA", "16 mA")
    ]  # fmt: skip
    assert [one for one in offers(build, given("lamp.over-rating", LAMP)) if "Set" in one[0]] == less
    finding = given("lamp.sibling-open", ("circuit", "lights"), figures={"rated": 0.02})
    one_string = [
        (
            f"Put all of them in one string, on {amps}.",
            edit,
            f"lamp.0.series = {parallel}",
            "lamp.0.parallel = 1",
        )
        for (_, edit), amps in zip(less, ("20 mA", "16 mA"), strict=True)
    ]
    assert offers(build, finding) == [*one_string, *less]
    # what it gives already is not less
    eighteen = made(None, parallel=parallel, circuit='output = "18 mA constant, compliance 2 V"')
    assert [says for says, *_ in offers(eighteen, finding)] == [
        "Put all of them in one string, on 16 mA.",
        f"Set the output of 'lights' to 16 mA: {words}.",
    ]
    at_it = made(None, parallel=parallel, circuit='output = "16 mA constant, compliance 2 V"')
    assert offers(at_it, finding) == []


def test_the_lamps_of_two_entries_do_not_become_one_string():
    two = string("own", resistor=None) + string("own", resistor=None).replace("bow lamp", "stern lamp")
    build = survey(lamps=two, extra=own_kind(), circuit='output = "30 mA constant, compliance 2 V"')
    finding = given("lamp.sibling-open", ("circuit", "lights"), figures={"rated": 0.0213})
    assert [says for says, *_ in offers(build, finding)] == [
        f"Set the output of 'lights' to {amps}: any string withstands that alone."
        for amps in ("21.3 mA", "17 mA")
    ]


# -- as bright as its fellows: half as bright twice the resistance, nearly


def test_more_resistance_for_the_brighter_one():
    build = made("680 ohm 1/4 W", stock="E96")
    lamp = build.electrics.lamps["bow lamp"]
    parts = {"other": Subject("lamp", "bow lamp")}
    found = told(build, "lamp.unequal", case="whites:whites", figures={"difference": 0.25}, parts=parts)
    # R = (12 - Vf) / I, with Vf a little less at four fifths of the current
    least, most = (
        (12.0 - volts) / (lamp.nominal / 1.25) - 0.65
        for volts in (lamp.string_volts, lamp.string_volts - 0.1)
    )
    value = float(found[0].removeprefix("Use ").split()[0])
    assert least * 0.97 <= value <= most * 1.03
    assert found[0].endswith(" ohm instead of 680 ohm for 'bow lamp', or lamps of one kind.")
    assert len(found) == 2


# -- where there is no current to go by


def as_if(build: Survey, **figures: float) -> Survey:
    lamps = {"bow lamp": build.electrics.lamps["bow lamp"]._replace(**figures)}
    return with_figures(build, lamps=lamps)


def test_a_lamp_that_gets_nothing_has_no_value_to_go_by():
    build = made("330 ohm 1 W")
    lamp = build.electrics.lamps["bow lamp"]
    assert resistance_for(lamp, 0.02) == pytest.approx(439.35, rel=1e-3)
    for nothing in (0.0, -1e-9):
        assert resistance_for(lamp._replace(nominal=nothing), 0.02) is None
        assert resistance_for(lamp, nothing) is None
    # more current than the volts would drive through no resistance at all
    assert resistance_for(lamp, 2.0) is None
    for bare in (made(None), survey(lamps=string("rice-12v", "10 ohm 1 W"))):
        assert resistance_for(bare.electrics.lamps["bow lamp"], 0.02) is None


def test_then_the_sum_of_its_data_tells_what_it_needs():
    # (12 - 3.17) / 0.016 = 552: (9.43 / 0.95)**2 / 560 = 176 mW, 145 on 680 and 120 on 820
    build = as_if(made("330 ohm 1/8 W"), nominal=0.0)
    assert offers(build, given("lamp.over-rating", LAMP)) == [
        (f"Use {value} ohm 1/4 W instead of 330 ohm.", f'lamp.0.resistor = "{value} ohm 1/4 W"') for value in (560, 680, 820)
    ]  # fmt: skip
    assert offers(as_if(made("330 ohm 1/8 W"), highest=0.0), given("lamp.over-rating", LAMP)) == []


def test_behind_one_resistor_by_its_data_all_strings_count():
    # (12 - 3.17) / (3 x 0.016) = 184. Of 8.83 V 220 ohm take 354 mW, 270 289 and 330 236, of which 1/2 W bears three quarters
    build = as_if(made("100 ohm 1/4 W", parallel=3, one_resistor="true"), nominal=0.0)
    assert offers(build, given("lamp.over-rating", LAMP)) == [
        (f"Use {value} ohm 1/2 W instead of 100 ohm.", f'lamp.0.resistor = "{value} ohm 1/2 W"')
        for value in (220, 270, 330)
    ]


def test_what_varies_much_is_given_less():
    # the most is twice what is usual, and one and a half times its rating is allowed: three quarters of 20 mA, so 12 - 3.12 V
    # over 15 mA, 592 ohm; as likely 1.6 times, and one and a quarter allowed: 78 %, 568
    build = made("330 ohm 1 W", stock="E96")
    nominal = build.electrics.lamps["bow lamp"].nominal
    much = as_if(build, highest=2.0 * nominal, likely_highest=1.2 * nominal)
    assert told(much, "lamp.over-rating")[0] == "Use 604 ohm 1 W instead of 330 ohm."
    likely = as_if(build, highest=1.4 * nominal, likely_highest=1.6 * nominal)
    assert told(likely, "lamp.over-rating")[0] == "Use 576 ohm 1 W instead of 330 ohm."


def test_more_power_for_a_smaller_value():
    assert offers(made("15k 1/16 W"), given("lamp.dim", LAMP)) == [
        (f"Use {value} ohm 1/4 W instead of 15 kohm.", f'lamp.0.resistor = "{value} ohm 1/4 W"') for value in (560, 680)
    ]  # fmt: skip


def test_a_string_needs_a_tenth_of_the_volts_over_its_resistor():
    # three of some 3.7 V at 16 mA leave 0.9 of 12 V; of 3.4 V 1.8
    for forward, first in (("3.9 V", 2), ("3.5 V", 3)):
        build = survey(
            lamps=string("own", resistor="100 ohm 1/4 W", series=6), extra=own_kind(forward=forward)
        )
        assert told(build, "lamp.dim")[0].startswith(f"Put {first} in series, in {6 // first} strings")


# -- within its rating but for the heat of its place


def test_where_the_place_has_lowered_its_rating_it_comes_back_in_part():
    # rated 20 mA in the room and 12 mA here: for 20 mA one value, for 16 two, for 12 one
    build = as_if(made("100 ohm 1 W", stock="E24"), rated=0.012)
    assert told(build, "lamp.over-rating") == [
        f"Use {value} 1 W instead of 100 ohm." for value in ("470 ohm", "560 ohm", "620 ohm", "750 ohm")
    ]
    # within that of the room its resistor goes out first
    inside = (
        string("own", resistor="470 ohm 1 W at hull").replace('"bow"', '"hull"').replace("to hull", "to base")
    )
    here = as_if(survey(lamps=inside, extra=own_kind()), rated=0.012)
    assert told(here, "lamp.over-rating")[0] == "Move the resistor of 'bow lamp' out to 'base'."
    above = as_if(survey(lamps=inside, extra=own_kind()), rated=0.012, nominal=0.021)
    assert told(above, "lamp.over-rating")[0].startswith("Use ")
    equal = as_if(survey(lamps=inside, extra=own_kind()), rated=0.02)
    assert told(equal, "lamp.over-rating")[0].startswith("Use ")


# -- one cell more: 1.5 V over the 18 mA of a lamp are 80 ohm


@pytest.mark.parametrize("check", ["battery.stops-early", "battery.dim-early"])
def test_larger_resistors_for_one_cell_more(check):
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    build = made("470 ohm 1/2 W", supply=cells, stock="E24")
    nominal = build.electrics.lamps["bow lamp"].nominal
    # 1.5 V a fresh cell: 560 from 470 + 1.5 / 18.6 mA
    assert 470 + 1.2 / nominal < 560
    assert 470 + 1.6 / nominal > 510
    words = "Use one cell more."
    assert offers(build, given(check, ("supply", "main"), remedy=words)) == [
        (words, "supply.main.cells = 9"),
        ("Use 9 cells, with 560 ohm 1/2 W for 'bow lamp'.", "supply.main.cells = 9", 'lamp.0.resistor = "560 ohm 1/2 W"'),
    ]  # fmt: skip
    assert offers(build, given(check, ("supply", "main"), remedy=None)) == []
    dark = as_if(build, nominal=0.0)
    assert offers(dark, given(check, ("supply", "main"), remedy=words)) == [(words, "supply.main.cells = 9")]
    shared = made("470 ohm 1/2 W", supply=cells, parallel=2, one_resistor="true")
    assert len(offers(shared, given(check, ("supply", "main"), remedy=words))) == 1


def test_strings_behind_no_resistor_get_one_each():
    build = made(None, parallel=3, one_resistor="true")
    assert offers(build, given("lamp.no-resistor", LAMP))[0] == (
        "Give each string a resistor of 560 ohm 1/4 W at 'hull'.",
        'lamp.0.resistor = "560 ohm 1/4 W at hull"',
        "lamp.0.one_resistor = false",
    )


def test_never_more_in_series_than_there_are():
    build = survey(lamps=string("own", resistor="15k 1/4 W", series=2, parallel=2), extra=own_kind())
    # (12 - 6.3) / 0.016 = 354
    assert told(build, "lamp.dim") == [
        "Use 390 ohm instead of 15 kohm.", "Use 470 ohm instead of 15 kohm.", "Put them in 4 strings of one, each with 560 ohm.",
    ]  # fmt: skip


def test_a_bare_lamp_is_given_its_first_by_another_check():
    assert told(made(None), "lamp.over-rating") == []


# (8.8 - 3) V x 30 mA = 174 mW, and from 5 % more supply on (1.05)**2 of that, 192 mW: more than three quarters of 1/4 W
@pytest.mark.parametrize(("volts", "power"), [("8.8 V", "1/2 W"), ("8.5 V", "1/4 W")])
def test_the_power_before_a_filament_goes_with_the_square_of_the_volts(volts, power):
    rice = survey(lamps=string("rice-3v", None), supply=adaptor().replace("12 V", volts))
    assert told(rice, "lamp.over-rating")[0] == f"Put 220 ohm {power} at 'hull' before it."


def test_of_several_behind_which_all_strings_are():
    # 20 mA each of three are 60 mA: 108 mW in 30 ohm, and 396 in 110
    build = as_if(made("30 ohm 1/8 W + 110 ohm 1/2 W", parallel=3, one_resistor="true"), nominal=0.02)
    assert offers(build, given("resistor.overloaded", LAMP, figures={"highest": 0.5})) == [
        (
            "Use 1/4 W for the 30 ohm and 1 W for the 110 ohm.",
            'lamp.0.resistor = "30 ohm 1/4 W + 110 ohm 1 W"',
        )
    ]


def test_fewer_in_series_with_the_power_that_takes():
    # (5.7 + 0.6)**2 / 0.95**2 / 390 = 113 mW; (9.43 / 0.95)**2 / 560 = 176
    build = survey(lamps=string("own", resistor="100 ohm 1/16 W", series=4), extra=own_kind())
    assert [edits[0] for _, *edits in offers(build, given("lamp.dim", LAMP))] == [
        'lamp.0.resistor = "390 ohm 1/4 W"', 'lamp.0.resistor = "560 ohm 1/4 W"',
    ]  # fmt: skip


def test_what_a_resistor_has_to_stand():
    """Of several strings all their current, I2 R; else by the supply at its most, dice at their least, the resistor at its least."""
    three = survey(lamps=lamp(at=" at hull") + "parallel = 3\none_resistor = true\n")
    assert load_of(three, three.parts.lamps[0], 0.004, 200.0, 0.05) == pytest.approx(
        0.012**2 * 200.0, rel=1e-12
    )
    own = survey()
    part = own.parts.lamps[0]
    (die,) = part.dice
    # 12 V and 5 %
    over = 0.004 * 1500.0 + 0.6 + die.forward[1] - die.forward[0]
    assert load_of(own, part, 0.004, 1500.0, 0.05) == pytest.approx((over / 0.95) ** 2 / 1500.0, rel=1e-9)
    assert supplied(own, part) == pytest.approx((12.0, 12.6))


@pytest.mark.parametrize(
    ("steady", "offered"), [("40 mA", ["20 mA", "16 mA"]), ("18 mA", ["16 mA"]), ("16 mA", [])]
)
def test_a_board_that_sets_what_one_string_withstands(steady, offered):
    board = f'[board.driver]\nplace = "base"\nsupply = "main"\nsteady = "{steady}"\n[circuit.low]\nboard = "driver"\n'
    runs = '[[run]]\nline = "low"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    low = lamp().replace('circuit = "lights"', 'circuit = "low"').replace('resistor = "1k5 1/4 W"\n', "")
    made = survey(lamps=low, extra=board + runs)
    assert typed(less_current(made, "low", 0.02)) == [
        (f"Set the output of 'low' to {amps}: its string withstands that.", f'board.driver.steady = "{amps}"')
        for amps in offered
    ]


def test_a_link_of_no_ohms_is_no_resistor_to_change():
    assert told(made("0 ohm"), "lamp.over-rating") == []
    assert told(made("0 ohm"), "lamp.dim") == told(made(None), "lamp.dim")


CELLS = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8\nfuse = "500 mA"'


# eight fresh cells have 12.8 V, but what counts is their usual 12 V, and 1.5 V more: 10.33 V at 16 mA are 646 ohm, 1.5 V at 50 mA 30, 10.5 V at 30 mA 350
@pytest.mark.parametrize(
    ("kind", "resistor", "told"),
    [("own", None, "680 ohm 1/2 W at 'hull'"), ("rice-12v", None, "33 ohm 1/8 W at 'hull'"), ("rice-3v", "330 ohm 1/2 W", "390 ohm 1/2 W")],
)  # fmt: skip
def test_what_a_cell_more_leaves_by_its_usual_volts(kind, resistor, told):
    build = survey(supply=CELLS, lamps=string(kind, resistor), extra=own_kind())
    words, changes = at_other_volts(build, "main", 1.5)
    assert words == f"{told} for 'bow lamp'"
    assert len(changes) == 1
    assert at_other_volts(build, "no such", 1.5) == ("", ())


# (12 - 3.17) / 16 mA = 552: the next ones are 560 and 680
@pytest.mark.parametrize(("ohms", "then"), [(470, [560, 680]), (560, [680]), (680, [])])
def test_less_light_wants_more_ohms_than_there_are(ohms, then):
    build = made(f"{ohms} ohm 1/4 W")
    found = less_light(build, build.electrics.lamps["bow lamp"], 0.016)
    assert [int(words.split(" ohm")[0]) for _, words in found] == then


# 12 V less 3 V at 30 mA, 300 ohm
@pytest.mark.parametrize(("ohms", "offered"), [(390, True), (330, False)])
def test_a_bulb_that_is_dim_gets_less_resistance_and_never_the_same(ohms, offered):
    build = survey(lamps=string("rice-3v", f"{ohms} ohm 1 W"))
    found = [says for says, *_ in offers(build, given("lamp.dim", LAMP)) if says.startswith("Use 330 ohm")]
    assert len(found) == offered


def test_a_bulb_that_gets_its_own_volts_to_the_last_digit_needs_nothing():
    build = survey(supply=CELLS, lamps=string("rice-12v", None))
    assert at_other_volts(build, "main", 0.0) == ("", ())
