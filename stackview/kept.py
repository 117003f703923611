"""Values that are worked out when first asked and kept."""

from collections.abc import Callable
from threading import RLock
from typing import Any, Generic, Self, TypeVar, overload

_Value = TypeVar("_Value")


class kept(Generic[_Value]):  # noqa: N801 - used as a decorator, as ``property`` is
    """A property that is worked out when first asked, and kept.

    Two threads that ask at once work it out once. Where the work ends in an error nothing is kept,
    and whoever asks again gets the same error from the same work. The class needs a ``__dict__``,
    and may be frozen. A value may ask for others of the same object, but never, through them, for itself.

    >>> class Square:
    ...     side = 3.0
    ...     @kept
    ...     def area(self) -> float:
    ...         print("working")
    ...         return self.side**2
    >>> square = Square()
    >>> square.area, square.area
    working
    (9.0, 9.0)
    """

    def __init__(self, work: Callable[[Any], _Value]) -> None:
        self.work = work
        self.__doc__ = work.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, instance: None, owner: type) -> Self: ...
    @overload
    def __get__(self, instance: object, owner: type) -> _Value: ...
    def __get__(self, instance: object | None, owner: type) -> Self | _Value:
        """Work the value out. Once kept it stands in the object's ``__dict__``, and Python no longer asks here."""
        if instance is None:
            return self
        held = instance.__dict__
        key = f"{self.name}, being worked out"
        with held.setdefault(key, RLock()):
            if self.name not in held:
                held[self.name] = self.work(instance)
            held.pop(key, None)
        value: _Value = held[self.name]
        return value


def is_kept(instance: object, name: str) -> bool:
    """Whether a kept value has been worked out already."""
    return name in instance.__dict__


def keep(instance: object, **values: object) -> None:
    """Keep values that are known already, so that they are not worked out."""
    instance.__dict__.update(values)
