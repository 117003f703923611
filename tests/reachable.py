"""Every value of ours that can be reached from one, through public fields, kept parts, tuples and tables."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from stackview.kept import kept


def reachable(start: object) -> Iterator[object]:
    """Each once; plain values, arrays and tuples themselves are gone through and not given."""
    left, seen = [start], set[int]()
    held = []
    while left:
        one = left.pop()
        if id(one) in seen:
            continue
        seen.add(id(one))
        held.append(one)  # An identity is only good while its object lives.
        if isinstance(one, Mapping):
            left.extend(one.values())
        elif isinstance(one, tuple | list):
            left.extend(one)
        elif type(one).__module__.startswith("stackview."):
            yield one
            left.extend(getattr(one, name) for name in public(one))


def public(one: Any) -> set[str]:
    """Names of a value's public fields and of the parts that it works out when asked."""
    names = {field.name for field in fields(one)} if is_dataclass(one) else set(getattr(one, "__dict__", {}))
    for kind in type(one).__mro__:
        names |= {name for name, value in vars(kind).items() if isinstance(value, kept)}
    return {name for name in names if not name.startswith("_") and name.isidentifier()}
