"""The renderer: the only file that loads it. Scenes go in as arrays, pictures come out as arrays.

``scalar_rgb`` is the variant for all that is published: it needs nothing beyond the wheel, and the
same seed gives the same bits on any number of threads. A faster one is used only after it has
proved itself (:mod:`stackview.glow.proving`).
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from functools import cache
from typing import Any, assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.errors import StackviewError
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Opal, Sanded, Skin
from stackview.light.colour import Colour
from stackview.sight.camera import Camera
from stackview.sight.refraction import INDEX

STEADY = "scalar_rgb"
FAST = "llvm_ad_rgb"
_DEEPEST = 24
"""Most surfaces on one way of light; 8 would lose 14 % in a lamp with clear plates."""
_ROULETTE = 5
"""Ways of light are ended by chance after so many surfaces, without bias."""
_BLOCK, _SMALL_BLOCK = 32, 8
"""Side of the squares that a picture, or a window of it, is worked through in, each with chance of its own [px]."""
# What GGX micro-facets lose to light that strikes them twice is given back: factors on reflected and
# transmitted light by roughness, fitted so that a sanded plate in an even field of light keeps it
# (0.95 to 1.03 up to roughness 0.3, seen from 15° to 90°).
_ROUGH = (0.0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6)
_GIVE_BACK_REFLECTED = (1.0, 1.02, 1.057, 1.112, 1.192, 1.295, 1.405, 1.68, 2.01, 2.38)
_GIVE_BACK_PASSED = (1.0, 1.0, 1.002, 1.005, 1.006, 1.012, 1.021, 1.035, 1.065, 1.09)

_DENOISER_MEMORY = 500
"""What the denoiser may take for itself [MB]; left to itself it takes 2 GB for a large picture."""


class GlowMissingError(StackviewError):
    """The renderer is not installed."""


@dataclass(frozen=True, slots=True, eq=False)
class Built:
    """A scene made ready for rendering by one variant."""

    scene: Any
    variant: str


@cache
def _library() -> Any:
    try:
        import mitsuba
    except ImportError as error:
        raise GlowMissingError(
            "glow needs the renderer, which is an extra: install it with  pip install 'stackview[glow]'"
        ) from error
    return mitsuba


def _using(variant: str) -> Any:
    library = _library()
    if library.variant() != variant:
        library.set_variant(variant)
        library.set_log_level(library.LogLevel.Error)
        # It writes progress to the screen by itself, and a library must not.
        library.logger().clear_appenders()
    return library


def require() -> None:
    """Raise GlowMissingError, with the one line that helps, where the renderer is not installed."""
    _library()


def built(scene: GlowScene, room: Room, variant: str = STEADY) -> Built:
    """Make a lamp in a room ready for rendering.

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    library = _using(variant)
    parts: dict[str, Any] = {"type": "scene"}
    for index, body in enumerate((*scene.bodies, *room.bodies)):
        if len(body.triangles):
            parts[f"body{index}"] = _mesh(library, body)
    for index, light in enumerate(scene.lights):
        parts[f"light{index}"] = _light(library, light)
    if room.around is not None:
        # A copy: the renderer refuses an array that is read-only.
        image = library.Bitmap(np.array(room.around, np.float32, order="C"))
        # Its middle column is towards −y, the front; its top row is the zenith.
        turn = library.ScalarTransform4f().rotate([1, 0, 0], 90.0)
        parts["around"] = {"type": "envmap", "bitmap": image, "to_world": turn}
    elif any(room.even):
        parts["around"] = {"type": "constant", "radiance": _rgb(room.even)}
    return Built(library.load_dict(parts), variant)


def photographed(
    built_scene: Built,
    camera: Camera,
    samples: int,
    seed: int,
    *,
    lights_shown: bool = True,
    window: tuple[slice, slice] | None = None,
) -> Singles:
    """Luminance by channel (h, w, 3) [cd/m²] that a camera sees, from ``samples`` ways through each pixel.

    Its luminance is the sum weighted by :data:`stackview.light.colour.LUMINANCE`. Every pixel is
    the mean of its own samples (box filter), without bias. ``lights_shown`` False leaves out light
    points that are seen straight through air. ``window`` renders these rows and columns alone.
    """
    library = _using(built_scene.variant)
    ways = {
        "type": "path",
        "max_depth": _DEEPEST,
        "rr_depth": _ROULETTE,
        "hide_emitters": not lights_shown,
        # Left to itself it goes by the number of threads, and so would every way of light.
        "block_size": _BLOCK if window is None else _SMALL_BLOCK,
    }
    return _render(library, built_scene, _camera(library, camera, samples, window), ways, seed)


def thrown(
    built_scene: Built, cameras: Sequence[Camera], photons: int, depth: int, seed: int
) -> tuple[Singles, ...]:
    """Luminance (h, w, 3) of matt surfaces as each camera sees them, from light followed forwards.

    ``photons`` ways start at the lamp's light points for each camera; only matt surfaces show.
    """
    library = _using(built_scene.variant)
    pictures = []
    steady = built_scene.variant == STEADY
    for number, camera in enumerate(cameras):
        samples = max(1, round(photons / (camera.size[0] * camera.size[1])))
        ways = {"type": "ptracer", "max_depth": depth, "rr_depth": 2}
        view = _camera(library, camera, samples)
        with _one_thread() if steady else nullcontext():
            pictures.append(_render(library, built_scene, view, ways, seed * 64 + number))
    return tuple(pictures)


