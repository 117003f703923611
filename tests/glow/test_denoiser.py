import numpy as np
import pytest

pytest.importorskip("mitsuba_oidn")

from stackview.glow.denoiser import denoised


def test_denoising_keeps_the_light_and_takes_the_noise() -> None:
    rng = np.random.default_rng(4)
    clean = np.full((48, 64, 3), 10.0, np.float32)
    noisy = (clean * rng.exponential(1.0, clean.shape)).astype(np.float32)
    normals = np.zeros_like(clean)
    normals[..., 2] = 1.0
    found = denoised(noisy, np.full_like(clean, 0.5), normals)
    assert found.shape == clean.shape
    assert float(found.mean()) == pytest.approx(10.0, rel=0.05)
    assert float(found.std()) < 0.2 * float(noisy.std())
    assert (found == denoised(noisy, np.full_like(clean, 0.5), normals)).all()
