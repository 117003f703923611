"""The limits that checks hold a lamp against: every default in one table, with unit and source."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

from stackview.description.faults import did_you_mean
from stackview.description.units import Units, shown
from stackview.description.written_length import LengthError, read_length
from stackview.findings import Bound
from stackview.in_figures import with_unit
from stackview.one_line import one_line

_OWN = "your own limit"
"""Source of a limit that the maker has set."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit that a maker may edit; lengths in millimetres, unlike units as ``unit`` says."""

    name: str
    value: float
    unit: str
    low: float
    high: float
    """Least and greatest value that can be meant."""
    purpose: str
    """What it is for, in a few words."""
    source: str
    bound: Bound
    """Whether it is a least, a most, or taken as it stands."""

    __repr__ = one_line


@cache
def known_limits() -> Mapping[str, Limit]:
    """Every limit with its default, by name, in the order of the table."""
    text = (files("stackview.description") / "tables" / "limits.toml").read_text("utf-8")
    return {
        name: Limit(
            name,
            float(row["value"]),
            row["unit"],
            row["low"],
            row["high"],
            row["purpose"],
            row["source"],
            Bound(row["bound"]),
        )
        for name, row in tomllib.loads(text).items()
    }


def own_limit(name: str, written: object, units: Units, source: str = _OWN) -> Limit:
    """A known limit with the maker's own value; a bare number of a length counts in the units' own.

    Raises
    ------
    ValueError
        no limit has that name (with the nearest that has), or the value cannot be meant
    """
    known = known_limits()
    if name not in known:
        raise ValueError(f"no limit is called {shown(name)}{did_you_mean(name, known)}")
    limit = known[name]
    return replace(limit, value=_value(limit, written, units), source=source)


def _value(limit: Limit, written: object, units: Units) -> float:
    if limit.unit == "mm":
        try:
            return read_length(
                written, units.unit, low=limit.low, high=limit.high, of=f"the limit {limit.name}"
            ).mm
        except LengthError as wrong:
            raise ValueError(str(wrong)) from None
    most = with_unit(f"{limit.high:g}", limit.unit)
    if isinstance(written, bool) or not isinstance(written, int | float):
        raise ValueError(f"{shown(written)} is not a number: write a number from {limit.low:g} to {most}")
    if not limit.low <= written <= limit.high:
        raise ValueError(
            f"{shown(written)} is outside its limits, {limit.low:g} to {most}: write one between them"
        )
    return float(written)
