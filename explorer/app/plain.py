"""Frozen values as plain JSON data, and back by their own types."""

from dataclasses import fields, is_dataclass
from enum import Enum
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")


def to_plain(value: Any) -> Any:
    """A value of dataclasses, tuples, sets, words and numbers as lists and objects.

    Raises:
        TypeError: it holds something else.
    """
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, tuple):
        return [to_plain(part) for part in value]
    if isinstance(value, frozenset):
        return sorted(to_plain(part) for part in value)
    if is_dataclass(value):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"only frozen values can be kept; got {type(value).__name__}")


def from_plain(kind: type[T], data: object) -> T:
    """The value that ``to_plain`` took apart.

    Args:
        kind: its type.
        data: lists and objects, from wherever.

    Raises:
        ValueError: the data is no such value, or one that cannot be.
    """
    found: T = _read(kind, data)
    return found


def _read(kind: Any, data: object) -> Any:
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        (some,) = (one for one in get_args(kind) if one is not NoneType)
        return None if data is None else _read(some, data)
    if origin in (tuple, frozenset):
        return _read_many(kind, data)
    if is_dataclass(kind):
        return _read_fields(kind, data)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(data)
    if kind is float and type(data) is int:
        return float(data)
    if type(data) is not kind:
        raise ValueError(f"wanted {kind}; got {type(data).__name__}")
    return data


def _read_many(kind: Any, data: object) -> Any:
    kinds = get_args(kind)
    if not isinstance(data, list):
        raise ValueError(f"wanted a list; got {type(data).__name__}")  # noqa: TRY004 - the data's fault
    if get_origin(kind) is frozenset:
        return frozenset(_read(kinds[0], part) for part in data)
    if kinds[-1] is Ellipsis:
        return tuple(_read(kinds[0], part) for part in data)
    if len(kinds) != len(data):
        raise ValueError(f"wanted {len(kinds)} parts; got {len(data)}")
    return tuple(_read(one, part) for one, part in zip(kinds, data, strict=True))


def _read_fields(kind: Any, data: object) -> Any:
    if not isinstance(data, dict):
        raise ValueError(f"wanted an object; got {type(data).__name__}")  # noqa: TRY004 - as above
    kinds = get_type_hints(kind)
    named = {field.name: kinds[field.name] for field in fields(kind)}
    if named.keys() != data.keys():
        raise ValueError(f"wanted {sorted(named)}; got {sorted(data)[:20]}")
    try:
        return kind(**{name: _read(one, data[name]) for name, one in named.items()})
    except (TypeError, IndexError, RecursionError) as error:
        raise ValueError(str(error)) from error
