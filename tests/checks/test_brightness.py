"""Lamps that are lit, but not as they should be: on both sides of each limit, with currents of our own.

The lamp here is rated 20 mA and takes 3.2 V; the adaptor gives 12 V.
"""

from __future__ import annotations

import pytest

import postcheck
from postcheck.checks import brightness, unlike
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import survey
from tests.write_expected import FAULTY

from .facts import facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

BOW = Subject("lamp", "bow lamp")
CELLS = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'


def lit(build: Survey, name: str = "bow lamp", **figures: float) -> Survey:
    lamps = {**build.electrics.lamps, name: build.electrics.lamps[name]._replace(**figures)}
    return with_figures(build, lamps=lamps)


def made(
    resistor: str | None = "470 ohm 1/4 W", supply: str | None = None, circuit: str = "", **more: object
) -> Survey:
    return survey(
        lamps=string("own", resistor=resistor, **more), extra=own_kind(), supply=supply, circuit=circuit
    )


@pytest.fixture(scope="module")
def one() -> Survey:
    return made()


# -- dim: half a per cent of its rating is dark, two far too dim, a tenth faint; a tenth of what it usually gets is starved


@pytest.mark.parametrize(
    ("nominal", "lowest", "severity", "case", "limit"),
    [
        (0.0001, 0.0001, "caution", "far too dim", 0.0004), (0.0000999, 0.00009, "stop", "dark", 0.0001), (0.0004, 0.0004, "note", "faint", 0.002),
        (0.000399, 0.0003, "caution", "far too dim", 0.0004), (0.002, 0.002, None, None, 0.0), (0.00199, 0.0019, "note", "faint", 0.002),
        (0.02, 0.002, None, None, 0.0), (0.02, 0.00199, "caution", "starved", 0.002), (0.0, 0.0, "stop", "dark", 0.0001),
    ],
)  # fmt: skip
def test_how_dim_a_lamp_is(one, nominal, lowest, severity, case, limit):
    got = facts(brightness, "lamp.dim", lit(one, nominal=nominal, lowest=lowest))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit, rel=1e-9)
        assert fact.reason == ("little" if case == "starved" else "resistor")
        assert values(fact) == {
            "nominal": nominal, "lowest": lowest, "rated": 0.02, "share": pytest.approx(nominal / 0.02), "joints": pytest.approx(12.0, rel=0.01),
            "takes": pytest.approx(3.2), "dice": 1.0,
        }  # fmt: skip
        assert units(fact) == {"nominal": "A", "lowest": "A", "rated": "A", "share": "share", "joints": "V", "takes": "V", "dice": ""}  # fmt: skip
        assert (fact.subject, fact.path, fact.because_of) == (BOW, ("lamp", 0), "line.drop:lights")


@pytest.mark.parametrize(("amperes", "shown"), [(1e-6, 1e-6), (0.99e-6, 0.0), (-1.0, 0.0)])
def test_what_no_meter_shows_is_nothing(one, amperes, shown):
    (fact,) = facts(brightness, "lamp.dim", lit(one, nominal=amperes, lowest=amperes))
    assert (values(fact)["nominal"], values(fact)["lowest"]) == (shown, shown)


# nine tenths of the volts at its joints: 3 x 3.2 = 9.6 V of 10.67
@pytest.mark.parametrize(("joints", "reason"), [(10.66, "volts"), (10.68, "resistor")])
def test_whether_its_dice_or_its_resistor_leave_too_little(joints, reason):
    built = lit(made(series=3), nominal=0.0001, lowest=0.0001, joint_volts=joints)
    (fact,) = facts(brightness, "lamp.dim", built)
    assert fact.reason == reason
    assert (values(fact)["takes"], values(fact)["dice"]) == (pytest.approx(9.6), 3.0)


# half a per cent of what its output drops, 0.2 V: 1 mV
@pytest.mark.parametrize(("joints", "reason"), [(0.00099, "drop"), (0.00101, "volts"), (10.0, "resistor")])
def test_whether_its_output_leaves_nothing(joints, reason):
    built = lit(made(circuit='output = "1 A, 0.2 V drop"'), nominal=0.0001, lowest=0.0001, joint_volts=joints)
    (fact,) = facts(brightness, "lamp.dim", built)
    assert fact.reason == reason


def test_a_battery_that_runs_empty_starves_all_and_a_bare_lamp_goes_by_hundredths_of_a_volt():
    starved = {"nominal": 0.02, "lowest": 0.0001}
    assert facts(brightness, "lamp.dim", lit(made(supply=CELLS), **starved)) == []
    assert facts(brightness, "lamp.dim", lit(made(None, series=4), **starved)) == []
    assert facts(brightness, "lamp.dim", lit(made(parallel=2, one_resistor="true"), **starved)) == []
    # bare, faint is not worth a word, dark is
    for nominal, case in ((0.0005, None), (0.0003, "far too dim"), (0.00005, "dark")):
        got = facts(
            brightness,
            "lamp.dim",
            lit(made(None, series=4), nominal=nominal, lowest=nominal, highest=nominal),
        )
        assert [(fact.case, fact.reason) for fact in got] == ([(case, "bare")] if case else [])


