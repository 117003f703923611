"""Studio pictures of a lamp: traced on the processor, with no display and no graphics library."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.description.lamp import Surface
from stackview.sight.camera import Camera, project, rays, starts
from stackview.stills.bake import Baked
from stackview.stills.finish import bloomed, developed, dimmed_to, frosted_over
from stackview.stills.mix import STUDIO, Mix
from stackview.stills.scatter import scattered
from stackview.stills.trace import MixedLamp, Traced, background, mixed, see, surface_keys
from stackview.stills.workers import in_pieces, slices_of

_PIECE = 12288
_SAMPLES = 8
"""More rays for a pixel that an edge runs through."""
_BRIGHTEST = 3.0
"""Luminance counted for a single ray at an edge."""
_FROST = 2.2
"""Blur of what stands behind a frosted face, as a length in the lamp [mm]."""


def shoot(
    baked: Baked,
    camera: Camera,
    *,
    mix: Mix = STUDIO,
    cut_out: bool = False,
    surface: Surface | None = None,
) -> NDArray[np.uint8]:
    """Take a picture (h, w, 3) of a lamp whose light is baked.

    ``cut_out`` gives (h, w, 4): no backdrop, and of the ground only its shadow. ``surface`` is
    what the lamp stands on, drawn where an eye below it looks up against it.
    """
    view = mixed(baked, mix, cut_out=cut_out, surface=surface)
    image, cover = radiance(view, camera)
    if not cut_out:
        return developed(bloomed(image, mix.bloom), mix.exposure)
    own = np.asarray(image / np.maximum(cover, 1e-3), np.float32)
    return with_cover(developed(bloomed(own, mix.bloom), mix.exposure), cover)


def radiance(view: MixedLamp, camera: Camera, brightest: float = _BRIGHTEST) -> tuple[Singles, Singles]:
    """What a camera sees of a lamp: radiance (h, w, 3), and the share (h, w, 1) of each pixel that it covers.

    ``brightest`` is the luminance counted for a single ray at an edge, so that light points get smooth rims.
    """
    width, height = camera.size
    window = _window(view, camera)
    seen = _see_all(view, camera, window)
    _refine_edges(view, camera, seen, window, brightest)
    front, behind = (part.reshape(height, width, 3) for part in (seen.front, seen.behind))
    sigma = max(_FROST * camera.scale, 1.3)
    image = frosted_over(front, behind, seen.frosted.reshape(height, width), sigma)
    return image, np.clip(seen.cover.reshape(height, width, 1), 0.0, 1.0)


def with_cover(picture: NDArray[np.uint8], cover: Singles) -> NDArray[np.uint8]:
    """A picture (h, w, 3) with its own opacity (h, w, 4)."""
    return np.concatenate([picture, np.asarray(np.rint(cover * 255.0), np.uint8)], axis=2)


def backdrop_at(
    camera: Camera, mix: Mix, columns: NDArray[np.floating], rows: NDArray[np.floating]
) -> Singles:
    """Radiance (n, 3) of the backdrop at places in the picture [px]: low to high, dimmer to the rim."""
    width, height = camera.size
    high, low = np.asarray(mix.backdrop_high, np.float32), np.asarray(mix.backdrop_low, np.float32)
    share = np.clip(rows / height / 0.72, 0.0, 1.0)
    share = (share * share * (3 - 2 * share))[:, None]
    across = (columns / width - 0.5) * 2
    return np.asarray((high * (1 - share) + low * share) * (1 - 0.16 * across * across)[:, None], np.float32)


def _look_at(
    view: MixedLamp, camera: Camera, columns: NDArray[np.floating], rows: NDArray[np.floating]
) -> Traced:
    directions = rays(camera, columns, rows)
    behind = backdrop_at(camera, view.mix, columns, rows)
    wide = (0.0, 1.0 / camera.scale) if camera.parallel else (camera.pixel, 0.0)
    return see(view, starts(camera, columns, rows), directions, behind, *wide)


def _window(view: MixedLamp, camera: Camera) -> tuple[slice, slice]:
    """Rows and columns of the picture that the lamp can touch, a pixel wider all round."""
    width, height = camera.size
    corners = [mesh.vertices for mesh in (view.baked.walls, view.baked.acrylic) if len(mesh.vertices)]
    if not corners:
        return slice(0, 0), slice(0, 0)
    points = np.concatenate(corners).astype(np.float64)
    if ((points - camera.eye) @ camera.axes[2]).min() < 1.0:
        return slice(0, height), slice(0, width)
    at = project(camera, points)
    low, high = np.floor(at.min(axis=0)).astype(int) - 1, np.ceil(at.max(axis=0)).astype(int) + 2
    low, high = np.clip(low, 0, camera.size), np.clip(high, 0, camera.size)
    return slice(int(low[1]), int(high[1])), slice(int(low[0]), int(high[0]))


def _see_all(view: MixedLamp, camera: Camera, window: tuple[slice, slice]) -> Traced:
    """One ray through the middle of every pixel, in pixel order; outside the window only ground."""
    width, height = camera.size
    inside = np.zeros((height, width), np.bool_)
    inside[window] = True
    lamp, rest = np.flatnonzero(inside.ravel()), np.flatnonzero(~inside.ravel())

    def far_piece(piece: slice) -> tuple[Singles, Singles]:
        columns, rows = rest[piece] % width + 0.5, rest[piece] // width + 0.5
        behind = backdrop_at(camera, view.mix, columns, rows)
        seen = background(view, starts(camera, columns, rows), rays(camera, columns, rows), behind)
        return seen[0], seen[3]

    def lamp_piece(piece: slice) -> Traced:
        return _look_at(view, camera, lamp[piece] % width + 0.5, lamp[piece] // width + 0.5)

    count = width * height
    seen = Traced(
        np.zeros((count, 3), np.float32),
        np.zeros((count, 3), np.float32),
        np.zeros(count, np.float32),
        np.full(count, -1, np.int64),
        np.zeros(count, np.float32),
    )
    far = in_pieces(far_piece, len(rest), _PIECE)
    for piece, (colour, cover) in zip(slices_of(len(rest), _PIECE), far, strict=True):
        seen.front[rest[piece]], seen.cover[rest[piece]] = colour, cover
    for piece, part in zip(
        slices_of(len(lamp), _PIECE), in_pieces(lamp_piece, len(lamp), _PIECE), strict=True
    ):
        for name in ("front", "behind", "frosted", "key", "cover"):
            getattr(seen, name)[lamp[piece]] = getattr(part, name)
    return seen


def _refine_edges(
    view: MixedLamp, camera: Camera, seen: Traced, window: tuple[slice, slice], brightest: float
) -> None:
    """Replace pixels that an edge runs through by the mean of more rays, in place."""
    width = camera.size[0]
    chosen = np.flatnonzero(_edge_pixels(view, camera, seen, window))
    offsets = scattered(_SAMPLES)
    per_piece = _PIECE // _SAMPLES

    def piece_of(piece: slice) -> tuple[Singles, Singles, Singles, Singles]:
        index = np.repeat(chosen[piece], _SAMPLES)
        shift = np.tile(offsets, (piece.stop - piece.start, 1))
        more = _look_at(view, camera, index % width + shift[:, 0], index // width + shift[:, 1])
        return (
            dimmed_to(more.front, brightest).reshape(-1, _SAMPLES, 3).mean(axis=1),
            dimmed_to(more.behind, brightest).reshape(-1, _SAMPLES, 3).mean(axis=1),
            more.frosted.reshape(-1, _SAMPLES).mean(axis=1),
            more.cover.reshape(-1, _SAMPLES).mean(axis=1),
        )

    for k, (front, behind, frosted, cover) in enumerate(in_pieces(piece_of, len(chosen), per_piece)):
        mine = chosen[k * per_piece : (k + 1) * per_piece]
        seen.front[mine], seen.behind[mine], seen.frosted[mine] = front, behind, frosted
        seen.cover[mine] = cover


def _edge_pixels(
    view: MixedLamp, camera: Camera, seen: Traced, window: tuple[slice, slice]
) -> NDArray[np.bool_]:
    """Pixels (h·w,) that an edge runs through.

    Another surface lies beside them or at a corner, or brightness jumps. The corners find slits
    and rims thinner than a pixel.
    """
    width, height = camera.size
    tone = np.sqrt(np.clip((seen.front + seen.behind)[:, 1].reshape(height, width), 0.0, 4.0))
    key = seen.key.reshape(height, width)
    edge = np.zeros((height, width), np.bool_)
    for axis in (0, 1):
        a, b = (
            (slice(None), part) if axis else (part, slice(None)) for part in (slice(None, -1), slice(1, None))
        )
        jump = np.abs(tone[a] - tone[b])
        step = (key[a] != key[b]) & (jump > 0.02) | (jump > 0.22)
        edge[a] |= step
        edge[b] |= step
    corner = _corner_keys(view, camera, window)
    if corner.size:
        first = corner[:-1, :-1]
        edge[window] |= (first != corner[1:, :-1]) | (first != corner[:-1, 1:]) | (first != corner[1:, 1:])
    return edge.ravel()


def _corner_keys(view: MixedLamp, camera: Camera, window: tuple[slice, slice]) -> NDArray[np.int64]:
    """Surface keys (h + 1, w + 1) at the corners of all pixels in the window."""
    rows, columns = window
    if rows.stop <= rows.start or columns.stop <= columns.start:
        return np.zeros((0, 0), np.int64)
    tall, wide = rows.stop - rows.start + 1, columns.stop - columns.start + 1

    def piece_of(piece: slice) -> NDArray[np.int64]:
        index = np.arange(piece.start, piece.stop)
        across, down = index % wide + columns.start, index // wide + rows.start
        return surface_keys(view, starts(camera, across, down), rays(camera, across, down))

    return np.concatenate(in_pieces(piece_of, wide * tall, _PIECE)).reshape(tall, wide)
