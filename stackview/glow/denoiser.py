"""Noise taken out of rendered pictures: the only file that loads the denoiser, which is an extra too."""

from functools import cache
from typing import Any

import numpy as np

from stackview.arrays import Singles

_DENOISER_MEMORY = 500
"""What the denoiser may take for itself [MB]; left to itself it takes 2 GB for a large picture."""


def denoised(picture: Singles, albedo: Singles, normals: Singles) -> Singles:
    """The picture (h, w, 3) with its noise taken out, guided by clean albedo and normals (h, w, 3).

    The picture itself where the denoiser is not installed.
    """
    try:
        import mitsuba_oidn  # noqa: F401
    except ImportError:
        return picture
    result = np.empty(picture.shape, np.float32)
    inputs = [np.ascontiguousarray(image, np.float32) for image in (picture, albedo, normals)]
    sieve = _processor().new_filter("RT")
    for name, image in zip(("color", "albedo", "normal", "output"), (*inputs, result), strict=True):
        sieve.set_image(name, image)
    sieve.hdr = sieve.clean_aux = True
    # A large picture is worked through in overlapping pieces, with the same result.
    sieve.max_memory_mb = _DENOISER_MEMORY
    sieve.execute()
    return result


@cache
def _processor() -> Any:
    # The processor's own device: what a graphics card gives may differ from one to the next.
    import mitsuba_oidn

    device = mitsuba_oidn.Device(mitsuba_oidn.DeviceType.CPU)
    device.commit()
    return device
