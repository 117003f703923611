"""What a sheet shows besides its cuts, read back from DXF and SVG."""

import io
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest

from stackview.curves.corners import circle
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle
from stackview.description.units import Units
from stackview.shop.drawn_cuts import drawn_cuts
from stackview.shop.drawn_names import file_unit
from stackview.shop.dxf_file import dxf_text
from stackview.shop.sheet_lines import MARGIN_LAYER, SHEET_LAYER, ZONE_LAYER, SheetLines
from stackview.shop.svg_file import svg_text
from tests.shop.parts import full_layer

LINES = SheetLines(
    {
        SHEET_LAYER: (path_of(Outline(Rectangle(400.0, 200.0))),),
        MARGIN_LAYER: (path_of(Outline(Rectangle(384.0, 184.0))),),
        ZONE_LAYER: (circle(15.0),),
    },
    (np.array(((-150.0, 0.0), (-100.0, 0.0))),),
    (("3 <ring> & co", (10.0, 20.0), 4.0),),
)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_dxf_has_the_sheet_on_layers_of_its_own(unit: str) -> None:
    units = file_unit(Units(unit))
    text = dxf_text(drawn_cuts(full_layer()), (), units, LINES)
    drawing = ezdxf.read(io.StringIO(text))
    assert not drawing.audit().errors
    of = {
        kind: [e for e in drawing.modelspace() if e.dxf.layer == kind]
        for kind in ("SHEET", "ZONE", "GRAIN", "NAMES")
    }
    (edge,), (zone,), (grain,), (name,) = of.values()
    assert max(x for x, *_ in edge.get_points("xy")) == pytest.approx(200.0 / units.mm)
    assert zone.dxf.radius == pytest.approx(15.0 / units.mm)
    assert grain.dxf.start.x == pytest.approx(-150.0 / units.mm)
    assert (name.dxf.text, name.dxf.height) == ("3 <ring> & co", pytest.approx(4.0 / units.mm))
    plain = ezdxf.read(io.StringIO(dxf_text(drawn_cuts(full_layer()), (), units)))
    assert {"SHEET", "NAMES"}.isdisjoint(layer.dxf.name for layer in plain.layers)


def test_svg_is_as_large_as_the_sheet_and_escapes_names() -> None:
    root = ElementTree.fromstring(svg_text("a", drawn_cuts(full_layer()), (), file_unit(Units("mm")), LINES))
    # two millimetres of paper round the sheet
    assert (root.get("width"), root.get("height")) == ("404.0mm", "204.0mm")
    groups = {group.get("id"): group for group in root if group.tag.endswith("}g")}
    assert {"SHEET", "MARGIN", "ZONE", "GRAIN", "NAMES"} <= set(groups)
    assert groups["NAMES"][0].text == "3 <ring> & co"
