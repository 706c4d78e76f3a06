"""Quantities of which nothing at all makes no sense, and the limits that a build may change, and how far."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import postcheck
from postcheck.description.problems import Problem
from postcheck.limits import LIMITS

GOOD = (Path(__file__).parents[2] / "example_builds" / "mail_airship.post.toml").read_text()
KIND = '[lamp_kind.own]\nforward = "2.9/3.2/3.6 V"\nat = "20 mA"\nlow_forward = "2.85 V"\nlow_at = "5 mA"\nrated = "20 mA"\n'
BULB = '[lamp_kind.own]\nkind = "filament"\nvolts = "12 V"\nrated = "40 mA"\n'
WIRE = '[wire.own]\nstrand = "0.1 mm"\noutside = "0.6 mm"\n'
STRIP = '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "180 ohm"\nkind = "smd-0603-white"\n'
PLUG = '[[plug]]\nname = "p"\nends = ["base", "keel"]\npins = ["main-"]\nrated = "1 A"\n'
ARM = '[passage.own]\nfrom = "base"\nto = "keel"\nbore = "2 mm"\nlength = "9 mm"\n'
STEADY = '[circuit.own]\nsupply = "main"\noutput = { steady = "20 mA" }\n'


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    return caught.value.problems


@pytest.mark.parametrize(
    ("extra", "key", "old", "new"),
    [
        ("", "volts", '"12 V"', '"0 V"'),
        ("", "rated", '"1 A"', '"0 A"'),
        ("", "fuse", '"500 mA"', '"0 A"'),
        ("", "bore", '"5 mm"', '"0 mm"'),
        ("", "length", '"160 mm"', '"0 mm"'),
        ("", "surface", '"70 cm2"', '"0 cm2"'),
        ("", "limit", '"100 mA"', '"0 mA"'),
        ("", "rate", '"45 /min"', '"0 /min"'),
        ("", "resistor", '"1k at keel"', '"1k 0 W at keel"'),
        ("", "resistor", '"1/4 W 5 %"', '"0 W 5 %"'),
        (KIND, "low_forward", '"2.85 V"', '"0 V"'),
        (KIND, "low_at", '"5 mA"', '"0 mA"'),
        (KIND, "forward", '"2.9/3.2/3.6 V"', '"0/3.2/3.6 V"'),
        (BULB, "rated", '"40 mA"', '"0 A"'),
        (WIRE, "strand", '"0.1 mm"', '"0 mm"'),
        (WIRE, "outside", '"0.6 mm"', '"0 mm"'),
        (STRIP, "segment", '"50 mm"', '"0 mm"'),
        (PLUG, "rated", '"1 A"\n', '"0 A"\n'),
        (STEADY, "output", '{ steady = "20 mA" }', '{ steady = "0 A" }'),
        ('[cable.own]\noutside = "2 mm"\n', "outside", '"2 mm"', '"0 mm"'),
        (ARM + 'bend_radius = "8 mm"\n', "bend_radius", '"8 mm"', '"0 mm"'),
    ],
)
def test_nothing_at_all_is_refused_at_its_key(extra: str, key: str, old: str, new: str) -> None:
    whole = GOOD + extra
    before, found, after = whole.rpartition(old) if extra else whole.partition(old)
    assert found

    (problem,) = problems(before + new + after)

    assert (problem.check, "must be above zero" in str(problem)) == ("file.out-of-range", True)
    assert (whole.splitlines()[(problem.line or 0) - 1]).startswith(key)


def test_a_tolerance_of_the_whole_is_refused() -> None:
    (problem,) = problems(GOOD.replace('tolerance = "5 %"', 'tolerance = "100 %"'))
    assert "must be below 100 %" in str(problem)


@pytest.mark.parametrize("said", ["1k 1/4 W", "abc", "9999", "0806"])
def test_usual_resistors_that_cannot_be_read_are_told_with_the_rest(said: str) -> None:
    text = GOOD.replace('resistor = "1/4 W 5 %"', f'resistor = "{said}"').replace("stop   = true", "stop = 1")
    told = problems(text)
    assert [text.splitlines()[(problem.line or 0) - 1].split()[0] for problem in told] == ["resistor", "stop"]


def test_an_unknown_size_of_usual_resistors_is_told() -> None:
    table = 'resistor = { size = "0806", tolerance = "5 %" }'
    (problem,) = problems(GOOD.replace('resistor = "1/4 W 5 %"', table))
    assert problem.check == "file.unknown-name"


@pytest.mark.parametrize(
    ("said", "shown"),
    [("true", "true"), ("1.0", "1.0"), ("2", "2"), ('"1"', "'1'"), ("1" + "0" * 30, "that size")],
)
def test_the_format_is_the_whole_number_one(said: str, shown: str) -> None:
    (problem,) = problems(GOOD.replace("format = 1", f"format = {said}"))
    assert problem.check == "file.choice"
    assert problem.hint == "write 1"
    assert shown in problem.says


def limit(name: str, value: str) -> str:
    return f'{GOOD}\n[[limit]]\nname = "{name}"\nvalue = "{value}"\nreason = "as agreed"\n'


@pytest.mark.parametrize(
    ("name", "more", "less"),
    [
        ("volts.scope", "500 V", "40 V"),
        ("flash.rate", "4 Hz", "2 Hz"),
        ("fault.glow", "500 degC", "200 degC"),
        ("wire.insulation", "120 %", "90 %"),
    ],
)
def test_what_keeps_people_from_harm_is_lowered_and_never_raised(name: str, more: str, less: str) -> None:
    (problem,) = problems(limit(name, more))
    assert "lowered and not raised" in problem.says
    assert (problem.hint or "").endswith(" or less")
    postcheck.loads(limit(name, less))


def test_no_limit_is_zero_unless_it_may_be() -> None:
    zero = {"share": "0 %", "number": "0", "voltage": "0 V", "rate": "0 Hz", "power": "0 W", "length": "0 mm",
            "angle": "0 deg", "temperature": "0 degC", "temperature difference": "0 K", "force": "0 N",
            "current": "0 A", "resistance": "0 ohm", "time": "0 s"}  # fmt: skip
    for row in LIMITS:
        text = limit(row.name, zero[row.dimension])
        if row.zero:
            postcheck.loads(text)
        else:
            (problem,) = problems(text)
            assert problem.hint == "it must be above zero here"


def test_a_limit_above_the_whole_can_be_said_again() -> None:
    postcheck.loads(limit("lamp.current.stop", "130 %"))
    assert "limits nothing" in problems(limit("lamp.current.stop", "900 %"))[0].says
    assert "at most 100 % makes" in problems(limit("fuse.load", "130 %"))[0].hint


@pytest.mark.parametrize("said", ["nan", "inf", "-3", "1e400", "three"])
def test_a_plain_number_is_a_finite_one_above_zero(said: str) -> None:
    assert len(problems(limit("passage.room", said))) == 1


def test_two_circuits_do_not_share_the_name_of_a_return() -> None:
    text = GOOD.replace("[circuit.strobe]", "own_return = true\n\n[circuit.beacon-return]").replace(
        '"strobe"', '"beacon-return"'
    )
    assert "file.duplicate-name" in [problem.check for problem in problems(text)]


@pytest.mark.parametrize(
    ("first", "second", "name", "says"),
    [
        ("strip", "load", "nose", "there is already a strip named 'nose'"),
        ("lamp", "load", "nose", "there is already a lamp named 'nose'"),
        ("lamp", "strip", "nose", "there is already a lamp named 'nose'"),
        ("load", "load", "nose", "there is already a load named 'nose'"),
        ("strip", "strip", "nose", "there is already a strip named 'nose'"),
        ("lamp", "lamp", "nose", "there is already a lamp named 'nose'"),
        ("colours", "lamp", "nose green", "there is already a lamp named 'nose green'"),
        ("colours", "load", "nose green", "there is already a lamp named 'nose green'"),
    ],
)
def test_what_takes_current_bears_a_name_of_its_own(first: str, second: str, name: str, says: str) -> None:
    tables = {
        "lamp": 'kind = "smd-0603-red"\ncircuit = "beacon"\nresistor = "1k"',
        "colours": 'kind = "smd-0603-rgb"\ndice = { red = { circuit = "beacon" }, green = { circuit = "beacon" } }',
        "strip": 'kind = "strip-12v-warm-white-60"\ncircuit = "beacon"\nsegments = 1',
        "load": 'circuit = "beacon"\ntypical = "10 mA"',
    }

    def table(kind: str, name: str) -> str:
        section = "lamp" if kind == "colours" else kind
        return f'\n[[{section}]]\nname = "{name}"\nplace = "base"\n{tables[kind]}\n'

    own = table(first, "nose") + table(second, "screw")
    postcheck.loads(GOOD + own)
    (problem,) = problems(GOOD + table(first, "nose") + table(second, name))
    assert (problem.check, problem.says, problem.path[2]) == ("file.duplicate-name", says, "name")


def test_the_colours_of_a_lamp_are_switched_on_one_side() -> None:
    path = Path(__file__).parents[1] / "builds" / "sound" / "colour-lamp-with-three-dice.post.toml"
    text = path.read_text()
    first = text.index("[circuit.")
    end = text.index("\n", text.index("supply", first))
    (problem,) = problems(text[:end] + '\nswitched = "negative"' + text[end:])
    assert "share one leg" in problem.says
    assert "dice" in problem.path


def test_colours_that_share_a_leg_return_to_one_negative() -> None:
    path = Path(__file__).parents[1] / "builds" / "sound" / "colour-lamp-with-three-dice.post.toml"
    build = tomllib.loads(path.read_text())
    (supply,) = build["supply"]
    first = next(iter(build["lamp"][0]["dice"].values()))["circuit"]
    apart = (
        path.read_text() + '[supply.apart]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
    )
    at = apart.index(f"[circuit.{first}]")
    apart = apart[:at] + apart[at:].replace(f'supply = "{supply}"', 'supply = "apart"', 1)
    (problem,) = problems(apart)
    assert "'apart-'" in problem.says
    assert f"'{supply}-'" in problem.says
    assert "share one leg" in problem.says
    hint = f'shares_negative_with = "{supply}"'
    assert hint in (problem.hint or "")
    postcheck.loads(apart + hint + "\n")


def test_conductors_fit_in_the_sheath_of_their_cable() -> None:
    """Four equal circles need 1 + sqrt 2 times their diameter (Graham 1968); ptfe-28 is at most 0.74 mm thick."""
    runs = "".join(
        f'[[run]]\nline = "{line}"\nends = ["base", "keel"]\nlength = "260 mm"\nconductors = 2\ncable = "k"\n'
        for line in ("running", "main-")
    )
    text = GOOD + runs + '[cable.k]\noutside = "{}"\n'
    (problem,) = problems(text.replace("{}", "1.78 mm"))
    assert "4 conductors need at least 1.79 mm" in problem.says
    postcheck.loads(text.replace("{}", "1.79 mm"))
    # 1.78652 mm: what is a hair too wide does not look as wide as its cable
    (problem,) = problems(text.replace("{}", "1.786 mm"))
    assert "is 1.786 mm outside, and its 4 conductors need at least 1.787 mm" in problem.says


def test_conductors_that_just_fill_their_cable_are_no_mistake() -> None:
    """0.31 and 0.38 mm side by side are 0.69 mm, though the sum of the floats is not."""
    wires = "".join(f'[wire.w{d}]\nstrand = "0.2 mm"\noutside = "0.{d} mm"\n' for d in (31, 38))
    runs = "".join(
        f'[[run]]\nline = "{line}"\nends = ["base", "keel"]\nlength = "260 mm"\nwire = "{wire}"\ncable = "k"\n'
        for line, wire in (("running", "w31"), ("main-", "w38"))
    )
    postcheck.loads(GOOD + wires + runs + '[cable.k]\noutside = "0.69 mm"\n')


@pytest.mark.parametrize(
    ("curve", "key"),
    [
        ('forward = "90 mV"', "forward"),
        ('forward = "3.2 V"\nlow_forward = "3.199 V"\nlow_at = "5 mA"', "low_forward"),
        ('forward = "3.2 V"\nlow_forward = "1 mV"\nlow_at = "19.9 mA"', "low_forward"),
        ('forward = "1000 V"\nlow_forward = "2.85 V"\nlow_at = "5 mA"', "low_forward"),
    ],
)
def test_points_that_no_led_has_are_told(curve: str, key: str) -> None:
    text = GOOD + f'[lamp_kind.own]\nrated = "20 mA"\n{curve}\n'
    (problem,) = problems(text)
    assert problem.says.startswith("no LED has a curve through ")
    assert text.splitlines()[(problem.line or 0) - 1].startswith(f"{key} ")


@pytest.mark.parametrize("change", ["-5 V", "-30 mV", "30 mV"])
def test_a_forward_voltage_is_not_gone_within_a_hundred_kelvin(change: str) -> None:
    kind = '[lamp_kind.own]\nrated = "20 mA"\nforward = "2.95 V"\nper_kelvin = '
    (problem,) = problems(GOOD + f'{kind}"{change}"\n')
    assert problem.says == f"no LED of 2.95 V changes by {change} per kelvin"
    assert postcheck.loads(GOOD + f'{kind}"-29 mV"\n').lamp_kind["own"].per_kelvin == -0.029


def test_a_lamp_of_many_dice_in_series_is_judged() -> None:
    """Lamps of twelve dice in series, sold as 36 V, are common."""
    text = GOOD.replace('kind     = "smd-0603-white"', 'kind     = "own"', 1)
    report = postcheck.check(
        postcheck.loads(text + '[lamp_kind.own]\nrated = "300 mA"\nforward = "34/36/38 V"\n')
    )
    assert "lamp.dim" in {finding.check for finding in report.files[0].findings}


def test_a_strip_has_no_hundred_thousand_segments() -> None:
    strip = (
        STRIP.replace("50 mm", "0.001 mm")
        + '[[strip]]\ncircuit = "running"\nkind = "own"\nplace = "keel"\nlength = "100 mm"\n'
    )
    (problem,) = problems(GOOD + strip)
    assert problem.says == "100 mm are more than 1000 segments of 0.001 mm"


def test_a_wire_is_no_pipe() -> None:
    (problem,) = problems(GOOD + WIRE.replace("0.6 mm", "60 mm"))
    assert problem.says == "'outside' is more than 50 mm"


def test_far_too_many_strings_are_a_slip() -> None:
    (problem,) = problems(GOOD.replace("parallel = 2", "parallel = 10000"))
    assert problem.hint == "it must be at most 1000"


@pytest.mark.parametrize(("bends", "refused"), [("1080 deg", False), ("3 turn", False), ("1081 deg", True)])
def test_bends_beyond_three_full_turns_are_refused_where_they_stand(bends: str, refused: bool) -> None:
    whole = GOOD + ARM + f'bends = "{bends}"\n'
    if not refused:
        postcheck.loads(whole)
        return
    (problem,) = problems(whole)
    assert (problem.check, problem.path) == ("file.absurd", ("passage", "own", "bends"))
    assert "more than 1080 deg" in str(problem)


@pytest.mark.parametrize(
    ("spare", "line", "hint"),
    [
        ("spare  = true\n", "spare", "leave `line` out: a spare carries none"),
        ("spare  = true\n", "reserve", "leave `line` out: a spare carries none"),
        ("", "spare", "leave `line` out: a spare carries none, and write spare = true"),
        ("", "reserve", "there is 'main+'"),
    ],
)
def test_a_spare_that_names_a_line_is_told_to_leave_it_out(spare: str, line: str, hint: str) -> None:
    run = f'[[run]]\n{spare}line = "{line}"\nends = ["base", "keel"]\nlength = "300 mm"\n'
    (problem,) = problems(f"{GOOD}\n{run}")
    assert problem.says == f"there is no line '{line}'"
    assert (problem.hint or "").startswith(hint)
