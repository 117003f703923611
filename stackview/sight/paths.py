"""Light followed from a light point through clear acrylic until it leaves the lamp or is ended.

A path is ended by anything opaque, by opal acrylic, and by a sanded face (the point is then
veiled, not glazed). Where light would leave a body, or meets a face of it that is glued, its
neighbour is looked up (:mod:`stackview.sight.contacts`) and what lies between them decides: it is
never stepped over.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, Yes
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.contacts import LEVEL_FACE, Contacts, contacts
from stackview.sight.refraction import INDEX, dot, reflected, refracted

MOST_FACES = 32
"""Faces that a path may meet; light that goes on longer inside acrylic is not followed."""
RAYS_TOGETHER = 8192
"""Rays that take each step together: few enough for the processor's own memory."""
OFF = 2e-3
"""How far off a face the search for the next one begins: well over the rounding of 32-bit rays [mm]."""
_OUTSIDE = -1
_MULTIPLIER = np.uint64(0x9E3779B97F4A7C15)
_COUNT = np.uint64(0xFF)


LOST, FREE = -2, -1
"""Ends of rays that neither left through clear acrylic nor met a solid that ends them."""


@dataclass(frozen=True, slots=True, eq=False)
class LightPaths:
    """Where rays end up.

    faces : (r,) which surfaces the ray met, in order, refracted or reflected, as one number whose last
    8 bits are how many (:func:`faces_met`); 0 where it did not leave the lamp through clear acrylic;
    places, directions : (r, 3) from where [mm] and whither it leaves the last face;
    ends : (r,) number of the solid that ended it, :data:`FREE` where it went out or met nothing,
    :data:`LOST` where it was given up.
    """

    faces: NDArray[np.uint64]
    places: Floats
    directions: Floats
    ends: NDArray[np.int64]


@dataclass(slots=True, eq=False)
class _Rays:
    """Rays under way, vectors axis by axis (3, r); ``number`` is that of the ray as it was sent out."""

    number: NDArray[np.int64]
    place: Floats
    way: Floats
    off: Floats
    """Where the search for the next face begins."""
    body: NDArray[np.int64]
    """Clear body that holds the ray, or −1."""
    faces: NDArray[np.uint64]

    def chosen(self, index: NDArray[np.int64]) -> "_Rays":
        if len(index) == len(self.number):
            return self
        return _Rays(*(getattr(self, name).take(index, axis=-1) for name in self.__slots__))

    def joined(self, other: "_Rays") -> "_Rays":
        if not len(self.number) or not len(other.number):
            return self if len(self.number) else other
        return _Rays(
            *(np.concatenate([getattr(self, n), getattr(other, n)], axis=-1) for n in self.__slots__)
        )


@dataclass(frozen=True, slots=True, eq=False)
class Met:
    """What rays meet next: number of the scene's triangle (r,), −1 for none, and where on it (barycentric)."""

    triangle: NDArray[np.int64]
    u: NDArray[np.float32]
    v: NDArray[np.float32]

    def chosen(self, index: Whole | slice) -> "Met":
        """These of the rays."""
        return Met(self.triangle[index], self.u[index], self.v[index])

    def joined(self, other: "Met") -> "Met":
        """These rays, and then those."""
        return Met(*(np.concatenate([getattr(self, n), getattr(other, n)]) for n in self.__slots__))


def first_met(bodies: ClearBodies, places: Floats, directions: Floats) -> Met:
    """What rays in the open meet first, from ``places`` (r, 3) [mm] along unit ``directions`` (r, 3)."""
    hits = bodies.outside.nearest(places.astype(np.float32), directions.astype(np.float32))
    return Met(hits.triangle.astype(np.int64), hits.u, hits.v)


def _sent_out(places: Floats, directions: Floats, which: range) -> _Rays:
    number = np.arange(which.start, which.stop)
    place, way = (np.ascontiguousarray(of[which.start : which.stop].T) for of in (places, directions))
    return _Rays(number, place, way, place, np.full(len(number), _OUTSIDE), np.zeros(len(number), np.uint64))


