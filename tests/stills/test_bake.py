import numpy as np
import pytest

from stackview.solids.solid import Face
from stackview.stills import workers
from tests.stills import lamps
from tests.stills.baking import bake


@pytest.fixture(scope="module")
def gallows():
    lamp = lamps.gallows()
    return bake(lamp.placed, lamp.points, lamp.ribbons)


def arrays(baked):
    grids = (baked.ground.sky, baked.ground.lamp) if baked.ground else ()
    return (
        baked.wall_light.sky,
        baked.wall_light.lamp,
        baked.sheet_light.sky,
        baked.sheet_light.lamp,
        *grids,
    )


def corners_of(baked, name, face=None):
    number = [part.name for part in baked.placed].index(name)
    chosen = baked.walls.part == number
    if face is not None:
        chosen &= baked.walls.face == face
    return np.unique(baked.walls.corner[chosen])


def test_light_is_finite_and_nowhere_negative(gallows):
    for values in arrays(gallows):
        assert np.isfinite(values).all()
        assert values.min(initial=0) >= 0


@pytest.mark.slow
def test_same_bytes_again_and_on_any_number_of_threads(monkeypatch):
    lamp = lamps.plates(lamps.CLEAR, lamps.SANDED)
    first = arrays(bake(lamp.placed, lamp.points))
    for threads in (1, 3):
        monkeypatch.setattr(workers, "MOST_THREADS", threads)
        for one, other in zip(first, arrays(bake(lamp.placed, lamp.points)), strict=True):
            assert one.tobytes() == other.tobytes()


def test_the_lid_has_sky_above_and_the_lamps_light_below(gallows):
    above, below = corners_of(gallows, "lid", Face.TOP), corners_of(gallows, "lid", Face.UNDERSIDE)
    sky, lamp = gallows.wall_light.sky[:, 1], gallows.wall_light.lamp[:, 1]
    assert sky[above].mean() > 2 * sky[below].mean()
    assert lamp[below].mean() > 20 * lamp[above].mean()


def test_light_of_the_lamp_is_as_warm_as_its_points(gallows):
    red, green, blue = gallows.wall_light.lamp.mean(axis=0)
    assert red > green > blue


def test_the_ground_is_open_far_away_shaded_near_by_and_lit_by_the_lamp(gallows):
    sky = gallows.ground.sky[:, :, 1]
    assert sky[0, 0] == pytest.approx(1, abs=1e-6)
    assert sky.min() < 0.7
    assert gallows.ground.lamp.max() > 0.02
    assert gallows.ground.lamp[0, 0].max() == 0


def test_a_lamp_without_points_has_no_light_of_its_own_and_one_that_hangs_no_ground():
    lamp = lamps.gallows()
    none = lamps.points_at(np.zeros((0, 3)), np.zeros((0, 3)))
    dark = bake(lamp.placed, none, ground=False)
    assert dark.wall_light.lamp.max() == 0
    assert dark.ground is None


def test_parts_of_only_acrylic_bake_too():
    lamp = lamps.plates(lamps.OPAL)
    alone = bake([part for part in lamp.placed if not part.opaque], lamp.points)
    assert len(alone.walls.triangles) == 0
    assert alone.sheet_light.lamp.max() > 0


def test_stacking_opal_plates_dims_the_upper_ones():
    lamp = lamps.drum()
    baked = bake(lamp.placed, lamp.points)
    names = [part.name for part in baked.placed]
    glow = [
        baked.sheet_light.lamp[
            np.unique(baked.acrylic.corner[baked.acrylic.part == names.index(f"plate {k}")])
        ].mean()
        for k in range(1, 6)
    ]
    assert glow == sorted(glow, reverse=True)
