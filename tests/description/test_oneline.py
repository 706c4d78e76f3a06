from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from postcheck.description import oneline
from postcheck.description.called import piece_words, resistor_words
from postcheck.description.models import ResistorSpec
from postcheck.description.problems import FILE_CHECKS, QuantityError

FORMS = [
    oneline.resistor, oneline.usual_resistor, oneline.lead, oneline.output, oneline.fuse, oneline.source, oneline.wire,
    oneline.joint,
]  # fmt: skip


@pytest.mark.parametrize(
    ("form", "text", "table"),
    [
        (oneline.resistor, "1k5 1/4 W at keel", {"ohms": "1k5", "power": "1/4 W", "place": "keel"}),
        (oneline.resistor, "150 ohm 0805 at base", {"ohms": "150 ohm", "size": "0805", "place": "base"}),
        (
            oneline.resistor,
            "470R 5 % 1/4 W at car",
            {"ohms": "470R", "tolerance": "5 %", "power": "1/4 W", "place": "car"},
        ),
        (oneline.resistor, "1k", {"ohms": "1k"}),
        # values of the E96 series (IEC 60063) that look like chip sizes
        (oneline.resistor, "1210 ohm 1/4 W", {"ohms": "1210 ohm", "power": "1/4 W"}),
        (oneline.resistor, "2010ohm 0805", {"ohms": "2010ohm", "size": "0805"}),
        (oneline.resistor, "1k21 1210", {"ohms": "1k21", "size": "1210"}),
        (oneline.joint, "2.2 mm", {"across": "2.2 mm"}),
        (oneline.joint, "4 x 0.8 mm", {"across": "4 mm", "thin": "0.8 mm"}),
        (oneline.joint, "1/8 x 1/16 in", {"across": "1/8 in", "thin": "1/16 in"}),
        (oneline.joint, "4 mm×0.8 mm", {"across": "4 mm", "thin": "0.8 mm"}),
        (oneline.resistor, "4K7J 0.25W", {"ohms": "4K7", "tolerance": "5 %", "power": "0.25W"}),
        (oneline.resistor, "150 ohm at aft tank 2", {"ohms": "150 ohm", "place": "aft tank 2"}),
        (oneline.usual_resistor, "1/4 W 5 %", {"power": "1/4 W", "tolerance": "5 %"}),
        (oneline.usual_resistor, "0805 1%", {"size": "0805", "tolerance": "1%"}),
        (
            oneline.lead,
            "220 mm to keel, red/black",
            {"length": "220 mm", "to": "keel", "colours": ["red", "black"]},
        ),
        (
            oneline.lead,
            "220 mm of enamel-0.10 to keel, red/black",
            {"length": "220 mm", "wire": "enamel-0.10", "to": "keel", "colours": ["red", "black"]},
        ),
        (oneline.lead, "220 mm to keel", {"length": "220 mm", "to": "keel"}),
        (oneline.lead, "to keel", {"to": "keel"}),
        (oneline.lead, "120 mm", {"length": "120 mm"}),
        (oneline.lead, "1 1/2 in to keel", {"length": "1 1/2 in", "to": "keel"}),
        (oneline.lead, "90 mm of pvc-7/0.10", {"length": "90 mm", "wire": "pvc-7/0.10"}),
        (
            oneline.lead,
            "220 mm of ptfe-30 / enamel-0.10 to keel, red/black",
            {
                "length": "220 mm",
                "wires": ["ptfe-30", "enamel-0.10"],
                "to": "keel",
                "colours": ["red", "black"],
            },
        ),
        (oneline.output, "100 mA", {"limit": "100 mA"}),
        (oneline.output, "100 mA drop 0.2 V", {"limit": "100 mA", "drop": "0.2 V"}),
        (oneline.output, "100 mA, 0.2 V drop", {"limit": "100 mA", "drop": "0.2 V"}),
        (oneline.output, "0.2 V drop", {"drop": "0.2 V"}),
        (oneline.output, "20 mA constant, 1.5 V compliance", {"steady": "20 mA", "compliance": "1.5 V"}),
        (oneline.output, "20 mA constant compliance 1.5 V", {"steady": "20 mA", "compliance": "1.5 V"}),
        (oneline.source, "usb C 3 A", {"kind": "usb", "port": "type-c", "rated": "3 A"}),
        (oneline.source, "12 V adaptor 1 A", {"kind": "adaptor", "volts": "12 V", "rated": "1 A"}),
        (oneline.source, "adaptor, 9 V, 500mA", {"kind": "adaptor", "volts": "9 V", "rated": "500mA"}),
        (oneline.source, "USB type-C", {"kind": "usb", "port": "type-c"}),
        (oneline.source, "usb power bank 2 A", {"kind": "usb", "port": "power-bank", "rated": "2 A"}),
        (oneline.source, "plain usb", {"kind": "usb", "port": "plain"}),
        (oneline.fuse, "500 mA", {"rated": "500 mA"}),
        (oneline.fuse, "500mA fast", {"rated": "500mA", "kind": "quick"}),
        (oneline.fuse, "500 mA slow at base", {"rated": "500 mA", "kind": "slow", "place": "base"}),
        (oneline.wire, "7/0.10 mm, 0.6 mm outside", {"strands": 7, "strand": "0.10 mm", "outside": "0.6 mm"}),
        (oneline.wire, "0.10 mm", {"strands": 1, "strand": "0.10 mm"}),
    ],
)
def test_a_line_says_what_the_table_says(
    form: Callable[[str], dict[str, Any]], text: str, table: dict[str, Any]
) -> None:
    assert form(text) == table


