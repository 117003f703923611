"""What each kind of face does to the ways that meet it, and how they are joined there to their ends."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import Protocol

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.glow.microsurface import first_facet_towards, reflected_share, walked
from stackview.sight.refraction import INDEX, dot
from stackview.spots.by_clear import ByClear
from stackview.spots.faces import Does, Faces
from stackview.spots.inwards import OFF_A_FACE, Inwards, OffMatt, OffSanded, frame_of, into, out_of, roughened
from stackview.spots.ways import FacesMet, FaceWork, Going, WayEnds, gone_on

_AFTER_MATT = np.float32(0.5)
"""Of those that meet a matt face for the first time this share goes on: what comes from there is even."""
_FLOOR = np.float32(0.02)
_CANDIDATES = {Does.MATT: 2, Does.SANDED: 2, Does.OPAL: 2, Does.GLOSSY: 2}
_FROM_INSIDE = 6
"""More candidates at a sanded face that is met from inside: what is met from air throws little light back there."""
_ONE, _NOUGHT = np.float32(1.0), np.float32(0.0)
_NONE_YET = np.zeros(0, np.float32)

Response = Callable[[Singles], Singles]
"""For directions (3, ..., n), about how much of the light each of the faces met throws there; of the first n of them,
where there are more."""


@dataclass(frozen=True, slots=True, eq=False)
class Aim:
    """What ways are joined to: its number (n,), the direction (3, n), how far [mm], and the weight (n,) of its light.

    ``bent`` : which of the ways are joined by a level clear plate, and these lines.
    """

    number: Whole
    to: Singles
    far: Singles
    weight: Singles
    bent: tuple[Whole, ByClear] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """Ways at faces that are to be joined to their ends.

    begin : (3, n) just off the faces, in air; response : see :data:`Response`; candidates : how many ends are worth
    looking at for each, and ``more`` besides for the first ``thorough`` of them.
    """

    begin: Singles
    going: Going
    met: FacesMet
    response: Response
    candidates: int
    thorough: int = 0
    more: int = 0


class Joins(WayEnds, Protocol):
    """WayEnds that ways are joined to."""

    def aims(self, asked: Asked) -> Aim:
        """Choose an end for each way."""

    def join(self, asked: Asked, aim: Aim, share: Singles) -> None:
        """Take in what comes along the joining lines: the share (n,) [1/sr] that the face throws there."""


class JoinsThrough(Protocol):
    """Joins ways that may go on within acrylic through the next face."""

    def __call__(self, going: Going, inwards: Inwards) -> Ints:
        """Join them; gives the marks by which they are known at that face."""


class LooksUp(Protocol):
    """Looks up what light falls on matt faces by way of clear acrylic."""

    def __call__(self, going: Going, met: FacesMet, back: Singles, /) -> Yes:
        """Take in what they give back (n,) of it; tells on which of them such light is known."""


class JoinsNothing:
    """Ends of ways that are joined to nothing."""

    def aims(self, asked: Asked) -> Aim:
        """Straight up, for nothing."""
        count = asked.begin.shape[1]
        up = np.zeros((3, count), np.float32)
        up[2] = 1.0
        return Aim(np.zeros(count, np.int64), up, np.ones(count, np.float32), np.zeros(count, np.float32))

    def join(self, asked: Asked, aim: Aim, share: Singles) -> None:
        """It joins ways to nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class _Lit:
    faces: Faces
    ends: Joins
    chance: np.random.Generator
    halve: bool
    through: JoinsThrough | None
    looked_up: LooksUp | None


