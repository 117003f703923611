"""Sanded acrylic: light walks from micro-facet to micro-facet until it leaves, so that none is lost.

A face of GGX micro-facets at heights spread evenly, unconnected beyond one step (Smith), followed by
chance with all its bounces: E. Heitz, J. Hanika, E. d'Eon, C. Dachsbacher, "Multiple-scattering
microfacet BSDFs with the Smith model", ACM Trans. Graph. 35(4), 2016. Facets in sight are drawn by
spherical caps: J. Dupuy, A. Benyoub, "Sampling visible GGX normals with spherical caps", Computer
Graphics Forum 42(8), 2023. D, Λ and the Jacobians of reflection and refraction: B. Walter et al.,
"Microfacet models for refraction through rough surfaces", EGSR 2007, eqs. 13, 17, 33, 34.

Directions are (3, n) in the face's own frame, z along its outward normal. Arrived in acrylic walks on
the same face turned over (all three coordinates change sign), where heights h become −h.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Singles, Yes
from stackview.sight.refraction import INDEX, dot

MOST_FACETS = 24
"""Facets met in one walk at most; what still walks then leaves as it goes. One in a million at α = 0.6."""
_TINY = np.float32(1e-7)


@dataclass(frozen=True, slots=True, eq=False)
class Walked:
    """How walks ended.

    leaves : (3, n) direction of travel; inside : (n,) whether into the acrylic;
    aimed : (n,) estimate of the density [1/sr] with which light leaves towards the aim.
    """

    leaves: Singles
    inside: Yes
    aimed: Singles


def walked(
    travel: Singles,
    inside: Yes,
    alpha: Singles,
    chance: np.random.Generator,
    aim: Singles | None = None,
    *,
    metal: bool = False,
    into: bool = False,
) -> Walked:
    """Follow light over a sanded face until it leaves it.

    Parameters
    ----------
    travel : (3, n) unit directions of travel, down to the face from air (z < 0), up from inside (z > 0)
    inside : (n,) whether the light comes from inside
    alpha : (n,) roughness, the GGX width
    aim : (3, n) unit directions out into air (z > 0) for which the density of leaving is asked; at each
        facet the chance of being thrown there, times that of getting out, is added up
    metal : whether facets reflect all, and let nothing pass
    into : whether the aim lies in the acrylic instead (z < 0)

    The density is that of light followed from ``travel``; as luminance over n² is kept along a way
    that is followed backwards, it serves the eye as it is.
    """
    count = travel.shape[1]
    leaves, ends_inside = np.zeros((3, count), np.float32), np.zeros(count, np.bool_)
    aimed = np.zeros(count, np.float32)
    which = np.arange(count)
    sign = np.where(inside, np.float32(-1.0), np.float32(1.0))
    way, level, rough = travel * sign, np.zeros(count, np.float32), alpha
    for _ in range(MOST_FACETS):
        level = level + _climb(way[2], rough) * -np.log(1.0 - chance.random(len(which), np.float32))
        out = level > 0.0
        if out.any():
            gone, stay = np.flatnonzero(out), np.flatnonzero(~out)
            done, side = which.take(gone), sign.take(gone)
            leaves[:, done] = way.take(gone, axis=1) * side
            ends_inside[done] = side < 0.0
            which, way, level = which.take(stay), way.take(stay, axis=1), level.take(stay)
            rough, sign = rough.take(stay), sign.take(stay)
        if not len(which):
            break
        seen = -way
        facet = facet_in_sight(seen, rough, chance)
        if aim is not None:
            aimed[which] += _towards(seen, aim.take(which, axis=1), sign, level, rough, metal, into)
        way, crossed = _off(seen, facet, sign, chance, metal)
        sign = np.where(crossed, -sign, sign)
        level = np.where(crossed, _turned_over(level), level)
    if len(which):
        up = np.where(way[2] < 0.0, np.float32(-1.0), np.float32(1.0))
        way = np.stack([way[0], way[1], way[2] * up])
        leaves[:, which] = way * sign
        ends_inside[which] = sign < 0.0
    return Walked(leaves, ends_inside, aimed)


def smith(cosine: Singles, alpha: Singles) -> Singles:
    """Share of facets that are not shaded towards a cosine, G₁ = 2/(1 + √(1 + α²tan²θ)) (Walter et al. 2007, eq. 34)."""
    return np.asarray(2.0 * cosine / np.maximum(cosine + _spread(cosine, alpha), _TINY))


def first_facet_towards(
    seen: Singles, aim: Singles, inside: Yes, alpha: Singles, *, into: bool = False
) -> Singles:
    """Density (n,) [1/sr] with which the first facet alone throws light towards an aim in air, or ``into`` the acrylic.

    ``seen`` (3, n) is where the light comes from, against its travel; nothing shades here. It tells which of
    several light points counts most.
    """
    sign = np.where(inside, np.float32(-1.0), np.float32(1.0))
    return _thrown(seen * sign, aim, sign, alpha, into=into)


def _spread(cosine: Singles, alpha: Singles) -> Singles:
    """√(cos²θ + α² sin²θ)."""
    square = cosine * cosine
    return np.asarray(np.sqrt(square + alpha * alpha * np.maximum(1.0 - square, 0.0)))


def _climb(cosine: Singles, alpha: Singles) -> Singles:
    """1/Λ of a direction of travel, Λ = ½(√(1 + α²tan²θ)·sgn − 1) (Heitz et al. 2016, eq. 7)."""
    # log of the height's share grows by −log(chance)/Λ: up where light climbs, down where it dives.
    flat = alpha * alpha * np.maximum(1.0 - cosine * cosine, 0.0)
    spread = _spread(cosine, alpha)
    rise = np.where(cosine > 0.0, flat / np.maximum(spread + cosine, _TINY), spread - cosine)
    return np.minimum(np.maximum(2.0 * cosine / np.maximum(rise, np.float32(1e-9)), -1e8), 1e8)


def _turned_over(level: Singles) -> Singles:
    """log(1 − c) of log c: the height's share seen from the other side."""
    return np.log(np.maximum(-np.expm1(level), np.float32(1e-20)))


