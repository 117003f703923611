"""Synthetic lamps for the picture tests: placed parts made straight with manifold3d."""

from collections.abc import Sequence
from dataclasses import dataclass

import manifold3d as m3
import numpy as np
from numpy.typing import NDArray

from stackview.description.material import Finish, Material
from stackview.light.points import LightPoints
from stackview.solids.solid import Face, Solid
from stackview.stack.placed import Placed
from stackview.stills.coloured_mesh import ColouredMesh

WALNUT = Material("walnut 3/4", "wood", "walnut", "opaque", 610, (0.105, 0.055, 0.031))
CHERRY = Material("cherry", "wood", "cherry", "opaque", 560, (0.36, 0.16, 0.075))
ASH = Material("ash", "wood", "ash", "opaque", 680, (0.56, 0.42, 0.27))
BIRCH_PLY = Material("birch ply", "plywood", "birch", "opaque", 690, (0.62, 0.46, 0.29))
ALUMINIUM = Material("aluminium", "metal", "aluminium", "opaque", 2700, (0.80, 0.80, 0.81))
BRASS = Material("brass", "metal", "brass", "opaque", 8500, (0.72, 0.50, 0.20))
CLEAR = Material("clear", "acrylic", "clear", "clear", 1190, (0.92, 0.95, 0.94))
OPAL = Material("opal", "acrylic", "opal", "opal", 1190, (0.86, 0.86, 0.84))
SANDED = Finish("sanded", "sanded", "sanded")


@dataclass(frozen=True, slots=True)
class TestLamp:
    """Everything that a picture needs."""

    __test__ = False

    placed: tuple[Placed, ...]
    points: LightPoints
    ribbons: tuple[ColouredMesh, ...] = ()


def circle(radius: float, sides: int = 72) -> NDArray[np.float64]:
    """Vertices (n, 2) of a regular polygon inscribed in a circle, a flat to the front."""
    a = np.radians(-90.0) + (np.arange(sides) + 0.5) * 2 * np.pi / sides
    return np.stack([radius * np.cos(a), radius * np.sin(a)], axis=1)


def rounded(width: float, depth: float, radius: float, turn: float) -> NDArray[np.float64]:
    """Vertices (n, 2) of a rectangle with rounded corners, turned by ``turn`` [°]."""
    corners = []
    for k, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        a = np.radians(np.linspace(0, 90, 9) + 90 * k)
        corners.append(
            np.stack(
                [
                    sx * (width / 2 - radius) + radius * np.cos(a),
                    sy * (depth / 2 - radius) + radius * np.sin(a),
                ],
                axis=1,
            )
        )
    points = np.concatenate(corners)
    c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    return points @ np.array([[c, s], [-s, c]])


def prism(rings: Sequence[NDArray[np.float64]], low: float, high: float) -> m3.Manifold:
    """A prism between two heights; rings after the first are holes."""
    section = m3.CrossSection([np.asarray(r) for r in rings], m3.FillRule.EvenOdd)
    return m3.Manifold.extrude(section, high - low).translate([0, 0, low])


def solid_of(manifold: m3.Manifold) -> Solid:
    """A labelled solid: faces told apart by their normals and by their distance from the axis."""
    mesh = manifold.to_mesh()
    vertices = np.array(mesh.vert_properties[:, :3], np.float64)
    triangles = np.array(mesh.tri_verts, np.int64)
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
    middle = (a + b + c) / 3
    outward = (normal[:, :2] * middle[:, :2]).sum(axis=1)
    faces = np.where(outward > 0, Face.OUTER, Face.OPENING)
    faces[normal[:, 2] > 0.9] = Face.TOP
    faces[normal[:, 2] < -0.9] = Face.UNDERSIDE
    top = vertices[:, 2].max()
    faces[(normal[:, 2] > 0.9) & (middle[:, 2] < top - 0.1)] = Face.RECESS_FLOOR
    return Solid(vertices, triangles, faces.astype(np.int8))


def part(
    name: str,
    manifold: m3.Manifold,
    material: Material,
    *,
    role: str = "layer",
    finish: Finish | None = None,
    turn: float = 0.0,
    grain: float = 90.0,
) -> Placed:
    """A placed part from a manifold that already stands in the lamp's frame."""
    solid = solid_of(manifold)
    z = solid.vertices[:, 2]
    return Placed(
        name,
        role,
        material,
        finish or material.finish,
        solid,
        float(z.min()),
        float(z.max()),
        turn,
        grain,  # type: ignore[arg-type]
    )


