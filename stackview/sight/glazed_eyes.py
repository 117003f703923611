"""Which light points an eye at one place sees through clear acrylic, by the traced beams."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.description.lamp import Surface
from stackview.sight.bands import HIDDEN, Kind
from stackview.sight.beams import WIDE_TUBE, Beams
from stackview.sight.glazed import holds_a_pole
from stackview.sight.refraction import dot
from stackview.sight.surface import behind_surface

SLACK = np.tan(np.radians(0.01))
"""Tubes are taken wider by this much of the distance, so that no light is lost in their joints."""
_TOGETHER = 16_384
"""Tubes held against eyes together: few enough for the processor's own memory."""
_ROOM, _ASIDE = 0.02, 0.3
"""How far beside a tube eyes are still held against it: of its length, and in bearing [°]."""


def true_kinds(straight: NDArray[np.int8], glazed: NDArray[np.bool_]) -> NDArray[np.int8]:
    """Kinds along straight lines and what is glazed by tracing, together: bare before glazed before veiled.

    A straight line that crosses nothing but clear acrylic tells nothing by itself.
    """
    exact = np.where(straight == Kind.GLAZED, HIDDEN, straight)
    return np.where(glazed & (exact != Kind.BARE), Kind.GLAZED, exact).astype(np.int8)


def glazed_at(beams: Beams, eye: Floats, surface: Surface | None) -> NDArray[np.bool_]:
    """Whether each light point (n,) shows through clear acrylic to an eye at (3,) [mm]."""
    shows = np.zeros(beams.count, dtype=bool)
    if len(beams):
        tube = _towards(beams, eye)
        shows[beams.point[tube[_reached(beams, tube, eye, surface)]]] = True
    return shows


def exits_towards(beams: Beams, eye: Floats, surface: Surface | None) -> dict[int, tuple[Floats, Floats]]:
    """Where the light of each glazed point leaves the acrylic towards an eye at (3,) [mm], by the point's number.

    And in about which direction it is sent out. Of several images of a point the one that takes most of its
    light (the greatest solid angle there).
    """
    found: dict[int, tuple[Floats, Floats]] = {}
    if not len(beams):
        return found
    tube = _towards(beams, eye)
    tube = tube[_reached(beams, tube, eye, surface)]
    towards = (eye - beams.middle) / np.linalg.norm(eye - beams.middle)
    for one in tube[np.argsort(beams.angle[tube], kind="stable")].tolist():
        places, ways = beams.places[one].astype(float), beams.directions[one].astype(float)
        far = ((eye - places) @ towards) / (ways @ towards)
        cut = places + far[:, None] * ways - eye
        # Shares of the three corner rays that together pass through the eye, by least squares.
        system = np.concatenate([cut.T / max(float(np.abs(cut).max()), 1e-9), np.ones((1, 3))])
        shares = np.clip(np.linalg.lstsq(system, np.array([0.0, 0.0, 0.0, 1.0]))[0], 0.0, 1.0)
        found[int(beams.point[one])] = shares @ places / shares.sum(), beams.sent[one].astype(float)
    return found


def glazed_round(beams: Beams, eyes: Floats, surface: Surface | None) -> NDArray[np.bool_]:
    """The same for eyes (b, 3) in a level circle about the axis, in order of bearing: (n, b)."""
    shows = np.zeros((beams.count, len(eyes)), dtype=bool)
    if len(beams) and len(eyes):
        tube, at = met_round(beams, eyes)
        reached = _reached(beams, tube, eyes[at], surface)
        shows[beams.point[tube[reached]], at[reached]] = True
    return shows


def _towards(beams: Beams, eye: Floats) -> Whole:
    """The tubes that may reach an eye: those whose bearing is no farther from its own than the lamp is wide."""
    away = float(np.hypot(eye[0], eye[1]))
    if away <= beams.reach[0] * 1.001:
        return np.arange(len(beams))
    half = float(np.degrees(np.arcsin(beams.reach[0] / away))) + WIDE_TUBE + 0.1
    if half >= 180.0:
        return np.arange(len(beams))
    bearing = float(np.degrees(np.arctan2(eye[0], -eye[1]))) % 360.0
    order = beams.bearing[beams.wide :]
    parts = [np.arange(beams.wide)]
    for turn in (-360.0, 0.0, 360.0):
        low, high = np.searchsorted(order, (bearing + turn - half, bearing + turn + half))
        parts.append(np.arange(low, high) + beams.wide)
    return np.concatenate(parts)


