"""A table of the build as it is written in the file, and a new one of a list as a change."""

from __future__ import annotations

from typing import Any

from pydantic import WithJsonSchema

from postcheck.description.keys import marks_of
from postcheck.description.models import Lead, Run, Strip
from postcheck.description.models.base import Table
from postcheck.description.models.leads import JointSize
from postcheck.description.printing import format_quantity
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.remedies.proposal import MORE, Change

__all__ = ["more", "table_of"]


def table_of(said: Table) -> dict[str, Any]:
    """A table as values of the file, without those that are the default."""
    table: dict[str, Any] = {}
    for name, field in type(said).model_fields.items():
        value = getattr(said, name)
        if value is None or value == field.get_default(call_default_factory=True):
            continue
        texts = [
            mark.json_schema.get("text", "")
            for mark in (*field.metadata, *marks_of(field.annotation))
            if isinstance(mark, WithJsonSchema) and mark.json_schema is not None
        ]
        table[field.alias or name] = _written(value, texts[0] if texts else "")
    return table


def _written(value: Any, text: str) -> Any:
    if isinstance(value, JointSize):
        return _joint(value)
    if isinstance(value, Lead):
        from postcheck.remedies.lead_spec import lead_written  # noqa: PLC0415 - a lead may hold what stands here

        return lead_written(value)
    if isinstance(value, Table):
        return table_of(value)
    if isinstance(value, tuple):
        return [_written(item, text) for item in value]
    if text and isinstance(value, float):
        return format_quantity(value, Dimension(text.removeprefix("signed ")), 6)
    return value


def _joint(joint: JointSize) -> str:
    across = format_quantity(joint.across, Dimension.LENGTH, 6)
    if joint.thin is None:
        return across
    thin = format_quantity(joint.thin, Dimension.LENGTH, 6)
    number, _, unit = across.rpartition(" ")
    return f"{number if thin.endswith(f' {unit}') else across} x {thin}"


def more(said: Run | Strip) -> Change:
    """One more run, or strip, of the build."""
    section = "run" if isinstance(said, Run) else "strip"
    return Change((section, MORE), said, in_toml(table_of(said)))
