"""What is only cut to length: posts and pins, the core, and feet; those of one stock and length are one."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.one_line import one_line
from stackview.shop.cut_part import names_in_short
from stackview.shop.stock import RodStock, core_stock, of_one_stock, post_stock
from stackview.stack.placed import Placed

if TYPE_CHECKING:
    from stackview.study import Study


@dataclass(frozen=True, slots=True)
class Rod:
    """One length of rod, tube or bar, and how many of it one lamp has."""

    names: tuple[str, ...]
    count: int
    stock: RodStock
    long: float
    """What it is cut to [mm]."""
    part: Placed
    """One of those that it stands for, where it stands."""

    __repr__ = one_line

    @property
    def title(self) -> str:
        """All names in short."""
        return names_in_short(self.names)


def posts_and_core(study: "Study") -> tuple[Rod, ...]:
    """Posts in the order of the file, then the core. Raises LampError where the lamp cannot be built."""
    lamp = study.stack.lamp
    found: dict[tuple[RodStock, float], list[tuple[str, int, Placed]]] = {}
    for post in lamp.posts:
        part = study.stack.part(post.name)
        count = 1 if post.around is None else post.around.count
        key = post_stock(post), round(part.top - part.underside, 5)
        found.setdefault(key, []).append((post.name, count, part))
    rods = [
        Rod(tuple(name for name, _, _ in some), sum(count for _, count, _ in some), stock, _long(some[0][2]), some[0][2])
        for (stock, _), some in found.items()
    ]  # fmt: skip
    if lamp.core is not None:
        part = study.stack.part("core")
        rods.append(Rod(("core",), 1, core_stock(lamp.core), _long(part), part))
    return tuple(rods)


def feet_of(study: "Study") -> Rod | None:
    """The feet, as lengths of round rod; None where the lamp has none."""
    feet = study.stack.lamp.feet
    if feet is None:
        return None
    stock = RodStock(of_one_stock(feet.material), Outline(Circle(feet.diameter)))
    return Rod(("feet",), feet.around.count, stock, feet.height, study.stack.part("feet"))


def _long(part: Placed) -> float:
    return part.top - part.underside
