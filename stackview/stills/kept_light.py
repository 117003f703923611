"""Baked light kept on disk: a second picture of the same lamp does not bake again.

Each entry is a NumPy archive without pickled objects, named by the hash of everything that its
light depends on. It is written beside its place and renamed. Nothing here is ever an error: an
entry that is broken or of another kind is worked out anew, and a folder that cannot be written
to keeps nothing.
"""

import hashlib
import os
import tempfile
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import numpy as np
from numpy.typing import NDArray

from stackview.cache_place import cache_folder, opened_entry
from stackview.stills.bake import Baked, LitMeshes, light_of, put_together
from stackview.stills.exchange import CornerLight
from stackview.stills.grid import GRID_CELLS
from stackview.stills.ground import Ground
from stackview.stills.refine import Facets
from stackview.stills.setting import Setting

_MOST_BYTES = 300_000_000
"""Oldest entries go when the folder holds more than this."""
_CLOCKS_APART = 60_000_000_000
"""How far the clocks of a disk and of this machine may be apart [ns]."""
_ABANDONED = 3_600_000_000_000
"""A file beside its place that is older is nobody's any more [ns]."""
IN_MEMORY = 2
"""Lamps with their light that one process holds ready."""
CODE = (
    "bake", "coloured_mesh", "dome", "emitters", "exchange", "gather", "grid", "ground",
    "panes", "refine", "sheets", "thin_walls", "workers",
    "../light/beam", "../light/colour", "../solids/rays", "../solids/smooth",
)  # fmt: skip
"""Files whose text the light depends on, as seen from this package."""

_ready: "OrderedDict[str, Baked]" = OrderedDict()
_lock = threading.Lock()


def baked(setting: Setting) -> Baked:
    """The setting with its light: from memory, from disk, or baked now and kept."""
    key = key_of(setting)
    with _lock:
        if key in _ready:
            _ready.move_to_end(key)
            return _ready[key]
    folder = cache_folder()
    lit = _load(folder, key, setting) if folder is not None else None
    if lit is None:
        lit = light_of(setting.placed, setting.points, setting.ribbons, ground=setting.ground)
        if folder is not None:
            _keep(folder, key, lit)
    made = put_together(setting.placed, setting.points, setting.ribbons, lit)
    with _lock:
        _ready[key] = made
        while len(_ready) > IN_MEMORY:
            _ready.popitem(last=False)
    return made


def key_of(setting: Setting) -> str:
    """Hash of all that the light and the picture's parts are made from, in 64 hexadecimal digits."""
    found = hashlib.sha256(code_version().encode())
    for thing in _ingredients(setting):
        if isinstance(thing, np.ndarray):
            found.update(f"|{thing.dtype.str}{thing.shape}|".encode())
            found.update(np.ascontiguousarray(thing).tobytes())
        else:
            text = repr(thing).encode()
            found.update(f"|{len(text)}|".encode() + text)
    return found.hexdigest()


def _ingredients(setting: Setting) -> Iterator[Any]:
    yield setting.ground
    for part in setting.placed:
        yield (part.name, part.role, part.underside, part.top, part.turn, part.grain)
        yield from (part.material, part.finish)
        yield from (part.solid.vertices, part.solid.triangles, part.solid.faces)
    for field in fields(setting.points):
        yield getattr(setting.points, field.name)
    for ribbon in setting.ribbons:
        yield from (ribbon.vertices, ribbon.triangles, ribbon.colour)


@cache
def code_version() -> str:
    """Hash of the code that bakes and of the libraries under it."""
    from importlib.metadata import PackageNotFoundError, version

    found = hashlib.sha256()
    for name in CODE:
        file = Path(__file__).parent / f"{name}.py"
        try:
            found.update(file.read_bytes())
        except OSError:
            found.update(name.encode())
    for library in ("stackview", "numpy", "embreex"):
        try:
            found.update(f"{library} {version(library)}".encode())
        except PackageNotFoundError:
            found.update(library.encode())
    return found.hexdigest()


def _file(folder: Path, key: str) -> Path:
    return folder / f"light-{key}.npz"


_FACETS = tuple(field.name for field in fields(Facets))


def _keep(folder: Path, key: str, lit: LitMeshes) -> None:
    """Write an entry and let the oldest go; where that is not possible, do nothing."""
    arrays: dict[str, NDArray[Any]] = {"key": np.array(key)}
    for name, mesh, light in (("walls", lit.walls, lit.wall_light), ("sheets", lit.acrylic, lit.sheet_light)):
        for part in _FACETS:
            values = getattr(mesh, part)
            arrays[f"{name}.{part}"] = values.astype(np.int32) if values.dtype == np.int64 else values
        arrays[f"{name}.sky"], arrays[f"{name}.lamp"] = light.sky, light.lamp
    if lit.ground is not None:
        arrays |= {"ground.sky": lit.ground.sky, "ground.lamp": lit.ground.lamp}
        arrays["ground.reach"] = np.array(lit.ground.reach)
    beside: Path | None = None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=".light-", suffix=".part", dir=folder)
        beside = Path(name)
        with os.fdopen(handle, "wb") as out:
            np.savez(out, allow_pickle=False, **arrays)
        beside.replace(_file(folder, key))
        _let_go(folder)
    except (OSError, ValueError):
        if beside is not None:
            _unlink(beside)


