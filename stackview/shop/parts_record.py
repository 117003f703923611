"""The parts list as plain values: one object for programs, and one table for spreadsheets."""

from typing import Any

from stackview.description.material import Length
from stackview.description.units import Units
from stackview.shop.listed import BoughtThing, ListedPart, PartsList
from stackview.shop.part_size import to_a_64th
from stackview.shop.stock import SheetStock

_PLACES = 6
"""Decimal places of what is given out: far below what anybody cuts, weighs or pays."""


def parts_record(listed: PartsList) -> dict[str, Any]:
    """The whole list; lengths in millimetres, masses in grams, prices in the currency that it names."""
    return {
        "lamp": listed.lamp,
        "lamps": listed.lamps,
        "unit": listed.units.unit,
        "parts": [_part(part, listed.units.alone) for part in listed.parts],
        "bought": [_bought(thing) for thing in listed.bought],
        "grams": listed.grams,
        "price": listed.price if any(thing.price is not None for thing in listed.bought) else None,
        "currency": listed.currency or None,
        "unpriced": list(listed.unpriced),
    }


def parts_table(listed: PartsList) -> list[dict[str, str | int | float | None]]:
    """One row for each line of the list, first what is made, then what is bought; every row has the same keys."""
    rows: list[dict[str, str | int | float | None]] = []
    for one in listed.parts:
        part = _part(one, listed.units.alone)
        work = part["work"] or {}
        told = {
            key: "; ".join(work.get(key, ())) for key in ("through", "top", "underside", "chamfers", "bores")
        }
        flat = {
            key: value for key, value in part.items() if key not in ("stock", "work", "names", "turned_over")
        }
        over = ", ".join(part["turned_over"])
        more = {"flips": work.get("flips"), "face_up": work.get("face_up"), "turned_over": over}
        rows.append({"list": "make", **flat, **part["stock"], **told, **more})
    rows += [{"list": "buy", **_bought(thing)} for thing in listed.bought]
    keys = list(dict.fromkeys(key for row in rows for key in row))
    return [{key: row.get(key) for key in keys} for row in rows]


def _part(part: ListedPart, units: Units) -> dict[str, Any]:
    work, (along, across) = part.work, part.size
    return {
        "count": part.count,
        "part": part.title,
        "names": list(part.names),
        "turned_over": list(part.turned_over),
        "material": part.material,
        "stock": _stock(part),
        "shape": part.shape,
        "along": units.plain(along),
        "across": units.plain(across),
        "along_64th": to_a_64th(along, units) or None,
        "across_64th": to_a_64th(across, units) or None,
        "along_mm": round(part.size[0], _PLACES),
        "across_mm": round(part.size[1], _PLACES),
        "tall_mm": round(part.tall.mm if isinstance(part.tall, Length) else part.tall, _PLACES),
        "tall": units.show(part.tall),
        "grain": part.grain or None,
        "finish": part.finish or None,
        "grams_each": round(part.grams, _PLACES),
        "price_each": None if part.price is None else round(part.price, _PLACES),
        "work": None
        if work is None
        else {
            "through": list(work.through),
            "top": list(work.top),
            "underside": list(work.underside),
            "chamfers": list(work.chamfers),
            "bores": list(work.bores),
            "flips": work.flips,
            "face_up": work.face_up,
        },
    }


def _stock(part: ListedPart) -> dict[str, Any]:
    """What it is cut from: the sheet as sold and as measured, or a rod."""
    stock = part.stock
    if isinstance(stock, SheetStock):
        sold, measured = stock.sold, stock.measured
        return {
            "cut_from": "sheet",
            "sold": None if sold is None else sold.written,
            "sold_mm": None if sold is None else sold.mm,
            "measured": None if measured is None else measured.written,
            "measured_mm": None if measured is None else measured.mm,
        }
    return {"cut_from": "rod" if stock.wall is None else "tube", "wall_mm": stock.wall}


def _bought(thing: BoughtThing) -> dict[str, Any]:
    return {
        "what": thing.what,
        "amount": thing.amount,
        "number": round(thing.number, _PLACES),
        "of": thing.of,
        "how": thing.how,
        "price": None if thing.price is None else round(thing.price, _PLACES),
    }
