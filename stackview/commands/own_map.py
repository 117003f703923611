"""What shows all round at an eye's own distance, by height: as a table on the terminal, and as rows."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any

import numpy as np
from rich.console import Console

from stackview.arrays import Floats
from stackview.commands.summary import plain_table, say
from stackview.sight.bands import Kind
from stackview.sight.room_round import RoomRound
from stackview.study import Study

_STRETCH_MM, _STRETCH_IN = 100.0, 101.6
"""Heights that are told together: 10 cm, or 4 in."""


def rows_by_height(told: RoomRound, stretch: float) -> Iterator[dict[str, Any]]:
    """A row for each ``stretch`` of height [mm], those in which the same shows as one.

    Of each kind the most points at once, from the worst bearing and from the front.
    """
    bins = np.floor(told.heights / stretch + 1e-9).astype(np.int64)
    begins = np.flatnonzero(np.diff(bins, prepend=-1))
    worst = np.maximum.reduceat(told.counts.max(axis=1), begins, axis=1)
    front = np.maximum.reduceat(told.counts[:, 0], begins, axis=1)
    ends = _ends(told.heights, bins[begins], stretch)
    rows = [(tuple(worst[:, k].tolist()), tuple(front[:, k].tolist()), ends[k]) for k in range(len(begins))]
    for (most, ahead), alike in groupby(rows, key=lambda row: row[:2]):
        spans = [row[2] for row in alike]
        row: dict[str, Any] = {"from_height_mm": spans[0][0], "to_height_mm": spans[-1][1]}
        row |= {f"{kind.word}_worst": most[kind] for kind in Kind}
        row |= {f"{kind.word}_front": ahead[kind] for kind in Kind}
        yield row


def _ends(heights: Floats, bins: Any, stretch: float) -> list[tuple[float, float]]:
    top = float(heights[-1])
    return [(number * stretch, min((number + 1) * stretch, top)) for number in bins.tolist()]


def own_map_record(study: Study, distance: float) -> dict[str, Any]:
    """The map of a distance [mm] as one plain object, with a row for each 100 mm of height."""
    told = study.sightlines.room_round(distance)
    return {"distance_mm": distance, "heights": list(rows_by_height(told, _STRETCH_MM))}


def show_own_map(screen: Console, study: Study, distance: float) -> None:
    """Tell what shows all round at a distance from the axis [mm], from the top down as eyes stand."""
    units = study.lamp.units
    told = study.sightlines.room_round(distance)
    table = plain_table(f"From {units.alone.show(distance)}: at worst / from the front")
    table.add_column("height of the eye", justify="right")
    for kind in Kind:
        table.add_column(kind.word, justify="right")
    rows = list(rows_by_height(told, _STRETCH_IN if units.in_inches else _STRETCH_MM))
    for row in reversed(rows):
        low, high = (units.alone.run(row[f"{end}_height_mm"]) for end in ("from", "to"))
        cells = [(row[f"{kind.word}_worst"], row[f"{kind.word}_front"]) for kind in Kind]
        table.add_row(f"{low} to {high}", *(f"{most} / {ahead}" if most else "–" for most, ahead in cells))
    screen.print()
    screen.print(table)
    say(screen, "Heights count from the floor; `stackview picture LAMP map` draws it.", indent=2)
