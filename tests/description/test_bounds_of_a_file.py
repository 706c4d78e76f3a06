"""What a file may ask for in all, and what fits into what: at each bound and one beyond, by plain geometry and counting."""

from __future__ import annotations

from math import sqrt

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem

HEAD = (
    'format = 1\n[build]\nname = "Launch"\n[usual]\nlead = "enamel-0.10"\n'
    '[place]\nbase = { access = "open" }\nhull = { access = "cover" }\nbow = { access = "open" }\n'
    '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\n[circuit.a]\nsupply = "main"\n'
)


def told(text: str) -> list[Problem]:
    try:
        postcheck.loads(HEAD + text)
    except BuildError as error:
        return list(error.problems)
    return []


def says(text: str) -> list[str]:
    return [one.says for one in told(text)]


# -- in all


def lamps(parallel: int, count: int, more: str = "") -> str:
    one = '[[lamp]]\nname = "bank {}"\ncircuit = "a"\nkind = "smd-0603-red"\nplace = "bow"\nresistor = "1k"\nparallel = {}\n{}\n'
    return "".join(one.format(number, parallel, more) for number in range(count))


@pytest.mark.parametrize(("last", "problems"), [(1, 0), (200, 0), (201, 1)])
def test_3000_strings_side_by_side(last: int, problems: int) -> None:
    """28 banks of 100 and another; single lamps are not counted."""
    found = told(lamps(100, 28) + lamps(last, 1).replace("bank 0", "the last"))
    assert [one.path for one in found] == [("lamp", 28, "parallel")] * problems
    if found:
        assert found[0].says.startswith(
            "with 'the last' there are 3001 strings side by side in this file; at most 3000"
        )


def test_single_lamps_are_beside_3000_strings() -> None:
    assert told(lamps(1000, 3) + lamps(1, 1).replace("bank 0", "the last")) == []


def test_the_first_that_is_too_many_is_told_and_no_more() -> None:
    assert [one.path for one in told(lamps(200, 20))] == [("lamp", 15, "parallel")]


def strips(said: str, count: int = 1) -> str:
    kind = '[strip_kind.tape]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "smd-0603-red"\n'
    one = '[[strip]]\nname = "tape {}"\ncircuit = "a"\nkind = "tape"\nplace = "bow"\n{}\n'
    return kind + "".join(one.format(number, said) for number in range(count))


TRACE = 'trace = "0.1 ohm/m"\n'


@pytest.mark.parametrize(
    ("said", "count", "path"),
    [
        (TRACE + "segments = 500", 3, None),
        (TRACE + "segments = 501", 3, ("strip", 2, "segments")),
        (TRACE + 'length = "25 m"', 3, None),
        (TRACE + 'length = "25.01 m"', 3, ("strip", 2, "length")),  # one more is begun
        ("segments = 500", 4, None),  # without a trace they are all side by side
    ],
)
def test_1500_segments_with_a_measured_trace(said: str, count: int, path: tuple[object, ...] | None) -> None:
    assert [one.path for one in told(strips(said, count))] == ([] if path is None else [path])


@pytest.mark.parametrize(("conductors", "problems"), [(100, 0), (101, 1)])
def test_5000_conductors(conductors: int, problems: int) -> None:
    one = '[[run]]\nline = "a"\nends = ["base", "hull"]\nlength = "1 m"\nconductors = {}\n'
    found = told(one.format(100) * 49 + one.format(conductors))
    assert [problem.path for problem in found] == [("run", 49, "conductors")] * problems


@pytest.mark.parametrize(("count", "problems"), [(30, 0), (31, 1)])
def test_30_converters(count: int, problems: int) -> None:
    one = '[supply.c{}]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
    found = told("".join(one.format(number) for number in range(count)))
    assert [problem.path for problem in found] == [("supply", "c30", "kind")] * problems


# -- what fits into what

WIRE = '[wire.own]\nstrand = "0.2 mm"\noutside = "0.6 mm"\n'


def cable(said: str, conductors: int) -> str:
    run = '[[run]]\nline = "a"\nends = ["base", "hull"]\nlength = "1 m"\nwire = "own"\ncable = "grey"\n'
    return f"{WIRE}[cable.grey]\n{said}\n{run}conductors = {conductors}\n"


@pytest.mark.parametrize(
    ("conductors", "least"),
    [(1, 0.6), (2, 1.2), (3, 0.6 * (1.0 + 2.0 / sqrt(3.0))), (4, 0.6 * (1.0 + sqrt(2.0))), (7, 1.8)],
)
def test_circles_in_a_circle(conductors: int, least: float) -> None:
    """The smallest round one is known for each of these."""
    assert told(cable(f'outside = "{least * 1.0001:.6f} mm"', conductors)) == []
    (one,) = told(cable(f'outside = "{least * 0.9:.6f} mm"', conductors))
    assert (one.check, one.path) == ("file.invalid", ("cable", "grey", "outside"))


