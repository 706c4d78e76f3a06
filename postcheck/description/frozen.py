"""The lists and tables of a build: nobody can change them, so that a build can be a key and be shared without copies."""

from __future__ import annotations

from collections.abc import ItemsView, Iterator, KeysView, Mapping, ValuesView
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Any, NoReturn, TypeVar, get_args

from pydantic import Strict
from pydantic_core import CoreSchema, core_schema

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler

_T = TypeVar("_T")
_K = TypeVar("_K")
_V_co = TypeVar("_V_co", covariant=True)

Several = Annotated[tuple[_T, ...], Strict(strict=False)]
"""Any number of something, in order: a list in a file. That makes a tuple only where it is not strict; what is in it stays so."""


class FrozenDict(Mapping[_K, _V_co]):
    """A mapping that cannot be changed, in the order it was given: a table in a file.

    It equals any mapping with the same items, and can be hashed where its values can.
    """

    __slots__ = ("_items",)
    _items: Mapping[_K, _V_co]

    def __new__(cls, items: Mapping[_K, _V_co] | None = None) -> FrozenDict[_K, _V_co]:  # noqa: D102 - an __init__ could be called again
        made = super().__new__(cls)
        object.__setattr__(made, "_items", MappingProxyType(dict(items or {})))
        return made

    def __getitem__(self, key: _K) -> _V_co:
        return self._items[key]

    def __iter__(self) -> Iterator[_K]:
        return iter(self._items)

    def __len__(self) -> int:
        return len(self._items)

    # those of Mapping are several times slower
    def __contains__(self, key: object) -> bool:
        return key in self._items

    def keys(self) -> KeysView[_K]:
        """The keys, in order."""
        return self._items.keys()

    def values(self) -> ValuesView[_V_co]:
        """The values, in order."""
        return self._items.values()

    def items(self) -> ItemsView[_K, _V_co]:
        """The keys with their values, in order."""
        return self._items.items()

    def __hash__(self) -> int:
        return hash(frozenset(self._items.items()))

    def __repr__(self) -> str:
        return f"FrozenDict({dict(self._items)!r})"

    def __reduce__(self) -> tuple[type[FrozenDict[_K, _V_co]], tuple[dict[_K, _V_co]]]:
        return type(self), (dict(self._items),)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a FrozenDict cannot be changed: {name!r}")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a FrozenDict cannot be changed: {name!r}")

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """A dict or another mapping, frozen once its items are valid."""
        keys, values = map(handler.generate_schema, get_args(source))
        return core_schema.no_info_after_validator_function(
            cls,
            core_schema.dict_schema(keys, values, strict=False),
            serialization=core_schema.plain_serializer_function_ser_schema(dict),
        )


def frozen(value: object) -> object:
    """A list as a tuple, a dict as a FrozenDict, and what is in them alike; anything else as it is."""
    if isinstance(value, list):
        return tuple(map(frozen, value))
    if isinstance(value, dict):
        return FrozenDict({key: frozen(item) for key, item in value.items()})
    return value
