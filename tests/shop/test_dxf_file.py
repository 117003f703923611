"""DXF read back by ezdxf: audit, unit, layers, and area and length to rounding."""

import io
from typing import Any

import ezdxf
import numpy as np
import pytest
from hypothesis import given, settings

from stackview.curves.arcs import Path, area, length
from stackview.curves.crossing import crosses_itself
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Shape
from stackview.shop.drawn_cuts import DrawnCut, drawn_cuts
from stackview.shop.drawn_names import FileUnit
from stackview.shop.dxf_file import DXF_MARK, dxf_text
from tests.shop.parts import full_layer, shapes

MM, INCH = FileUnit("mm", 1.0), FileUnit("in", 25.4)


def read(text: str) -> Any:
    drawing = ezdxf.read(io.StringIO(text))
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes
    return drawing


def measured(entity: Any) -> tuple[float, float]:
    """Area and length of a read entity; CIRCLE by πr² and 2πr, polylines by our own exact measures."""
    if entity.dxftype() == "CIRCLE":
        return np.pi * entity.dxf.radius**2, 2.0 * np.pi * entity.dxf.radius
    assert entity.closed
    path = Path(np.array(entity.get_points("xyb"), dtype=np.float64))
    assert crosses_itself(path) is None
    return area(path), length(path)


def test_a_full_part_reads_back() -> None:
    cuts = drawn_cuts(full_layer())
    mark = np.array(((0.0, -45.0), (0.0, -41.0)))
    text = dxf_text(cuts, [mark], MM)
    assert text.startswith(DXF_MARK)
    drawing = read(text)
    assert drawing.dxfversion == "AC1024"
    assert drawing.header["$INSUNITS"] == 4
    entities = list(drawing.modelspace())
    names = [entity.dxf.layer for entity in entities]
    assert names == [
        "OUTLINE", "OPENING", "OPENING", "RECESS_TOP_2mm", "RECESS_UNDERSIDE_5mm", "GROOVE_TOP_2.8mm",
        "GROOVE_TOP_2.8mm", "CHAMFER_TOP_OUTER_2mm_45DEG", "CHAMFER_UNDERSIDE_OPENING_3mm_60DEG",
        "BORE_D6mm_MIDDLE_9mm_UP", "INDEX",
    ]  # fmt: skip
    assert {entity.dxftype() for entity in entities} == {"LWPOLYLINE", "CIRCLE", "LINE"}
    paths = [path for cut in cuts for path in cut.paths]
    for entity, path in zip(entities, paths, strict=False):
        assert measured(entity) == pytest.approx((area(path), length(path)), rel=1e-12)


def test_inches_are_set_and_counted() -> None:
    drawing = read(dxf_text(drawn_cuts(full_layer()), [], INCH))
    assert drawing.header["$INSUNITS"] == 1
    outline = drawing.modelspace().query("LWPOLYLINE[layer=='OUTLINE']").first
    assert max(x for x, _ in outline.get_points("xy")) * 25.4 == pytest.approx(75.0, rel=1e-14)
    assert "RECESS_TOP_0.07874in" in drawing.layers


@given(shape=shapes())
@settings(max_examples=12, deadline=None)
def test_random_outlines_read_back(shape: Shape) -> None:
    path = path_of(Outline(shape, turn=17.0, at=(3.0, -2.0)))
    (entity,) = read(dxf_text([DrawnCut(Outline(shape), (path,))], [], MM)).modelspace()
    assert measured(entity) == pytest.approx((area(path), length(path)), rel=1e-12)