@pytest.mark.parametrize(
    ("said", "conductors", "path", "words"),
    [
        ('flat = "1.3 x 0.6 mm"', 2, None, ""),
        ('flat = "1.3 x 1.3 mm"', 2, None, ""),
        ('flat = "1.009 x 0.505 mm"', 2, None, ""),  # insulation may be thinner: 84 % of it
        ('flat = "1.3 x 0.503 mm"', 2, "flat", "thick, and its conductors side by side need at least"),
        ('flat = "1.007 x 0.6 mm"', 2, "flat", "wide, and its conductors side by side need at least"),
        ('flat = "0.6 x 1.3 mm"', 2, "flat", "cable 'grey' is flat"),
        ('outside = "3 mm"\nflat = "1.3 x 0.6 mm"', 2, "flat", "has `outside` and `flat`"),
        ("", 2, None, "needs `outside` or `flat`"),
    ],
)  # fmt: skip
def test_a_flat_cable(said: str, conductors: int, path: str | None, words: str) -> None:
    found = told(cable(said, conductors))
    assert [words in one.says for one in found] == ([True] if words else [])
    if path is not None:
        assert found[0].path == ("cable", "grey", path)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        # 84 % of 1 mm, and of 1 and 0.6 together
        ('flat = "1.345 x 0.841 mm"', ""), ('flat = "1.4 x 0.839 mm"', "is 0.839 mm thick"), ('flat = "1.343 x 0.9 mm"', "is 1.343 mm wide"),
    ],
)  # fmt: skip
def test_a_flat_cable_is_as_thick_as_the_thickest_in_it(said: str, words: str) -> None:
    other = '[wire.thick]\nstrand = "0.5 mm"\noutside = "1 mm"\n[[run]]\nline = "a"\nends = ["base", "hull"]\nlength = "1 m"\nwire = "thick"\ncable = "grey"\n'
    found = told(cable(said, 1) + other)
    assert [words in one.says for one in found] == ([True] if words else [])


@pytest.mark.parametrize(("length", "fits"), [("50 m", True), ("50.01 m", False)])
def test_a_strip_of_a_thousand_segments(length: str, fits: bool) -> None:
    found = says(strips(f'length = "{length}"'))
    assert (found == []) is fits


# -- what goes with what

