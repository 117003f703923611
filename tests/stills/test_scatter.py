import numpy as np
import pytest

from stackview.stills.scatter import scattered


def test_places_lie_within_the_pixel_and_apart():
    places = scattered(64)
    assert ((places >= 0.0) & (places < 1.0)).all()
    apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))[~np.eye(64, dtype=bool)]
    assert apart.min() > 0.05
    assert places.mean(axis=0) == pytest.approx(0.5, abs=0.02)


def test_each_step_is_that_of_the_plastic_number():
    # Its ratio g solves g³ = g + 1 (M. Roberts, 2018).
    across, down = (scattered(2)[1] - scattered(2)[0]) % 1.0
    assert (1 / across) ** 3 == pytest.approx(1 / across + 1.0)
    assert down == pytest.approx(across**2)
