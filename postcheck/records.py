"""Records: `dataclass`, at a ninth of what that of the standard library costs at every start.

That one writes six methods for each class as texts and compiles them, 0.3 ms a class. Here a method is written when it is
first called, and most never are in one run. To a type checker it is that of the standard library, and what it makes is a
dataclass to `fields`, `replace`, `asdict`, `match`, `copy`, `pickle` and `inspect.signature`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from dataclasses import MISSING, Field, FrozenInstanceError
from reprlib import recursive_repr
from types import MemberDescriptorType
from typing import TYPE_CHECKING, Any, NoReturn

if TYPE_CHECKING:
    from dataclasses import dataclass
    from inspect import Signature
else:

    def dataclass(described: type | None = None, /, **how: bool):
        """Make a class a record: `frozen`, with `slots`, `kw_only`."""
        if described is None:
            return lambda described: _record(described, **how)
        return _record(described, **how)


__all__ = ["dataclass"]

_Written = tuple[str, Mapping[str, object]]
"""The text of a function, and what its names stand for."""


def _record(described: type, *, frozen: bool = False, slots: bool = False, kw_only: bool = False) -> Any:
    made: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)(
        described
    )
    made.__signature__ = _Signature()
    made.__init__ = _written_when_called(made, "__init__", _init)
    made.__eq__ = _written_when_called(made, "__eq__", _eq)
    made.__hash__ = _written_when_called(made, "__hash__", _hash) if frozen else None
    made.__repr__ = _repr
    if frozen:
        made.__setattr__ = made.__delattr__ = _refused
    if frozen and slots:
        made.__getstate__, made.__setstate__ = _state, _put_back
    return made


def _written_when_called(made: Any, name: str, write: Callable[[Any], _Written]) -> Callable[..., Any]:
    def first(self: object, /, *given: object, **named: object) -> Any:
        text, known = write(made)
        found: dict[str, Any] = {}
        exec(text, {**known}, found)  # noqa: S102 - of names of fields alone
        setattr(made, name, found[name])
        return found[name](self, *given, **named)

    return first


def _init(made: Any) -> _Written:
    known: dict[str, object] = {"_MISSING": MISSING}
    parameters, lines = ["_self"], []
    for field in _in_order(made):
        name = value = field.name
        if field.kw_only and "*" not in parameters:
            parameters.append("*")
        if field.default is not MISSING:
            parameters.append(f"{name}=_default_{name}")
            known[f"_default_{name}"] = field.default
        elif field.default_factory is not MISSING:
            parameters.append(f"{name}=_MISSING")
            value = f"_make_{name}() if {name} is _MISSING else {name}"
            known[f"_make_{name}"] = field.default_factory
        else:
            parameters.append(name)
        lines.append(f" _put_{name}(_self, {value})")
        known[f"_put_{name}"] = _putting(made, name)
    if hasattr(made, "__post_init__"):
        lines.append(" _self.__post_init__()")
    return "\n".join([f"def __init__({', '.join(parameters)}):", *lines]), known


def _in_order(made: Any) -> list[Field[Any]]:
    """Its fields as they are given: those that are given by name alone come last."""
    return sorted(dataclasses.fields(made), key=lambda field: bool(field.kw_only))


def _putting(made: Any, name: str) -> Callable[[object, object], None]:
    """What gives a field its value, of a record that refuses it too."""
    slot = getattr(made, name, None)
    if isinstance(slot, MemberDescriptorType):
        return slot.__set__
    return lambda record, value: object.__setattr__(record, name, value)


def _eq(made: Any) -> _Written:
    text = f"def __eq__(a, b):\n return {_values('a', made)} == {_values('b', made)} if type(b) is type(a) else NotImplemented"
    return text, {}


def _hash(made: Any) -> _Written:
    return f"def __hash__(a):\n return hash({_values('a', made)})", {}


def _values(record: str, made: Any) -> str:
    """The values by which records are compared, as a tuple."""
    return f"({''.join(f'{record}.{field.name}, ' for field in dataclasses.fields(made) if field.compare)})"


@recursive_repr()
def _repr(self: Any) -> str:
    shown = (
        f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self) if field.repr
    )
    return f"{type(self).__qualname__}({', '.join(shown)})"


def _refused(_: object, name: str, *value: object) -> NoReturn:
    raise FrozenInstanceError(f"cannot {'assign to' if value else 'delete'} field {name!r}")


def _state(self: Any) -> list[object]:
    return [getattr(self, field.name) for field in dataclasses.fields(self)]


def _put_back(self: Any, values: Iterable[object]) -> None:
    for field, value in zip(dataclasses.fields(self), values, strict=True):
        object.__setattr__(self, field.name, value)


class _Signature:
    """How a record is called, for those who ask."""

    def __get__(self, _: object, made: Any) -> Signature:
        from inspect import Parameter, Signature  # noqa: PLC0415 - few do

        def parameter(field: Field[Any]) -> Parameter:
            default = field.default if field.default_factory is MISSING else field.default_factory()
            return Parameter(
                field.name,
                Parameter.KEYWORD_ONLY if field.kw_only else Parameter.POSITIONAL_OR_KEYWORD,
                default=Parameter.empty if default is MISSING else default,
                annotation=field.type,
            )

        return Signature([parameter(field) for field in _in_order(made)], return_annotation=None)
