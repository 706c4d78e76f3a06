"""Names of any signs in what is typed for a remedy or a plan: read back, they are the same."""

from __future__ import annotations

from typing import Any

import tomli
from hypothesis import given
from hypothesis import strategies as st

from postcheck.description import oneline
from postcheck.description.models import Lead, ResistorSpec, Run
from postcheck.description.models.leads import JointSize, Leg
from postcheck.planner.written import _table
from postcheck.remedies.lead_spec import lead_toml
from postcheck.remedies.resistor_spec import resistor_toml

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
