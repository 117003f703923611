"""A tracer of its own for tests: exact planes and cylinders in double precision, nothing shared with stackview.

Bodies are upright boxes and rings about the axis. Light is bent by Snell's law, with n 1.49, and
totally reflected; where two bodies touch exactly, what lies between them is ``film``, by index.
"""

from dataclasses import dataclass, field

import numpy as np

N = 1.49
EPS = 1e-7


@dataclass(frozen=True)
class Body:
    """``kind`` "clear", "opaque", or "sanded" (clear, with every face sanded)."""

    kind: str
    low: tuple[float, ...]
    high: tuple[float, ...]
    ring: bool = False
    """low = (inner radius, underside), high = (outer radius, top)."""
    faces: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        names = ("-z", "+z", "out", "in") if self.ring else ("-x", "+x", "-y", "+y", "-z", "+z")
        object.__setattr__(self, "faces", names)

    def meets(self, p: np.ndarray, d: np.ndarray, face: str) -> tuple[np.ndarray, np.ndarray]:
        """Distances (roots, r) along rays to a face's whole plane or cylinder."""
        with np.errstate(divide="ignore", invalid="ignore"):
            if face in ("out", "in"):
                radius = self.high[0] if face == "out" else self.low[0]
                a = d[:, 0] ** 2 + d[:, 1] ** 2
                b = p[:, 0] * d[:, 0] + p[:, 1] * d[:, 1]
                c = p[:, 0] ** 2 + p[:, 1] ** 2 - radius**2
                root = np.sqrt(b * b - a * c)
                return np.stack([(-b - root) / a, (-b + root) / a])
            axis, at = self._plane(face)
            return ((at - p[:, axis]) / d[:, axis])[None]

    def _plane(self, face: str) -> tuple[int, float]:
        axis = "xyz".index(face[1])
        end = self.low if face[0] == "-" else self.high
        return axis, end[1] if self.ring else end[axis]

    def normal(self, p: np.ndarray, face: str) -> np.ndarray:
        if face in ("out", "in"):
            radial = p * [1.0, 1.0, 0.0]
            radial = radial / np.maximum(np.linalg.norm(radial, axis=1), 1e-12)[:, None]
            return radial if face == "out" else -radial
        axis, _ = self._plane(face)
        return np.tile(np.eye(3)[axis] * (-1.0 if face[0] == "-" else 1.0), (len(p), 1))

    def holds(self, p: np.ndarray, face: str) -> np.ndarray:
        """Whether places on a face's whole plane or cylinder lie within the face."""
        if not self.ring:
            axis, _ = self._plane(face)
            inside = [(p[:, k] > self.low[k]) & (p[:, k] < self.high[k]) for k in range(3) if k != axis]
            return inside[0] & inside[1]
        if face in ("out", "in"):
            return (p[:, 2] > self.low[1]) & (p[:, 2] < self.high[1]) & (self.low[0] > 0 or face == "out")
        radius = np.hypot(p[:, 0], p[:, 1])
        return (radius > self.low[0]) & (radius < self.high[0])

    def on(self, p: np.ndarray, face: str) -> np.ndarray:
        """Whether places lie on the face."""
        if face in ("out", "in"):
            off = np.hypot(p[:, 0], p[:, 1]) - (self.high[0] if face == "out" else self.low[0])
        else:
            axis, at = self._plane(face)
            off = p[:, axis] - at
        return (np.abs(off) < EPS) & self.holds(p, face)


def nearest(body: Body, p: np.ndarray, d: np.ndarray, leaving: bool) -> tuple[np.ndarray, np.ndarray]:
    """Distance to the next face that is left (or entered) and its number; inf for none."""
    best, which = np.full(len(p), np.inf), np.full(len(p), -1)
    for number, face in enumerate(body.faces):
        for t in body.meets(p, d, face):
            q = p + np.where(np.isfinite(t), t, 0.0)[:, None] * d
            side = np.einsum("rx,rx->r", d, body.normal(q, face))
            good = np.isfinite(t) & (t > EPS) & (t < best) & body.holds(q, face) & ((side > 0) == leaving)
            best, which = np.where(good, t, best), np.where(good, number, which)
    return best, which


@dataclass
class Traced:
    """left : (r,) whether each ray left through clear; path : (r,) its faces as one number; out : (r, 3);
    met : (r,) number of faces met."""

    left: np.ndarray
    path: np.ndarray
    out: np.ndarray
    met: np.ndarray


