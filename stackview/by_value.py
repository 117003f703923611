"""Answers kept by value: the same question, asked twice in one process, gets the very same object.

Kept answers make variants of one lamp cheap: what a change does not reach is not worked out
again. They are bounded by the bytes that they hold, the ones longest not asked for go first,
and two threads may ask at once. A question that ends in an error is not kept.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import update_wrapper
from itertools import count
from threading import Lock
from typing import Any, Generic, ParamSpec, TypeVar
from weakref import WeakKeyDictionary

Question = ParamSpec("Question")
Answer = TypeVar("Answer")

ENTRY = 4000
"""What an entry takes beside its answer's arrays: two layers for a key, and its place in the table [bytes].

Layers of the demos take up to 2700; a drawn curve's points are shared by all layers of that curve.
"""


class ByValue(Generic[Question, Answer]):
    """A function whose answers are kept, up to ``most`` bytes of them."""

    def __init__(
        self,
        work: Callable[Question, Answer],
        most: int,
        size: Callable[[Answer], int],
        key: Callable[Question, Hashable],
    ) -> None:
        self.work, self.most, self.size, self.key = work, most, size, key
        self.bytes = 0
        """Held now: never over ``most``."""
        self._held: OrderedDict[Hashable, tuple[Answer, int]] = OrderedDict()
        self._lock = Lock()
        update_wrapper(self, work)

    def __call__(self, *question: Question.args, **more: Question.kwargs) -> Answer:
        """The answer: the one kept, or one worked out now and then kept."""
        key = _Hashed(self.key(*question, **more))
        with self._lock:
            held = self._held.get(key)
            if held is not None:
                self._held.move_to_end(key)
                return held[0]
        answer = self.work(*question, **more)
        size = self.size(answer) + ENTRY
        if size > self.most:
            return answer
        with self._lock:
            # Another thread may have been quicker: all are given the same object.
            first, _ = self._held.setdefault(key, (answer, size))
            if first is answer:
                self.bytes += size
                while self.bytes > self.most:
                    _, (_, freed) = self._held.popitem(last=False)
                    self.bytes -= freed
        return first

    def __len__(self) -> int:
        return len(self._held)


def by_value(
    most: int,
    *,
    size: Callable[[Any], int] = lambda _: 0,
    key: Callable[..., Hashable] = lambda *question: question,
) -> Callable[[Callable[Question, Answer]], ByValue[Question, Answer]]:
    """Keep a function's answers by the value of its arguments.

    Parameters
    ----------
    most : bytes that all kept answers and their keys may take; an answer larger than that is given, not kept
    size : bytes of an answer's arrays
    key : what of the arguments the answer depends on; :func:`mark` stands for one that is only itself

    >>> @by_value(10_000)
    ... def words(number: int) -> list[str]:
    ...     return ["so"] * number
    >>> words(3) is words(3)
    True
    """
    return lambda work: ByValue(work, most, size, key)


_MARKS: WeakKeyDictionary[Any, int] = WeakKeyDictionary()
_NUMBERS = count()
_MARKING = Lock()


def mark(value: object) -> int:
    """A number that stands for this very object, and never for another: a key that keeps nothing alive."""
    with _MARKING:
        found = _MARKS.get(value)
        if found is None:
            found = _MARKS[value] = next(_NUMBERS)
    return found


class _Hashed:
    """A key that works its hash out once: the values of a lamp are deep."""

    __slots__ = ("hash", "key")

    def __init__(self, key: Hashable) -> None:
        self.key, self.hash = key, hash(key)

    def __hash__(self) -> int:
        return self.hash

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Hashed) and self.key == other.key
