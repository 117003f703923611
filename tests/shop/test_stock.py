from dataclasses import replace

from stackview.description.lamp import Layer
from stackview.description.material import Finish, Length
from stackview.description.outline import Outline
from stackview.description.price import Price
from stackview.description.shapes import Circle, Regular
from stackview.description.units import units_of
from stackview.shop.stock import RodStock, SheetStock, of_one_stock, section_of, stock_of
from tests.lamps import WOOD, acrylic

BRASS = replace(WOOD, name="rod", kind="metal", sort="brass")


def test_one_stock_whatever_it_is_called_and_however_it_is_finished() -> None:
    sheet = replace(acrylic("clear"), sold=Length(6.35, "1/4 in"), measured=Length(5.6, "5.6 mm"))
    sanded = replace(sheet, name="sanded plate", finish=Finish("sanded", "sanded", "sanded"))
    assert of_one_stock(sheet) == of_one_stock(sanded)
    assert of_one_stock(sheet) == of_one_stock(replace(sheet, sold=Length(6.35, "6.35 mm")))
    assert of_one_stock(sheet) != of_one_stock(replace(sheet, measured=Length(5.7, "5.7 mm")))
    assert of_one_stock(sheet) != of_one_stock(acrylic("opal"))
    assert of_one_stock(sheet) == of_one_stock(replace(sheet, price=Price(30.0, "m2")))
    painted, mirror = (replace(WOOD, optics=replace(WOOD.optics, coat=coat)) for coat in ("paint", "mirror"))
    assert of_one_stock(WOOD) == of_one_stock(painted)
    assert of_one_stock(WOOD) != of_one_stock(mirror)


def test_small_rounds_without_a_sheets_thickness_are_cut_from_rod() -> None:
    spacer = Layer("spacer", BRASS, 5.0, Outline(Circle(6.0), at=(3.0, 4.0)))
    stock = stock_of(spacer)
    assert stock == RodStock(of_one_stock(BRASS), Outline(Circle(6.0)))
    assert stock.words(units_of("mm")) == "brass rod, ⌀ 6 mm"
    assert isinstance(stock_of(replace(spacer, outline=Outline(Circle(41.0)))), SheetStock)
    sheet = replace(BRASS, sold=Length(5.0, "5 mm"))
    assert isinstance(stock_of(replace(spacer, material=sheet)), SheetStock)


def test_what_to_ask_for() -> None:
    plate = replace(acrylic("opal"), sold=Length(6.35, "1/4 in"), measured=Length(5.588, ".220 in"))
    layer = Layer("plate", plate, 5.588, Outline(Circle(90.0)))
    assert (
        stock_of(layer).words(units_of("in"))
        == "opal acrylic, cast sheet, sold 1/4 in (6.35 mm), measured .220 in (5.59 mm)"
    )
    planed = replace(layer, thickness=5.0)
    assert stock_of(planed).words(units_of("mm")).endswith("5 mm thick as cut")
    tube = RodStock(of_one_stock(BRASS), section_of(Outline(Circle(32.0), turn=20.0)), 2.0)
    assert tube.words(units_of("mm")) == "brass tube, ⌀ 32 mm, wall 2 mm"
    bar = RodStock(of_one_stock(WOOD), Outline(Regular(6, 28.0)))
    assert bar.words(units_of("mm")) == "ash bar, hexagon, 28 mm across flats"