def facet_in_sight(seen: Singles, alpha: Singles, chance: np.random.Generator) -> Singles:
    """A facet's normal (3, n), drawn by how much of it is seen from ``seen`` (Dupuy & Benyoub 2023)."""
    count = seen.shape[1]
    x, y, z = seen[0] * alpha, seen[1] * alpha, seen[2]
    scale = 1.0 / np.maximum(np.sqrt(x * x + y * y + z * z), _TINY)
    x, y, z = x * scale, y * scale, z * scale
    turn = np.float32(2.0 * np.pi) * chance.random(count, np.float32)
    cap = (1.0 - chance.random(count, np.float32)) * (1.0 + z) - z
    aside = np.sqrt(np.minimum(np.maximum(1.0 - cap * cap, 0.0), 1.0))
    x, y, z = alpha * (x + aside * np.cos(turn)), alpha * (y + aside * np.sin(turn)), z + cap
    z = np.maximum(z, 0.0)
    scale = 1.0 / np.maximum(np.sqrt(x * x + y * y + z * z), np.float32(1e-12))
    facet = np.empty((3, count), np.float32)
    facet[0], facet[1], facet[2] = x * scale, y * scale, z * scale
    return facet


def reflected_share(cosine: Singles, ratio: Singles) -> tuple[Singles, Singles]:
    """Fresnel's share of unpolarised light, and the cosine behind the face (Born & Wolf, §1.5.2).

    ``ratio`` is the index before the face over that behind it; the share is 1 and the cosine 0
    where all is reflected.
    """
    behind = 1.0 - ratio * ratio * np.maximum(1.0 - cosine * cosine, 0.0)
    through = np.sqrt(np.maximum(behind, 0.0))
    across = (ratio * cosine - through) / np.maximum(ratio * cosine + through, _TINY)
    along = (cosine - ratio * through) / np.maximum(cosine + ratio * through, _TINY)
    share = np.where(behind <= 0.0, np.float32(1.0), 0.5 * (across * across + along * along))
    return share, through


