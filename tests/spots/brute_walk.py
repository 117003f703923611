"""Light from a Lambertian square under a sanded disc, followed forwards by brute force: nothing of the program is asked.

The sanded face is a Smith surface of GGX micro-facets, every bounce between them followed, in double precision:

* heights of the walk: E. Heitz, J. Hanika, E. d'Eon, C. Dachsbacher, "Multiple-scattering microfacet BSDFs with the
  Smith model", ACM Trans. Graph. 35(4), 2016, eqs. 2, 7, 9 and §4;
* D, Λ and the Jacobians of reflection and refraction: B. Walter et al., "Microfacet models for refraction through rough
  surfaces", EGSR 2007, eqs. 13, 17, 22, 33, 34;
* visible normals: E. Heitz, "Sampling the GGX distribution of visible normals", JCGT 7(4), 2018, on the projected disc
  (the program draws them by spherical caps).

All round is black. Of light in the disc what falls on its landing goes out, and so does what leaves it anywhere. At every
face that light meets, what it throws from there to the eye is added up. Directions and places are (3, n).
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from stackview.arrays import Floats, Whole, Yes

INDEX = 1.49
"""Of acrylic (PMMA, 589 nm), Handbook of Optics."""
MOST_FACETS, MOST_FACES = 60, 80
SURE_FACES, GOES_ON = 8, 0.9
"""After so many faces light goes on by this chance, and counts so much more (Russian roulette)."""
BOTTOM, TOP, RIM = 0, 1, 2


@dataclass(frozen=True, slots=True)
class SandedDisc:
    """A disc round the z axis, all faces sanded to a GGX width; it lies on a ring whose opening has this radius [mm]."""

    radius: float
    low: float
    high: float
    opening: float
    roughness: float


@dataclass(frozen=True, slots=True)
class Square:
    """A level square on the z axis that shines upwards by Lambert's law: its height and side [mm], its light [lm]."""

    height: float
    side: float
    lumens: float


class Shown(NamedTuple):
    """What faces throw to the eye: places (3, n) [mm] on the disc's top, and illuminance there [lm/mm² of the eye] (n,)."""

    places: Floats
    light: Floats


class Left(NamedTuple):
    """How light leaves a face: travel (3, n), whether inside (n,), density [1/sr] with which it goes to the aim (n,)."""

    travel: Floats
    inside: Yes
    aimed: Floats


class _Light(NamedTuple):
    """Light on its way: places, travel (3, n), what it carries [lm], the face it is at, whether it is in the disc (n,)."""

    places: Floats
    travel: Floats
    lumens: Floats
    face: Whole
    inside: Yes

    def only(self, chosen: Yes) -> "_Light":
        return _Light(
            self.places[:, chosen],
            self.travel[:, chosen],
            self.lumens[chosen],
            self.face[chosen],
            self.inside[chosen],
        )


def shown_to(eye: Floats, disc: SandedDisc, square: Square, ways: int, chance: np.random.Generator) -> Shown:
    """What the disc's top throws to an eye (3,) [mm] of the light that so many ways carry."""
    light, found = _given(disc, square, ways, chance), []
    for met in range(MOST_FACES):
        if not len(light.lumens):
            break
        own = _frames(light)
        towards = eye[:, None] - light.places
        far = np.sqrt(_dot(towards, towards))
        aim = _into(own, towards / far)
        seen = (light.face == TOP) & (aim[2] > 0.0)
        aim[2] = np.maximum(aim[2], 1e-3)
        left = over_a_face(_into(own, light.travel), light.inside, disc.roughness, chance, aim)
        found.append(Shown(light.places[:, seen], (light.lumens * left.aimed / far**2)[seen]))
        light = light._replace(travel=np.einsum("ijn,in->jn", own, left.travel), inside=left.inside)
        # Outside of the disc all is black.
        on = light.inside & (chance.random(len(far)) < (GOES_ON if met > SURE_FACES else 1.0))
        light = light._replace(lumens=light.lumens / (GOES_ON if met > SURE_FACES else 1.0)).only(on)
        light = _next_face(light, disc)
    return Shown(
        np.concatenate([one.places for one in found], axis=1), np.concatenate([one.light for one in found])
    )