LAMP = '[[lamp]]\nname = "one"\ncircuit = "a"\nkind = "smd-0603-red"\nplace = "bow"\n'
BOARD = '[board.w]\nplace = "base"\nsupply = "main"\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (LAMP + 'resistor = "trimmer 1k set 470 ohm"\n', None),
        (LAMP + 'resistor = "trimmer 1k set 1k"\n', None),
        (LAMP + 'resistor = "trimmer 1k set 1k01"\n', "a trimmer of 1 kohm cannot be set to 1.01 kohm"),
        (LAMP + 'resistor = "470 ohm + trimmer 1k set 1k01"\n', "a trimmer of 1 kohm cannot be set to 1.01 kohm"),
        (BOARD + 'channels = 2\n[circuit.b]\nboard = "w"\nchannel = 2\n', None),
        (BOARD + 'channels = 2\n[circuit.b]\nboard = "w"\nchannel = 3\n', "board 'w' has 2 channels, not 3"),
        ('[circuit.b]\nsupply = "main"\nbehaviour = "fade"\nrate = "1 /s"\nleast_share = "10 %"\n', None),
        ('[circuit.b]\nsupply = "main"\nbehaviour = "fade"\nrate = "1 /s"\non_share = "10 %"\n', "circuit 'b' fades, and is never off for a share of the time"),
        ('[circuit.b]\nsupply = "main"\nbehaviour = "flash"\nrate = "1 /s"\non_share = "10 %"\n', None),
        ('[circuit.b]\nsupply = "main"\nbehaviour = "flash"\nrate = "1 /s"\nleast_share = "10 %"\n', "circuit 'b' does not fade, and has no least share"),
        ('[circuit.b]\nsupply = "main"\nown_return = true\n[circuit.b-return]\nsupply = "main"\n', "'b-return' is already the line of circuit 'b''s own return"),
        ('[circuit.b]\nsupply = "main"\n[circuit.b-return]\nsupply = "main"\n', None),
        ('[supply.u]\nkind = "usb"\nplace = "base"\nport = "type-c"\nvolts = "9 V"\n', None),
        ('[supply.u]\nkind = "adaptor"\nplace = "base"\nvolts = "9 V"\n', None),
        # what is no battery has no cells, whatever is said of them
        ('[supply.u]\nkind = "adaptor"\nplace = "base"\nvolts = "9 V"\nchemistry = "tin"\n', None),
        ('[supply.u]\nkind = "battery"\nplace = "base"\nvolts = "9 V"\nchemistry = "tin"\n', "'tin'"),
        ('[lamp_kind.k]\nvolts = "12 V"\nat = "15 mA"\nforward = "2 V"\n', None),
        ('[lamp_kind.k]\nvolts = "12 V"\nforward = "2 V"\nrated = "20 mA"\n', "LED 'k' with its resistor inside needs `at`"),
        ('[lamp_kind.k]\nvolts = "2.041 V"\nat = "15 mA"\nforward = "2 V"\n', None),
        ('[lamp_kind.k]\nvolts = "2.04 V"\nat = "15 mA"\nforward = "2 V"\n', "nothing is left for a resistor inside"),
        ('[lamp_kind.k]\nvolts = "2.039 V"\nat = "15 mA"\nforward = "2 V"\n', "nothing is left for a resistor inside"),
        ('[[load]]\nname = "fan"\ncircuit = "a"\nplace = "bow"\ntypical = "20 mA"\nkind = "motor"\nheld_off = true\n', None),
        ('[[load]]\nname = "fan"\ncircuit = "a"\nplace = "bow"\ntypical = "20 mA"\nheld_off = true\n', "`held_off` is for a motor; 'fan' is none"),
        ('[[load]]\nname = "fan"\ncircuit = "a"\nplace = "bow"\ntypical = "20 mA"\nkind = "motor"\ndiode = "1n4001"\n', None),
        ('[[load]]\nname = "fan"\ncircuit = "a"\nplace = "bow"\ntypical = "20 mA"\nkind = "motor"\ndiode = "1N4999X"\n', "no diode '1N4999X' is known"),
        ('[[load]]\nname = "fan"\ncircuit = "a"\nplace = "bow"\ntypical = "20 mA"\nkind = "motor"\ndiode = "1 A"\n', None),
    ],
)  # fmt: skip
def test_what_goes_with_what(text: str, words: str | None) -> None:
    found = says(text)
    assert (found == []) if words is None else [words in one for one in found] == [True]


def test_which_channel_is_free() -> None:
    one = '[circuit.c{0}]\nboard = "w"\nchannel = {0}\n'
    (found,) = told(BOARD + "channels = 3\n" + one.format(1) + one.format(3) + one.format(4))
    assert found.hint == "write channel = 2, which is free, or channels = 4 in [board.w] where it has so many"
    (found,) = told(BOARD + "channels = 3\n" + one.format(1) + one.format(2) + one.format(4))
    assert found.hint == "write channel = 3, which is free, or channels = 4 in [board.w] where it has so many"
    (found,) = told(BOARD + "channels = 2\n" + one.format(1) + one.format(2) + one.format(3))
    assert found.hint == "write channels = 3 in [board.w] where it has so many"


POST = '[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "100 mm"\n'


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ('[wire.bar]\nstrand = "50 mm"\noutside = "50 mm"\n', None),
        ('[wire.bar]\nstrand = "1 mm"\noutside = "50.1 mm"\n', ("wire", "bar", "outside")),
        (f'{POST}bends = "1080 deg"\n', None),
        (f'{POST}bends = "1081 deg"\n', ("post", "bends")),
        (f'{POST}fold = "180 deg"\n', None),
        (f'{POST}fold = "181 deg"\n', ("post", "fold")),
    ],
)
def test_beyond_all_sense(text: str, path: tuple[str, ...] | None) -> None:
    """No wire thicker than 50 mm, no tube bent through more than three full turns, no hinge folded further than onto itself."""
    assert [(one.check, one.path) for one in told(text)] == ([] if path is None else [("file.absurd", path)])


@pytest.mark.parametrize(
    ("strands", "least"),
    # one strand lies in itself; seven of them lie round one: 3 strands across
    [(1, "0.05"), (7, "0.15")],
)
def test_a_wire_is_no_thinner_than_its_strands(strands, least):
    wire = '[wire.fine]\nstrand = "0.05 mm"\nstrands = {}\noutside = "{} mm"\n'
    assert told(wire.format(strands, least)) == []
    (one,) = told(wire.format(strands, float(least) - 0.001))
    assert (one.check, one.path) == ("file.invalid", ("wire", "fine", "outside"))
    assert least in one.says
