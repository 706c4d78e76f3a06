"""Which net a line is at a place, what drives each circuit, where switches and plugs part a line: worked out on paper."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.wiring import Wiring, resolve
from postcheck.wiring.graph import SUPPLY_SIDE, SWITCHED, Edge, Graph, Node
from postcheck.wiring.nets import Nets

HEAD = """
format = 1
[build]
name = "Tender"
[usual]
run = "ptfe-28"
lead = "enamel-0.10"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
{main}
[place.base]
access = "open"
[place.hull]
access = "open"
[place.bow]
access = "open"
"""


def build(text: str, main: str = "") -> Any:
    return postcheck.loads(HEAD.format(main=main) + text)


def wiring(text: str, main: str = "") -> Wiring:
    return resolve(build(text, main))


CIRCUIT = '[circuit.lights]\nsupply = "main"\n{more}\n'


@pytest.mark.parametrize(
    ("more", "pole", "other", "back", "positive"),
    [
        ("", "main+", "main-", "main-", True),
        ('switched = "negative"', "main-", "main+", "main+", False),
        ("own_return = true", "main+", "main-", "lights-return", True),
        ('switched = "negative"\nown_return = true', "main-", "main+", "lights-return", False),
    ],
)
def test_the_lines_of_a_circuit(more: str, pole: str, other: str, back: str, positive: bool) -> None:
    driver = wiring(CIRCUIT.format(more=more)).drivers["lights"]
    assert (driver.pole, driver.other_pole, driver.return_net, driver.positive) == (
        pole,
        other,
        back,
        positive,
    )
    assert (driver.supply, driver.place, driver.board, driver.driven, driver.lossless) == (
        "main",
        "base",
        None,
        False,
        True,
    )
    assert (driver.net("supply"), driver.net("return")) == ("lights", back)
    assert driver.ends("fed", "home") == (("fed", "home") if positive else ("home", "fed"))


@pytest.mark.parametrize(
    ("output", "drop", "steady", "compliance", "limit", "lossless"),
    [
        ('output = { limit = "90 mA" }', 0.0, None, None, 0.09, True),
        ('output = { drop = "0.2 V" }', 0.2, None, None, None, False),
        ('output = { steady = "15 mA", compliance = "1.1 V" }', 0.0, 0.015, 1.1, None, False),
    ],
)
def test_what_an_output_does(
    output: str,
    drop: float,
    steady: float | None,
    compliance: float | None,
    limit: float | None,
    lossless: bool,
) -> None:
    driver = wiring(CIRCUIT.format(more=output)).drivers["lights"]
    assert (driver.drop, driver.steady, driver.compliance, driver.limit) == (drop, steady, compliance, limit)
    assert (driver.driven, driver.lossless, driver.path) == (True, lossless, ("circuit", "lights", "output"))


def test_a_circuit_of_a_board_begins_there() -> None:
    board = '[board.flasher]\nplace = "hull"\nsupply = "main"\nlimit = "80 mA"\ndrop = "0.3 V"\n[circuit.beacon]\nboard = "flasher"\n'
    driver = wiring(board).drivers["beacon"]
    assert (driver.supply, driver.place, driver.board, driver.driven) == ("main", "hull", "flasher", True)
    assert (driver.drop, driver.limit, driver.path) == (0.3, 0.08, ("board", "flasher"))


# -- nets

FED = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "hull"\nvolts = "5 V"\n{more}\n'
RUN = '[[run]]\nname = "{name}"\nline = "{line}"\nends = ["{a}", "{b}"]\nlength = "200 mm"\n'


def run(name: str, line: str, a: str = "hull", b: str = "bow") -> str:
    return RUN.format(name=name, line=line, a=a, b=b)


def test_the_negative_of_a_converter_is_that_of_its_source() -> None:
    nets = Nets(build(FED.format(more="")))
    assert (nets.one_with("five-"), nets.one_with("five+"), nets.one_with("main-")) == (
        "main-",
        "five+",
        "main-",
    )
    assert [nets.at("five-", place) for place in ("base", "hull", "bow")] == ["main-"] * 3
    # it begins where its source does, not where the converter sits
    assert (nets.begins("five-", "hull"), nets.begins("main-", "base"), nets.begins("five+", "hull")) == (
        False,
        True,
        True,
    )
    apart = Nets(build(FED.format(more="isolated = true")))
    assert apart.one_with("five-") == "five-"
    assert apart.at("five-", "bow") == "five-"
    assert apart.begins("five-", "hull")


def test_two_negatives_with_a_conductor_each_are_apart_at_its_far_end() -> None:
    both = Nets(build(FED.format(more="") + run("one", "main-") + run("two", "five-")))
    assert both.at("five-", "bow") == "five-"
    assert both.at("main-", "bow") == "main-"
    # where the converter sits they meet
    assert both.at("five-", "hull") == "main-"
    assert both.at("five-", "base") == "main-"
    alone = Nets(build(FED.format(more="") + run("two", "five-")))
    assert alone.at("five-", "bow") == "main-"
    spare = Nets(
        build(
            FED.format(more="")
            + run("one", "main-")
            + run("two", "five-").replace('line = "five-"', "spare = true")
        )
    )
    assert spare.at("five-", "bow") == "main-"


def test_supplies_that_share_their_negative() -> None:
    aux = '[supply.aux]\nkind = "adaptor"\nplace = "bow"\nvolts = "5 V"\nshares_negative_with = "main"\n'
    nets = Nets(build(aux))
    assert (nets.one_with("aux-"), nets.at("aux-", "hull"), nets.begins("aux-", "bow")) == (
        "main-",
        "main-",
        False,
    )
    chain = (
        aux
        + '[supply.third]\nkind = "adaptor"\nplace = "base"\nvolts = "9 V"\nshares_negative_with = "aux"\n'
    )
    assert Nets(build(chain)).one_with("third-") == "main-"


def test_which_supplies_are_known() -> None:
    found = wiring(
        FED.format(more="")
        + '[supply.unsaid]\nkind = "adaptor"\nplace = "base"\n'
        + '[supply.behind]\nkind = "converter"\nfrom = "unsaid"\nplace = "hull"\nvolts = "5 V"\n'
        + '[supply.usb]\nkind = "usb"\nplace = "base"\n'
        + '[supply.cells]\nkind = "battery"\nplace = "base"\nvolts = "9 V"\n'
    ).known_supplies
    assert found == {"main", "five", "usb", "cells"}


# -- switches and plugs

LAMP = '[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "smd-0402-red"\nplace = "{place}"\nresistor = "1k5"\n'
LINES = run("feed", "lights", "base", "hull") + run("back", "main-", "base", "hull")


@pytest.mark.parametrize(
    ("contact", "ohms"), [("", 0.05), (', contact = "0.2 ohm"', 0.2), (', contact = "0 ohm"', 1e-9)]
)
def test_a_switch_where_its_line_begins(contact: str, ohms: float) -> None:
    made = wiring(
        CIRCUIT.format(more=f'on_off = {{ rated = "1 A"{contact} }}')
        + LINES
        + LAMP.format(name="one", place="hull")
    )
    (switch,) = made.switches.values()
    assert (switch.kind, switch.name, switch.line, switch.place, switch.begins, switch.ohms) == (
        "circuit",
        "lights",
        "lights",
        "base",
        True,
        ohms,
    )
    # pole, channel, switch, net
    net, behind = Node("lights", "base"), Node("lights", "base", SWITCHED)
    assert made.channels["lights"] == Edge("channel", "lights", 0, Node("main+", "base"), behind)
    assert [edge for edge in made.edges if edge.kind == "switch"] == [
        Edge("switch", "lights", 0, behind, net)
    ]
    assert made.start(made.drivers["lights"]) == net


def test_a_switch_of_a_supply_lies_ahead_of_its_pole() -> None:
    made = wiring(CIRCUIT.format(more="") + LINES + LAMP.format(name="one", place="hull"), 'on_off = "2 A"')
    assert list(made.switches) == ["main+"]
    assert made.terminal("main", "+") == Node("main+", "base", SWITCHED)
    assert (made.terminal("main", "-"), made.pole("main", "+")) == (
        Node("main-", "base"),
        Node("main+", "base"),
    )
    driver = made.drivers["lights"]
    assert (made.output(driver), made.back(driver)) == (
        Node("main+", "base", SWITCHED),
        Node("main-", "base"),
    )


def test_what_a_circuit_loses_ends_where_it_comes_back() -> None:
    """At the other terminal, ahead of a switch there; of a return of its own, and away from the supply, where the circuit begins."""
    low = CIRCUIT.format(more='switched = "negative"')
    made = wiring(low + LINES + LAMP.format(name="one", place="hull"), 'on_off = "2 A"')
    assert made.back(made.drivers["lights"]) == Node("main+", "base", SWITCHED)
    own = wiring(
        CIRCUIT.format(more="own_return = true")
        + run("feed", "lights", "base", "hull")
        + run("back", "lights-return", "base", "hull")
        + LAMP.format(name="one", place="hull"),
        'on_off = "2 A"',
    )
    assert own.back(own.drivers["lights"]) == Node("lights-return", "base")
    board = '[board.driver]\nsupply = "main"\nplace = "hull"\n[circuit.lights]\nboard = "driver"\nswitched = "negative"\n'
    away = wiring(
        board
        + run("feed", "main+", "base", "hull")
        + run("back", "main-", "base", "hull")
        + LAMP.format(name="one", place="hull"),
        'on_off = "2 A"',
    )
    assert away.back(away.drivers["lights"]) == Node("main+", "hull")


def test_a_plug_parts_what_is_at_its_place_from_the_supply() -> None:
    plug = '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\n{more}\n'
    made = wiring(
        CIRCUIT.format(more="")
        + LINES
        + LAMP.format(name="one", place="hull")
        + plug.format(more='contact = "0.1 ohm"')
    )
    assert made.node("lights", "hull") == Node("lights", "hull")
    assert made.ahead("lights", "hull") == Node("lights", "hull", SUPPLY_SIDE)
    first, second = made.pins["foot"]
    assert (first.number, first.a, first.b) == (
        0,
        Node("lights", "hull", SUPPLY_SIDE),
        Node("lights", "hull"),
    )
    assert (second.number, second.a, second.b) == (
        1,
        Node("main-", "hull", SUPPLY_SIDE),
        Node("main-", "hull"),
    )
    feed = next(edge for edge in made.edges if edge.name == "feed")
    assert Node("lights", "hull", SUPPLY_SIDE) in (feed.a, feed.b)
    assert made.contact("foot") == 0.1
    unsaid = wiring(
        CIRCUIT.format(more="") + LINES + LAMP.format(name="one", place="hull") + plug.format(more="")
    )
    assert unsaid.contact("foot") == 1e-3
    nothing = wiring(
        CIRCUIT.format(more="")
        + LINES
        + LAMP.format(name="one", place="hull")
        + plug.format(more='contact = "0 ohm"')
    )
    assert nothing.contact("foot") == 1e-9


def test_the_pole_that_each_line_leads_to() -> None:
    made = wiring(
        CIRCUIT.format(more="own_return = true")
        + '[circuit.low]\nsupply = "main"\nswitched = "negative"\n'
        + FED.format(more="")
    )
    assert made.poles == {
        "main+": ("main", "+"),
        "main-": ("main", "-"),
        "five+": ("five", "+"),
        "five-": ("five", "-"),
        "lights": ("main", "+"),
        "lights-return": ("main", "-"),
        "low": ("main", "-"),
    }


def test_circuits_that_are_joined_on_both_sides() -> None:
    text = (
        CIRCUIT.format(more="")
        + '[circuit.aft]\nsupply = "main"\n[circuit.own]\nsupply = "main"\nown_return = true\n[circuit.low]\nsupply = "main"\nswitched = "negative"\n'
        + "".join(
            run(f"r{line}", line, "base", "hull")
            for line in ("lights", "aft", "own", "own-return", "low", "main-")
        )
        + '[[join]]\nplace = "hull"\nlines = ["lights", "aft"]\n[[join]]\nplace = "hull"\nlines = ["aft", "own"]\n'
    )
    made = wiring(text)
    assert made.joined_circuits["lights"] == ("lights", "aft")
    assert made.joined_circuits["aft"] == ("aft", "lights")
    # on one side alone is not joined
    assert made.joined_circuits["own"] == ("own",)
    assert made.joined_circuits["low"] == ("low",)
    joints = [edge for edge in made.edges if edge.kind == "joint"]
    assert [(edge.name, edge.number) for edge in joints] == [("hull", 0), ("hull", 1), ("own", -1)]


def test_the_far_end_of_a_strip_feeds_what_is_there() -> None:
    strip = '[[strip]]\nname = "deck"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = 2\nfar_end = "bow"\n{more}\n'
    made = wiring(
        CIRCUIT.format(more="") + LINES + strip.format(more="") + LAMP.format(name="one", place="bow")
    )
    assert made.far_ends == {"deck": (Node("lights", "bow"), Node("main-", "bow"))}
    traces = [edge for edge in made.edges if edge.kind == "trace"]
    assert [(edge.number, edge.a, edge.b) for edge in traces] == [
        (0, Node("lights", "hull"), Node("lights", "bow")),
        (1, Node("main-", "hull"), Node("main-", "bow")),
    ]
    led = wiring(
        CIRCUIT.format(more="")
        + LINES
        + strip.format(more='lead = "90 mm"')
        + LAMP.format(name="one", place="bow")
    )
    legs = [edge for edge in led.edges if edge.kind == "leg"]
    near = Node("lights", "hull", "near end of deck")
    assert next((edge.number, edge.a, edge.b) for edge in legs) == (0, Node("lights", "hull"), near)
    assert next(edge.a for edge in led.edges if edge.kind == "trace") == near


def test_a_link_belongs_to_a_string_where_there_are_several() -> None:
    chain = (
        LAMP.format(name="one", place="hull") + 'series = 2\nplaces = ["hull", "bow"]\nlinks = ["90 mm"]\n'
    )
    for more, strings in (("", [None]), ("parallel = 2\n", [0, 1])):
        made = wiring(CIRCUIT.format(more="") + LINES + chain + more)
        assert [wire.string for wire in made.fine_wires if wire.leg == "link"] == strings


# -- graphs


def test_what_a_small_graph_answers() -> None:
    a, b, c, d, e = (Node(name, "") for name in "abcde")
    edges = [
        Edge("conductor", "ab", 0, a, b),
        Edge("conductor", "ab", 1, a, b),
        Edge("conductor", "bc", 0, b, c),
        Edge("joint", "cd", 0, c, d),
    ]
    graph = Graph(edges, (e,))
    # side by side counts as one, but for traces
    assert graph.is_tree
    assert not Graph([*edges, Edge("conductor", "ad", 0, a, d)]).is_tree
    assert not Graph([*edges, Edge("trace", "bc", 0, b, c)]).is_tree
    assert Graph([*edges, Edge("joint", "aa", 0, a, a)]).is_tree
    assert (graph.joined(a, d), graph.joined(a, e), graph.joined(e, e)) == (True, False, True)
    stranger = Node("x", "")
    assert (graph.joined(stranger, stranger), graph.joined(stranger, a)) == (True, False)
    assert (graph.root(d), graph.root(e), graph.root(stranger)) == (graph.root(a), e, stranger)
    assert graph.reached({c}) == {a, b, c, d}
    assert graph.behind(edges[2], [a]) == {c, d}
    assert graph.behind(edges[0], [a]) == frozenset()
    assert graph.path(a, d) == (edges[0], edges[2], edges[3])
    assert graph.path(a, e) is None
    assert graph.path(a, a) == ()
    length = {"ab": 2.0, "bc": 3.0, "cd": 0.0, "ad": 4.5}
    round_ = Graph([*edges, Edge("conductor", "ad", 0, a, d)])
    assert round_.distances(a, lambda edge: length[edge.name]) == {a: 0.0, b: 2.0, c: 4.5, d: 4.5}
    found = round_.path(a, c, lambda edge: length[edge.name])
    assert found is not None
    assert [edge.name for edge in found] == ["ad", "cd"]
    assert round_.path(a, c) is not None
    assert len(round_.path(a, c) or ()) == 2
    # all ways from a to d through b? not with the one beside it
    assert graph.all_pass(a, d, {b})
    assert not round_.all_pass(a, d, {b})
    assert not graph.all_pass(a, e, {b})
    assert graph.all_pass(a, d, {d})
    assert graph.all_pass(a, d, {a})
    assert graph.reached([a], avoiding=[c]) == {a, b}
    assert graph.reached([a], without=edges[:2]) == {a}
    assert graph.reached([a], without=edges[:1]) == {a, b, c, d}
    assert edges[2].other(b) == c
    assert edges[2].other(c) == b