def points_at(
    centres: NDArray[np.float64],
    directions: NDArray[np.float64],
    *,
    face: float = 2.8,
    kelvin: float = 2700.0,
) -> LightPoints:
    """Square light points of one colour with a beam of 120°."""
    n = len(centres)
    across = np.cross(directions, np.where(np.abs(directions[:, 2:]) > 0.9, [1.0, 0, 0], [0, 0, 1.0]))
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    up = np.cross(directions, across)
    corners = np.stack(
        [centres + face / 2 * (i * across + j * up) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))], axis=1
    )
    full = np.ones(n)
    return LightPoints(
        centres, directions, corners, 120 * full, np.nan * full, kelvin * full, np.zeros(n, np.int64)
    )


def helix(radius: float, low: float, high: float, pitch: float, spacing: float) -> LightPoints:
    """Light points on a right-handed helix that face outwards."""
    turns = (high - low) / pitch
    length = turns * np.hypot(2 * np.pi * radius, pitch)
    n = int(length / spacing) + 1
    t = np.arange(n) * spacing / length * turns * 2 * np.pi
    out = np.stack([np.sin(t), -np.cos(t), np.zeros(n)], axis=1)
    centres = out * radius + np.stack([0 * t, 0 * t, low + t / (2 * np.pi) * pitch], axis=1)
    return points_at(centres, out)


def helix_ribbon(radius: float, low: float, high: float, pitch: float, width: float = 8.0) -> ColouredMesh:
    """The strip of ``helix`` as a thin coloured surface."""
    turns = (high - low) / pitch
    t = np.linspace(-0.1, turns * 2 * np.pi + 0.1, int(turns * 48) + 2)
    ring = np.stack([np.sin(t) * radius, -np.cos(t) * radius, low + t / (2 * np.pi) * pitch], axis=1)
    vertices = np.concatenate([ring - np.array([0, 0, width / 2]), ring + np.array([0, 0, width / 2])])
    n = len(t)
    k = np.arange(n - 1)
    triangles = np.concatenate(
        [np.stack([k, k + 1, k + n + 1], axis=1), np.stack([k, k + n + 1, k + n], axis=1)]
    )
    return ColouredMesh(vertices, triangles.astype(np.int64), (0.75, 0.72, 0.66))


def hexagons() -> TestLamp:
    """Seven walnut hexagon rings, four sanded plates in recesses, open gaps on brass pins."""
    parts = []
    z, thick = 0.0, 18.8
    outer, inner = circle(80.6, 6), circle(63.0, 6)
    recess = circle(71.0, 6)
    plate = circle(70.6, 6)
    core = circle(16.5, 6)
    for k in range(7):
        last = k == 6
        rings = [outer] if k in (0, 6) else [outer, inner]
        body = prism(rings, z, z + thick)
        sanded = k in (0, 1, 3, 4)
        if sanded and not last:
            body -= prism([recess], z + thick - 2.8, z + thick + 1)
            sheet = prism([plate, core * 1.03], z + thick - 2.8, z + thick + 2.8)
            parts.append(part(f"plate {k + 1}", sheet, CLEAR, finish=SANDED))
        parts.append(part(f"ring {k + 1}", body, WALNUT, grain=90.0))
        if not sanded and not last:
            for a in np.radians([0, 120, 240]):
                at = np.array([np.sin(a), -np.cos(a)]) * 68.0
                pin = prism([circle(4, 24) + at], z + thick, z + thick + 8)
                parts.append(part(f"spacer {k}{a:.1f}", pin, BRASS, role="post"))
        z += thick + (2.8 if sanded else 8.0) * (not last)
    parts.append(part("core", prism([core], 16.0, z - thick), ASH, role="core", grain=0.0))
    centres, out = [], []
    for side in range(6):
        b = np.radians(60 * side)
        normal = np.array([np.sin(b), -np.cos(b), 0.0])
        for height in np.linspace(28, z - thick - 12, 12):
            centres.append(normal * 15.2 + [0, 0, height])
            out.append(normal)
    return TestLamp(tuple(parts), points_at(np.array(centres), np.array(out)))


