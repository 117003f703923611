import numpy as np
import pytest

from stackview.description.material import Finish
from stackview.solids.solid import Face
from stackview.stills.refine import facets
from stackview.stills.sheets import sheets_of
from tests.stills import lamps


def sheets(material, finish):
    part = lamps.part("plate", lamps.prism([lamps.circle(30)], 0, 4), material, finish=finish)
    mesh = facets([(part.solid.vertices, part.solid.triangles, part.solid.faces)], [0], edge=10)
    return sheets_of([part], mesh), mesh


@pytest.mark.parametrize("side", ["top", "underside", "edge"])
def test_finish_goes_face_by_face(side):
    made, mesh = sheets(lamps.CLEAR, Finish(**{side: "sanded"}))
    face = {"top": Face.TOP, "underside": Face.UNDERSIDE, "edge": Face.OUTER}[side]
    assert np.array_equal(made.sanded, mesh.face == face)
    assert not made.opal.any()


def test_light_passes_clear_best_and_opal_least():
    passing = [
        sheets(material, finish)[0].passing.mean()
        for material, finish in ((lamps.CLEAR, Finish()), (lamps.CLEAR, lamps.SANDED), (lamps.OPAL, Finish()))
    ]
    assert 1 > passing[0] > passing[1] > passing[2] > 0


def test_opal_glows_all_over_and_clear_only_at_its_edges():
    opal, _ = sheets(lamps.OPAL, Finish())
    clear, mesh = sheets(lamps.CLEAR, Finish())
    assert opal.glowing.min() > 0
    assert np.array_equal(clear.glowing > 0, mesh.face == Face.OUTER)