def _let_go(folder: Path) -> None:
    """Remove the entries used longest ago until the rest is within MOST_BYTES, and what was never written to its end."""
    # An entry from a time that has not come was used before the clock was set back.
    soon = time.time_ns() + _CLOCKS_APART
    entries = []
    for file in folder.glob("light-*.npz"):
        state = file.lstat()
        used = state.st_mtime_ns if state.st_mtime_ns < soon else 0
        entries.append((used, file.name, state.st_size, file))
    for file in folder.glob(".light-*.part"):
        # Whoever writes one takes a second; a process that was killed leaves it.
        if not 0 <= soon - file.lstat().st_mtime_ns < _ABANDONED:
            _unlink(file)
    total = sum(entry[2] for entry in entries)
    for _, _, size, file in sorted(entries)[:-1]:
        if total <= _MOST_BYTES:
            return
        _unlink(file)
        total -= size


def _unlink(file: Path) -> None:
    try:
        file.unlink(missing_ok=True)
    except OSError:
        return


def _load(folder: Path, key: str, setting: Setting) -> LitMeshes | None:
    """Read an entry; None where there is none, or it is not whole and sound."""
    file = _file(folder, key)
    try:
        # Opened here, because NumPy leaves a file open that turns out to be no archive.
        with opened_entry(file, _MOST_BYTES) as opened, np.load(opened, allow_pickle=False) as stored:
            if str(stored["key"]) != key:
                return None
            arrays = {name: stored[name] for name in stored.files}
        parts = len(setting.placed) + len(setting.ribbons)
        walls, wall_light = _side(arrays, "walls", parts)
        acrylic, sheet_light = _side(arrays, "sheets", parts)
        ground = _ground(arrays) if setting.ground else None
    except (OSError, ValueError, KeyError, EOFError, BadZipFile, NotImplementedError, MemoryError):
        return None
    with suppress(OSError):
        # Used now: the oldest by this are the first to go.
        os.utime(file)
    return LitMeshes(walls, wall_light, acrylic, sheet_light, ground)


def _side(arrays: dict[str, NDArray[Any]], name: str, parts: int) -> tuple[Facets, CornerLight]:
    """One kind of surface; ValueError unless every number in it can be used as an index."""
    given = {part: arrays[f"{name}.{part}"] for part in _FACETS}
    many, count, corners = len(given["vertices"]), len(given["triangles"]), len(given["at"])
    shapes = {
        "vertices": (many, 3), "triangles": (count, 3), "corner": (count, 3), "part": (count,),
        "face": (count,), "flat": (count, 3), "at": (corners,), "normals": (corners, 3), "owner": (corners,),
    }  # fmt: skip
    below = {"triangles": many, "corner": corners, "part": parts, "at": many, "owner": parts, "face": 9}
    kinds: dict[str, Any] = {
        "vertices": np.float32,
        "flat": np.float32,
        "normals": np.float32,
        "face": np.int8,
    }
    mesh: dict[str, Any] = {}
    for part, values in given.items():
        _check(values, shapes[part], kinds.get(part, np.int32))
        if part in below and len(values) and not (values.min() >= 0 and values.max() < below[part]):
            raise ValueError(f"{name}.{part}: out of range")
        mesh[part] = values.astype(np.int64) if values.dtype == np.int32 else values
    sky, lamp = arrays[f"{name}.sky"], arrays[f"{name}.lamp"]
    for light in (sky, lamp):
        _check(light, (corners, 3), np.float32)
    return Facets(**mesh), CornerLight(sky, lamp)


def _ground(arrays: dict[str, NDArray[Any]]) -> Ground:
    for name in ("ground.sky", "ground.lamp"):
        _check(arrays[name], (GRID_CELLS, GRID_CELLS, 3), np.float32)
    reach = float(arrays["ground.reach"])
    if not reach > 0:
        raise ValueError("ground.reach: out of range")
    return Ground(arrays["ground.sky"], arrays["ground.lamp"], reach)


def _check(values: NDArray[Any], shape: tuple[int, ...], kind: Any) -> None:
    if values.shape != shape or values.dtype != kind:
        raise ValueError("an array of another shape or kind")
    if values.dtype == np.float32 and not np.isfinite(values).all():
        raise ValueError("a number that is not finite")
