"""Drawings and parts list against the solids: areas read back by ezdxf, sections cut by trimesh, counts of the file."""

import io
from collections.abc import Iterable
from typing import Any

import ezdxf
import numpy as np
import shapely
import trimesh
from numpy.typing import NDArray

from stackview.description.lamp import Bore
from stackview.sheets.drawn import cuts_of_sheet
from stackview.sheets.layout import SheetPlan
from stackview.sheets.record import sheets_record
from stackview.shop.drawn_names import file_unit
from stackview.shop.dxf_file import dxf_text
from stackview.shop.part_sheet import PartSheet, part_sheets
from stackview.shop.parts_list import parts_list
from stackview.shop.parts_record import parts_record, parts_table
from stackview.shop.rods import posts_and_core
from stackview.shop.steps_record import steps_record
from stackview.shop.svg_file import svg_text
from stackview.shop.work_order import work_order
from stackview.study import Study
from tests.whole.records_true import check_record
from tests.whole.solids_true import mesh_of

_STEPS = 400
"""Chords for each arc: 1 − cos(π/400) is 3e-5 of its radius off at most, a fiftieth of that in area."""


def check_parts(study: Study) -> None:
    """Every layer, piece, post and core is made once; masses add up; the record has its form."""
    lamp, listed = study.lamp, parts_list(study)
    sheets = sum(1 if layer.around is None else layer.around.count for layer in lamp.layers)
    rods = sum(1 if post.around is None else post.around.count for post in lamp.posts) + (
        lamp.core is not None
    )
    cut = [part for part in listed.parts if part.work is not None]
    assert sum(part.count for part in cut) == sheets
    assert sum(part.count for part in listed.parts) == sheets + rods
    assert sum(rod.count for rod in posts_and_core(study)) == rods
    assert sorted(name for part in cut for name in part.names) == sorted(layer.name for layer in lamp.layers)
    grams = sum(
        mass.grams
        for mass, part in zip(study.masses, study.stack.placed, strict=True)
        if part.is_layer or part.is_core or part.is_post
    )
    assert abs(sum(part.count * part.grams for part in listed.parts) - grams) <= 1e-3 * grams
    check_record("parts", parts_record(listed))
    assert len({tuple(row) for row in parts_table(listed)}) == 1


def check_drawings(study: Study) -> None:
    """The outline less the openings, read back from the DXF, is the section of the solid where nothing else is cut."""
    unit = file_unit(study.lamp.units)
    for sheet in part_sheets(study):
        marks = [mark.line for mark in sheet.marks]
        drawn = drawn_curves(dxf_text(sheet.cuts, marks, unit), unit.mm)
        svg_text(sheet.title, sheet.cuts, marks, unit)
        face = shapely.unary_union(drawn["OUTLINE"]).difference(shapely.unary_union(drawn.get("OPENING", [])))
        height = _whole_height(sheet)
        if height is None:
            continue
        part = study.stack.part(sheet.layer.name)
        pieces = 1 if sheet.layer.around is None else sheet.layer.around.count
        cut = section_area(mesh_of(part), part.underside + height) / pieces
        error = study.lamp.chord_error * face.length + 1e-4 * face.area
        assert abs(cut - face.area) < error, (sheet.title, cut, face.area, error)


def drawn_curves(text: str, mm: float) -> dict[str, list[shapely.Polygon]]:
    """Closed curves of a DXF by the names of their layers [mm]."""
    found: dict[str, list[shapely.Polygon]] = {}
    for entity in ezdxf.read(io.StringIO(text)).modelspace().query("LWPOLYLINE CIRCLE"):
        places = _circle(entity) if entity.dxftype() == "CIRCLE" else _polyline(entity)
        flat = np.column_stack((places.real, places.imag)) * mm
        found.setdefault(entity.dxf.layer, []).append(shapely.Polygon(flat).buffer(0))
    return found


def _circle(entity: Any) -> NDArray[np.complex128]:
    turn = np.linspace(0.0, 2.0 * np.pi, _STEPS, endpoint=False)
    return complex(entity.dxf.center.x, entity.dxf.center.y) + entity.dxf.radius * np.exp(1j * turn)


