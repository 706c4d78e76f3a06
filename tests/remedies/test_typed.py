"""Names of any signs in what is typed for a remedy or a plan: read back, they are the same."""

from __future__ import annotations

from typing import Any

import pytest
import tomli
from hypothesis import given
from hypothesis import strategies as st

from postcheck.description import oneline
from postcheck.description.models import Lead, ResistorSpec, Run, Strip
from postcheck.description.models.circuits import Output
from postcheck.description.models.leads import JointSize, Leg
from postcheck.description.models.switches import SwitchSpec
from postcheck.planner.written import _table
from postcheck.remedies.lead_spec import lead_toml
from postcheck.remedies.output_spec import output_toml
from postcheck.remedies.resistor_spec import resistor_toml
from postcheck.remedies.switch import _change
from postcheck.remedies.table_spec import more
from postcheck.wiring.switches import Switch

NAMES = [
    'the "keel"',
    "a\\b",
    "tab\there",
    "two\nlines",
    "keel, aft",
    "bow to stern",
    "of tin",
    "x  y",
    "keel",
]
_NAME = st.one_of(
    st.sampled_from(NAMES),
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20).filter(
        lambda one: one.strip()
    ),
)


def _read(key: str, value: str) -> Any:
    data = tomli.loads(f"{key} = {value}")[key]
    if isinstance(data, str):
        data = getattr(oneline, key)(data)
    model = {"lead": Lead, "resistor": ResistorSpec}[key]
    return model.model_validate(data)


@given(
    st.builds(
        Lead.model_construct,
        length=st.sampled_from([0.14, None]),
        wire=st.none() | _NAME,
        to=st.none() | _NAME,
        colours=st.none() | st.lists(_NAME, min_size=1, max_size=2).map(tuple),
        feed=st.none() | st.builds(lambda to: Leg.model_construct(length=0.2, to=to), _NAME),
        joint=st.sampled_from(
            [
                None,
                JointSize.model_construct(across=0.0022),
                JointSize.model_construct(across=0.004, thin=0.0008),
            ]
        ),
        label=st.none() | _NAME,
        fixed=st.booleans(),
    )
)
def test_a_lead_reads_back_as_it_was(lead: Lead) -> None:
    assert _read("lead", lead_toml(lead)) == lead


@given(
    st.builds(
        ResistorSpec.model_construct,
        ohms=st.sampled_from([150.0, 1500.0]),
        power=st.sampled_from([None, 0.25]),
        tolerance=st.sampled_from([None, 0.05]),
        place=st.none() | _NAME,
        side=st.sampled_from(["feed", "back"]),
    )
)
def test_a_resistor_reads_back_as_it_was(spec: ResistorSpec) -> None:
    assert _read("resistor", resistor_toml(spec)) == spec


@given(
    st.builds(
        SwitchSpec.model_construct,
        rated=st.sampled_from([None, 0.3, 2.0]),
        volts=st.sampled_from([None, 12.0]),
        contact=st.sampled_from([None, 0.02]),
        place=st.none() | _NAME,
    )
)
def test_a_switch_reads_back_as_it_was(spec: SwitchSpec) -> None:
    change = _change(Switch("supply", "main", "main", "base", True, spec), spec)
    assert change.path == ("supply", "main", "on_off")
    data = tomli.loads(f"x = {change.written}")["x"]
    assert SwitchSpec.model_validate(oneline.switch(data) if isinstance(data, str) else data) == spec


def test_what_is_seldom_on_a_lead_is_typed_too() -> None:
    joint = JointSize.model_construct(across=0.004, thin=0.0008)
    lead = Lead.model_construct(length=0.14, to="keel", joint=joint, fixed=True)
    assert lead_toml(lead) == '{ length = "140 mm", to = "keel", joint = "4 x 0.8 mm", fixed = true }'
    assert lead_toml(Lead.model_construct(length=0.14, to="keel")) == '"140 mm to keel"'


@given(_NAME, _NAME)
def test_a_run_reads_back_as_it_was(line: str, place: str) -> None:
    run = Run.model_construct(line=line, ends=("base", place), through=(place,), wire=line, label=place)
    (read,) = tomli.loads(_table(run))["run"]
    assert read == {"line": line, "ends": ["base", place], "through": [place], "wire": line, "label": place}


@given(
    st.builds(
        Run.model_construct,
        name=st.none() | _NAME,
        line=_NAME,
        ends=st.tuples(_NAME, _NAME),
        length=st.none() | st.integers(1, 9000).map(lambda tenths: tenths / 1e4),
        ohms=st.sampled_from([None, 0.2, 1.5]),
        through=st.none() | st.tuples(_NAME),
        joint=st.sampled_from([None, JointSize.model_construct(across=0.004, thin=0.0008)]),
        conductors=st.integers(1, 4),
        fixed=st.booleans(),
        carries=st.sampled_from(["power", "data"]),
    )
)
def test_one_more_run_reads_back_as_it_was(run: Run) -> None:
    change = more(run)
    assert change.written is not None
    assert change.path == ("run", "+")
    read = Run.model_validate(tomli.loads(f"x = {change.written}")["x"])
    for name in Run.model_fields:
        value = getattr(run, name)
        assert getattr(read, name) == (
            pytest.approx(value, rel=1e-5) if name in ("length", "ohms") and value else value
        )


def test_one_more_piece_of_a_strip_has_its_lead_in_one_line() -> None:
    lead = Lead.model_construct(length=0.14, to="keel", colours=("red", "black"))
    strip = Strip.model_construct(
        name="a 2", circuit="deck", kind="own", place="hull", length=0.3, trace=0.2, through=0.1, lead=lead
    )
    assert tomli.loads(f"x = {more(strip).written}")["x"] == {
        "name": "a 2", "circuit": "deck", "kind": "own", "place": "hull", "length": "300 mm",
        "trace": "200 mohm/m", "through": "100 mA", "lead": "140 mm to keel, red/black",
    }  # fmt: skip


@pytest.mark.parametrize(
    "output",
    [
        Output.model_construct(limit=0.2, drop=0.2),
        Output.model_construct(steady=0.02, compliance=1.5),
        Output.model_construct(steady=0.02, limit=0.1, drop=0.3),
        Output.model_construct(drop=0.3),
    ],
)
def test_an_output_reads_back_as_it_was(output: Output) -> None:
    data = tomli.loads(f"x = {output_toml(output)}")["x"]
    assert Output.model_validate(oneline.output(data) if isinstance(data, str) else data) == output