def faces_work(
    faces: Faces,
    ends: Joins,
    chance: np.random.Generator,
    *,
    halve: bool,
    through: JoinsThrough | None = None,
    looked_up: LooksUp | None = None,
) -> dict[int, FaceWork]:
    """What is to be done at each kind of face; ``halve`` follows only half of the ways past their first matt face.

    ``through`` also joins ways at sanded faces, and at wood within acrylic, through the face behind; ``looked_up``
    brings what falls on matt faces by clear acrylic.
    """
    lit = _Lit(faces, ends, chance, halve, through, looked_up)
    return {
        Does.MATT: partial(_matt, lit),
        Does.SANDED: partial(_sanded, lit),
        Does.CLEAR: partial(_clear, lit),
        Does.OPAL: partial(_opal, lit),
        Does.GLOSSY: partial(_glossy, lit),
    }


def unspread_work(faces: Faces, ends: Joins, chance: np.random.Generator) -> dict[int, FaceWork]:
    """The same at the faces alone that may pass light unspread: at all others ways end."""
    work = faces_work(faces, ends, chance, halve=False)
    return {kind: work[kind] for kind in (Does.CLEAR, Does.OPAL, Does.GLOSSY)}


def _given_back(faces: Faces, going: Going, met: FacesMet) -> Singles:
    """Share (n,) of its light that a way has still after a coloured face, whose colour it takes on.

    So a way's colour keeps the luminance of grey light, and ways end by what they have lost.
    """
    colour = going.colour * faces.tint[:, met.triangle]
    # Colour by colour, so that no library's order of adding decides which ways end.
    level = faces.light[0] * colour[0] + faces.light[1] * colour[1] + faces.light[2] * colour[2]
    going.colour = np.asarray(colour / np.maximum(level, np.float32(1e-6)), np.float32)
    return np.asarray(faces.back[met.triangle] * level, np.float32)


