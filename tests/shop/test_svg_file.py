"""SVG read back: an XML parser, its size in mm, and area and length by our own reading of it."""

from pathlib import Path as File
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings

from stackview.curves.arcs import area, bounds, length
from stackview.description.curve_file import read_curve
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Shape
from stackview.shop.drawn_cuts import DrawnCut, drawn_cuts
from stackview.shop.drawn_names import FileUnit
from stackview.shop.svg_file import SVG_MARK, svg_text
from tests.shop.parts import full_layer, shapes

MM = FileUnit("mm", 1.0)
SPACE = "{http://www.w3.org/2000/svg}"


def test_it_is_xml_of_its_physical_size_with_a_group_for_each_cut() -> None:
    cuts = drawn_cuts(full_layer())
    text = svg_text('a < "b" & c\x00', cuts, [np.array(((0.0, -45.0), (0.0, -41.0)))], MM)
    assert text.startswith(SVG_MARK)
    root = ElementTree.fromstring(text.encode())
    assert root.attrib["width"] == "154.0mm"
    assert root.attrib["height"] == "94.0mm"
    left, low, width, height = (float(word) for word in root.attrib["viewBox"].split())
    assert (left, low, width, height) == (-77.0, -47.0, 154.0, 94.0)
    groups = [group.attrib["id"] for group in root.iter(f"{SPACE}g")]
    assert groups[:2] == ["OUTLINE", "OPENING"]
    assert groups[-2:] == ["BORE_D6mm_MIDDLE_9mm_UP", "INDEX"]
    assert root.findtext(f"{SPACE}title") == 'a < "b" & c '
    elements = [one for group in root.iter(f"{SPACE}g") for one in group]
    assert len(elements) == sum(len(cut.paths) for cut in cuts) + 1
    assert all(one.attrib["d"].endswith(" Z") for one in elements if one.tag == f"{SPACE}path")


def test_back_is_up() -> None:
    # y up seen from above is towards the top of the page: the bore comes from the back
    root = ElementTree.fromstring(svg_text("x", drawn_cuts(full_layer()), [], MM).encode())
    (bore,) = (group for group in root.iter(f"{SPACE}g") if group.attrib["id"].startswith("BORE"))
    heights = [float(word.split(",")[1]) for word in bore[0].attrib["d"].split() if "," in word]
    assert min(heights) == pytest.approx(-45.0)


@given(shape=shapes())
@settings(max_examples=12, deadline=None)
def test_random_outlines_read_back(shape: Shape, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = path_of(Outline(shape))
    file = File(tmp_path_factory.getbasetemp()) / "part.svg"
    file.write_text(svg_text("part", [DrawnCut(Outline(shape), (path,))], [], MM), encoding="utf-8")
    back = path_of(Outline(read_curve(file, "mm")))
    # the library that reads it has its millimetre rounded: 2e-6
    assert area(back) == pytest.approx(area(path), rel=2e-6)
    assert length(back) == pytest.approx(length(path), rel=2e-6)
    x0, y0, x1, y1 = bounds(path)
    x2, y2, x3, y3 = bounds(back)
    assert (x3 - x2, y3 - y2) == pytest.approx((x1 - x0, y1 - y0), rel=2e-6)
