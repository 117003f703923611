"""The quick question and the close one agree with the full look."""

import numpy as np

from stackview.change.hidden import EVENLY, Goal, faces_bare, points_numbered
from stackview.change.trial import Bench
from stackview.sight.eyes import look_straight
from tests.change.demos import study


def test_some_points_see_what_they_see_among_all() -> None:
    source = study("honeycomb")
    points = source.light.points
    whole = look_straight(source.stack, points, bearings=EVENLY, whole_faces=True)
    some = look_straight(
        source.stack, points_numbered(points, [3, 40]), bearings=EVENLY[[3, 9]], whole_faces=True
    )
    for all_, few in zip(whole, some, strict=True):
        assert np.array_equal(faces_bare(all_)[[3, 40]][:, [3, 9]], faces_bare(few))


def test_a_middle_is_hidden_before_its_corners() -> None:
    # thickness 9.5 hides the middle from all round and leaves corners bare (trial of the method)
    source = study("moor-drum")
    eye = source.lamp.eyes[0]
    middles, faces = (Goal(Bench(source, 9), eye, corners=corners) for corners in (False, True))
    change = {"groups.open-tier.ring.thickness": 9.5}
    assert middles.holds(change)
    assert not faces.holds(change)
    assert faces.witnesses
    assert faces.is_confirmed({"groups.open-tier.ring.thickness": 9.9}) is not None