def drum() -> TestLamp:
    """A round birch-ply lamp that tapers, opal plates above two open gaps, one diode pointing up."""
    parts = [part("base", prism([circle(65)], 0, 17.4), BIRCH_PLY)]
    z = 17.4
    for k in range(6):
        outer = 60.0 - 2 * k
        rings = [circle(outer), circle(outer - 14)]
        if k < 2:
            for a in np.radians([60, 180, 300]):
                at = np.array([np.sin(a), -np.cos(a)]) * (outer - 7)
                post = prism([circle(3, 24) + at], z, z + 5)
                parts.append(part(f"spacer {k}{a:.1f}", post, ALUMINIUM, role="post"))
            z += 5
        body = prism(rings, z, z + 8.8)
        if k >= 1:
            body -= prism([circle(outer - 9)], z + 7.3, z + 10)
            parts.append(part(f"plate {k}", prism([circle(outer - 9.3)], z + 7.3, z + 11.1), OPAL))
        parts.append(part(f"ring {k + 1}", body, BIRCH_PLY, grain=90.0 * (k % 2)))
        z += 8.8 + (2.3 if k >= 1 else 0.0)
    parts.append(part("cap", prism([circle(48)], z, z + 8.8), BIRCH_PLY))
    diode = points_at(np.array([[0.0, 0.0, 18.6]]), np.array([[0.0, 0.0, 1.0]]), face=4.0)
    return TestLamp(tuple(parts), diode)


def lantern() -> TestLamp:
    """Twisted cherry rectangles with clear plates between, a strip wound on a tube."""
    parts = []
    z, thick = 0.0, 18.6
    for k in range(9):
        turn = 5.0 * k
        outer, inner = rounded(150, 90, 12, turn), rounded(122, 62, 3, turn)
        body = prism([outer] if k in (0, 8) else [outer, inner], z, z + thick)
        if k < 8:
            body -= prism([rounded(134, 74, 4, turn)], z + thick - 2, z + thick + 1)
            sheet = prism([rounded(133.6, 73.6, 4, turn), circle(17)], z + thick - 2, z + thick + 2.6)
            parts.append(
                part(f"plate {k + 1}", sheet, CLEAR, finish=SANDED if k % 2 else Finish(), turn=turn)
            )
        parts.append(part(f"tier {k + 1}", body, CHERRY, turn=turn, grain=90.0 * (k % 2) + turn))
        z += thick + 2.6 * (k < 8)
    tube = prism([circle(16, 64), circle(14, 64)], 17, z - thick)
    parts.append(part("core", tube, ALUMINIUM, role="core"))
    low, high = 26.0, z - thick - 10
    return TestLamp(tuple(parts), helix(17.7, low, high, 60, 8.33), (helix_ribbon(17.3, low, high, 60),))


def gallows() -> TestLamp:
    """A plain lamp: two ash rings held 30 mm apart by posts round a bare strip; easy to reason about."""
    parts = [part("base", prism([circle(60)], 0, 15), ASH)]
    for a in np.radians([45, 135, 225, 315]):
        at = np.array([np.sin(a), -np.cos(a)]) * 52
        parts.append(part(f"post {a:.1f}", prism([circle(4, 24) + at], 15, 65), BRASS, role="post"))
    parts.append(part("lid", prism([circle(60)], 65, 80), ASH))
    parts.append(part("core", prism([circle(12, 48)], 15, 65), ALUMINIUM, role="core"))
    return TestLamp(tuple(parts), helix(12.7, 22, 58, 18, 8.33))


def plates(material: Material, finish: Finish = CLEAR.finish) -> TestLamp:
    """One plate 60 mm square held upright-free over a lit base; for comparing materials."""
    parts = [part("base", prism([rounded(90, 90, 6, 0)], 0, 12), ASH)]
    for a in np.radians([45, 135, 225, 315]):
        at = np.array([np.sin(a), -np.cos(a)]) * 50
        parts.append(part(f"post {a:.1f}", prism([circle(3, 24) + at], 12, 42), BRASS, role="post"))
    parts.append(part("plate", prism([rounded(84, 84, 6, 0)], 42, 47), material, finish=finish))
    diode = points_at(np.array([[0.0, 0.0, 13.0]]), np.array([[0.0, 0.0, 1.0]]), face=4.0)
    return TestLamp(tuple(parts), diode)
