import xml.etree.ElementTree as ET
import zipfile
from dataclasses import replace
from io import BytesIO

import pytest

from stackview.shop.model_3mf import body_colour, threemf_bytes
from tests.lamps import box


def test_colours_are_srgb() -> None:
    # IEC 61966-2-1: linear 0.21404 is 0.5, and 0.0031308 is where the straight part ends
    body = box("base", (0, 0, 0), (10, 10, 10))
    grey = replace(body, material=replace(body.material, colour=(0.21404114, 0.0031308, 1.0)))
    assert body_colour(grey) == pytest.approx((0.5, 12.92 * 0.0031308, 1.0, 1.0), abs=1e-6)


def test_names_are_text_and_never_markup() -> None:
    body = box('a "<ring>" & b', (0, 0, 0), (10, 20, 30))
    packed = threemf_bytes((body,), "<&>", "stackview")
    root = ET.fromstring(zipfile.ZipFile(BytesIO(packed)).read("3D/3dmodel.model"))
    names = [found.get("name") for found in root.iter() if found.tag.endswith("object")]
    assert names == ['a "<ring>" & b']
    assert [found.text for found in root.iter() if found.tag.endswith("metadata")] == ["<&>", "stackview"]


def test_the_same_bodies_give_the_same_bytes() -> None:
    body = box("base", (0, 0, 0), (10, 10, 10))
    assert threemf_bytes((body,), "t", "m") == threemf_bytes((body,), "t", "m")
