"""The record of sightlines and spots as JSON, written piece by piece: a lamp can have a million bands."""

from typing import TextIO

from stackview.commands.json_text import json_text
from stackview.commands.own_map import own_map_record
from stackview.findings import Finding
from stackview.sight.record import point_bands, points_record, record
from stackview.study import Study


def write_record(
    study: Study,
    findings: tuple[Finding, ...],
    out: TextIO,
    *,
    bands: bool,
    spots: bool,
    distance: float | None = None,
) -> None:
    """Write one JSON object, with ``spots`` each eye with its own.

    ``bands`` adds ``points`` with their places and ``point_bands`` with every point's own,
    ``distance`` [mm] the map of eyes that far from the axis.
    """
    whole = record(study.stack, study.sightlines, findings)
    for row, own in zip(whole["eyes"], study.spots if spots else (), strict=spots):
        row["spots"] = [plate.record() for plate in own.plates]
    if distance is not None:
        whole["from"] = own_map_record(study, distance)
    text = json_text(whole, out)
    if not bands:
        out.write(text + "\n")
        return
    points = json_text(points_record(study.stack, study.sightlines), out)
    out.write(text[:-1] + f', "points": {points}, "point_bands": [')
    for index, band in enumerate(point_bands(study.sightlines)):
        out.write((",\n" if index else "\n") + json_text(band, out))
    out.write("\n]}\n")
