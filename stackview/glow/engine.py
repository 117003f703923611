"""The renderer: the only file that loads it. Scenes go in as arrays, pictures come out as arrays.

``llvm_ad_rgb`` makes machine code of a scene, and follows many ways of light at once; it is used only after it
has proved itself on the machine (:mod:`stackview.glow.proving`). ``scalar_rgb`` needs nothing beyond the wheel and
gives the same light, but takes ten times as long for sanded and opal faces.
"""

import os
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.errors import StackviewError
from stackview.glow.acrylic_faces import SANDED, SPREADING, taught
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Opal, Sanded, Skin
from stackview.light.colour import Colour
from stackview.sight.camera import Camera, rays, starts
from stackview.sight.refraction import INDEX

STEADY = "scalar_rgb"
FAST = "llvm_ad_rgb"
_DEEPEST = 100
"""Most surfaces on one way of light: 8 would lose 14 % in a lamp with clear plates, 24 a fifth in Kelp's opal."""
_ROULETTE = 5
"""Ways of light are ended by chance after so many surfaces, without bias."""
_BLOCK, _SMALL_BLOCK = 32, 8
"""Side of the squares that a picture, or a window of it, is worked through in, each with chance of its own [px]."""
_TOGETHER = 1 << 19
"""Ways of light that the faster variant follows at once, at most."""
LIBRARY = "DRJIT_LIBLLVM_PATH"
"""Environment variable that names the LLVM library to use; without it the one installed as a package, or any found."""


class GlowMissingError(StackviewError):
    """The renderer is not installed."""


@dataclass(frozen=True, slots=True, eq=False)
class Built:
    """A scene made ready for rendering by one variant."""

    scene: Any
    variant: str


@cache
def _library() -> Any:
    packaged = packaged_llvm()
    if packaged is not None and "drjit" not in sys.modules:
        os.environ.setdefault(LIBRARY, str(packaged))
    try:
        import mitsuba
    except ImportError as error:
        raise GlowMissingError(
            "glow needs the renderer, which is an extra: install it in the folder of "
            "stackview's pyproject.toml: pip install -c requirements.lock -e '.[glow]'"
        ) from error
    return mitsuba


def _using(variant: str) -> Any:
    library = _library()
    if library.variant() != variant:
        library.set_variant(variant)
        taught(library, variant)
        library.set_log_level(library.LogLevel.Error)
        # It writes progress to the screen by itself, and a library must not.
        library.logger().clear_appenders()
    return library


def packaged_llvm() -> Path | None:
    """The LLVM library that was installed as a Python package into this environment, if there is one."""
    return max((Path(sys.prefix) / "lib").glob("libLLVM.so*"), default=None)


def came_first() -> bool:
    """Whether the renderer was loaded before it could be told of the packaged LLVM library, and so has another one."""
    return packaged_llvm() is not None and LIBRARY not in os.environ and "drjit" in sys.modules


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
    # One for all bodies alike: machine code is made for each.
    bodies = [body for body in (*scene.bodies, *room.bodies) if len(body.triangles)]
    faces = {skin: library.load_dict(_bsdf(skin)) for skin in dict.fromkeys(body.skin for body in bodies)}
    for index, body in enumerate(bodies):
        parts[f"body{index}"] = _mesh(library, body, faces[body.skin])
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
    if built_scene.variant == FAST:
        wide, tall = camera.size
        down, across = window if window is not None else (slice(0, tall), slice(0, wide))
        row, column = np.mgrid[down.start : down.stop, across.start : across.stop]
        found = seen_at(
            built_scene, camera, row.ravel(), column.ravel(), samples, seed, lights_shown=lights_shown
        )
        return np.asarray(found[0].reshape(*row.shape, 3), np.float32)
    # Left to itself it goes by the number of threads, and so would every way of light.
    ways = _ways(lights_shown) | {"block_size": _BLOCK if window is None else _SMALL_BLOCK}
    return _render(library, built_scene, _camera(library, camera, samples, window), ways, seed)


def _ways(lights_shown: bool) -> dict[str, Any]:
    return {
        "type": "path",
        "max_depth": _DEEPEST,
        "rr_depth": _ROULETTE,
        "hide_emitters": not lights_shown,
    }


def seen_at(
    built_scene: Built,
    camera: Camera,
    rows: Whole,
    columns: Whole,
    samples: int | Whole,
    seed: int,
    *,
    groups: int = 1,
    lights_shown: bool = True,
) -> Singles:
    """Luminance by channel (groups, n, 3) [cd/m²] in pixels (n,), means of ``samples`` ways through each in each group.

    ``samples`` may differ from pixel to pixel (n,). All ways of all pixels are followed together, which only the faster
    variant is quick at.
    """
    chance = np.random.Generator(np.random.SFC64([seed, 3]))
    each = np.repeat(np.broadcast_to(samples, rows.shape), groups).astype(np.int64)
    found = np.empty((len(each), 3), np.float32)
    upto = np.cumsum(each)
    start = number = 0
    while start < len(each):
        before = int(upto[start - 1]) if start else 0
        stop = max(int(np.searchsorted(upto, before + _TOGETHER, side="right")), start + 1)
        cells = np.repeat(np.arange(start, stop), each[start:stop])
        row, column = rows[cells // groups], columns[cells // groups]
        across, down = column + chance.random(len(row)), row + chance.random(len(row))
        at, along = starts(camera, across, down), rays(camera, across, down)
        light = seen_along(built_scene, at, along, seed * 65_537 + number, lights_shown=lights_shown)
        sums = np.add.reduceat(light, np.r_[0, upto[start : stop - 1] - before], axis=0)
        found[start:stop] = sums / each[start:stop, None]
        start, number = stop, number + 1
    return np.ascontiguousarray(found.reshape(len(rows), groups, 3).swapaxes(0, 1))


def seen_along(
    built_scene: Built, at: Singles, along: Singles, seed: int, *, lights_shown: bool = True
) -> Singles:
    """Luminance by channel (n, 3) [cd/m²] that comes against unit directions (n, 3) to places (n, 3) [mm].

    One way of light for each: a sample, right on the mean.
    """
    library = _using(built_scene.variant)
    ways = library.load_dict(_ways(lights_shown))
    sampler = library.load_dict({"type": "independent"})
    if built_scene.variant == FAST:
        sampler.seed(seed % 2**32, len(at))
        places, directions = (np.ascontiguousarray(array.T, np.float32) for array in (at, along))
        ray = library.RayDifferential3f(library.Point3f(places), library.Vector3f(directions))
        return np.array(ways.sample(built_scene.scene, sampler, ray)[0], np.float32).T
    sampler.seed(seed % 2**32)
    pairs = zip(at.tolist(), along.tolist(), strict=True)
    light = [
        ways.sample(built_scene.scene, sampler, library.RayDifferential3f(place, way))[0]
        for place, way in pairs
    ]
    return np.array(light, np.float32).reshape(-1, 3)


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


def _mesh(library: Any, body: SkinFaces, faces: Any) -> Any:
    properties = library.Properties()
    properties["bsdf"] = faces
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
            return {"type": SANDED, "alpha": roughness}
        case Opal():
            return _opal(skin)
        case _:
            assert_never(skin)


def _opal(skin: Opal) -> dict[str, Any]:
    opaque = 1.0 - skin.straight
    least = max(opaque, 1e-6)
    scattering = {"type": SPREADING, "back": skin.reflectance / least, "through": skin.transmittance / least}
    if skin.straight <= 0.0:
        return scattering
    return {"type": "mask", "opacity": opaque, "nested": scattering}