def met_round(beams: Beams, eyes: Floats) -> tuple[Whole, Whole]:
    """Pairs of a tube and an eye of a level circle that it may reach, by where its corner rays pass at that distance."""
    away, height = float(np.hypot(eyes[0, 0], eyes[0, 1])), float(eyes[0, 2])
    places, ways = beams.places.astype(float), beams.directions.astype(float)
    level = np.maximum(np.square(ways[..., :2]).sum(axis=2), 1e-12)
    along = (places[..., :2] * ways[..., :2]).sum(axis=2)
    rest = away**2 - np.square(places[..., :2]).sum(axis=2)
    far = (np.sqrt(np.maximum(along**2 + level * rest, 0.0)) - along) / level
    x, y, z = (places[..., k] + far * ways[..., k] for k in range(3))
    pole = holds_a_pole(ways)
    over = pole | (rest <= 0.0).any(axis=1)
    room = _ROOM * np.abs(far).max(axis=1)
    near = over | ((z.min(axis=1) - room <= height) & (z.max(axis=1) + room >= height))
    near = np.flatnonzero(near & ~(pole & _falls_short(places, ways, away, height)))
    corner = np.degrees(np.arctan2(x[near], -y[near]))
    turn = (corner - corner[:, :1] + 180.0) % 360.0 - 180.0
    low, high = corner[:, 0] + turn.min(axis=1) - _ASIDE, corner[:, 0] + turn.max(axis=1) + _ASIDE
    own = np.degrees(np.arctan2(eyes[:, 0], -eyes[:, 1])) % 360.0
    number = np.argsort(own, kind="stable")
    around = np.concatenate([own[number] - 360.0, own[number], own[number] + 360.0])
    first = np.where(over[near], 0, np.searchsorted(around, low))
    last = np.where(over[near], len(own), np.searchsorted(around, high, "right"))
    count = np.minimum(last - first, len(own))
    tube = np.repeat(near, count)
    step = np.arange(len(tube)) - np.repeat(np.cumsum(count) - count, count) + np.repeat(first, count)
    return tube, number[step % len(own)]


def _falls_short(places: Floats, ways: Floats, away: float, height: float) -> NDArray[np.bool_]:
    """Whether tubes (k, 3, 3) that go up or down with all their rays come to a height [mm] before they are so far away.

    In between of its corner rays none leans farther than the farthest of them.
    """
    rise, lean = ways[..., 2], np.hypot(ways[..., 0], ways[..., 1])
    upright = (rise > 0.0).all(axis=1) | (rise < 0.0).all(axis=1)
    far = np.abs(height - places[..., 2]).max(axis=1) * (lean / np.maximum(np.abs(rise), 1e-9)).max(axis=1)
    return np.asarray(
        upright & ((1.0 + _ROOM) * (np.hypot(places[..., 0], places[..., 1]).max(axis=1) + far) < away)
    )


def _reached(beams: Beams, tube: Whole, eyes: Floats, surface: Surface | None) -> NDArray[np.bool_]:
    """Whether tubes (q,) reach eyes, one (3,) for all or one each (q, 3), with the surface in the way.

    Their corner rays are cut by the plane through the eye square to its line from the lamp's
    middle; the eye is reached where it lies within the triangle of the cuts.
    """
    reached = np.zeros(len(tube), bool)
    for start in range(0, len(tube), _TOGETHER):
        part = slice(start, start + _TOGETHER)
        reached[part] = _reached_together(beams, tube[part], eyes if eyes.ndim == 1 else eyes[part], surface)
    return reached


def _reached_together(beams: Beams, tube: Whole, eyes: Floats, surface: Surface | None) -> NDArray[np.bool_]:
    # By axis, corner and then tube: numpy is slow along an axis of three.
    places, ways = (
        np.ascontiguousarray(of.take(tube, axis=0).transpose(2, 1, 0), float)
        for of in (beams.places, beams.directions)
    )
    middle = beams.middle[:, None]
    eye = np.ascontiguousarray(np.broadcast_to(eyes, (len(tube), 3)).T)
    towards = eye - middle
    towards = towards / np.sqrt(dot(towards, towards))
    gain = dot(ways, towards[:, None])
    rise = dot(eye[:, None] - places, towards[:, None])
    ahead = (gain > 1e-6).all(axis=0) & (rise > 0.0).all(axis=0)
    far = rise / np.where(gain > 1e-6, gain, 1.0)
    cut = places + far * ways - eye[:, None]
    following = np.roll(cut, -1, axis=1)
    (ax, ay, az), (bx, by, bz) = cut, following
    across = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
    side = across[0] * towards[0] + across[1] * towards[1] + across[2] * towards[2]
    side *= np.where(side.sum(axis=0) < 0.0, -1.0, 1.0)
    along, apart = following - cut, eye - places[:, 0]
    length = np.sqrt(dot(along, along))
    slack = SLACK * np.sqrt(dot(apart, apart))
    within = (side >= -slack * length).all(axis=0)
    # Widened, the sides of a thin triangle meet far beyond its own corners.
    within &= dot(cut, cut).max(axis=0) <= np.square(length.max(axis=0) + slack)
    return np.asarray(ahead & within & ~behind_surface(places.mean(axis=1).T, eye.T, surface))