def _given(disc: SandedDisc, square: Square, ways: int, chance: np.random.Generator) -> _Light:
    """Light of the square where it meets the disc from below, through the opening."""
    places = np.zeros((3, ways))
    places[:2] = square.side * (chance.random((2, ways)) - 0.5)
    # Lambert's law: even on the unit disc below the directions (Malley).
    aside, turn = np.sqrt(chance.random(ways)), 2.0 * np.pi * chance.random(ways)
    travel = np.stack([aside * np.cos(turn), aside * np.sin(turn), np.sqrt(1.0 - aside**2)])
    places = places + (disc.low - square.height) / travel[2] * travel
    places[2] = disc.low
    lumens = np.full(ways, square.lumens / ways)
    start = _Light(places, travel, lumens, np.full(ways, BOTTOM), np.zeros(ways, np.bool_))
    return start.only(np.hypot(places[0], places[1]) < disc.opening)


def _frames(light: _Light) -> Floats:
    """Frames (3, 3, n) of the faces that light is at: two directions along them and the outward normal."""
    across = np.hypot(light.places[0], light.places[1])
    out = np.where(light.face == RIM, light.places / across, 0.0)
    level = light.face != RIM
    out[2] = np.where(level, np.where(light.face == TOP, 1.0, -1.0), 0.0)
    along = np.stack([np.where(level, 1.0, -out[1]), np.where(level, 0.0, out[0]), np.zeros_like(across)])
    return np.stack([along, np.cross(out, along, axis=0), out])


def _into(frames: Floats, ways: Floats) -> Floats:
    """Directions (3, n) as the faces' own frames have them."""
    return np.asarray(np.einsum("ijn,jn->in", frames, ways))


def _next_face(light: _Light, disc: SandedDisc) -> _Light:
    """Light in the disc where it meets the next face; what meets the landing goes out."""
    (x, y, z), (to_x, to_y, to_z) = light.places, light.travel
    end = np.where(to_z > 0.0, disc.high, disc.low)
    level = (end - z) / np.where(to_z == 0.0, 1e-30, to_z)
    square = np.maximum(to_x**2 + to_y**2, 1e-30)
    along = x * to_x + y * to_y
    rim = (np.sqrt(np.maximum(along**2 - square * (x**2 + y**2 - disc.radius**2), 0.0)) - along) / square
    places = light.places + np.minimum(level, rim) * light.travel
    face = np.where(rim < level, RIM, np.where(to_z > 0.0, TOP, BOTTOM))
    lands = (face == BOTTOM) & (np.hypot(places[0], places[1]) > disc.opening)
    return light._replace(places=places, face=face).only(~lands)


def over_a_face(travel: Floats, inside: Yes, width: float, chance: np.random.Generator, aim: Floats) -> Left:
    """Follow light over a sanded face of GGX ``width`` until it leaves; the aim (3, n) lies outside, z > 0.

    ``travel`` is in the face's own frame, z outwards. A walk's height is told by the share C of heights below it.
    Where light crosses to the other side, frame and heights are turned over.
    """
    count = travel.shape[1]
    end, ends_inside, aimed = np.zeros((3, count)), np.zeros(count, np.bool_), np.zeros(count)
    which, share = np.arange(count), np.ones(count)
    side = np.where(inside, -1.0, 1.0)
    way = travel * side
    for _ in range(MOST_FACETS):
        shaded = _shaded(way[2], width)
        shaded = np.where(np.abs(shaded) < 1e-12, 1e-12, shaded)
        # By logarithms, for light along the surface climbs past every height; above a share of 1 there is no facet.
        rise = np.log(share) - np.log1p(-chance.random(len(which))) / shaded
        share, out = np.exp(np.clip(rise, -700.0, 0.0)), rise > 0.0
        end[:, which[out]], ends_inside[which[out]] = way[:, out] * side[out], side[out] < 0.0
        which, way, share, side = which[~out], way[:, ~out], share[~out], side[~out]
        if not len(which):
            break
        own, outside = aim[:, which] * side, side > 0.0
        gets_out = np.where(outside, share, 1.0 - share) ** _shaded(np.abs(own[2]), width)
        aimed[which] += _by_one_facet(-way, own, outside, width) * gets_out
        way, crosses = _off_a_facet(-way, outside, width, chance)
        side = np.where(crosses, -side, side)
        share = np.clip(np.where(crosses, 1.0 - share, share), 1e-12, 1.0)
    return Left(end, ends_inside, aimed)


def _shaded(cosine: Floats, width: float) -> Floats:
    """Λ, signed as light climbs or dives (Heitz et al. 2016, eq. 7; Walter et al. 2007, eq. 34)."""
    cosine = np.clip(cosine, -1.0, 1.0)
    tangent = np.maximum(1.0 - cosine**2, 0.0) / np.maximum(cosine**2, 1e-14)
    return np.asarray(0.5 * (np.sign(cosine) * np.sqrt(1.0 + width**2 * tangent) - 1.0))


