"""What is worked out once and then moved or turned is what it would be if worked out anew."""

import numpy as np
import pytest
import shapely

from stackview.curves.corners import circle
from stackview.sheets.facets import inner_facets
from stackview.sheets.fits import FlatShape, turned_places
from stackview.sheets.no_fit import no_fit
from tests.sheets.flat_lamps import face, fits_of, rectangle
from tests.sheets.test_convex import ELL


def test_turned_places() -> None:
    assert turned_places(np.array(((3.0, 1.0),)), 90.0).tolist() == [[-1.0, 3.0]]


def test_shapes_turned_together_fit_as_they_did() -> None:
    shapes = [
        FlatShape(ELL, (0.0, 40.0, 90.0), (), 500.0),
        FlatShape(rectangle(20, 8), (0.0, 90.0), (), 160.0),
    ]
    fits = fits_of(shapes, gap=3.0)
    for one in ((0, 0), (0, 1), (0, 2), (1, 1)):
        for other in ((0, 2), (1, 0), (1, 1)):
            anew = no_fit(fits.fitted(one), fits.fitted(other))
            assert fits.no_fit(one, other).symmetric_difference(anew).area < 0.5
            assert fits.no_fit(one, other) is fits.no_fit(one, other)


def test_waste_keeps_a_gap_from_the_ring() -> None:
    hole = inner_facets(circle(30.0), 0.01)
    ring = FlatShape(rectangle(100, 100) - 50.0, (0.0,), (hole,), 7000.0)
    fits = fits_of([ring, FlatShape(rectangle(20, 20), (0.0,), (), 400.0)], face(200, 200), gap=4.0)
    places = fits.in_waste((0, 0), 0, (1, 0))
    far = shapely.get_coordinates(places)
    corners = (far[:, None] + rectangle(20, 20)[None]).reshape(-1, 2)
    assert np.hypot(*corners.T).max() == pytest.approx(26.0, abs=0.02)
    # what does not fit into the opening at all
    assert fits.in_waste((0, 0), 0, (0, 0)).is_empty
    assert not fits.on_sheet(0, (0, 0)).is_empty
