"""What a wish leaves to be understood: circuits by switch, by name and by the only supply, lamps by count."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.implied import filled_in, stated
from postcheck.description.models import Build
from postcheck.description.naming import complete
from postcheck.description.problems import BuildError

HEAD = 'format = 1\n[build]\nname = "Launch"\n[usual]\nlead = "enamel-0.10"\n[place]\nbase = { access = "open" }\nbow = { access = "open" }\n'
MAIN = '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\n'


def lamp(*lines: str, name: str = "one") -> str:
    return "\n".join(
        [
            "[[lamp]]",
            f'name = "{name}"',
            'kind = "smd-0603-red"',
            'place = "bow"',
            'resistor = "1k"',
            *lines,
            "",
        ]
    )


def load(*tables: str) -> Build:
    return postcheck.loads(HEAD + "".join(tables))


def refused(*tables: str) -> str:
    with pytest.raises(BuildError) as refusal:
        load(*tables)
    (only,) = refusal.value.problems
    return str(only)


def circuits(build: Build) -> dict[str, tuple[str | None, str]]:
    return {name: (circuit.supply, circuit.behaviour) for name, circuit in build.circuit.items()}


def test_a_name_without_a_table_is_steady_on_the_only_supply() -> None:
    build = load(MAIN, lamp('circuit = "deck"'))
    assert circuits(build) == {"deck": ("main", "steady")}
    assert build.implied == {"deck": "name"}


def test_a_name_near_one_that_is_there_is_a_mistake() -> None:
    table = '[circuit.running]\nsupply = "main"\n'
    assert "did you mean 'running'" in refused(MAIN, table, lamp('circuit = "runing"'))
    assert "there is no circuit" not in str(load(MAIN, table, lamp('circuit = "windows"')).circuit)


@pytest.mark.parametrize("supplies", ["", MAIN + MAIN.replace("main", "other")])
def test_with_no_supply_or_several_nothing_is_taken(supplies: str) -> None:
    build = load(
        supplies, lamp('circuit = "deck"'), "[circuit.cabin]\n", lamp('circuit = "cabin"', name="two")
    )
    assert circuits(build) == {"cabin": (None, "steady"), "deck": (None, "steady")}
    told = postcheck.check(build).files[0]
    assert told.figures["lamps"] == {}
    assert {one.subject for one in told.not_judged if one.vital} == {"deck", "cabin"}
    assert told.verdict == "incomplete"


def test_a_table_without_supply_is_on_the_only_one() -> None:
    build = load(MAIN, '[circuit.deck]\nbehaviour = "flash"\n', lamp('circuit = "deck"'))
    assert circuits(build) == {"deck": ("main", "flash")}
    assert build.implied == {"deck": "supply"}


def test_a_lamp_on_no_circuit_is_asked_about_and_has_no_current() -> None:
    told = postcheck.check(load(MAIN, lamp(), lamp('circuit = "deck"', name="two"))).files[0]
    assert [(one.subject, one.what) for one in told.not_judged if "no circuit" in one.what] == [
        ("one", "what it gets: no circuit feeds it")
    ]
    assert set(told.figures["lamps"]) == {"two"}


def test_a_lamp_without_name_and_circuit_has_a_name() -> None:
    build = load(MAIN, lamp().replace('name = "one"\n', ""), lamp().replace('name = "one"\n', ""))
    assert postcheck.lamp_names(build) == ("lamp at bow", "lamp at bow 2")


# -- switches


def test_one_behaviour_behind_a_switch_bears_its_name() -> None:
    build = load(MAIN, lamp('switch = "cabin"'), lamp('switch = "cabin"', 'behaviour = "steady"', name="two"))
    assert circuits(build) == {"cabin": ("main", "steady")}
    assert build.implied == {"cabin": "switch"}


def test_several_bear_its_name_and_what_they_do() -> None:
    build = load(MAIN, lamp('switch = "cabin"'), lamp('switch = "cabin"', 'behaviour = "flash"', name="two"))
    assert circuits(build) == {"cabin steady": ("main", "steady"), "cabin flash": ("main", "flash")}


def test_a_table_that_agrees_is_used() -> None:
    table = '[circuit.cabin]\nsupply = "main"\nbehaviour = "flash"\noutput = "100 mA"\n'
    build = load(
        MAIN, table, lamp('switch = "cabin"'), lamp('switch = "cabin"', 'behaviour = "steady"', name="two")
    )
    assert [lamp.circuit for lamp in build.lamp] == ["cabin", "cabin steady"]
    assert build.implied == {"cabin steady": "switch"}


def test_a_table_that_says_otherwise_is_a_contradiction() -> None:
    table = '[circuit."cabin flash"]\nsupply = "main"\n'
    says = refused(
        MAIN, table, lamp('switch = "cabin"'), lamp('switch = "cabin"', 'behaviour = "flash"', name="two")
    )
    assert (
        "what is behind switch 'cabin' and is to flash would be circuit 'cabin flash', whose behaviour is 'steady'"
        in says
    )


LOAD = '[[load]]\nname = "screw"\nkind = "motor"\nplace = "bow"\ntypical = "60 mA"\n'
STRIP = '[[strip]]\nname = "deck strip"\nkind = "strip-12v-warm-white-60"\nplace = "bow"\nsegments = 1\n'


def test_loads_and_strips_are_behind_a_switch_as_lamps_are() -> None:
    build = load(MAIN, LOAD, 'switch = "screw"\n', STRIP, 'switch = "deck"\n', lamp('switch = "deck"'))
    assert circuits(build) == {"deck": ("main", "steady"), "screw": ("main", "steady")}
    assert (build.load[0].circuit, build.strip[0].circuit, build.lamp[0].circuit) == ("screw", "deck", "deck")
    assert build.implied == {"deck": "switch", "screw": "switch"}
    both = refused(MAIN, LOAD, 'switch = "screw"\ncircuit = "motor"\n')
    assert "a load is on circuit 'motor' or behind switch 'screw', and both are given" in both


@pytest.mark.parametrize(("table", "name"), [(LOAD, "screw"), (STRIP, "deck strip")])
def test_a_load_or_strip_on_no_circuit_is_asked_about(table: str, name: str) -> None:
    told = postcheck.check(load(MAIN, table)).files[0]
    assert told.verdict == "incomplete"
    (asked,) = [one for one in told.not_judged if "no circuit" in one.what]
    assert (asked.subject, asked.lines) == (name, ('switch = "cabin"',))


def test_switch_and_circuit_are_a_contradiction() -> None:
    assert "on circuit 'deck' or behind switch 'cabin', and both are given" in refused(
        MAIN, lamp('switch = "cabin"', 'circuit = "deck"')
    )


def test_a_lamp_with_dice_has_no_switch_for_all() -> None:
    dice = 'dice = { red = { circuit = "red", resistor = "470 ohm" } }'
    text = (
        lamp('switch = "cabin"', dice).replace("smd-0603-red", "led-5mm-rgb").replace('resistor = "1k"\n', "")
    )
    assert "a lamp with `dice` has a switch for each colour, and none for all" in refused(MAIN, text)


# -- counts


def test_a_count_is_so_many_strings_each_on_a_lead_of_its_own() -> None:
    # whether its circuit has a table or only a name
    for circuit in ("", '[circuit.deck]\nsupply = "main"\n'):
        (nine,) = load(MAIN, circuit, lamp('circuit = "deck"', "count = 9", 'lead = "120 mm to base"')).lamp
        assert (nine.parallel, nine.strings_share) == (9, "nothing")


@pytest.mark.parametrize(
    ("lines", "series", "parallel"),
    [
        (["count = 6", "series = 3"], 3, 2),
        (["count = 3", "series = 3"], 3, 1),
        (["count = 6", "parallel = 2"], 3, 2),
        (["count = 6", "series = 3", "parallel = 2"], 3, 2),
    ],
)
def test_a_count_beside_how_they_are_joined_gives_what_is_left(
    lines: list[str], series: int, parallel: int
) -> None:
    (lamps,) = load(MAIN, lamp('circuit = "deck"', *lines)).lamp
    assert (lamps.series, lamps.parallel, lamps.count) == (series, parallel, None)


def test_the_longest_of_the_leads_counts() -> None:
    (three,) = load(
        MAIN,
        lamp(
            'circuit = "deck"', "count = 3", 'leads = ["90 mm", "140 mm", "100 mm"]', 'lead = { to = "base" }'
        ),
    ).lamp
    assert three.lead is not None
    assert three.lead.length == pytest.approx(0.14)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (["count = 4", "series = 3"], "4 lamps do not make whole strings of 3"),
        (["count = 4", "parallel = 3"], "4 lamps cannot be shared out evenly among 3 strings"),
        (["count = 4", "series = 3", "parallel = 2"], "2 strings of 3 are 6 lamps, not 4"),
        (["count = 3", 'strings_share = "return"'], "3 lamps are joined, and `strings_share` says how"),
        (
            ["count = 2", "series = 2", 'leads = ["90 mm", "80 mm"]'],
            "`leads` leave open how 2 lamps are joined",
        ),
        (["count = 3", "keep = true"], "and `keep` says that they are"),
        (["count = 3", 'leads = ["90 mm"]'], "3 lamps have 3 leads, not 1"),
        (['leads = ["90 mm", "80 mm"]'], "`leads` needs `count`"),
        (["count = 1", 'leads = ["90 mm"]', 'lead = "90 mm to base"'], "`lead` says how long it is"),
    ],
)
def test_counts_that_do_not_agree(lines: list[str], says: str) -> None:
    assert says in refused(MAIN, lamp('circuit = "deck"', *lines))


@pytest.mark.parametrize(
    ("lines", "path"),
    [
        (["count = 4", "series = 3"], ("lamp", 1, "count")),
        (["count = 4", "parallel = 3"], ("lamp", 1, "count")),
        (["count = 4", "series = 3", "parallel = 2"], ("lamp", 1, "count")),
        (["count = 3", 'strings_share = "return"'], ("lamp", 1, "count")),
        (["count = 3", "keep = true"], ("lamp", 1, "keep")),
        (["count = 3", 'leads = ["90 mm"]'], ("lamp", 1, "leads")),
        (['leads = ["90 mm", "80 mm"]'], ("lamp", 1)),
        (["count = 1", 'leads = ["90 mm"]', 'lead = "90 mm to base"'], ("lamp", 1, "leads")),
    ],
)
def test_where_counts_do_not_agree(lines: list[str], path: tuple[str | int, ...]) -> None:
    with pytest.raises(BuildError) as refusal:
        load(MAIN, lamp('circuit = "deck"'), lamp('circuit = "deck"', *lines, name="two"))
    assert [problem.path for problem in refusal.value.problems] == [path]


def test_a_switch_that_contradicts_a_table_is_shown_at_the_first_lamp_behind_it() -> None:
    table = '[circuit."cabin flash"]\nsupply = "main"\n'
    flashing = [lamp('switch = "cabin"', 'behaviour = "flash"', name=name) for name in ("two", "three")]
    with pytest.raises(BuildError) as refusal:
        load(MAIN, table, lamp('switch = "cabin"'), lamp('switch = "deck"', name="other"), *flashing)
    assert [problem.path for problem in refusal.value.problems] == [("lamp", 2, "switch")]


@pytest.mark.parametrize(
    ("lines", "strings", "share"),
    [
        (["count = 1", 'lead = "90 mm to base"'], 1, None),
        (["count = 2", 'lead = "90 mm to base"'], 2, "nothing"),
        (["count = 2", 'leads = ["90 mm", "80 mm"]'], 2, "nothing"),
        (["count = 2"], 2, None),  # soldered to their lines, they have no leads to share
    ],
)
def test_several_by_count_have_leads_of_their_own(lines: list[str], strings: int, share: str | None) -> None:
    (lamps,) = load(MAIN, lamp('circuit = "deck"', *lines)).lamp
    assert (lamps.parallel, lamps.strings_share) == (strings, share)


def test_what_is_all_said_is_left_as_it_is() -> None:
    build = load(MAIN, '[circuit.deck]\nsupply = "main"\n', lamp('circuit = "deck"'))
    assert build.implied == {}
    assert filled_in(build) is build


def test_later_than_planning_nothing_is_taken_in_silence() -> None:
    build = load(MAIN, lamp('circuit = "deck"'))
    for stage, vital in (("planning", False), ("wiring", True), ("closing", True)):
        (asked,) = (
            one
            for one in postcheck.check(build, stage=stage).files[0].not_judged
            if "only supply" in one.what
        )  # type: ignore[arg-type]
        assert (asked.vital, asked.plannable) == (vital, True)
        assert asked.lines == ("[circuit.deck]", 'supply = "main"', 'behaviour = "steady"')


def test_what_is_stated_is_no_longer_understood() -> None:
    build = load(MAIN, lamp('circuit = "deck"'), lamp(name="two"))
    assert build.implied == {"deck": "name", "circuit of two": "nothing"}
    said = stated(build)
    assert said.implied == {"circuit of two": "nothing"}
    assert build.implied == {"deck": "name", "circuit of two": "nothing"}
    assert stated(said) is said
    assert circuits(said) == circuits(build)


@pytest.mark.parametrize(
    ("pairs", "names"),
    [
        ([(None, "a"), (None, "b"), (None, "a"), (None, "a")], ("a", "b", "a 2", "a 3")),
        ([(None, "a"), ("a 2", "x"), (None, "a"), (None, "a")], ("a", "a 2", "a 3", "a 4")),
        ([("a", "x"), (None, "a"), ("a", "y")], ("a", "a 2", "a")),
        ([], ()),
    ],
)
def test_names_that_are_made_are_numbered_past_those_that_are_given(
    pairs: list[tuple[str | None, str]], names: tuple[str, ...]
) -> None:
    assert complete(pairs) == names