def _polyline(entity: Any) -> NDArray[np.complex128]:
    """Its lines, and its arcs by their bulge, the tangent of a quarter of the angle turned (DXF Reference, code 42)."""
    rows = [(complex(x, y), bulge) for x, y, bulge in entity.get_points("xyb")]
    found = []
    for (p, bulge), (q, _) in zip(rows, rows[1:] + rows[:1], strict=True):
        found.append(np.array([p]))
        if bulge:
            centre = (p + q) / 2 + 1j * (q - p) / 2 * (1 - bulge * bulge) / (2 * bulge)
            turned = 4 * np.arctan(bulge) * np.arange(1, _STEPS) / _STEPS
            found.append(centre + (p - centre) * np.exp(1j * turned))
    return np.concatenate(found)


def _whole_height(sheet: PartSheet) -> float | None:
    """A height above the underside at which nothing but outline and openings is cut [mm]; None where there is none."""
    deep = {
        face: max((cut.depth or 0.0 for cut in sheet.cuts if cut.face == face), default=0.0)
        for face in ("top", "underside")
    }
    low, high = deep["underside"], sheet.layer.thickness - deep["top"]
    if high - low < 0.05 or any(isinstance(cut.of, Bore) for cut in sheet.cuts):
        return None
    return low + 0.37 * (high - low)


def section_area(mesh: trimesh.Trimesh, height: float) -> float:
    """Area of a solid's level section, by Green's theorem over the lines in which a plane cuts its triangles."""
    lines, faces = trimesh.intersections.mesh_plane(mesh, (0, 0, 1), (0, 0, height), return_faces=True)
    (x0, y0), (x1, y1) = (lines[:, end, :2].T for end in (0, 1))
    out = mesh.face_normals[faces]
    # outwards lies to the right of the way round
    way = np.sign((y1 - y0) * out[:, 0] - (x1 - x0) * out[:, 1])
    return float(0.5 * (way * (x0 * y1 - x1 * y0)).sum())


def check_steps(study: Study) -> None:
    """Every layer is worked on or set down in some step; each step comes after those that it names."""
    order = work_order(study)
    check_record("steps", steps_record(order))
    assert order.steps or order.faults
    if not order.steps:
        return
    named = {name for step in order.steps for name in step.parts}
    assert {layer.name for layer in study.lamp.layers} <= named
    for number, step in enumerate(order.steps, 1):
        assert all(order.number(one.key) < number for one in step.after), step.title


def check_sheets(plan: SheetPlan, study: Study) -> None:
    """Parts on sheets, read back from their DXF, are as many as are counted, apart by the gap and within the margin."""
    check_record("sheets", sheets_record(plan))
    unit = file_unit(study.lamp.units)
    for stock in plan.stocks:
        wanted = sum(part.count for part in stock.parts)
        assert sum(len(filled.parts) for filled in stock.sheets) == wanted
        for filled in stock.sheets:
            drawn = drawn_curves(dxf_text(cuts_of_sheet(filled), (), unit), unit.mm)
            outlines = drawn["OUTLINE"]
            assert len(outlines) == len(filled.parts)
            _check_apart(_bodies(outlines, drawn.get("OPENING", [])), plan.gap)
            wide, deep = filled.sheet.size
            if filled.sheet.outline is None:
                room = shapely.box(0, 0, wide, deep).buffer(-filled.sheet.margin + 0.02, join_style="mitre")
                assert all(room.covers(one) for one in outlines), filled.sheet.name


def _bodies(outlines: list[shapely.Polygon], holes: list[shapely.Polygon]) -> list[shapely.Geometry]:
    """What is left of each part: a hole is that of the smallest part about it, and other parts may lie in it."""
    own: list[list[shapely.Polygon]] = [[] for _ in outlines]
    for hole in holes:
        about = [one for one, outline in enumerate(outlines) if outline.buffer(0.01).covers(hole)]
        own[min(about, key=lambda one: outlines[one].area)].append(hole)
    return [
        outline.difference(shapely.unary_union(some)) for outline, some in zip(outlines, own, strict=True)
    ]


def _check_apart(outlines: Iterable[shapely.Geometry], gap: float) -> None:
    known = list(outlines)
    for number, one in enumerate(known):
        for other in known[:number]:
            assert one.distance(other) >= gap - 0.02, (one.distance(other), gap)