def _fresnel(cosine: Floats, ratio: Floats) -> tuple[Floats, Floats]:
    """Share of unpolarised light that is reflected, and the cosine behind (Walter et al. 2007, eq. 22, in cosines).

    ``ratio`` is the index before the face over that behind it.
    """
    sine = ratio**2 * (1.0 - cosine**2)
    behind = np.sqrt(np.maximum(1.0 - sine, 0.0))
    across = (ratio * cosine - behind) / np.maximum(ratio * cosine + behind, 1e-12)
    along = (cosine - ratio * behind) / np.maximum(cosine + ratio * behind, 1e-12)
    return np.where(sine >= 1.0, 1.0, 0.5 * (across**2 + along**2)), behind


def _by_one_facet(seen: Floats, aim: Floats, same: Yes, width: float) -> Floats:
    """Density [1/sr] with which one facet throws light to the aim, unshaded (Walter et al. 2007, eqs. 13, 17, 33).

    ``seen`` is where light comes from; the aim lies on the ``same`` side of the surface, or beyond it.
    """
    before, behind = np.where(same, 1.0, INDEX), np.where(same, INDEX, 1.0)
    half = np.where(same, seen + aim, -(before * seen + aim))
    half = half / np.maximum(np.sqrt(_dot(half, half)), 1e-12)
    half = half * np.where(half[2] < 0.0, -1.0, 1.0)
    to_seen, to_aim = _dot(seen, half), _dot(aim, half)
    reflected, _ = _fresnel(np.clip(to_seen, 0.0, 1.0), before / behind)
    spread = width**2 / (np.pi * (half[2] ** 2 * (width**2 - 1.0) + 1.0) ** 2)
    area = np.maximum(seen[2] * (1.0 + _shaded(seen[2], width)), 1e-9)
    through = (1.0 - reflected) * to_seen * np.abs(to_aim)
    through = through / np.maximum((before * to_seen + to_aim) ** 2, 1e-12)
    fits = (to_seen > 0.0) & np.where(same, to_aim > 0.0, to_aim < 0.0)
    return np.where(fits, np.where(same, reflected / 4.0, through) * spread / area, 0.0)


def _off_a_facet(seen: Floats, outside: Yes, width: float, chance: np.random.Generator) -> tuple[Floats, Yes]:
    """Travel after a facet that is drawn as it is seen, turned over with the frame where it crosses, and which does."""
    facet = _visible_facet(seen, width, chance)
    cosine = np.clip(_dot(seen, facet), 0.0, 1.0)
    ratio = np.where(outside, 1.0 / INDEX, INDEX)
    reflected, behind = _fresnel(cosine, ratio)
    crosses = chance.random(len(cosine)) >= reflected
    way = np.where(crosses, ratio * seen + (behind - ratio * cosine) * facet, 2.0 * cosine * facet - seen)
    return way / np.sqrt(_dot(way, way)), crosses


def _visible_facet(seen: Floats, width: float, chance: np.random.Generator) -> Floats:
    """A facet's normal, drawn by how much of it is seen (Heitz 2018, listing 1; from below the surface as well)."""
    tall = np.stack([width * seen[0], width * seen[1], seen[2]])
    tall = tall / np.sqrt(_dot(tall, tall))
    flat = np.hypot(tall[0], tall[1])
    over = np.maximum(flat, 1e-9)
    along = np.where(
        flat > 1e-6, np.stack([-tall[1] / over, tall[0] / over, 0.0 * flat]), [[1.0], [0.0], [0.0]]
    )
    up = np.cross(tall, along, axis=0)
    count = seen.shape[1]
    aside, turn = np.sqrt(chance.random(count)), 2.0 * np.pi * chance.random(count)
    first, second = aside * np.cos(turn), aside * np.sin(turn)
    whole, part = np.sqrt(np.maximum(1.0 - first**2, 0.0)), 0.5 * (1.0 + tall[2])
    second = (1.0 - part) * whole + part * second
    rest = np.sqrt(np.maximum(1.0 - first**2 - second**2, 0.0))
    facet = first * along + second * up + rest * tall
    facet = np.stack([width * facet[0], width * facet[1], np.maximum(facet[2], 1e-9)])
    return np.asarray(facet / np.sqrt(_dot(facet, facet)))


def _dot(one: Floats, other: Floats) -> Floats:
    return np.asarray(np.einsum("in,in->n", one, other))
