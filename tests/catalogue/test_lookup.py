"""Looking rows up: names, second names, near names, and how little is read."""

from __future__ import annotations

import subprocess
import sys

import pytest

from postcheck import catalogue
from postcheck.catalogue import load
from postcheck.catalogue.fields import Fields


def test_every_row_is_found_under_its_name():
    finders = {
        "wire": catalogue.wire,
        "lamp": catalogue.lamp,
        "strip": catalogue.strip,
        "resistor": catalogue.resistor_size,
        "fuse": catalogue.fuse_rating,
        "plastic": catalogue.plastic,
        "battery": catalogue.chemistry,
    }
    assert set(finders) == set(catalogue.KINDS)
    for kind, find in finders.items():
        names = catalogue.names(kind)
        assert len(names) == len(set(names)) >= 5
        for name, row in zip(names, catalogue.rows(kind), strict=True):
            assert find(name) is row
            assert row.name == name
            assert find(name.upper()) is row


def test_every_second_name_is_found():
    count = 0
    for kind in catalogue.KINDS:
        for family in load._families(kind):
            for alias, name in load._file(kind, family)[1].items():
                assert load._row(kind, alias).name == name
                count += alias != name.lower()
    assert count > 20


@pytest.mark.parametrize(
    ("said", "row"),
    [
        ("enamel-0.1", "enamel-0.10"),
        ("enamel-0.100", "enamel-0.10"),
        ("enamel-.1", "enamel-0.10"),
        ("enamel-0.1mm", "enamel-0.10"),
        ("enamel-0.100-g1", "enamel-0.10"),
        ("enamel-0.1-g2", "enamel-0.10-g2"),
        ("enamel-0.0630", "enamel-0.063"),
        ("enamel-0.080", "enamel-0.08"),
        ("enamel-0.2", "enamel-0.20"),
        ("enamel-0.500-g2", "enamel-0.50-g2"),
        (" PTFE-28 ", "ptfe-28"),
    ],
)
def test_a_wire_may_be_spelt_in_more_than_one_way(said, row):
    assert catalogue.wire(said).name == row


def test_resistor_sizes_and_fuses_are_found_as_written_on_the_bag():
    assert catalogue.resistor_size("1/4W") is catalogue.resistor_size("1/4 W")
    assert catalogue.resistor_size("0.25 w").power == 0.25
    assert catalogue.fuse_rating("500mA") is catalogue.fuse_rating("500 mA")
    assert catalogue.fuse_rating("1000 mA") is catalogue.fuse_rating("1 A")


@pytest.mark.parametrize(
    ("find", "said", "kind", "near"),
    [
        (catalogue.wire, "ptfe-29", "wire", "ptfe-28"),
        (catalogue.wire, "enamel-0.11", "wire", "enamel-0.112"),
        (catalogue.wire, "pftfe-28", "wire", "ptfe-28"),
        (catalogue.lamp, "smd-0402-rad", "lamp", "smd-0402-red"),
        (catalogue.lamp, "smd-0603-warmwhite", "lamp", "smd-0603-warm-white"),
        (catalogue.strip, "strip-12v-wite-60", "strip", "strip-12v-white-60"),
        (catalogue.plastic, "styrne", "plastic", "styrene"),
        (catalogue.chemistry, "alkalin", "battery", "alkaline"),
        (catalogue.resistor_size, "0804", "resistor", "0805"),
    ],
)
def test_a_wrong_name_is_answered_with_near_ones(find, said, kind, near):
    with pytest.raises(catalogue.UnknownRow) as caught:
        find(said)
    assert isinstance(caught.value, LookupError)
    assert (caught.value.kind, caught.value.name) == (kind, said)
    assert near in caught.value.near
    assert said in str(caught.value)


@pytest.mark.parametrize(
    "said", ["", "-", "zzzzzz", "../wire/enamel", "enamel", "enamel-", "x" * 500, "smd-0402", "\x00"]
)
def test_nonsense_is_an_unknown_row_too(said):
    with pytest.raises(catalogue.UnknownRow):
        catalogue.wire(said)
    with pytest.raises(catalogue.UnknownRow):
        catalogue.lamp(said)


def test_a_kind_there_is_not():
    with pytest.raises(ValueError, match="no kind 'ship'"):
        catalogue.names("ship")


def test_a_lookup_reads_one_file_only_and_imports_little():
    script = (
        "import sys\n"
        "from postcheck.catalogue import load\n"
        "load.wire('ptfe-28'); load.wire('ptfe-30-e'); load.lamp('smd-0402-red')\n"
        "print(load._file.cache_info().currsize)\n"
        "print(sorted({'pydantic', 'rich', 'logging', 'importlib.metadata', 'difflib', 'numpy'} & set(sys.modules)))\n"
        "print(any(name.startswith(('postcheck.physics', 'postcheck.description')) for name in sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["2", "[]", "False"]


def test_a_fault_in_a_row_is_not_passed_over():
    with pytest.raises(ValueError, match="lacks 'outside'"):
        load.MAKERS["wire"](
            "x", Fields("x", {"strand": 0.1, "thinner": 0.003, "family": "f", "celsius": 130})
        )
    fields = Fields("x", {"kind": "glue", "celsius": 50, "softens": "s", "source": "s", "colsius": 3})
    load.MAKERS["plastic"]("x", fields)
    with pytest.raises(ValueError, match="colsius"):
        fields.done()
    for key, value, read in (
        ("a", True, Fields.number),
        ("a", "1", Fields.number),
        ("a", 1.5, Fields.count),
        ("a", 1, Fields.flag),
        ("a", "", Fields.text),
        ("a", 3, Fields.numbers),
        ("a", [1, "2"], Fields.numbers),
        ("a", [3], Fields.tables),
    ):
        with pytest.raises(TypeError):
            read(Fields("x", {key: value}), key)


def test_a_row_that_stands_twice_is_refused(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text(
        "[[group]]\n[group.rows]\nx = { a = 1 }\n[[group]]\n[group.rows]\nx = { a = 2 }\n", encoding="utf-8"
    )
    with pytest.raises(ValueError, match="twice"):
        load._merged(path)


def test_a_second_name_that_leads_nowhere_is_refused(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text('[[group]]\n[group.rows]\nx = { a = 1 }\n[alias]\ny = "z"\n', encoding="utf-8")
    with pytest.raises(ValueError, match="leads nowhere"):
        load._merged(path)
