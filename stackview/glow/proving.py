"""Whether the renderer's faster variant may be used on this machine.

The faster variant turns a scene into machine code with the system's LLVM library. With some
versions of that library it ends the whole process, or gives nothing at all, so it renders a small
scene with every kind of surface in a process of its own first, and its luminances must be those
of the steady variant, or what is known of them. The verdict is kept on disk until the renderer or an LLVM library changes.
"""

import glob
import hashlib
import json
import os
import platform
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.cache_place import cache_folder, opened_entry
from stackview.glow import engine
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Sanded, Skin, opal_layer
from stackview.in_figures import percent
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera

SECONDS = 60.0
"""A trial that takes longer has failed; at rest it takes about two."""
_TOLERANCE = 0.06
"""Largest difference of any part of the trial's picture, as a share; its noise is 1 % (standard deviation)."""
_MEAN_TOLERANCE = 0.02
"""Largest difference of the trial's mean luminance, as a share."""
QUICK: tuple[Skin, ...] = (
    Clear(),
    Matt((0.5, 0.4, 0.3)),
    Metal((0.8, 0.7, 0.5)),
    Mirror((0.9, 0.9, 0.9)),
)
"""One of each kind that both variants are quick at."""
LOSSLESS: tuple[Skin, ...] = (Sanded(0.3), opal_layer(0.5, 0.8), opal_layer(0.5, 1.0))
"""One of each other kind: in light that comes evenly from all round, what absorbs nothing looks like the light."""
_EVEN = 9.0
# Where LLVM libraries lie on Debian, on Fedora, and on macOS; from memory.
_PLACES = (
    "/usr/lib/*/libLLVM*",
    "/usr/lib/libLLVM*",
    "/usr/lib64/libLLVM*",
    "/usr/lib/llvm*/lib/libLLVM*.so*",
    "/opt/homebrew/opt/llvm*/lib/libLLVM*",
    "/usr/local/opt/llvm*/lib/libLLVM*",
)
_CHILD = """
import json, sys
try:
    import resource
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
except (ImportError, ValueError, OSError):
    pass
from stackview.glow.engine import FAST, STEADY
from stackview.glow.proving import trial
json.dump([trial(STEADY), trial(FAST)], sys.stdout)
"""
_LONGEST = 4096
_ADDRESS = re.compile(r"\b0x[0-9a-f]+\b:? ?")


@dataclass(frozen=True, slots=True)
class Variant:
    """A variant of the renderer, and in one line why it was chosen."""

    name: str
    why: str

    @property
    def fast(self) -> bool:
        """Whether it is the faster one."""
        return self.name == engine.FAST


