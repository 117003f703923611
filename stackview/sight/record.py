"""The sightlines as one plain object, as ``stackview sight --json`` prints it."""

from collections.abc import Iterator
from typing import Any

from stackview.findings import Finding
from stackview.sight.bands import Kind
from stackview.sight.beams import BY_RIMS, TOLERANCE, WIDE_RIM
from stackview.sight.causes import Cause
from stackview.sight.eyes import Seen
from stackview.sight.fan import LEAST_IMAGE
from stackview.sight.paths import MOST_FACES
from stackview.sight.refraction import INDEX
from stackview.sight.sphere import CutOff
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack


def record(stack: Stack, lines: Sightlines, findings: tuple[Finding, ...]) -> dict[str, Any]:
    """Counts, shares, eyes, cut-offs, merged bare bands and findings.

    Angles in degrees (bearing counter-clockwise from the front seen from above, elevation up
    from the horizontal), lengths in millimetres; ``unit`` is the one
    that the lamp's file is written in. ``bands`` are bare bands merged over light
    points: ``bare`` is the greatest number of points bare at once within the band. Bare and
    veiled are exact; ``glazed_tracing`` says what glazed is good to: how well the directions at
    which an image begins and ends are known, the least image that counts (as its light leaves the
    point), and the most faces that light is followed through.
    """
    return {
        "lamp": stack.lamp.name,
        "unit": stack.lamp.unit,
        "light_points": len(lines.points),
        "height_mm": stack.height,
        "bearings": len(lines.bands.bearings),
        "share_of_sphere_bare": lines.share_bare,
        "share_of_sphere_shown": lines.share_shown,
        "glazed_tracing": {
            "refractive_index": INDEX,
            "tolerance_deg": TOLERANCE,
            "tolerance_by_round_rims_deg": BY_RIMS,
            "down_to_radius_mm": WIDE_RIM,
            "least_image_square_deg": LEAST_IMAGE,
            "most_faces": MOST_FACES,
        },
        "eyes": [_eye(seen, causes) for seen, causes in zip(lines.eyes, lines.causes, strict=True)],
        "cut_offs": [
            {
                "low_deg": gap.low,
                "high_deg": gap.high,
                "bounded_by": [gap.low_edge, gap.high_edge],
                "bearings": gap.bearings,
                "light_points": gap.points,
            }
            for gap in lines.cut_offs
        ],
        "bands": list(_merged(lines)),
        "findings": [finding.record() for finding in findings],
    }


def cut_off_row(gap: CutOff) -> dict[str, Any]:
    """Where a gap that shows bare points begins and ends, and the edges that bound it."""
    return {
        "low_deg": gap.low,
        "high_deg": gap.high,
        "low_edge": gap.low_edge,
        "high_edge": gap.high_edge,
        "bearings": gap.bearings,
        "light_points": gap.points,
    }


def points_record(stack: Stack, lines: Sightlines) -> list[dict[str, Any]]:
    """Each light point's number, its light, and where the middle of its face is [mm]."""
    points, lights = lines.points, stack.lamp.lights
    return [
        {"light_point": index, "light": lights[int(source)].name, "x_mm": x, "y_mm": y, "z_mm": z}
        for index, (source, (x, y, z)) in enumerate(zip(points.source, points.centres.tolist(), strict=True))
    ]


def point_bands(lines: Sightlines) -> Iterator[dict[str, Any]]:
    """Every light point's own bands, one object each; there can be a million."""
    bands = lines.bands
    bearings = bands.bearings.tolist()
    for index in range(len(bands)):
        yield {
            "light_point": int(bands.point[index]),
            "bearing_deg": bearings[int(bands.bearing[index])],
            "low_deg": float(bands.low[index]),
            "high_deg": float(bands.high[index]),
            "class": Kind(int(bands.kind[index])).word,
            "bounded_by": [
                lines.names.text(int(bands.low_edge[index])),
                lines.names.text(int(bands.high_edge[index])),
            ],
        }


def _merged(lines: Sightlines) -> Iterator[dict[str, Any]]:
    bare = lines.bare
    for index in range(len(bare.low)):
        yield {
            "bearing_deg": float(lines.bands.bearings[bare.bearing[index]]),
            "low_deg": float(bare.low[index]),
            "high_deg": float(bare.high[index]),
            "bare": int(bare.most[index]),
            "bounded_by": [
                lines.names.text(int(bare.low_edge[index])),
                lines.names.text(int(bare.high_edge[index])),
            ],
        }


def eye_row(seen: Seen) -> dict[str, Any]:
    """How many points show to an eye, by kind: from its worst bearing, in the mean all round, and from the front."""
    row: dict[str, Any] = {
        "name": seen.eye.name,
        "distance_mm": seen.eye.distance,
        "height_mm": seen.eye.height,
        "elevation_deg": seen.elevation,
    }
    for word, counts in (
        ("shown", seen.counts(*Kind)),
        *((kind.word, seen.counts(kind)) for kind in Kind),
        ("partly_bare", seen.part_bare.sum(axis=0)),
        ("partly_shown", seen.part_shown.sum(axis=0)),
    ):
        row[f"{word}_worst"] = int(counts.max())
        row[f"{word}_mean"] = float(counts.mean())
        row[f"{word}_front"] = int(counts[seen.front])
    row["worst_bearing_deg"] = float(seen.bearings[seen.worst])
    return row


def _eye(seen: Seen, causes: tuple[Cause, ...]) -> dict[str, Any]:
    row = eye_row(seen)
    row["shows_past"] = [{"edge": cause.edge, "light_points": cause.points} for cause in causes]
    return row
