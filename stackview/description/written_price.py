"""Prices as the lamp's file writes them: "38 per m2", "0.50 per piece"."""

import re
from typing import Any, get_args

from stackview.description.price import Price, PriceUnit
from stackview.description.units import shown

_MOST = 1e6
_PATTERN = r"^\s*([0-9]+([.][0-9]*)?|[.][0-9]+)\s*(per|/)\s*([a-z]+[2²]?)\s*$"


def read_price(value: object, units: tuple[PriceUnit, ...]) -> Price:
    """Read a price for one of ``units``; raises ValueError in the maker's words.

    >>> read_price("38.50 per m2", ("m2", "ft2"))
    Price(amount=38.5, per='m2')
    """
    usual = f'write an amount and what it is for, e.g. "12.50 per {units[0]}"'
    found = re.match(_PATTERN, value) if isinstance(value, str) else None
    if found is None:
        raise ValueError(f"{shown(value)} is no price: {usual}")
    per = found[4].replace("²", "2")
    if per not in units:
        known = per in get_args(PriceUnit)
        what = (
            f"is a price per {per}, which does not go here" if known else "is a price for nothing known here"
        )
        raise ValueError(f"{shown(value)} {what}: give it per {_either(units)}")
    amount = float(found[1])
    if amount > _MOST:
        raise ValueError(f"{shown(value)} is beyond {_MOST:g}: write a smaller amount")
    return Price(amount, per)


def price_schema(units: tuple[PriceUnit, ...]) -> dict[str, Any]:
    """JSON Schema of a price for one of ``units``."""
    every = "|".join(dict.fromkeys((*units, *(unit.replace("2", "²") for unit in units))))
    return {
        "type": "string",
        "pattern": rf"^\s*([0-9]+([.][0-9]*)?|[.][0-9]+)\s*(per|/)\s*({every})\s*$",
        "examples": [f"12.50 per {unit}" for unit in reversed(units)],
    }


def _either(words: tuple[str, ...]) -> str:
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))
