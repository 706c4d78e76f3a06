"""What is still to be laid, and what is asked for it: topology, worked by hand."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.report import FileReport, NotJudged
from postcheck.wiring import resolve
from tests.survey.bench import boats
from tests.wiring.test_stray import BUILD, RUNS, lamp


def report(text: str) -> FileReport:
    return postcheck.check(postcheck.loads(text), remedies=False).files[0]


def asked(text: str) -> list[NotJudged]:
    return [one for one in report(text).not_judged if "nothing carries it" in one.what]


def test_a_missing_return_is_asked_once_with_how_many_and_the_first_few() -> None:
    lamps = "".join(lamp(name, '"1k5"') for name in ("one", "two", "three", "four", "five"))
    (only,) = asked(BUILD + lamps + RUNS.replace('"main-"', '"main+"'))
    assert only.subject == "main-"
    assert only.what == (
        "what is lost and what a short does on its way from 'base' to 'hub': "
        "nothing carries it there yet, where 'one', 'two', 'three' and 2 more are joined"
    )
    assert only.missing == "a run, and its length"
    assert only.lines[:3] == ("[[run]]", 'line = "main-"', 'ends = ["base", "hub"]')
    assert (only.vital, only.plannable) == (True, True)


POLE = RUNS.replace('"deck"', '"main+"')


def test_a_pole_that_comes_there_may_feed_a_circuit_by_a_join() -> None:
    text = BUILD + lamp("one", '"1k5"') + POLE
    (only,) = asked(text)
    assert only.lines[1:4] == ("# [[join]]", '# place = "hub"', '# lines = ["main+", "deck"]')
    assert only.lines[4] == "[[run]]"
    # what is offered mends it
    assert asked(text + "".join(f"{line[2:]}\n" for line in only.lines[1:4])) == []


@pytest.mark.parametrize(
    "text",
    [
        BUILD + lamp("one", '"1k5"') + RUNS.replace('"deck"', '"cabin"', 1),  # no pole comes there
        BUILD + '[circuit.deck.output]\nsteady = "20 mA"\n' + lamp("one", '"1k5"') + POLE,  # it would go round the output
    ],
)  # fmt: skip
def test_no_join_is_offered_where_none_would_do(text: str) -> None:
    (only,) = asked(text)
    assert only.subject == "deck"
    assert "# [[join]]" not in only.lines


def test_a_circuit_switched_in_the_negative_begins_at_the_other_pole() -> None:
    negative = BUILD.replace("[circuit.deck]", '[circuit.deck]\nswitched = "negative"')
    told = {one.subject: one.lines for one in asked(negative + lamp("one", '"1k5"') + POLE)}
    assert '# lines = ["main-", "deck"]' in told["deck"]


# -- where it is laid

POST = '[post]\nfrom = "base"\nto = "mast"\nbore = "5 mm"\nlength = "90 mm"\n'
ARM = '[passage.arm]\nfrom = "mast"\nto = "bow"\nbore = "5 mm"\nlength = "90 mm"\n'


def laid(text: str) -> list[tuple[str, str, str, tuple[str, ...]]]:
    wiring = resolve(postcheck.loads(text))
    return [(one.line, one.start, one.place, one.through) for one in wiring.unbuilt]


def at(place: str, name: str = "one") -> str:
    return lamp(name, '"1k5"').replace("to hub", f"to {place}")


def test_it_goes_by_the_passages_between() -> None:
    text = BUILD + POST + ARM + at("bow")
    assert laid(text) == [
        ("deck", "base", "bow", ("post", "arm")),
        ("main-", "base", "bow", ("post", "arm")),
    ]
    assert {one.lines[:4] for one in asked(text)} == {
        ("[[run]]", f'line = "{line}"', 'ends = ["base", "bow"]', 'through = ["post", "arm"]')
        for line in ("deck", "main-")
    }


def test_it_goes_on_from_where_the_line_is_already() -> None:
    run = '[[run]]\nline = "deck"\nends = ["base", "mast"]\nlength = "200 mm"\n'
    text = BUILD + POST + ARM + at("bow") + at("mast", "two") + run
    assert laid(text) == [
        ("deck", "mast", "bow", ("arm",)),
        ("main-", "base", "mast", ("post",)),
        ("main-", "mast", "bow", ("arm",)),
    ]


def test_a_run_that_is_there_is_met_at_its_nearer_end() -> None:
    run = '[[run]]\nline = "deck"\nends = ["bow", "mast"]\nlength = "200 mm"\n'
    text = BUILD + POST + ARM + at("bow") + run
    assert ("deck", "base", "mast", ("post",)) in laid(text)
    figures = report(text).figures["runs"]
    (current,) = (row["current"] for row in figures.values())
    assert current == pytest.approx(report(text).figures["lamps"]["one"]["nominal"])


def test_ways_tell_the_length() -> None:
    ways = '[[way]]\nfrom = "base"\nto = "mast"\nlength = "140 mm"\n[[way]]\nfrom = "mast"\nto = "bow"\nlength = "110 mm"\n'
    (deck, _) = asked(BUILD + POST + ARM + at("bow") + ways)
    assert deck.lines[-2:] == ('through = ["post", "arm"]', 'length = "250 mm"')


def test_passages_say_that_they_lack_it() -> None:
    told = [
        one
        for one in report(BUILD + POST + ARM + at("bow")).not_judged
        if one.what.startswith("whether all goes")
    ]
    assert {one.subject for one in told} == {"post", "arm"}
    assert {one.missing for one in told} == {"a [[run]] through it of 'deck' and 'main-'"}
    assert all(one.vital for one in told)


# -- a board, a converter, and what has no use


def test_a_board_is_brought_its_pole_before_its_circuits() -> None:
    board = '[board.driver]\nplace = "mast"\nsupply = "main"\n'
    text = BUILD.replace('[circuit.deck]\nsupply = "main"', f'{board}[circuit.deck]\nboard = "driver"')
    assert [one[:3] for one in laid(text + at("bow"))] == [
        ("main+", "base", "mast"),
        ("deck", "mast", "bow"),
        ("main-", "base", "bow"),
    ]
    (first, *_) = (one for one in asked(text + at("bow")) if one.subject == "main+")
    assert "where board 'driver' takes its current" in first.what


def test_a_converter_is_brought_both_poles() -> None:
    converter = (
        '[supply.low]\nkind = "converter"\nfrom = "main"\nplace = "mast"\nvolts = "5 V"\nrated = "1 A"\n'
    )
    text = BUILD.replace('[circuit.deck]\nsupply = "main"', f'{converter}[circuit.deck]\nsupply = "low"')
    assert [one[:3] for one in laid(text + at("mast"))] == [
        ("main+", "base", "mast"),
        ("main-", "base", "mast"),
    ]


def test_a_run_that_joins_nothing_is_asked_about() -> None:
    idle = '[[run]]\nname = "odd one"\nline = "cabin"\nends = ["mast", "bow"]\nlength = "200 mm"\n'
    told = [
        one
        for one in report(BUILD + lamp("one", '"1k5"') + RUNS.replace('"cabin"', '"main+"') + idle).not_judged
        if one.vital
    ]
    (only,) = told
    assert (only.subject, only.what) == (
        "odd one",
        "what it carries: nothing joins 'cabin' to either end of it",
    )


# -- what is judged all the same


def test_currents_are_those_of_the_whole_build_but_for_the_drop() -> None:
    whole, half = (report(BUILD + lamp("one", '"1k5"') + runs) for runs in (RUNS, ""))
    nominal, without = (file.figures["lamps"]["one"]["nominal"] for file in (whole, half))
    assert nominal == pytest.approx(without, rel=1e-3)
    assert without > nominal  # type: ignore[operator]
    assert half.verdict == "incomplete"


def test_a_short_is_not_judged_where_the_wire_is_missing() -> None:
    strong = BUILD.replace('rated = "1 A"', 'rated = "30 A"')
    whole, half = (
        {one.check for one in report(strong + lamp("one", '"1k5"') + runs).findings} for runs in (RUNS, "")
    )
    assert "fuse.absent" in whole
    assert not {name for name in half if name.startswith(("fuse.", "wire."))}


def test_an_led_without_resistor_is_asked_about_while_its_lines_are_open() -> None:
    bare = lamp("one", '"1k5"').replace('resistor = "1k5"\n', "")
    half, whole = (report(BUILD + bare + runs) for runs in (RUNS.replace('"main-"', '"main+"'), RUNS))
    assert [one.missing for one in half.not_judged if one.subject == "one"] == [
        'its resistor, such as resistor = "470 ohm"'
    ]
    assert "one" not in half.figures["lamps"]
    assert half.verdict == "incomplete"
    assert whole.findings[0].id == "lamp.no-resistor:one"


def test_nothing_of_what_is_open_is_a_margin() -> None:
    text = BUILD + lamp("one", '"1k5"')
    whole, half = (report(text + runs).figures["margins"] for runs in (RUNS, ""))
    assert {"line.drop", "lamp.over-rating"} <= whole.keys()
    assert not {"line.drop", "lamp.over-rating"} & half.keys()


@pytest.mark.parametrize(
    ("lines", "apart"), [((), True), (("a",), True), (("main-",), True), (("a", "main-"), False)]
)
def test_a_bare_led_waits_until_both_its_lines_are_laid(lines: tuple[str, ...], apart: bool) -> None:
    """It may yet get a resistor; with both it is judged as it is."""
    parts = boats.boat(boats.lamp(None), lines=lines).parts
    assert [part.name for part in parts.apart] == (["lamp"] if apart else [])
    assert [part.name for part in parts.lamps] == ([] if apart else ["lamp"])
