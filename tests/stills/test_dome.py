import numpy as np
import pytest

from stackview.stills.dome import KEY, KEY_SPREAD, dome, hazed, hemisphere, key_rays, local_axes, mirrored


def test_hemisphere_has_the_moments_of_a_cosine_distribution():
    rays = hemisphere(256)
    assert np.linalg.norm(rays, axis=1) == pytest.approx(np.ones(256), abs=1e-6)
    assert rays[:, 2].min() > 0
    # Density cos θ/π: mean of cos θ 2/3, of x and y 0, of cos² θ 1/2.
    assert rays[:, 2].mean() == pytest.approx(2 / 3, abs=0.003)
    assert rays[:, :2].mean(axis=0) == pytest.approx([0, 0], abs=0.01)
    assert (rays[:, 2] ** 2).mean() == pytest.approx(1 / 2, abs=0.003)


def test_key_rays_fill_a_cone_about_the_large_light():
    rays = key_rays(64)
    tangent = np.tan(np.arccos(np.clip(rays @ KEY, -1, 1)))
    assert tangent.max() <= KEY_SPREAD + 1e-6
    assert tangent.max() > 0.95 * KEY_SPREAD
    mean = rays.mean(axis=0)
    assert mean / np.linalg.norm(mean) == pytest.approx(KEY, abs=0.01)


def test_local_axes_are_square_to_each_other_everywhere():
    normals = np.concatenate([hemisphere(200), -hemisphere(200), [[0, 0, 1], [0, 0, -1], [1, 0, 0]]]).astype(
        np.float32
    )
    first, second = local_axes(normals)
    for axis in (first, second):
        assert np.linalg.norm(axis, axis=1) == pytest.approx(np.ones(len(axis)), abs=1e-5)
        assert (axis * normals).sum(axis=1) == pytest.approx(np.zeros(len(axis)), abs=1e-5)
    assert np.cross(first, second) == pytest.approx(normals, abs=1e-5)


@pytest.mark.parametrize("light", [dome, mirrored, hazed])
def test_the_studio_is_bright_above_and_dark_nowhere(light):
    rays = np.concatenate([hemisphere(300), -hemisphere(300)])
    radiance = light(rays)
    assert radiance.min() > 0.2
    assert light(hemisphere(300)).mean() > light(-hemisphere(300)).mean()


def test_gloss_shows_the_large_light_more_sharply_than_satin():
    away = np.array([[0.62, 0.42, -0.66]], np.float32)
    towards = KEY[None]
    contrast = [light(towards).mean() / light(away).mean() for light in (dome, hazed, mirrored)]
    assert contrast[0] < contrast[1] < contrast[2]
