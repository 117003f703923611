"""The record of sightlines and spots as JSON, written piece by piece: a lamp can have a million bands."""

from typing import Any, TextIO

from stackview.change.mends import Mending
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
    mends: bool = False,
    distance: float | None = None,
) -> None:
    """Write one JSON object, with ``spots`` each eye with its own, with ``mends`` what evens them out.

    ``bands`` adds ``points`` with their places and ``point_bands`` with every point's own,
    ``distance`` [mm] the map of eyes that far from the axis.
    """
    whole = record(study.stack, study.sightlines, findings)
    for row, own in zip(whole["eyes"], study.spots if spots else (), strict=spots):
        row["spots"] = [plate.record() for plate in own.plates]
    if spots:
        whole["light_leaving"] = study.light_leaving.record()
    if spots and mends:
        _add_evening(whole["eyes"], study)
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


def _add_evening(rows: list[dict[str, Any]], study: Study) -> None:
    """What evens out the spots of each eye; nothing for those that see none."""
    mending = Mending(study)
    found = {own.eye.name: [mend.record() for mend in mending.evening(own)] for own in mending.spotty()}
    for row, own in zip(rows, study.spots, strict=True):
        row["evened_by"] = found.get(own.eye.name, [])
