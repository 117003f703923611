"""What is bought for a lamp: sheets, rods by length, strip, cable, feet and glue, with what each number rests on."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from stackview.checks.glue import laid
from stackview.description.lamp import Screws
from stackview.description.light_source import Strip
from stackview.description.material import Length
from stackview.description.price import Price
from stackview.description.service import Glue
from stackview.description.units import Units
from stackview.in_figures import figure
from stackview.light.layout import Lit
from stackview.light.supplies import FedTogether, fed_together, lights_said
from stackview.shop.listed import BoughtThing, ListedPart
from stackview.shop.stock import RodStock, SheetStock, Stock, material_words
from stackview.stack.joints import glue_of, glued_joints

if TYPE_CHECKING:
    from stackview.study import Study

SAW_CUT = 2.0
"""Added to each length of rod for the saw and for dressing its end [mm]; common practice."""
SPARE_GLUE = 1.5
"""Times the glue in the joints, for what stays in the nozzle and is wiped off; common practice."""


def bought_things(
    study: "Study", made: Sequence[ListedPart], prices: Mapping[Stock, Price], lamps: int
) -> tuple[BoughtThing, ...]:
    """Everything bought for so many lamps, ``made`` being what they are made of; a stock is one line."""
    return (
        *_stocks(made, prices, study.lamp.units),
        *_lights(study, lamps),
        *_wires(study, lamps),
        *_feet(study, lamps),
        *_screws(study, lamps),
        *_glues(study, lamps),
    )


def _stocks(made: Sequence[ListedPart], prices: Mapping[Stock, Price], units: Units) -> Iterator[BoughtThing]:
    by_stock: dict[Stock, list[ListedPart]] = {}
    for part in made:
        by_stock.setdefault(part.stock, []).append(part)
    for stock, parts in by_stock.items():
        if isinstance(stock, SheetStock):
            yield _sheet(stock, parts, prices.get(stock), units)
        else:
            yield _rod(stock, parts, prices.get(stock), units)


def _sheet(stock: SheetStock, parts: list[ListedPart], price: Price | None, units: Units) -> BoughtThing:
    covered = sum(part.count * part.size[0] * part.size[1] for part in parts)
    pieces = sum(part.count for part in parts)
    along, across = (max(round(part.size[side], 4) for part in parts) for side in (0, 1))
    least = f"{units.least(along)} × {units.least(across)}"
    cost = None if price is None else stock.cost(price, covered)
    return BoughtThing(
        what=stock.words(units),
        amount=units.area(covered),
        how=(
            f"rectangles about {_many(pieces, 'part')}, gaps and waste not counted; the sheet at least "
            + (f"{least}, the first along the grain" if stock.material.is_figured else least)
            + _other_price(price, cost)
        ),
        number=covered,
        of="mm²",
        price=cost,
    )


def _rod(stock: RodStock, parts: list[ListedPart], price: Price | None, units: Units) -> BoughtThing:
    total = sum(part.count * (_mm(part.tall) + SAW_CUT) for part in parts)
    cost = None if price is None else stock.cost(price, total)
    lengths = ", ".join(f"{part.count} of {units.show(part.tall)}" for part in parts)
    return BoughtThing(
        what=stock.words(units),
        amount=units.least(round(total, 4)),
        how=f"{lengths}; {units.show(SAW_CUT)} counted for each cut{_other_price(price, cost)}",
        number=total,
        of="mm",
        price=cost,
    )


def _other_price(price: Price | None, cost: float | None) -> str:
    """Told where a price is for something else: for a length of what is a sheet, for an area of a rod."""
    return f"; {price} does not say what it costs" if price is not None and cost is None else ""


def _lights(study: "Study", lamps: int) -> Iterator[BoughtThing]:
    units = study.lamp.units
    for lit in study.light.lit:
        strip, price = lit.light.layout.strip, lit.light.price
        if strip is not None:
            total = lamps * lit.length
            yield BoughtThing(
                what=f'LED strip "{lit.light.name}", {units.show(strip.width)} wide{_fed(lit)}',
                amount=units.run(total) if total >= 1000.0 else units.show(total),
                how=_strip_cuts(lit, strip, lamps, units),
                number=total,
                of="mm",
                price=None if price is None else price.of(length=total, pieces=float(lamps)),
            )
        else:
            yield BoughtThing(
                what=f'light "{lit.light.name}", {_many(lit.count, "light point")}{_fed(lit)}',
                amount=_many(lamps, "piece"),
                how=f"{lit.light.emitter.kelvin:g} K"
                + ("" if lit.watts is None else f", {lit.watts:.3g} W each"),
                number=float(lamps),
                of="pieces",
                price=None if price is None else price.of(pieces=float(lamps)),
            )


def _strip_cuts(lit: Lit, strip: Strip, lamps: int, units: Units) -> str:
    """Lengths, and how many segments between cut marks each has."""
    cuts: dict[tuple[int, float], int] = {}
    for cut in lit.cuts:
        cuts[cut.segments, cut.length] = cuts.get((cut.segments, cut.length), 0) + lamps
    told = ", ".join(
        f"{count} of {units.show(length)} ({_many(segments, 'segment')})"
        for (segments, length), count in cuts.items()
    )
    return f"{told}; a cut mark every {units.show(strip.cut_every)}; {_many(lit.count, 'light point')} a lamp"


def _fed(lit: Lit) -> str:
    feed = lit.light.feed
    return "" if lit.light.layout.set_current else f", {feed.volts:g} V"


def _wires(study: "Study", lamps: int) -> Iterator[BoughtThing]:
    lamp, units = study.lamp, study.lamp.units
    if not lamp.lights:
        return
    line = lamp.cord or lamp.cable
    if line is not None:
        given = lamp.cord is not None or (lamp.cable is not None and lamp.cable.written)
        plug = lamp.cable.plug if lamp.cord is None and lamp.cable is not None else None
        wire = "" if line.wire_mm2 is None else f", two wires of {line.wire_mm2:.3g} mm²"
        ends = "" if plug is None else f", its plug {units.show(plug)} wide at most"
        total = lamps * line.length
        yield BoughtThing(
            what=f"{'cable' if lamp.cord is None else 'cord'}, {units.show(line.diameter)} across{wire}{ends}",
            amount=units.run(total),
            how=f"{lamps} of {units.run(line.length)}"
            + ("" if given else "; the file does not say, so as is usual"),
            number=total,
            of="mm",
            price=None if line.price is None else line.price.of(length=total, pieces=float(lamps)),
        )
    supplies = fed_together(study.light.lit, adapter=lamp.supply.adapter is not None)
    for fed in supplies:
        yield _supply(study, lamps, fed, alone=len(supplies) == 1)
    if lamp.supply.fuse is not None:
        what = f"fuse, {lamp.supply.fuse:g} A"
        yield BoughtThing(what, _many(lamps, "piece"), "in the cable", float(lamps), "pieces")


def _supply(study: "Study", lamps: int, fed: FedTogether, *, alone: bool) -> BoughtThing:
    """Plug or adapter: what the file names, and what its light draws."""
    lamp, feed, amps = study.lamp, fed.feed, fed.amperes
    light = "the light" if alone else lights_said(fed.lit)
    draws = (
        f"what {light} draw{'s' if alone or len(fed.lit) == 1 else ''} is not given"
        if amps is None
        else f"{light} draw{'s' if alone or len(fed.lit) == 1 else ''} {figure(amps, 2)} A"
    )
    rated = "" if lamp.supply.adapter is None else f", rated {lamp.supply.adapter:g} A"
    port = "" if feed.port is None else f' for port "{feed.port}"'
    price = lamp.supply.price
    return BoughtThing(
        what=f"plug or adapter{port}, {feed.volts:g} V{rated}",
        amount=_many(lamps, "piece"),
        how=f"{draws}; `stackview check` says whether that is enough",
        number=float(lamps),
        of="pieces",
        price=None if price is None else price.of(pieces=float(lamps)),
    )


def _feet(study: "Study", lamps: int) -> Iterator[BoughtThing]:
    feet, units = study.lamp.feet, study.lamp.units
    if feet is None:
        return
    count = lamps * feet.around.count
    yield BoughtThing(
        what=f"feet, {material_words(feet.material)}, {units.show(feet.diameter)} across, {units.show(feet.height)} high",
        amount=_many(count, "piece"),
        how=f"on a circle of {units.show(feet.around.circle)}",
        number=float(count),
        of="pieces",
        price=None if feet.price is None else feet.price.of(pieces=float(count)),
    )


def _screws(study: "Study", lamps: int) -> Iterator[BoughtThing]:
    """Screws that are alike are bought together."""
    units = study.lamp.units
    alike: dict[tuple[float, float], list[Screws]] = {}
    for screws in study.lamp.screws:
        alike.setdefault((screws.diameter, screws.length), []).append(screws)
    for (diameter, length), some in alike.items():
        count = lamps * sum(screws.count for screws in some)
        prices = [screws.price for screws in some if screws.price is not None]
        told = "; ".join(
            f"{screws.name}: {lamps * screws.count} through {screws.through} into {screws.into}"
            for screws in some
        )
        yield BoughtThing(
            what=f"screws, {units.show(diameter)} across, {units.show(length)} long",
            amount=_many(count, "piece"),
            how=f"{told}; their holes are what the file says of those layers",
            number=float(count),
            of="pieces",
            price=prices[0].of(pieces=float(count)) if prices else None,
        )


def _glues(study: "Study", lamps: int) -> Iterator[BoughtThing]:
    for used, (amount, joints) in glue_amounts(study).items():
        much = lamps * SPARE_GLUE * amount
        yield BoughtThing(
            what=used.full,
            amount=f"{much:.1f} ml" if much >= 1.0 else f"{much:.2f} ml",
            how=(
                f"{_many(lamps * joints, 'joint')}, {lamps * amount:.2f} ml in them, a film of "
                f"{study.lamp.units.show(used.film)}; half as much again to spare; posts and strip not counted"
            ),
            number=much,
            of="ml",
            price=None if used.price is None else used.price.of(ml=much),
        )


def glue_amounts(study: "Study") -> dict[Glue, tuple[float, int]]:
    """For each glue of one lamp what its joints take [ml], as ``stackview check`` lays it, and how many they are."""
    names = ("glue_band", "bead_excess", "bead_spread")
    band, excess, spread = (study.limits.value(name) for name in names)
    found: dict[Glue, tuple[float, int]] = {}
    for joint in glued_joints(study.stack):
        used = glue_of(study.lamp, joint)
        amount, joints = found.get(used, (0.0, 0))
        area = laid(joint, used.film, band, excess, spread).area
        found[used] = amount + area * used.film * (1.0 + excess) / 1000.0, joints + 1
    return found


def _mm(length: float | Length) -> float:
    return length.mm if isinstance(length, Length) else length


def _many(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
