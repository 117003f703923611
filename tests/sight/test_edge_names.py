"""Edge names in trade words."""

from itertools import combinations_with_replacement

import numpy as np

from stackview.sight.bands import OWN_BACK, POLE, TRACED
from stackview.sight.edge_names import EdgeNames, feature_name
from stackview.sight.scene import scene_of
from stackview.solids.solid import Face
from tests.lamps import box


def test_every_pair_of_faces_has_a_name_that_does_not_depend_on_order() -> None:
    for one, other in combinations_with_replacement(Face, 2):
        assert feature_name(one, other) == feature_name(other, one) != ""


def test_edges_of_a_box() -> None:
    names = EdgeNames(scene_of((box("block", [0, 0, 0], [1, 1, 1]),)))
    texts = {names.text(edge) for edge in range(18)}
    assert {"block, outer edge on top", "block, outer edge underneath"} <= texts
    assert names.text(POLE) == "straight up or down"
    assert names.text(OWN_BACK) == "its own back"
    assert names.text(TRACED) == "light through clear acrylic"
    assert names.numbers(np.array([POLE, OWN_BACK, TRACED], dtype=np.int32)).tolist() == [
        len(names.texts) - 1,
        len(names.texts) - 2,
        len(names.texts) - 3,
    ]
