"""What a part is cut from, as it is bought: sheets and boards, rods, tubes and bars."""

from dataclasses import dataclass, field, replace

from stackview.curves.arcs import area as enclosed
from stackview.curves.offset import offset
from stackview.description.lamp import Core, Lamp, Layer, Post
from stackview.description.material import Finish, Length, Material
from stackview.description.outline import Outline, path_of
from stackview.description.price import Price
from stackview.description.units import Units
from stackview.one_line import one_line
from stackview.shop.part_size import exact_size

_LIKE_A_ROD = 40.0
"""A round layer no larger across than this, of a material without a thickness, is cut from a rod [mm]; our choice."""


@dataclass(frozen=True, slots=True)
class SheetStock:
    """A sheet or board: its material, whatever it is finished as afterwards, and its true thickness [mm]."""

    material: Material
    thickness: float
    sold: Length | None = field(default=None, compare=False)
    measured: Length | None = field(default=None, compare=False)
    """Both as the maker wrote them."""

    __repr__ = one_line

    def words(self, units: Units) -> str:
        """What to ask for, e.g. "clear acrylic, cast sheet, sold 5 mm, measured 4.6 mm"."""
        sold, measured = self.sold, self.measured
        thick = [f"sold {units.show(sold)}"] if sold is not None else []
        thick += [f"measured {units.show(measured)}"] if measured is not None else []
        known = self.material.thickness
        if known is None or abs(known - self.thickness) > 1e-9:
            thick.append(f"{units.show(self.thickness)} thick as cut")
        return ", ".join((material_words(self.material), *thick))

    def cost(self, price: Price, area: float) -> float | None:
        """What so much of it costs [mm²], by area or by mass; None where the price is for a length."""
        return price.of(area=area, grams=area * self.thickness * self.material.density * 1e-6)


@dataclass(frozen=True, slots=True)
class RodStock:
    """A rod, tube or bar bought by length: its cross-section, turned and placed nowhere, and a tube's wall [mm]."""

    material: Material
    outline: Outline
    wall: float | None = None

    __repr__ = one_line

    def words(self, units: Units) -> str:
        """What to ask for, e.g. "aluminium tube, circle of diameter 32 mm, wall 2 mm"."""
        kind = "bar" if self.outline.radius is None else "rod"
        wall = ""
        if self.wall is not None:
            kind, wall = "tube", f", wall {units.show(self.wall)}"
        return f"{material_words(self.material)} {kind}, {exact_size(self.outline, units)}{wall}"

    def cost(self, price: Price, length: float) -> float | None:
        """What so much of it costs [mm], by length or by mass; None where the price is for an area."""
        return price.of(length=length, grams=self.section * length * self.material.density * 1e-6)

    @property
    def section(self) -> float:
        """Area of its cross-section, on its exact curves [mm²]."""
        outer = path_of(self.outline)
        inner = 0.0 if self.wall is None else enclosed(offset(outer, -self.wall, field="wall"))
        return enclosed(outer) - inner


Stock = SheetStock | RodStock


def stock_of(layer: Layer) -> Stock:
    """What a layer is cut from: a sheet, or a rod where it is a small round of a material without a thickness."""
    bought = of_one_stock(layer.material)
    radius = layer.outline.radius
    if layer.material.thickness is None and radius is not None and 2.0 * radius <= _LIKE_A_ROD:
        return RodStock(bought, section_of(layer.outline))
    return SheetStock(bought, layer.thickness, layer.material.sold, layer.material.measured)


def post_stock(post: Post) -> RodStock:
    """What a post or pin is cut from."""
    return RodStock(of_one_stock(post.material), section_of(post.outline))


def core_stock(core: Core) -> RodStock:
    """What the core is cut from."""
    return RodStock(of_one_stock(core.material), section_of(core.outline), core.wall)


def stock_prices(lamp: Lamp) -> dict[Stock, Price]:
    """The price of each stock of which one of the lamp's materials gives it: the first that does."""
    found: dict[Stock, Price] = {}
    every: list[tuple[Stock, Material]] = [(stock_of(layer), layer.material) for layer in lamp.layers]
    every += [(post_stock(post), post.material) for post in lamp.posts]
    every += [(core_stock(lamp.core), lamp.core.material)] if lamp.core is not None else []
    for stock, material in every:
        if material.price is not None:
            found.setdefault(stock, material.price)
    return found


def section_of(outline: Outline) -> Outline:
    """A cross-section by itself, neither turned nor moved."""
    return replace(outline, turn=0.0, at=(0.0, 0.0), cutter_radius=0.0)


def of_one_stock(material: Material) -> Material:
    """What is bought, whatever it is called, costs, and is finished as afterwards: equal for one stock."""

    def plain(length: Length | None) -> Length | None:
        return None if length is None else Length(length.mm, "")

    # paint comes afterwards, a mirror is bought
    coat = None if material.optics.coat == "paint" else material.optics.coat
    return replace(
        material,
        name="",
        sold=plain(material.sold),
        measured=plain(material.measured),
        finish=Finish(),
        optics=replace(material.optics, roughness=0.0, coat=coat, given=()),
        price=None,
    )


def material_words(material: Material) -> str:
    """A material by what it is, not by its name in the file: "walnut", "birch plywood", "opal acrylic, cast sheet"."""
    if not (material.is_acrylic or material.is_plywood or material.is_board):
        return material.sort
    if material.is_acrylic:
        made = "extruded" if material.extruded else "cast"
        return (
            f"{material.sort} acrylic, {made} sheet"
            if material.thickness is not None
            else f"{material.sort} acrylic"
        )
    return f"{material.sort} {material.kind}"