@pytest.mark.parametrize(("at_usual", "found"), [(0.002, 0), (0.00199, 1)])
def test_a_battery_at_its_usual_volts_leaves_a_share_whatever_its_parts(at_usual, found):
    got = facts(
        brightness, "lamp.dim", lit(made(supply=CELLS), nominal=0.02, lowest=0.0, lowest_at_usual=at_usual)
    )
    assert [(fact.severity, fact.case, fact.reason) for fact in got] == [
        ("caution", "starved of cells", "little")
    ] * found
    for fact in got:
        assert values(fact)["lowest"] == at_usual


def test_what_parts_alone_leave_on_a_battery_is_that_of_as_many_volts_that_are_sure():
    lamps = string(resistor="10 ohm 1/4 W")
    sure = 'kind = "adaptor"\nplace = "base"\nvolts = "3 V"\ntolerance = "0 %"\nrated = "1 A"\nresistance = "0.5 ohm"'
    cells = f'{CELLS.replace("= 8", "= 2")}\nresistance = "0.5 ohm"'
    on_cells = survey(lamps=lamps, supply=cells).electrics.lamps["bow lamp"]
    on_sure = survey(lamps=lamps, supply=sure).electrics.lamps["bow lamp"]
    assert on_cells.nominal == pytest.approx(on_sure.nominal, rel=1e-6)
    assert on_cells.lowest_at_usual == pytest.approx(on_sure.lowest, rel=1e-6)
    assert on_cells.lowest < on_cells.lowest_at_usual < on_cells.nominal
    assert on_sure.lowest_at_usual is None


def test_what_is_wanted_or_backwards_is_judged_elsewhere():
    dark = {"nominal": 0.0, "lowest": 0.0}
    # a twentieth of its rating is faint, and meant
    assert facts(brightness, "lamp.dim", lit(made(wanted='"1 mA"'), nominal=0.001, lowest=0.001)) == []
    assert judged(brightness, "lamp.dim", lit(made(backwards="true"), **dark)) == []


def test_what_burns_out_is_not_dim():
    # five times its rating destroys it; of a bare one what it gets at most
    bare = made(None, series=4)
    assert judged(brightness, "lamp.dim", lit(bare, nominal=0.0, lowest=0.0, highest=0.2)) == []
    assert judged(brightness, "lamp.dim", lit(bare, nominal=0.0, lowest=0.0, highest=0.02)) != []
    assert judged(brightness, "lamp.dim", lit(made(), nominal=0.2, lowest=0.0)) == []
    assert facts(brightness, "lamp.dim", lit(made(), nominal=0.02, lowest=0.0, highest=0.2)) != []


# a bulb's light goes with its current to the power of 3.4 / 0.55 (makers' sheets): a tenth of it at 68.9 %, a fiftieth at 53.1 %,
# half a hundredth at 42.44 %
@pytest.mark.parametrize(
    ("share", "severity"),
    [
        (0.690, None),
        (0.688, "note"),
        (0.5325, "note"),
        (0.529, "caution"),
        (0.4250, "caution"),
        (0.4240, "stop"),
        (0.0, "stop"),
        (-0.5, "stop"),
    ],
)
def test_a_bulb_by_its_light(share, severity):
    built = survey(lamps=string("rice-12v", None))
    rated = built.parts.lamps[0].dice[0].rated
    got = facts(brightness, "lamp.dim", lit(built, nominal=share * rated))
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {
            "made": 12.0, "gets": pytest.approx(12.0 * max(share, 0.0) ** (1.0 / 0.55)), "share": pytest.approx(max(share, 0.0) ** (3.4 / 0.55)),
        }  # fmt: skip
        assert units(fact) == {"made": "V", "gets": "V", "share": "share"}
        case = "dark bulb" if severity == "stop" else "bulb"
        assert (fact.case, fact.reason, fact.because_of) == (case, "bulb", "line.drop:lights")


# -- unlike its fellows: a quarter of the light, and a sixth side by side


def several(*places: str, resistors: tuple[str, ...] = ()) -> Survey:
    ohms = resistors or ("470 ohm 1/4 W",) * len(places)
    lamps = "".join(
        string("own", resistor=value).replace("bow lamp", f"lamp {number}").replace('place = "bow"', f'place = "{place}"')
        for number, (place, value) in enumerate(zip(places, ohms, strict=True), 1)
    )  # fmt: skip
    return survey(lamps=lamps, extra=own_kind() + '[place.stern]\naccess = "open"\n')


def with_currents(built: Survey, *amperes: float) -> Survey:
    lamps = {
        name: lamp._replace(nominal=current)
        for (name, lamp), current in zip(built.electrics.lamps.items(), amperes, strict=True)
    }
    return with_figures(built, lamps=lamps)