def best_variant() -> Variant:
    """The variant to render with: the faster one where it has proved itself on this machine.

    The first time this takes some seconds; the verdict is kept in the cache folder. Never raises
    for anything that an LLVM library does.

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    if engine.came_first():
        return _steady(
            f"the renderer was loaded before stackview could name its LLVM library; set {engine.LIBRARY}"
        )
    engine.require()
    folder = cache_folder()
    file = None if folder is None else folder / f"variant-{fingerprint()}.json"
    found = None if file is None else _kept(file)
    if found is None:
        found = proved((sys.executable, "-P", "-c", _CHILD), SECONDS)
        if file is not None:
            _keep(file, found)
    return found


def proved(command: Sequence[str], seconds: float) -> Variant:
    """The variant that a trial in a process of its own allows.

    ``command`` must print two lists of luminances as JSON, the steady variant's and the faster
    one's, within ``seconds``, and end well.
    """
    try:
        done = subprocess.run(
            command, capture_output=True, timeout=seconds, check=False, stdin=subprocess.DEVNULL
        )
    except subprocess.TimeoutExpired:
        return _steady(f"its trial took longer than {seconds:g} s")
    except OSError as error:
        return _steady(f"its trial could not be started ({error.strerror or error})")
    if done.returncode != 0:
        return _steady(_death(done.returncode, done.stderr.decode(errors="replace")))
    try:
        steady, fast = (np.array(values, dtype=np.float64) for values in json.loads(done.stdout))
    except (ValueError, TypeError):
        return _steady("its trial gave no luminances")
    return judged(steady, fast)


def judged(steady: NDArray[np.float64], fast: NDArray[np.float64]) -> Variant:
    """The variant that two lists of luminances (n,) of the same picture allow."""
    if steady.ndim != 1 or len(steady) == 0 or steady.shape != fast.shape:
        return _steady("its trial gave another number of luminances")
    if not (np.isfinite(steady).all() and np.isfinite(fast).all()) or not (steady > 0).all():
        return _steady("its trial gave luminances that are not numbers above 0")
    worst = float(np.abs(fast / steady - 1.0).max())
    mean = abs(float(fast.sum() / steady.sum()) - 1.0)
    if worst > _TOLERANCE or mean > _MEAN_TOLERANCE:
        return _steady(f"its trial was {percent(worst)} off the steady variant")
    return Variant(
        engine.FAST, f"the faster variant: its trial was within {percent(worst, 1)} of the steady one's"
    )


def _steady(reason: str) -> Variant:
    return Variant(engine.STEADY, f"the steady variant, not the faster one: {reason}")


def _death(code: int, words: str) -> str:
    """What ended a trial, in one line: its own last error, or the signal that killed it."""
    lines = [line.strip() for line in words.splitlines() if line.strip()]
    told = next((line for line in lines if line.startswith("LLVM ERROR")), "")
    if not told and lines and code > 0:
        told = lines[-1]
    # Addresses tell a maker nothing.
    told = _ADDRESS.sub("", told).strip(" ,")
    told = told if len(told) <= 160 else told[:159] + "…"
    ended = f"signal {-code} ended its trial" if code < 0 else f"its trial ended with code {code}"
    return f"{ended} ({told})" if told else ended


def trial(variant: str) -> list[float]:
    """Luminances of the trial's picture, part by part [cd/m²], and of lossless plates in even light.

    Of these the steady variant is not asked: they are known. May end the whole process for a variant that
    does not work here.
    """
    camera = Camera(20.0, 40.0, 420.0, (0.0, 0.0, 8.0), 24.0, (28, 12))
    picture = engine.photographed(engine.built(_scene(), Room(around=_sky()), variant), camera, 512, 1)
    parts = (picture @ LUMINANCE).reshape(3, 4, 7, 4).mean(axis=(1, 3)).ravel()
    known = [_EVEN if variant == engine.STEADY else _in_even_light(skin, variant) for skin in LOSSLESS]
    return [float(value) for value in (*parts, *known)]


def _in_even_light(skin: Skin, variant: str) -> float:
    plate = GlowScene((_box(skin, (-50.0, -50.0, 0.0), (50.0, 50.0, 4.0)),), (), ())
    camera = Camera(20.0, 50.0, 420.0, (0.0, 0.0, 4.0), 0.5, (16, 16))
    picture = engine.photographed(
        engine.built(plate, Room(even=(_EVEN, _EVEN, _EVEN)), variant), camera, 64, 1
    )
    return float((picture @ LUMINANCE).mean())


def _scene() -> GlowScene:
    """Plates of plain skins in a row on a matt floor, under one light."""
    plates = [
        _box(skin, (22.0 * k - 42.0, -12.0, 2.0), (22.0 * k - 24.0, 12.0, 6.0))
        for k, skin in enumerate(QUICK)
    ]
    floor = _box(Matt((0.4, 0.4, 0.4)), (-200.0, -200.0, -5.0), (200.0, 200.0, 0.0))
    places = np.array([[-60.0, 20.0, 60.0], [-60.0, 60.0, 60.0], [60.0, 60.0, 60.0], [60.0, 20.0, 60.0]])
    light = Shining(places, np.array([[0, 1, 2], [0, 2, 3]]), (200.0, 160.0, 90.0))
    return GlowScene((*plates, floor), (light,), ())


def _box(skin: Skin, low: tuple[float, ...], high: tuple[float, ...]) -> SkinFaces:
    """A box between two corners [mm], four vertices a side."""
    ends = np.array([low, high])
    vertices, normals = [], []
    for axis in range(3):
        for way in (0, 1):
            one, other = (axis + 1) % 3, (axis + 2) % 3
            corners = np.empty((4, 3))
            corners[:, axis] = ends[way, axis]
            corners[:, one] = ends[[0, 1, 1, 0] if way else [0, 0, 1, 1], one]
            corners[:, other] = ends[[0, 0, 1, 1] if way else [0, 1, 1, 0], other]
            normal = np.zeros(3)
            normal[axis] = 2 * way - 1
            vertices.append(corners)
            normals.append(np.tile(normal, (4, 1)))
    first = 4 * np.arange(6)[:, None]
    triangles = np.concatenate([first + np.array([0, 1, 2]), first + np.array([0, 2, 3])])
    return SkinFaces("trial", -1, skin, np.concatenate(vertices), np.concatenate(normals), triangles)


def _sky() -> NDArray[np.float32]:
    """Light from all round, brighter above: (8, 16, 3) [cd/m²]."""
    levels = np.linspace(60.0, 20.0, 8, dtype=np.float32)
    return np.ascontiguousarray(np.broadcast_to(levels[:, None, None], (8, 16, 3)))


def fingerprint() -> str:
    """Changes with the renderer, the machine, and every LLVM library that may be loaded; 32 hexadecimal digits."""
    found = hashlib.sha256()
    for thing in (*_versions(), platform.node(), platform.machine(), *_libraries()):
        found.update(f"{len(thing)}|{thing}".encode())
    return found.hexdigest()[:32]


def _versions() -> Iterator[str]:
    for name in ("stackview", "mitsuba", "drjit"):
        try:
            yield f"{name} {version(name)}"
        except PackageNotFoundError:
            yield name


def _libraries() -> Iterator[str]:
    """Path, size and time of the library that the environment names, or is installed, or else all that may be found."""
    packaged = engine.packaged_llvm()
    named = os.environ.get(engine.LIBRARY) or (None if packaged is None else str(packaged))
    yield named or ""
    yield os.environ.get("LD_LIBRARY_PATH", "")
    paths = [named] if named else sorted(path for place in _PLACES for path in glob.glob(place))  # noqa: PTH207
    for path in paths:
        try:
            state = Path(path).stat()
        except OSError:
            continue
        yield f"{path} {state.st_size} {state.st_mtime_ns}"


def _kept(file: Path) -> Variant | None:
    """A verdict kept before; None where there is none that is whole."""
    try:
        with opened_entry(file, _LONGEST) as opened:
            held = json.load(opened)
        name, why = held["name"], held["why"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if name not in (engine.STEADY, engine.FAST) or not isinstance(why, str) or "\n" in why:
        return None
    return Variant(name, why)


def _keep(file: Path, found: Variant) -> None:
    """Write a verdict beside its place and rename it; where that is not possible, do nothing."""
    text = json.dumps({"name": found.name, "why": found.why})
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, prefix="variant-", suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as opened:
                opened.write(text)
            Path(name).replace(file)
        except OSError:
            Path(name).unlink(missing_ok=True)