def _ratio(sign: Singles) -> Singles:
    """Index before a facet over that behind it, for light in air (+1) or acrylic (−1)."""
    return np.where(sign > 0.0, np.float32(1.0 / INDEX), np.float32(INDEX))


def _off(
    seen: Singles, facet: Singles, sign: Singles, chance: np.random.Generator, metal: bool
) -> tuple[Singles, Yes]:
    """Travel (3, n) after a facet, reflected or refracted by Fresnel's chance, and which crossed it."""
    cosine = np.maximum(dot(seen, facet), 0.0)
    ratio = _ratio(sign)
    share, through = reflected_share(cosine, ratio)
    crossed = chance.random(len(sign), np.float32) >= share
    if metal:
        crossed[:] = False
    mirrored = 2.0 * cosine * facet - seen
    # Turned over with the face: all three coordinates change sign.
    passed = ratio * seen - (ratio * cosine - through) * facet
    way = np.where(crossed, passed, mirrored)
    return np.asarray(way / np.maximum(np.sqrt(dot(way, way)), _TINY), np.float32), crossed


def _towards(
    seen: Singles,
    aim: Singles,
    sign: Singles,
    level: Singles,
    alpha: Singles,
    metal: bool,
    into: bool,
) -> Singles:
    """Density with which this facet throws light at the aim, times the chance that it gets out."""
    cosine = np.maximum(-aim[2] if into else aim[2], _TINY)
    rise = 0.5 * (_spread(cosine, alpha) / cosine - 1.0)
    height = np.where((sign > 0.0) ^ into, level, _turned_over(level))
    escapes: Singles = np.exp(np.maximum(height * rise, np.float32(-80.0)))
    return np.asarray(_thrown(seen, aim, sign, alpha, metal, into) * escapes)


def _thrown(
    seen: Singles, aim: Singles, sign: Singles, alpha: Singles, metal: bool = False, into: bool = False
) -> Singles:
    """Density [1/sr] with which a facet seen from ``seen`` throws light at the aim (Walter et al. 2007).

    On the aim's own side it is reflected there, F·D/(4A); from the other side passed, with the index before the face
    over that behind it η: (1 − F)(i·h)D|o·h|/(A(η·i·h + o·h)²), with the area in sight
    A = ½(cosθ + √(cos²θ + α²sin²θ)).
    """
    # The side that the aim lies on is turned up.
    aim = -aim if into else aim
    near = (sign > 0.0) ^ into
    ratio = _ratio(sign)
    # Between them the facet: i + o, or η·i + o with the aim turned over with the face; it looks to where light is seen.
    passing = np.where(ratio > 1.0, np.float32(1.0), np.float32(-1.0)) * (ratio * seen - aim)
    half: Singles = np.where(near, seen + aim, passing).astype(np.float32)
    length = np.maximum(np.sqrt(dot(half, half)), _TINY)
    half = np.asarray(half / length, np.float32)
    cosine = dot(seen, half)
    behind = -dot(aim, half)
    fits = (half[2] > 0.0) & (cosine > 0.0) & (aim[2] > 0.0) & (near | (behind < 0.0))
    share, _ = reflected_share(np.minimum(np.maximum(cosine, 0.0), 1.0), ratio)
    if metal:
        share = np.ones_like(share)
    square = alpha * alpha
    bell = square / (np.float32(np.pi) * (half[2] * half[2] * (square - 1.0) + 1.0) ** 2)
    area = 0.5 * (seen[2] + _spread(seen[2], alpha))
    # (η·i·h + o·h) is the length of η·i + o along h.
    passed = (1.0 - share) * cosine * np.abs(behind) / np.maximum(length * length, _TINY)
    value = np.where(near, 0.25 * share, passed) * bell / np.maximum(area, np.float32(1e-4))
    return np.where(fits, value, np.float32(0.0))