@pytest.mark.parametrize(
    ("currents", "odd", "away"),
    [
        ((0.01, 0.01, 0.0124), None, 0), ((0.01, 0.01, 0.0126), "lamp 3", 0.26), ((0.01, 0.01, 0.0076), None, 0), ((0.0074, 0.01, 0.01), "lamp 1", 0.26),
        # two: the brighter one is what is usual
        ((0.01, 0.0076), None, 0), ((0.01, 0.0074), "lamp 2", 0.26),
    ],
)  # fmt: skip
def test_the_odd_one_of_a_kind(currents, odd, away):
    # seen in one place each, so that they are not side by side
    places = ("bow", "stern", "hull")[: len(currents)]
    got = facts(unlike, "lamp.unequal", with_currents(several(*places), *currents))
    assert [fact.subject.name for fact in got] == ([odd] if odd else [])
    for fact in got:
        worst = currents[int(odd.split()[1]) - 1]
        assert values(fact) == {"nominal": worst, "usual": 0.01, "difference": pytest.approx(away)}
        assert units(fact) == {"nominal": "A", "usual": "A", "difference": "share"}
        assert (fact.severity, fact.case, fact.reason) == ("caution", "of a kind", "wires")
        assert fact.parts["circuit"] == Subject("circuit", "lights")
        assert "also" not in fact.parts


def test_others_that_are_unlike_are_told_with_it():
    built = with_currents(several("bow", "stern", "hull", "bow", "stern"), 0.01, 0.01, 0.01, 0.005, 0.0074)
    (fact,) = facts(unlike, "lamp.unequal", built)
    assert fact.subject.name == "lamp 4"
    assert fact.parts["also"] == (Subject("lamp", "lamp 5"),)


def test_other_resistors_are_meant():
    built = with_currents(
        several("bow", "stern", "hull", resistors=("470 ohm", "470 ohm", "680 ohm")), 0.01, 0.01, 0.007
    )
    (fact,) = facts(unlike, "lamp.unequal", built)
    assert (fact.severity, fact.reason) == ("note", "resistors")


@pytest.mark.parametrize(("current", "found"), [(0.0085, False), (0.0084, False), (0.00839, True)])
def test_side_by_side_less_shows(current, found):
    beside = with_currents(several("bow", "bow", "stern"), 0.01, current, 0.01)
    got = facts(unlike, "lamp.unequal", beside)
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.case, fact.reason, fact.subject.name) == (
            "note",
            "beside",
            "wires",
            "lamp 2",
        )
        assert values(fact) == {"nominal": current, "usual": 0.01, "difference": pytest.approx(1.0 - current / 0.01)}  # fmt: skip
        assert fact.parts == {"other": Subject("lamp", "lamp 1"), "circuit": Subject("circuit", "lights"), "place": Subject("place", "bow")}  # fmt: skip
    assert facts(unlike, "lamp.unequal", with_currents(several("bow", "stern", "hull"), 0.01, current, 0.01)) == []  # fmt: skip


def test_what_is_dark_is_not_unlike():
    # half a per cent of 20 mA
    for current, found in ((0.0001, 0), (0.000101, 1)):
        built = with_currents(several("bow", "stern", "hull"), 0.01, 0.01, current)
        assert len(facts(unlike, "lamp.unequal", built)) == found


# -- beside another on one constant-current output: in series they take the highest volts of both, and the output its own


@pytest.mark.parametrize(
    ("name", "nominal", "case"),
    [
        ("lamp-dim-beside-another-colour", 0.0, "dark, in series"),
        ("lamp-dim-beside-another-colour", 0.0003, "far too dim, in series"),
        ("lamp-dim-beside-another-colour", 0.001, "faint"),
        ("lamp-dim-beside-another-colour-on-five-volts", 0.0, "dark, apart"),
        ("lamp-dim-beside-another-colour-on-five-volts", 0.0003, "far too dim, apart"),
    ],
)
def test_a_lamp_beside_another_on_one_output(name, nominal, case):
    built = Survey(postcheck.load(FAULTY / f"{name}.post.toml"))
    (fact,) = facts(brightness, "lamp.dim", lit(built, "white", nominal=nominal, lowest=nominal))
    assert (fact.case, fact.reason) == (case, "output")
    if "in series" in case:
        # red 2.6 V and white 3.6 V at their highest, 1 V for the output, of 12 V less 5 %
        got = values(fact)
        assert (got["string"], got["needs"], got["volts"]) == pytest.approx((6.2, 1.0, 11.4))
        assert fact.parts["others"] == (Subject("lamp", "red"),)


def test_no_series_is_offered_to_a_lamp_that_does_not_withstand_the_whole_current():
    built = Survey(postcheck.load(FAULTY / "lamp-dim-beside-another-colour.post.toml"))
    red = {**built.electrics.lamps, "red": built.electrics.lamps["red"]._replace(rated=0.0099)}
    (fact,) = facts(brightness, "lamp.dim", with_figures(built, lamps=red))
    assert fact.case == "dark, apart"