def faces_met(faces: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """How many faces rays met, by the number of their faces."""
    return faces & _COUNT


def _and(faces: NDArray[np.uint64], surface: Whole, mirrored: Yes | bool = False) -> NDArray[np.uint64]:
    """The number of some faces and of one more after them."""
    code = np.asarray(2 * surface + mirrored + 1, np.uint64)
    return (((faces ^ code) * _MULTIPLIER) & ~_COUNT) | (faces_met(faces) + np.uint64(1))


def followed(
    bodies: ClearBodies,
    places: Floats,
    directions: Floats,
    *,
    first: Met | None = None,
    most: NDArray[np.uint64] | None = None,
) -> LightPaths:
    """Follow rays in the open from ``places`` (r, 3) [mm] along unit ``directions`` (r, 3).

    ``first`` is what they meet first, where :func:`first_met` has told it already; those that meet
    more faces than ``most`` (r,) are given up.
    """
    count = len(places)
    found = LightPaths(
        np.zeros(count, np.uint64), np.array(places), np.array(directions), np.full(count, LOST, np.int64)
    )
    allowed = (
        np.full(count, MOST_FACES, np.uint64) if most is None else np.minimum(most, np.uint64(MOST_FACES))
    )
    rays, sent = _sent_out(places, directions, range(0)), 0
    while sent < count or len(rays.number):
        # Rays that are done are replaced by new ones, so that every step takes a full block.
        new = range(sent, min(count, sent + RAYS_TOGETHER - len(rays.number)))
        fresh, sent = _sent_out(places, directions, new), new.stop
        if first is None:
            rays = rays.joined(fresh)
            met = _next(bodies, rays)
        else:
            met = _next(bodies, rays).joined(first.chosen(slice(new.start, new.stop)))
            rays = rays.joined(fresh)
        rays = _step(bodies, rays, met, found)
        rays = rays.chosen((faces_met(rays.faces) <= allowed[rays.number]).nonzero()[0])
    return found


def way_of(bodies: ClearBodies, place: Floats, direction: Floats) -> tuple[Floats, Floats] | None:
    """Where one ray from ``place`` (3,) [mm] is turned, and its direction when it has left: (k, 3) with the place, (3,).

    None for one that does not leave the lamp.
    """
    found = LightPaths(
        np.zeros(1, np.uint64), np.array(place[None]), np.array(direction[None]), np.full(1, LOST, np.int64)
    )
    rays, corners = _sent_out(place[None], direction[None], range(1)), [np.array(place)]
    while len(rays.number) and len(corners) <= MOST_FACES:
        rays = _step(bodies, rays, _next(bodies, rays), found)
        corners.extend(rays.place.T.copy())
    return (np.array(corners), found.directions[0]) if found.ends[0] == FREE else None


def _step(bodies: ClearBodies, rays: _Rays, met: Met, found: LightPaths) -> _Rays:
    """The rays past what they meet; what becomes of those that go no further is set down."""
    gone = met.triangle < 0
    within = rays.body >= 0
    # A sanded face that is glued may be filled by the glue.
    filled = within & bodies.clear[met.triangle] & (bodies.film[rays.body] > 1.0)
    goes_on = ~gone & (bodies.open[met.triangle] | filled)
    _set_down(found, rays, (gone & ~within).nonzero()[0])
    ended = (~gone & ~goes_on).nonzero()[0]
    found.ends[rays.number[ended]] = bodies.body[met.triangle[ended]]
    on = goes_on.nonzero()[0]
    return _past(bodies, rays.chosen(on), met.chosen(on), found)


def _set_down(found: LightPaths, rays: _Rays, out: NDArray[np.int64]) -> None:
    """Write down the rays with these places that meet nothing more."""
    number = rays.number[out]
    found.ends[number] = FREE
    found.faces[number] = rays.faces[out]
    found.places[number] = rays.place.take(out, axis=1).T
    found.directions[number] = rays.way.take(out, axis=1).T


def _next(bodies: ClearBodies, rays: _Rays) -> Met:
    triangle = np.full(len(rays.number), -1, np.int64)
    u, v = np.zeros((2, len(triangle)), np.float32)
    for within in (False, True):
        own = ((rays.body >= 0) == within).nonzero()[0]
        if not len(own):
            continue
        begin, way = rays.off.take(own, axis=1), np.empty((len(own), 3), np.float32)
        if within:
            begin += bodies.moves.T.take(rays.body[own], axis=1)
        way.T[:] = rays.way.take(own, axis=1)
        origin = np.empty_like(way)
        origin.T[:] = begin
        hits = (bodies.inside if within else bodies.outside).nearest(origin, way)
        met = (hits.triangle >= 0).nonzero()[0]
        number = hits.triangle[met].astype(np.int64)
        triangle[own[met]] = bodies.inside_triangle[number] if within else number
        u[own], v[own] = hits.u, hits.v
    return Met(triangle, u, v)


def _past(bodies: ClearBodies, rays: _Rays, met: Met, found: LightPaths) -> _Rays:
    """The rays just past the clear faces that they meet; those that a neighbour there ends are set down."""
    flat = bodies.normals.T.take(met.triangle, axis=1)
    across = dot(rays.way, flat)
    within = rays.body >= 0
    # Met from its wrong side, by the rounding of a place at an edge: such a ray is given up.
    sound = np.where(within, across, -across) > 1e-9
    if not sound.all():
        index = sound.nonzero()[0]
        rays, met, flat = rays.chosen(index), met.chosen(index), flat.take(index, axis=1)
        across, within = across[index], within[index]
    place = rays.place + (bodies.offsets[met.triangle] - dot(rays.place, flat)) / across * rays.way
    beyond, mirrored, sine = _bent(bodies, rays.way, np.where(within, -1.0, 1.0) * flat, within, met)
    inside = mirrored | ~within
    past = _Rays(
        number=rays.number,
        place=place,
        way=beyond,
        off=place + np.where(inside, -OFF, OFF) * flat,
        body=np.where(inside, bodies.body[met.triangle], _OUTSIDE),
        faces=_and(rays.faces, bodies.surface[met.triangle], mirrored),
    )
    # Where light is reflected totally, only glue on a level face can let it pass all the same.
    glued = (sine <= np.square(bodies.film[rays.body])) & (np.abs(flat[2]) > LEVEL_FACE)
    near = place[0] * place[0] + place[1] * place[1] >= np.square(bodies.touched_from.take(met.triangle))
    asked = (within & near & (~mirrored | glued)).nonzero()[0]
    contact = contacts(bodies, met.triangle, place, flat, asked)
    return _through(bodies, rays, met, past, sine, contact, found)


def _through(
    bodies: ClearBodies,
    rays: _Rays,
    met: Met,
    past: _Rays,
    sine: Floats,
    contact: Contacts,
    found: LightPaths,
) -> _Rays:
    """The rays ``past`` their faces, put right where a neighbour touches them.

    A thin film between two parallel faces lets light pass unchanged where n·sin θ is no more than
    its own index, and reflects it totally beyond (Snell's law at both faces, Born & Wolf §1.5.2).
    """
    own = bodies.open[met.triangle]
    ended = (rays.body >= 0) & ~own
    at, other = contact.ray, contact.triangle
    takes = sine[at] <= np.square(contact.film)
    clear = own[at] | contact.matched
    ended[at] = ~clear
    open_ = bodies.clear[other] & (bodies.open[other] | contact.matched)
    goes = takes & clear & contact.lets_through & open_
    blocked = takes & clear & ~goes
    ended[at[blocked]] = True
    found.ends[rays.number[at[blocked]]] = bodies.body[other[blocked]]
    into, faced = at[goes], bodies.normals.T.take(other[goes], axis=1)
    way, place = rays.way.take(into, axis=1), past.place.take(into, axis=1)
    through = dot(way, faced)
    # Onto the facet of the other: those of two curves that touch lie in each other, or a hair apart.
    place += (bodies.offsets[other[goes]] - dot(place, faced)) / np.minimum(through, -1e-9) * way
    for of, values in ((past.way, way), (past.place, place), (past.off, place - OFF * faced)):
        _put(of, into, values)
    past.body[into] = bodies.body[other[goes]]
    # Out by its own face and in by the other, whether or not the face alone would have reflected.
    by = rays.faces[into]
    for surface in (bodies.surface[met.triangle[into]], bodies.surface[other[goes]]):
        by = _and(by, surface)
    past.faces[into] = by
    ended[into] |= through > -1e-9
    return past.chosen((~ended).nonzero()[0]) if ended.any() else past


def _bent(
    bodies: ClearBodies, way: Floats, flat: Floats, leaving: NDArray[np.bool_], met: Met
) -> tuple[Floats, NDArray[np.bool_], Floats]:
    """Directions past a face (3, r), where it reflects totally, and the square of n·sin θ in the acrylic.

    ``flat`` is the facets' normal on the side that the light comes from.

    Where the smooth normal would send light through the wrong side of its facet, the facet's own
    is taken: that happens only within a facet's turn of grazing.
    """
    ratio = np.where(leaving, INDEX, 1.0 / INDEX)
    curve = (bodies.curved[met.triangle]).nonzero()[0]
    own_flat, normals = flat.take(curve, axis=1), flat
    if len(curve):
        normals = flat.copy()
        _put(
            normals,
            curve,
            _towards(bodies, way.take(curve, axis=1), own_flat, leaving[curve], met.chosen(curve)),
        )
    beyond, total = _turned(way, normals, ratio)
    wrong = curve[(dot(beyond.take(curve, axis=1), own_flat) > 0.0) != total[curve]]
    if len(wrong):
        own_flat = flat.take(wrong, axis=1)
        again, total[wrong] = _turned(way.take(wrong, axis=1), own_flat, ratio[wrong])
        _put(beyond, wrong, again)
        _put(normals, wrong, own_flat)
    beyond /= np.sqrt(dot(beyond, beyond))
    return beyond, total, INDEX**2 * (1.0 - np.square(dot(way, normals)))


def _put(into: Floats, columns: Whole, values: Floats) -> None:
    """Set some columns (k,) of vectors (3, r): axis by axis takes half the time."""
    for axis in range(3):
        into[axis][columns] = values[axis]


def _towards(bodies: ClearBodies, way: Floats, flat: Floats, leaving: Yes, on: Met) -> Floats:
    """The smooth surfaces' normals (3, r) on the side that light comes from; the facets' where they are turned away."""
    smooth = _smooth(bodies.corners.transpose(1, 2, 0), on)
    smooth *= np.where(leaving, -1.0, 1.0)
    away = (dot(way, smooth) >= 0.0).nonzero()[0]
    _put(smooth, away, flat.take(away, axis=1))
    return smooth


def _smooth(corners: Floats, on: Met) -> Floats:
    """Unit normals (3, r) at places on triangles whose corners have these normals (corner, axis, triangle)."""
    one, two, three = (of.take(on.triangle, axis=1) for of in corners)
    normals = one + on.u * (two - one) + on.v * (three - one)
    return np.asarray(normals / np.maximum(np.sqrt(dot(normals, normals)), 1e-300))


def _turned(way: Floats, normals: Floats, ratio: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """Directions (3, r) past faces with these normals, and where they reflect totally."""
    behind, total = refracted(way.T, normals.T, ratio)
    beyond = behind.T
    mirror = total.nonzero()[0]
    if len(mirror):
        _put(beyond, mirror, reflected(way.take(mirror, axis=1).T, normals.take(mirror, axis=1).T).T)
    return beyond, total
