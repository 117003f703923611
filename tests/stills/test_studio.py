import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest

from stackview.sight.camera import frame, project
from stackview.stills import workers
from stackview.stills.mix import DAY, STUDIO, evening_mix
from stackview.stills.studio import shoot
from tests.stills import lamps
from tests.stills.baking import bake

SIZE = (320, 240)


@pytest.fixture(scope="module")
def gallows():
    lamp = lamps.gallows()
    return lamp, bake(lamp.placed, lamp.points)


def inside(camera, points, shrink=0.0):
    """Box of rows and columns that points fall into, drawn in by a share on every side."""
    at = project(camera, np.asarray(points, float))
    low, high = at.min(axis=0), at.max(axis=0)
    low, high = low + shrink * (high - low), high - shrink * (high - low)
    return slice(int(low[1]), int(high[1]) + 1), slice(int(low[0]), int(high[0]) + 1)


def region(picture, camera, part, shrink=0.3):
    return picture[inside(camera, part.solid.vertices, shrink)].astype(float)


def named(lamp, name):
    return next(part for part in lamp.placed if part.name == name)


def test_picture_has_the_size_asked_for_and_a_calm_backdrop(gallows):
    lamp, baked = gallows
    for size in (SIZE, (120, 300), (400, 90)):
        camera = frame(lamp.placed, size=size)
        picture = shoot(baked, camera)
        assert picture.shape == (size[1], size[0], 3)
        assert picture.dtype == np.uint8
        # Nothing of the lamp touches the frame: along it there are no jumps.
        for line in (picture[0], picture[:, 0], picture[:, -1]):
            assert np.abs(np.diff(line.astype(int), axis=0)).max() <= 6


def test_lamp_stands_out_and_its_lit_wood_is_warm(gallows):
    lamp, baked = gallows
    camera = frame(lamp.placed, size=SIZE)
    picture = shoot(baked, camera).astype(float)
    wood = region(picture, camera, named(lamp, "base"))
    red, green, blue = wood.mean(axis=(0, 1))
    assert red > green > blue
    corner = picture[:20, :20].mean(axis=(0, 1))
    assert np.ptp(corner) < 6


def test_light_points_show_as_spots_only_where_nothing_hides_them(gallows):
    lamp, baked = gallows
    camera = frame(lamp.placed, bearing=0, elevation=0, size=(640, 480))
    picture = shoot(baked, camera, mix=evening_mix(350.0)).astype(float)
    facing = lamp.points.directions[:, 1] < -0.7
    seen = project(camera, lamp.points.centres[facing]).astype(int)
    hidden = project(camera, lamp.points.centres[lamp.points.directions[:, 1] > 0.7]).astype(int)
    gaps = [np.hypot(*(at - seen).T).min() for at in hidden]
    assert min(picture[y, x].min() for x, y in seen) > 200
    apart = [at for at, gap in zip(hidden, gaps, strict=True) if gap > 12]
    assert apart
    assert max(picture[y, x].min() for x, y in apart) < 200


def test_evening_is_darker_than_day_and_the_studio_between(gallows):
    lamp, baked = gallows
    camera = frame(lamp.placed, size=SIZE)
    means = [shoot(baked, camera, mix=mix).mean() for mix in (evening_mix(350.0), STUDIO, DAY)]
    assert means == sorted(means)
    assert means[0] < 90 < means[2]


@pytest.mark.slow
def test_plates_are_brighter_when_the_lamp_is_on():
    for material, finish in ((lamps.OPAL, lamps.CLEAR.finish), (lamps.CLEAR, lamps.SANDED)):
        lamp = lamps.plates(material, finish)
        camera = frame(lamp.placed, elevation=35, size=SIZE)
        baked = bake(lamp.placed, lamp.points)
        lit, unlit = (
            region(
                shoot(baked, camera, mix=replace(evening_mix(350.0), lamp=on)), camera, named(lamp, "plate")
            ).mean()
            for on in (1.0, 0.0)
        )
        assert lit > unlit + 60


def test_clear_shows_what_lies_behind_sanded_blurs_it_and_opal_hides_it():
    # The base's grain is seen from above through the plate: the finer marks are left, the clearer.
    marks = []
    for material, finish in (
        (lamps.CLEAR, lamps.CLEAR.finish),
        (lamps.CLEAR, lamps.SANDED),
        (lamps.OPAL, lamps.CLEAR.finish),
    ):
        lamp = lamps.plates(material, finish)
        camera = frame(lamp.placed, elevation=80, size=(480, 480))
        picture = shoot(bake(lamp.placed, lamp.points), camera, mix=replace(DAY, lamp=0.0))
        tone = region(picture, camera, named(lamp, "plate"), 0.35)[:, :, 1]
        blocks = tone[: tone.shape[0] // 4 * 4, : tone.shape[1] // 4 * 4]
        blocks = blocks.reshape(blocks.shape[0] // 4, 4, -1, 4).mean(axis=(1, 3))
        marks.append(np.abs(np.diff(blocks, axis=0)).mean() + np.abs(np.diff(blocks, axis=1)).mean())
    assert marks[0] > 1.8 * marks[1]
    assert marks[1] > marks[2]


@pytest.mark.slow
def test_same_bytes_again_and_on_any_number_of_threads(monkeypatch):
    lamp = lamps.plates(lamps.CLEAR, lamps.SANDED)
    camera = frame(lamp.placed, size=SIZE)
    pictures = []
    for threads in (1, 2, 5):
        monkeypatch.setattr(workers, "MOST_THREADS", threads)
        pictures.append(shoot(bake(lamp.placed, lamp.points), camera).tobytes())
    assert pictures[0] == pictures[1] == pictures[2]


def test_no_black_dots_in_lit_wood(gallows):
    lamp, baked = gallows
    camera = frame(lamp.placed, elevation=60, size=(400, 400))
    lid = region(shoot(baked, camera), camera, named(lamp, "lid"), 0.3)[:, :, 1]
    # No pixel is much darker than all its eight neighbours.
    near = np.stack(
        [np.roll(np.roll(lid, dy, 0), dx, 1) for dy in (-1, 0, 1) for dx in (-1, 0, 1) if dx or dy]
    )
    inner = (slice(1, -1), slice(1, -1))
    assert (near.min(axis=0) - lid)[inner].max() < 30
    assert lid.min() > 60


@pytest.mark.parametrize(("bearing", "elevation"), [(0, 90), (200, -30), (123, -90), (35, 0)])
def test_any_view_gives_a_picture(gallows, bearing, elevation):
    lamp, baked = gallows
    picture = shoot(baked, frame(lamp.placed, bearing=bearing, elevation=elevation, size=(160, 120)))
    assert picture[50:70, 70:90].std() + picture.std() > 5


def test_one_pixel_is_a_picture_too(gallows):
    lamp, baked = gallows
    assert shoot(baked, frame(lamp.placed, size=(1, 1))).shape == (1, 1, 3)


def test_a_picture_needs_no_graphics_library():
    code = (
        "import sys\n"
        "from tests.stills import lamps\n"
        "from stackview.sight.camera import frame\n"
        "from tests.stills.baking import bake\n"
        "from stackview.stills.studio import shoot\n"
        "lamp = lamps.plates(lamps.CLEAR)\n"
        "shoot(bake(lamp.placed, lamp.points), frame(lamp.placed, size=(64, 48)))\n"
        "assert not {'vtk', 'vtkmodules', 'pyvista', 'OpenGL', 'matplotlib', 'scipy'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, env={"PYTHONPATH": ".", "PATH": ""})