def trace(
    bodies: list[Body], start: np.ndarray, ways: np.ndarray, film: float = 1.0, most: int = 32
) -> Traced:
    count = len(ways)
    p, d = np.tile(start, (count, 1)).astype(float), ways.astype(float).copy()
    inside = np.full(count, -1)
    found = Traced(np.zeros(count, bool), np.zeros(count, np.uint64), d.copy(), np.zeros(count, int))
    alive = np.arange(count)
    for _ in range(most + 1):
        if not len(alive):
            break
        still, held_by = [], inside[alive]
        for holder in range(-1, len(bodies)):
            own = alive[held_by == holder]
            if len(own):
                if holder < 0:
                    still.append(_enter(bodies, own, p, d, inside, found))
                else:
                    still.append(_leave(bodies, holder, own, p, d, inside, found, film))
        alive = np.sort(np.concatenate(still))
    return found


def _enter(bodies, own, p, d, inside, found):  # type: ignore[no-untyped-def]
    best, body, face = np.full(len(own), np.inf), np.full(len(own), -1), np.full(len(own), -1)
    for number, other in enumerate(bodies):
        t, f = nearest(other, p[own], d[own], leaving=False)
        near = t < best
        best, body, face = np.where(near, t, best), np.where(near, number, body), np.where(near, f, face)
    gone = body < 0
    found.left[own[gone]] = found.met[own[gone]] > 0
    found.out[own[gone]] = d[own[gone]]
    on = ~gone & np.array([number >= 0 and bodies[number].kind == "clear" for number in body], bool)
    for number in np.unique(body[on]):
        for f in np.unique(face[on & (body == number)]):
            some = on & (body == number) & (face == f)
            rays = own[some]
            p[rays] += best[some, None] * d[rays]
            normal = bodies[number].normal(p[rays], bodies[number].faces[f])
            cosine = -np.einsum("rx,rx->r", d[rays], normal)
            along = cosine / N - np.sqrt(1.0 - (1.0 - cosine**2) / N**2)
            d[rays] = d[rays] / N + along[:, None] * normal
            inside[rays] = number
            _note(found, rays, number, f, 0)
    return own[on]


def _leave(bodies, holder, own, p, d, inside, found, film):  # type: ignore[no-untyped-def]
    body = bodies[holder]
    t, face = nearest(body, p[own], d[own], leaving=True)
    kept = np.zeros(len(own), bool)
    for f in np.unique(face[face >= 0]):
        some = np.flatnonzero(face == f)
        rays = own[some]
        p[rays] += t[some, None] * d[rays]
        normal = body.normal(p[rays], body.faces[f])
        cosine = np.einsum("rx,rx->r", d[rays], normal)
        sine = N**2 * (1.0 - cosine**2)
        touched = np.full(len(rays), -1)
        for number, other in enumerate(bodies):
            for name in other.faces if number != holder else ():
                faced = np.einsum("rx,rx->r", other.normal(p[rays], name), normal) < -0.999
                touched[other.on(p[rays], name) & faced] = number
        index = np.where((touched >= 0) & (np.abs(normal[:, 2]) > 0.999), film, 1.0)
        mirrored = sine > index**2
        d[rays[mirrored]] -= 2.0 * cosine[mirrored, None] * normal[mirrored]
        out = ~mirrored & (touched < 0)
        along = np.sqrt(np.maximum(1.0 - sine[out], 0.0)) - N * cosine[out]
        d[rays[out]] = N * d[rays[out]] + along[:, None] * normal[out]
        inside[rays[out]] = -1
        # Glue of acrylic's own index fills the ground surface of a sanded face; sanded faces else end the light.
        filled = (index == N) & (touched >= 0)
        kinds = np.array([bodies[number].kind if number >= 0 else "" for number in touched])
        on = ((kinds == "clear") | ((kinds == "sanded") & filled)) & ~mirrored
        if body.kind == "sanded":
            on, out, mirrored = on & filled, np.zeros_like(out), mirrored & filled
        inside[rays[on]] = touched[on]
        _note(found, rays[mirrored], holder, f, 1)
        _note(found, rays[~mirrored], holder, f, 2)
        kept[some] = mirrored | out | on
    return own[kept]


def _note(found: Traced, rays: np.ndarray, number: int, face: int, what: int) -> None:
    found.met[rays] += 1
    code = np.uint64(1 + what + 3 * (face + 8 * number))
    found.path[rays] = (found.path[rays] * np.uint64(1_000_003)) ^ code
