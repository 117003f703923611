"""The parts list: every different part once with its count, and everything that is bought."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from stackview.curves.arcs import bounds
from stackview.description.lamp import Lamp, Layer
from stackview.description.material import Material
from stackview.description.outline import path_of
from stackview.description.price import Price
from stackview.errors import StackviewError
from stackview.shop.bought_things import bought_things
from stackview.shop.copies import cut_parts
from stackview.shop.cut_part import CutPart
from stackview.shop.listed import ListedPart, PartsList
from stackview.shop.part_size import exact_size, part_size, shape_words
from stackview.shop.rods import Rod, posts_and_core
from stackview.shop.stock import SheetStock, Stock, stock_of, stock_prices
from stackview.shop.work import work_on

if TYPE_CHECKING:
    from stackview.study import Study

MOST_LAMPS = 10_000


def parts_list(study: "Study", lamps: int = 1) -> PartsList:
    """All that is made and bought for ``lamps`` equal lamps.

    Equal copies are one line, turned, shifted and turned-over ones too (:func:`~stackview.shop.copies.cut_parts`).
    Sizes are of the finished part on its exact curve, masses of its solid. Raises LampError where the
    lamp cannot be built, StackviewError for a number of lamps that is none.
    """
    if isinstance(lamps, bool) or not isinstance(lamps, int) or not 1 <= lamps <= MOST_LAMPS:
        raise StackviewError(f"{lamps} lamps: give a whole number from 1 to {MOST_LAMPS}")
    lamp = study.stack.lamp
    grams, prices = {mass.name: mass.grams for mass in study.masses}, stock_prices(lamp)
    made = (
        *(_cut(part, lamp, lamps, grams, prices) for part in cut_parts(study)),
        *(_to_length(rod, lamp, lamps, grams, prices.get(rod.stock)) for rod in posts_and_core(study)),
    )
    bought = bought_things(study, made, prices, lamps)
    return PartsList(lamp.name, lamps, made, bought, lamp.currency, lamp.units)


def _cut(
    part: CutPart, lamp: Lamp, lamps: int, grams: Mapping[str, float], prices: Mapping[Stock, Price]
) -> ListedPart:
    layer, stock, size = part.layer, stock_of(part.layer), part_size(part.layer)
    price = prices.get(stock)
    cost = None
    if price is not None:
        cost = (
            stock.cost(price, size.area)
            if isinstance(stock, SheetStock)
            else stock.cost(price, layer.thickness)
        )
    return ListedPart(
        title=part.title,
        names=part.names,
        turned_over=part.turned_over,
        count=lamps * part.count,
        stock=stock,
        material=part.material.name,
        shape=shape_words(layer.outline, lamp.units),
        size=(size.along, size.across),
        tall=layer.thick,
        grain=grain_words(layer),
        work=work_on(layer, lamp.units, lamp.cutter),
        finish=finish_words(layer),
        grams=grams[part.name] / part.copies[0].pieces,
        price=cost,
    )


def _to_length(
    rod: Rod, lamp: Lamp, lamps: int, grams: Mapping[str, float], price: Price | None
) -> ListedPart:
    """A line of what is only cut to length."""
    stock, material, first = rod.stock, rod.part.material, rod.names[0]
    wall = "" if stock.wall is None else f", wall {lamp.units.show(stock.wall)}"
    x0, y0, x1, y1 = bounds(path_of(stock.outline))
    return ListedPart(
        title=rod.title,
        names=rod.names,
        turned_over=(),
        count=lamps * rod.count,
        stock=stock,
        material=material.name,
        shape=f"{exact_size(stock.outline, lamp.units)}{wall}",
        size=(x1 - x0, y1 - y0),
        tall=rod.long,
        grain="along its length" if material.is_figured else "",
        work=None,
        finish=_coat(material),
        grams=grams[first] / _pieces(lamp, first),
        price=None if price is None else stock.cost(price, rod.long),
    )


def _pieces(lamp: Lamp, name: str) -> int:
    """How many pieces a post stands for, or the core."""
    around = next((post.around for post in lamp.posts if post.name == name), None)
    return 1 if around is None else around.count


def grain_words(layer: Layer) -> str:
    """Which way the grain runs, as the part lies before it is turned in the stack."""
    if not layer.material.is_figured:
        return ""
    bearing = layer.grain % 180.0
    if abs(bearing - 90.0) < 1e-9:
        return "left to right"
    return "front to back" if min(bearing, 180.0 - bearing) < 1e-9 else f"along bearing {bearing:.6g}°"


def finish_words(layer: Layer) -> str:
    """How the faces of a layer are finished: face by face where they differ; nothing where it is as it comes.

    >>> from stackview.description.lamp import Layer, _ANY
    >>> from stackview.description.outline import Outline
    >>> from stackview.description.shapes import Circle
    >>> finish_words(Layer("base", _ANY, 18.0, Outline(Circle(90.0))))
    ''
    """
    material = layer.material
    if not material.is_acrylic:
        return _coat(material)
    if material.body == "opal":
        return "opal, as it comes" if not any(layer.finish.sanded) else "opal, sanded"
    if len(set(layer.finish.faces)) == 1:
        return "sanded on every face" if all(layer.finish.sanded) else "clear on every face"
    top, underside, edge = layer.finish.faces
    return f"top {top}, underside {underside}, edge {edge}"


def _coat(material: Material) -> str:
    return {"paint": "painted", "mirror": "mirrored", None: ""}[material.optics.coat]
