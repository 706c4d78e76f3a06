"""What all tables of a file have in common."""

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from postcheck.description.frozen import FrozenDict, frozen

MOST_IN_A_NAME = 120
"""Characters."""

Name = Annotated[
    str, Field(min_length=1, max_length=MOST_IN_A_NAME, description="A name, unique among its kind.")
]
Count = Annotated[int, Field(ge=1, le=10_000)]


class Table(BaseModel):
    """A table of the file: strict, frozen through and through, no key that is not in the list.

    Two tables are equal when they say the same thing, wherever they were read.
    """

    model_config: ClassVar[ConfigDict] = ConfigDict(
        strict=True,
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        defer_build=True,  # each table has a validator of its own, which is made when a file has such a table
    )

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """As a key of another table it is read by its own validator: a file has few of the tables that there are."""
        if handler.field_name is None:
            return handler(source)
        return core_schema.no_info_plain_validator_function(cls.model_validate)

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """As a key of another table it is a table, and which: `postcheck schema` puts it there."""
        return (
            {"type": "object", "table": cls.__name__} if core["type"] == "function-plain" else handler(core)
        )

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        # true is equal to 1.0 in Python; a continuity of true and one of "1 ohm" are not the same
        return all(
            mine == its and isinstance(mine, bool) is isinstance(its, bool)
            for mine, its in zip(self._values(), other._values(), strict=True)
        )

    def __hash__(self) -> int:
        return hash(self._values())

    def _values(self) -> tuple[object, ...]:
        return tuple(self.__dict__[name] for name in type(self).model_fields)

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with some values changed. They are not validated; lists and dicts among them are frozen."""
        given = {name: frozen(value) for name, value in (update or {}).items()}
        return super().model_copy(update=given, deep=deep)


def optional(description: str, *examples: Any, **more: Any) -> Any:
    """A key that a file may leave out, None then; `more` goes to pydantic's `Field`."""
    return Field(default=None, description=description, examples=list(examples) or None, **more)


def several(description: str, example: Any, most: int) -> Any:
    """A list of at most so many, empty where the file leaves it out."""
    return Field(default=(), max_length=most, description=description, examples=[example])


def tables(description: str, example: Any) -> Any:
    """A table of tables by name, empty where the file leaves it out."""
    return Field(default_factory=FrozenDict, description=description, examples=[example])


def kept() -> Any:
    """The key that says that a plan leaves its table as it is."""
    return Field(default=False, description="Built already: a plan never changes it.")