def _matt(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    glued = going.mark >= 0
    if lit.through is None or not glued.any():
        return _matt_in_air(lit, going, met, first)
    parts = [_matt_in_acrylic(lit, lit.through, going.only(glued), met.only(np.flatnonzero(glued)), first)]
    if not glued.all():
        parts.append(_matt_in_air(lit, going.only(~glued), met.only(np.flatnonzero(~glued)), first))
    return gone_on(parts)


def _matt_in_acrylic(lit: _Lit, through: JoinsThrough, going: Going, met: FacesMet, first: bool) -> Going:
    """Wood that a sanded plate is glued to: no light point shines on it but through the plate's other faces."""
    back = _given_back(lit.faces, going, met)
    caught = None if lit.looked_up is None else lit.looked_up(going, met, back)
    goes_on = np.where(going.matt, _ONE, _AFTER_MATT) if lit.halve else np.ones_like(back)
    side = np.where(met.inside, -_ONE, _ONE)
    normal, flat = met.normal * side, met.flat * side
    begin = going.at + OFF_A_FACE * flat
    travel = _off_the_plane(cosine_about(normal, lit.chance), flat)
    going.matt = np.ones(len(going.origin), np.bool_)
    inwards = OffMatt(begin, frame_of(normal), met.triangle, _NONE_YET, back, goes_on * back)
    inwards = replace(inwards, density=inwards.about(into(inwards.frame, travel)))
    mark = through(going, inwards)
    lives = lit.chance.random(len(back), np.float32) < goes_on * back
    going = going.only(lives)
    going.weight = np.asarray(going.weight / goes_on[lives], np.float32)
    no = np.zeros(len(going.origin), np.bool_)
    caught = None if caught is None else caught[lives]
    going.turned(begin[:, lives], travel[:, lives], no, first, mark[lives], caught=caught)
    return going


def _matt_in_air(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    back = _given_back(lit.faces, going, met)
    caught = None if lit.looked_up is None else lit.looked_up(going, met, back)
    side = np.where(met.inside, -_ONE, _ONE)
    normal, flat = met.normal * side, met.flat * side
    begin = going.at + OFF_A_FACE * flat

    def facing(to: Singles) -> Singles:
        return np.maximum(dot(to, normal), _NOUGHT)

    asked = Asked(begin, going, met, facing, _CANDIDATES[Does.MATT])
    aim = lit.ends.aims(asked)
    lit.ends.join(asked, aim, back * np.float32(1.0 / np.pi) * facing(aim.to))
    goes_on = np.where(going.matt, _ONE, _AFTER_MATT) if lit.halve else np.ones_like(back)
    lives = lit.chance.random(len(back), np.float32) < goes_on * back
    going, normal, flat = going.only(lives), normal[:, lives], flat[:, lives]
    going.weight = np.asarray(going.weight / goes_on[lives], np.float32)
    going.matt = np.ones(len(going.origin), np.bool_)
    travel = _off_the_plane(cosine_about(normal, lit.chance), flat)
    caught = None if caught is None else caught[lives]
    going.turned(begin[:, lives], travel, np.zeros(len(going.origin), np.bool_), first, caught=caught)
    return going


def _opal(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    faces = lit.faces
    back, through, straight = (share[met.triangle] for share in (faces.back, faces.through, faces.straight))
    side = np.where(met.inside, -_ONE, _ONE)
    normal, flat = met.normal * side, met.flat * side
    # WayEnds stand in air: light comes back to them, or from inside passes through the face.
    share = np.where(met.inside, through, back)
    begin = going.at + OFF_A_FACE * met.flat

    def facing(to: Singles) -> Singles:
        return np.maximum(dot(to, met.normal), _NOUGHT)

    asked = Asked(begin, going, met, facing, _CANDIDATES[Does.OPAL])
    aim = lit.ends.aims(asked)
    lit.ends.join(asked, aim, share * np.float32(1.0 / np.pi) * facing(aim.to))
    drawn = lit.chance.random(len(back), np.float32)
    passes, goes_on = drawn < straight, drawn < straight + through + back
    turned = np.where(~passes & (drawn < straight + through), -_ONE, _ONE)
    spread = _off_the_plane(cosine_about(normal * turned, lit.chance), flat * turned)
    at = going.at + OFF_A_FACE * np.where(passes, -_ONE, turned) * flat
    within = met.inside == (~passes & (turned > 0.0))
    going.turned(at, np.where(passes, going.travel, spread), passes, first, within=within)
    return going.only(goes_on)


def _sanded(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    # From inside and from air at once, for of many ways few go on for long, and then each step's overhead is what costs.
    order = np.argsort(~met.inside, kind="stable")
    going, met, within = going.only(order), met.only(order), int(np.count_nonzero(met.inside))
    alpha = lit.faces.rough[met.triangle]
    alpha = np.where(going.matt, roughened(alpha), alpha)
    frame = frame_of(met.normal)
    travel = into(frame, going.travel)
    # A curve's shared normal may lean away from a way that its flat triangle faces.
    travel[2] = np.where(met.inside, _ONE, -_ONE) * np.maximum(np.abs(travel[2]), np.float32(1e-4))
    seen = -travel
    begin = going.at + OFF_A_FACE * met.flat

    def facing(to: Singles) -> Singles:
        own = np.s_[..., : to.shape[-1]]
        x, y, z = frame
        aim = into((x[own], y[own], z[own]), to)
        whence = seen[own] if to.ndim == 2 else seen[:, None][own]
        worth = first_facet_towards(whence, aim, met.inside[own], alpha[own])
        return np.where(aim[2] > 0.0, worth + _FLOOR * aim[2], _NOUGHT)

    asked = Asked(begin, going, met, facing, _CANDIDATES[Does.SANDED], within, _FROM_INSIDE)
    aim = lit.ends.aims(asked)
    end = walked(travel, met.inside, alpha, lit.chance, into(frame, aim.to))
    in_front = dot(aim.to, met.flat) > 0.0
    lit.ends.join(asked, aim, np.where(in_front, end.aimed, _NOUGHT))
    flat = np.where(end.inside, -_ONE, _ONE) * met.flat
    away = _off_the_plane(out_of(frame, end.leaves), flat)
    mark = None
    if lit.through is not None:
        goes_in, at = np.where(end.inside, _ONE, _NOUGHT), going.at - OFF_A_FACE * met.flat
        inwards = OffSanded(at, frame, met.triangle, goes_in, seen, met.inside, alpha)
        mark = lit.through(going, replace(inwards, density=goes_in * inwards.about(end.leaves)))
    no = np.zeros(len(alpha), np.bool_)
    going.turned(going.at + OFF_A_FACE * flat, away, no, first, mark, within=end.inside)
    return going


def _clear(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    side = np.where(met.inside, -_ONE, _ONE)
    normal = met.normal * side
    cosine = np.clip(-dot(going.travel, normal), np.float32(1e-6), _ONE)
    ratio = np.where(met.inside, np.float32(INDEX), np.float32(1.0 / INDEX))
    share, through = reflected_share(cosine, ratio)
    mirrored = lit.chance.random(len(cosine), np.float32) < share
    passed = ratio * going.travel + (ratio * cosine - through) * normal
    travel = np.where(mirrored, going.travel + 2.0 * cosine * normal, passed)
    flat = met.flat * np.where(mirrored, side, -side)
    straight = np.ones(len(cosine), np.bool_)
    by = going.at_clear(lit.faces.level[met.triangle], met.inside, mirrored)
    at, within = going.at + OFF_A_FACE * flat, met.inside == mirrored
    going.turned(at, _off_the_plane(travel, flat), straight, first, by=by, within=within)
    return going


def _glossy(lit: _Lit, going: Going, met: FacesMet, first: bool) -> Going:
    alpha, back = lit.faces.rough[met.triangle], _given_back(lit.faces, going, met)
    side = np.where(met.inside, -_ONE, _ONE)
    normal, flat = met.normal * side, met.flat * side
    frame = frame_of(normal)
    travel = into(frame, going.travel)
    travel[2] = -np.maximum(np.abs(travel[2]), np.float32(1e-4))
    begin = going.at + OFF_A_FACE * flat
    mirror = alpha <= 0.0

    def facing(to: Singles) -> Singles:
        return np.maximum(dot(to, normal), _NOUGHT)

    asked = Asked(begin, going, met, facing, _CANDIDATES[Does.GLOSSY])
    aim = lit.ends.aims(asked)
    outside = np.zeros(len(alpha), np.bool_)
    rough = np.maximum(alpha, np.float32(0.02))
    end = walked(travel, outside, rough, lit.chance, into(frame, aim.to), metal=True)
    share = np.where(mirror | (facing(aim.to) <= 0.0), _NOUGHT, back * end.aimed)
    lit.ends.join(asked, aim, share)
    plain = np.stack([travel[0], travel[1], -travel[2]])
    away = _off_the_plane(out_of(frame, np.where(mirror, plain, end.leaves)), flat)
    going.turned(begin, away, mirror, first)
    return going.only(lit.chance.random(len(back), np.float32) < back)


def cosine_about(normal: Singles, chance: np.random.Generator) -> Singles:
    """Unit directions (3, n) about normals, by the cosine: the normal and a place on the unit sphere."""
    count = normal.shape[1]
    up = 2.0 * chance.random(count, np.float32) - 1.0
    turn = np.float32(2.0 * np.pi) * chance.random(count, np.float32)
    aside = np.sqrt(np.maximum(1.0 - up * up, _NOUGHT))
    way = normal + np.stack([aside * np.cos(turn), aside * np.sin(turn), up])
    return np.asarray(way / np.maximum(np.sqrt(dot(way, way)), np.float32(1e-6)))


def _off_the_plane(way: Singles, flat: Singles) -> Singles:
    """Directions (3, n) kept on the side of the flat triangle that they are meant to leave by.

    Only where a curve's shared normal differs from the flat one do they have to be turned.
    """
    rise = dot(way, flat)
    return np.where(rise < 1e-5, way + (np.float32(2e-5) - 2.0 * rise) * flat, way)
