"""One part to cut: a shape, and every copy of it in the lamp."""

import re
from dataclasses import dataclass

from stackview.description.lamp import Layer
from stackview.description.material import Material
from stackview.one_line import one_line


@dataclass(frozen=True, slots=True)
class EqualCopy:
    """One layer of the lamp that is cut to the same shape as the part.

    The part's own layer, turned over first where ``turned_over`` says so (x becomes −x and the top
    becomes the underside), then turned by ``turn`` [°] counter-clockwise, lies on it. Both are in the
    layers' own frames, before any layer is turned in the stack.
    """

    name: str
    pieces: int
    """How many the layer has of it, evenly around the axis."""
    turned_over: bool
    turn: float


@dataclass(frozen=True, slots=True)
class CutPart:
    """One different part: what it is cut to, and the layers that are cut so."""

    layer: Layer
    """What it is cut to: the lowest of the equal layers, in its own frame."""
    copies: tuple[EqualCopy, ...]
    """All of them from the bottom up, ``layer`` itself first."""

    __repr__ = one_line

    @property
    def name(self) -> str:
        """Name of the lowest of the equal layers."""
        return self.layer.name

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all equal layers, from the bottom up."""
        return tuple(copy.name for copy in self.copies)

    @property
    def title(self) -> str:
        """All names in short, as ``names_in_short`` puts them."""
        return names_in_short(self.names)

    @property
    def count(self) -> int:
        """How many pieces of it one lamp has."""
        return sum(copy.pieces for copy in self.copies)

    @property
    def turned_over(self) -> tuple[str, ...]:
        """Names of the layers that are this part turned over."""
        return tuple(copy.name for copy in self.copies if copy.turned_over)

    @property
    def material(self) -> Material:
        """What it is cut from."""
        return self.layer.material


def names_in_short(names: tuple[str, ...]) -> str:
    """Names that count on from one word are told with it once.

    >>> names_in_short(("base", "ring 1", "ring 2", "ring 3", "ring 5", "cap"))
    'base, ring 1 to 3, 5, cap'
    """
    runs: list[tuple[str, list[int]]] = []
    for name in names:
        counted = re.fullmatch(r"(.*\S) ([1-9][0-9]{0,5})", name)
        if counted is None:
            runs.append((name, []))
        elif runs and runs[-1][0] == counted[1] and runs[-1][1]:
            runs[-1][1].append(int(counted[2]))
        else:
            runs.append((counted[1], [int(counted[2])]))
    return ", ".join(f"{word} {_numbers_in_short(numbers)}" if numbers else word for word, numbers in runs)


def _numbers_in_short(numbers: list[int]) -> str:
    """Three or more that count on are told by the first and the last."""
    said: list[str] = []
    begin = 0
    for end in range(1, len(numbers) + 1):
        if end < len(numbers) and numbers[end] == numbers[end - 1] + 1:
            continue
        run = numbers[begin:end]
        said += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(number) for number in run]
        begin = end
    return ", ".join(said)
