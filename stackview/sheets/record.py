"""Parts on sheets as plain values, for programs; lengths in millimetres."""

from typing import Any

from stackview.curves.arcs import bounds
from stackview.sheets.layout import FilledSheet, LaidPart, SheetPlan, StockLayout, StockWithoutSheet

_PLACES = 6
"""Decimal places of what is given out: far below what anybody cuts."""


def sheets_record(plan: SheetPlan) -> dict[str, Any]:
    """The whole answer as one object."""
    return {
        "lamp": plan.lamp,
        "lamps": plan.lamps,
        "cutter_mm": round(plan.cutter, _PLACES),
        "gap_mm": round(plan.gap, _PLACES),
        "interrupted": plan.interrupted,
        "stocks": [_stock(stock) for stock in plan.stocks],
        "without_sheet": [_without(stock) for stock in plan.without],
        "currency": plan.currency or None,
    }


def _stock(stock: StockLayout) -> dict[str, Any]:
    return {
        "material": stock.parts[0].layer.material.name,
        "thickness_mm": round(stock.stock.thickness, _PLACES),
        "parts": [
            {
                "number": part.number,
                "part": part.title,
                "names": list(part.part.names),
                "in_one_lamp": part.count,
            }
            for part in stock.parts
        ],
        "sheets": [_sheet(sheet) for sheet in stock.sheets],
        "share": round(stock.share, _PLACES),
        "lamps_at_hand": stock.lamps_at_hand,
        "yields": [
            {"sheet": one.sheet.name, "lamps": one.lamps, "at_least": one.at_least} for one in stock.yields
        ],
        "to_buy": [
            {
                "sheet": one.sheet.name,
                "price": None if one.sheet.price is None else one.sheet.price.amount,
            }
            for one in stock.bought
        ],
        "near_misses": [
            {
                "sheet": miss.sheet.name,
                "parts": list(miss.parts),
                "in_a_row": miss.count,
                "way": miss.way,
                "lacks_mm": round(miss.lacks, _PLACES),
                "needs_mm": round(miss.needs, _PLACES),
                "room_mm": round(miss.room, _PLACES),
            }
            for miss in stock.misses
        ],
        "ways_tried": stock.tried,
        "ways_planned": stock.planned,
    }


def _sheet(filled: FilledSheet) -> dict[str, Any]:
    sheet = filled.sheet
    return {
        "sheet": sheet.name,
        "copy": filled.copy,
        "to_buy": filled.bought,
        "size_mm": [round(side, _PLACES) for side in sheet.size],
        "margin_mm": round(sheet.margin, _PLACES),
        "grain": sheet.grain if sheet.material.is_figured else None,
        "share": round(filled.share, _PLACES),
        "pieces": [_piece(one) for one in filled.parts],
    }


def _piece(one: LaidPart) -> dict[str, Any]:
    """Where a piece lies: its frame's origin and turn, and the rectangle about it, from the sheet's lower left."""
    x0, y0, x1, y1 = bounds(one.outline)
    return {
        "number": one.part.number,
        "part": one.part.title,
        "turn": round(one.turn, 9),
        "at_mm": [round(one.x, _PLACES), round(one.y, _PLACES)],
        "rectangle_mm": [round(side, _PLACES) for side in (x0, y0, x1, y1)],
        "underside_up": one.part.underside_up,
        "inside": one.inside,
    }


def _without(stock: StockWithoutSheet) -> dict[str, Any]:
    return {
        "material": stock.material,
        "thickness_mm": round(stock.stock.thickness, _PLACES),
        "margin_mm": round(stock.margin, _PLACES),
        "sizes_that_do": [
            {
                "along_mm": round(size.along, _PLACES),
                "across_mm": round(size.across, _PLACES),
                "share": round(size.share, _PLACES),
            }
            for size in stock.sizes
        ],
    }
