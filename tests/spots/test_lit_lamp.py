"""A lamp made ready once: all that shines in it, and as far as it reaches without its cord."""

import numpy as np
import pytest

from stackview.description.lamp_file import LampFile
from stackview.spots.lit_lamp import lit_lamp
from stackview.study import Study
from tests.change.spotty import LAMP

HANGS = (
    LAMP.replace("SORT", "opal")
    .replace(
        "surface = { height = 700 }",
        'pendant = { underside = 1500 }\ncord = { diameter = 6, length = "1 m" }',
    )
    .replace("height = 1200", "height = 1600")
)


def test_what_shines_is_there_and_the_cord_does_not_count() -> None:
    study = Study(LampFile.from_text(HANGS))
    lamp = lit_lamp(study.stack, study.light)
    assert lamp.emitters.centres.shape == (3, 3)
    # Each of three light points gives 20 lm: π times its axial luminance over its face, as a Lambertian one does.
    flux = np.pi * lamp.emitters.luminance * lamp.emitters.area * 1e-6
    assert flux == pytest.approx([20.0] * 3, rel=0.02)
    low, high = lamp.corners.min(axis=0), lamp.corners.max(axis=0)
    assert high - low == pytest.approx((120.0, 120.0, 14.8 + 14.8 + 3.8), abs=0.01)
    assert "LitLamp" in repr(lamp)