@contextmanager
def _one_thread() -> Iterator[None]:
    """Ways followed forwards are shared out, and added up, by the number of threads: the bits go by it."""
    import drjit

    before = drjit.thread_count()
    drjit.set_thread_count(1)
    try:
        yield
    finally:
        drjit.set_thread_count(before)


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


def _render(library: Any, built_scene: Built, sensor: Any, ways: dict[str, Any], seed: int) -> Singles:
    image = library.render(
        built_scene.scene, sensor=sensor, integrator=library.load_dict(ways), seed=seed % 2**32
    )
    return np.array(image, np.float32)


def _camera(library: Any, camera: Camera, samples: int, window: tuple[slice, slice] | None = None) -> Any:
    width, height = camera.size
    _, up, away = camera.axes
    eye = camera.eye
    film = {
        "type": "hdrfilm",
        "width": width,
        "height": height,
        "rfilter": {"type": "box"},
        "pixel_format": "rgb",
        "component_format": "float32",
    }
    if window is not None:
        rows, columns = window
        film |= {
            "crop_offset_x": columns.start,
            "crop_offset_y": rows.start,
            "crop_width": columns.stop - columns.start,
            "crop_height": rows.stop - rows.start,
        }
    place = library.ScalarTransform4f().look_at(
        origin=list(eye), target=list(eye + away * max(camera.distance, 1.0)), up=list(up)
    )
    view = {
        "near_clip": 1.0,
        "far_clip": 1e8,
        "film": film,
        "sampler": {"type": "independent", "sample_count": samples},
    }
    if camera.parallel:
        half = width / camera.scale / 2.0
        view |= {
            "type": "orthographic",
            "to_world": place @ library.ScalarTransform4f().scale([half, half, 1]),
        }
    else:
        view |= {"type": "perspective", "to_world": place, "fov": camera.field_of_view, "fov_axis": "y"}
    return library.load_dict(view)


def _rgb(colour: Colour) -> dict[str, Any]:
    return {"type": "rgb", "value": [float(channel) for channel in colour]}


def _mesh(library: Any, body: SkinFaces) -> Any:
    properties = library.Properties()
    properties["bsdf"] = library.load_dict(_bsdf(body.skin))
    return _filled(library, body.name, body.vertices, body.triangles, properties, body.normals)


def _light(library: Any, light: Shining) -> Any:
    properties = library.Properties()
    properties["face_normals"] = True
    properties["bsdf"] = library.load_dict(_bsdf(Matt(light.reflectance)))
    # A spectrum that may exceed one, which reflectances may not.
    radiance = {"type": "area", "radiance": _rgb(light.luminance)}
    properties["emitter"] = library.load_dict(radiance)
    return _filled(library, "light", light.vertices, light.triangles, properties, None)


def _filled(
    library: Any,
    name: str,
    vertices: NDArray[np.float64],
    triangles: NDArray[np.int64],
    properties: Any,
    normals: NDArray[np.float64] | None,
) -> Any:
    mesh = library.Mesh(
        name, len(vertices), len(triangles), properties, has_vertex_normals=normals is not None
    )
    values = library.traverse(mesh)
    values["vertex_positions"] = np.ascontiguousarray(vertices, np.float32).ravel()
    values["faces"] = np.ascontiguousarray(triangles, np.uint32).ravel()
    if normals is not None:
        values["vertex_normals"] = np.ascontiguousarray(normals, np.float32).ravel()
    values.update()
    return mesh


def _bsdf(skin: Skin) -> dict[str, Any]:
    match skin:
        case Matt(reflectance):
            return {"type": "twosided", "bsdf": {"type": "diffuse", "reflectance": _rgb(reflectance)}}
        case Metal(reflectance, roughness):
            return {
                "type": "twosided",
                "bsdf": {
                    "type": "roughconductor",
                    "material": "none",
                    "distribution": "ggx",
                    "alpha": roughness,
                    "specular_reflectance": _rgb(reflectance),
                },
            }
        case Mirror(reflectance):
            bare = {"type": "conductor", "material": "none", "specular_reflectance": _rgb(reflectance)}
            return {"type": "twosided", "bsdf": bare}
        case Clear():
            return {"type": "dielectric", "int_ior": INDEX, "ext_ior": 1.0}
        case Sanded(roughness):
            return _sanded(roughness)
        case Opal():
            return _opal(skin)
        case _:
            assert_never(skin)


def _sanded(roughness: float) -> dict[str, Any]:
    back = float(np.interp(roughness, _ROUGH, _GIVE_BACK_REFLECTED))
    passed = float(np.interp(roughness, _ROUGH, _GIVE_BACK_PASSED))
    return {
        "type": "roughdielectric",
        "distribution": "ggx",
        "alpha": roughness,
        "int_ior": INDEX,
        "ext_ior": 1.0,
        "specular_reflectance": {"type": "uniform", "value": back},
        "specular_transmittance": {"type": "uniform", "value": passed},
    }


def _opal(skin: Opal) -> dict[str, Any]:
    opaque = 1.0 - skin.straight
    spread = skin.transmittance + skin.reflectance
    scattering = {
        "type": "principledthin",
        "base_color": _rgb((min(spread / max(opaque, 1e-6), 1.0),) * 3),
        "spec_trans": 0.0,
        # 0 reflects all, 2 passes all.
        "diff_trans": 2.0 * skin.transmittance / max(spread, 1e-6),
        "roughness": 0.5,
        "flatness": 0.0,
    }
    if skin.straight <= 0.0:
        return scattering
    return {"type": "mask", "opacity": opaque, "nested": scattering}