@pytest.mark.parametrize(
    ("form", "text", "check", "words"),
    [
        (oneline.resistor, "470", "file.no-unit", "470 ohm"),
        (oneline.resistor, "1k5 blue", "file.bad-form", "'blue'"),
        (oneline.resistor, "1/4 W", "file.bad-form", "no resistance"),
        (oneline.resistor, "12 V at keel", "file.wrong-dimension", "voltage"),
        (oneline.resistor, "1,5k", "file.decimal-comma", "1.5"),
        (oneline.resistor, "1k at", "file.bad-form", "place"),
        (oneline.usual_resistor, "1k 1/4 W", "file.bad-form", "'1k'"),
        (oneline.lead, "220 mm keel", "file.bad-form", "'keel'"),
        (oneline.lead, "keel", "file.bad-form", "220 mm of enamel-0.10 to keel"),
        (oneline.lead, "220 mm to", "file.bad-form", "220 mm of enamel-0.10 to keel"),
        (oneline.lead, "220 to keel", "file.no-unit", "'220'"),
        (oneline.lead, "12 V to keel", "file.wrong-dimension", "length"),
        (oneline.lead, "220 mm to keel, red//black", "file.bad-form", "red//black"),
        (oneline.lead, "2 mm of a / b / c", "file.bad-form", "'a / b / c'"),
        (oneline.output, "100 mA, blah", "file.bad-form", "100 mA, 0.2 V drop"),
        (oneline.output, "20 mA, 1 V compliance", "file.bad-form", "constant"),
        (oneline.source, "12 V 1 A", "file.bad-form", "12 V adaptor 1 A"),
        (oneline.source, "12 V adaptor C", "file.bad-form", "12 V adaptor 1 A"),
        (oneline.source, "usb B 3 A", "file.bad-form", "usb C 3 A"),
        (oneline.source, "12 V adaptor 1,5 A", "file.decimal-comma", "1.5"),
        (oneline.fuse, "500 mA slwo", "file.choice", 'write "500 mA slow"'),
        (oneline.fuse, "slow", "file.bad-form", "500 mA slow"),
        (oneline.wire, "thin", "file.bad-form", "7/0.10 mm"),
    ],
)
def test_the_piece_that_is_not_understood_is_named(
    form: Callable[[str], dict[str, Any]], text: str, check: str, words: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        form(text)

    assert caught.value.check == check
    assert words in str(caught.value)


@pytest.mark.parametrize("form", FORMS)
@given(text=st.text("0123456789 ./,-ohmRkWVAt%tfdrpcn\x1b", max_size=60))
def test_any_line_is_read_or_refused_in_words(form: Callable[[str], dict[str, Any]], text: str) -> None:
    refusal: QuantityError | None = None
    table: dict[str, Any] = {}
    try:
        table = form(text)
    except QuantityError as error:
        refusal = error

    assert (refusal is None) == bool(table)
    if refusal is not None:
        assert refusal.check in FILE_CHECKS
        assert refusal.hint
        assert "\x1b" not in str(refusal)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("text", ["", "   ", "1 " * 50_000, "1k to of at " * 10_000, "\x1b" * 100_000])
def test_hostile_lines_are_refused_briefly(form: Callable[[str], dict[str, Any]], text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        form(text)

    assert len(str(caught.value)) < 300


names = st.from_regex(r"[a-z][a-z0-9.-]{1,10}", fullmatch=True).filter(
    lambda name: name not in {"to", "of", "at"}
)


@given(
    st.fixed_dictionaries(
        {"to": names},
        optional={
            "length": st.integers(1, 5000).map("{} mm".format),
            "wire": names,
            "colours": st.lists(names, min_size=1, max_size=2),
        },
    )
)
def test_a_lead_in_one_line_is_the_lead_in_a_table(table: dict[str, Any]) -> None:
    line = " ".join(
        [
            *([table["length"]] if "length" in table else []),
            *([f"of {table['wire']}"] if "wire" in table else []),
            f"to {table['to']}",
        ]
    )
    if "colours" in table:
        line += ", " + "/".join(table["colours"])

    assert oneline.lead(line) == table


@pytest.mark.parametrize(
    "text",
    [
        "2.5 x resistor 680 ohm", "2,5 x resistor 680 ohm", "2.5 resistor 680 ohm", "-2 x smd-0603-white", "1/2 x fuse 1 A",
        "2.5 x ptfe-28, red",
    ],
)  # fmt: skip
def test_pieces_are_counted_whole(text: str) -> None:
    with pytest.raises(QuantityError) as error:
        oneline.held(text)
    assert "counted whole" in error.value.says
    assert error.value.hint is not None
    # the two forms of the hint are taken
    counted, measured = (one for one in error.value.hint.split('"') if one[:1].isdigit())
    assert oneline.held(counted)["count"] == 10
    assert oneline.held(measured) == {"length": "2.5 m", "wire": "ptfe-28", "colour": "red"}


@pytest.mark.parametrize(
    ("form", "text", "says"),
    [
        (oneline.resistor, "foo", "'foo' is not understood; write it like \"1k5 1/4 W at keel\""),
        (oneline.resistor, "470 ohm foo", "'foo' in '470 ohm foo' is not understood; write it like \"1k5 1/4 W at keel\""),
        (oneline.output, "foo", "'foo' is not understood; write it like \"100 mA, 0.2 V drop\""),
        (oneline.output, "20 mA, 0.2 V",
         "'20 mA, 0.2 V' does not say what 0.2 V is; write \"20 mA, 0.2 V drop\" where that is lost when it is on"),
        (oneline.output, "15 mA constant 1.5 V",
         "'15 mA constant 1.5 V' does not say what 1.5 V is; write \"15 mA constant, 1.5 V compliance\" where it needs that much for itself"),
        (oneline.fuse, "T500mA", "'T500mA' is what stands on the cap of a fuse; write \"500 mA slow\""),
        (oneline.fuse, "F 0.5A L 250V at base", "'F 0.5A L 250V at base' is what stands on the cap of a fuse; write \"0.5 A quick at base\""),
        (oneline.fuse, "T3.15AH250V", "'T3.15AH250V' is what stands on the cap of a fuse; write \"3.15 A slow\""),
        (oneline.fuse, "M 1 A",
         "'M 1 A' is what stands on the cap of a fuse; no M is judged: F on the cap is a quick one, and T a slow one"),
        (oneline.fuse, "foo", "'foo' is not understood; write it like \"500 mA slow\""),
        (oneline.diode, "foo bar baz", "'foo bar baz' is not understood; write it like \"1N4001\""),
        (oneline.joint, "foo", "'foo' is not understood; write it like \"4 x 0.8 mm\""),
    ],
)  # fmt: skip
def test_what_is_not_understood_is_named_with_what_it_stands_in(
    form: Callable[[str], Any], text: str, says: str
) -> None:
    with pytest.raises(QuantityError) as refused:
        form(text)
    assert f"{refused.value.says}; {refused.value.hint}".startswith(says)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("150 ohm 0805 1 %", "150 ohm 0805 1 %"),
        ("1k5 1/4 W", "1.5 kohm 1/4 W"),
        (
            "470 ohm 1/4 W + trimmer 1k set to 300 at keel",
            "470 ohm 1/4 W + trimmer 1 kohm set 300 ohm at keel",
        ),
        ("330 ohm", "330 ohm"),
    ],
)
def test_a_resistor_in_words_reads_back(text: str, words: str) -> None:
    spec = ResistorSpec.model_validate(oneline.resistor(text))
    assert resistor_words(spec) == words
    assert ResistorSpec.model_validate(oneline.resistor(words)) == spec
    (first, *_) = spec.pieces
    assert piece_words(first) == words.split(" + ", maxsplit=1)[0].split(" at ", maxsplit=1)[0]
