"""The sightlines' record as JSON, written piece by piece: a lamp can have a million bands."""

import json
from typing import TextIO

from stackview.commands.studied import Studied
from stackview.sight.record import point_bands, points_record, record


def write_record(studied: Studied, out: TextIO, *, bands: bool) -> None:
    """Write one JSON object; ``bands`` adds ``points`` with their places and ``point_bands`` with every point's own."""
    text = json.dumps(
        record(studied.stack, studied.lines, studied.findings), ensure_ascii=False, allow_nan=False
    )
    if not bands:
        out.write(text + "\n")
        return
    points = json.dumps(points_record(studied.stack, studied.lines), ensure_ascii=False)
    out.write(text[:-1] + f', "points": {points}, "point_bands": [')
    for index, band in enumerate(point_bands(studied.lines)):
        out.write((",\n" if index else "\n") + json.dumps(band, ensure_ascii=False, allow_nan=False))
    out.write("\n]}\n")
