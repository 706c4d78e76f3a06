"""What all tables of a file have in common."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import BaseModel, ConfigDict, Field

__all__ = ["Count", "Name", "Table"]

Name = Annotated[str, Field(min_length=1, max_length=120, description="A name, unique among its kind.")]
Count = Annotated[int, Field(ge=1, le=10_000)]


class Table(BaseModel):
    """A table of the file: strict, frozen, no key that is not in the list."""

    model_config: ClassVar[ConfigDict] = ConfigDict(
        strict=True,
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        use_enum_values=True,
        defer_build=True,  # a validator for Build alone, not one a table: half the time at start
    )
