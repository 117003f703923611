"""How much light leaves the lamp: ways followed from the light points until they are out, or taken up."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Yes
from stackview.glow.flux import flux_of
from stackview.glow.room import Room
from stackview.glow.scene import SkinFaces, glow_scene
from stackview.glow.skins import Matt
from stackview.light.colour import mean_light_colour
from stackview.light.layout import LightLayout
from stackview.one_line import one_line
from stackview.spots.at_faces import Aim, Asked, faces_work
from stackview.spots.faces import Faces, optical_faces
from stackview.spots.from_lights import set_out
from stackview.spots.light_choice import emitters_of
from stackview.spots.ways import FacesMet, Going, begun, follow
from stackview.stack.assembly import Stack

_WAYS = 49_152
"""By so many a share of a tenth is known to 1.4 %."""
_BATCH = 16_384
_FAR = 100.0
"""How far beyond the lamp it is held to be out [mm]."""


@dataclass(frozen=True, slots=True, repr=False)
class LightLeaving:
    """Light that leaves the lamp alone, without what it stands on.

    lumens : [lm]; given : what its light points give [lm]; error : relative standard error of ``lumens``;
    assumed : in words, what of the lumens the file does not give.
    """

    lumens: float
    given: float
    error: float
    assumed: tuple[str, ...]

    __repr__ = one_line

    def record(self) -> dict[str, float]:
        """As JSON has it."""
        return {"lumens": self.lumens, "lumens_of_light_points": self.given, "error": self.error}


def light_leaving(stack: Stack, light: LightLayout, *, seed: int = 1, ways: int = _WAYS) -> LightLeaving:
    """Follow so many ways out of the lamp; the same lamp gives the same answer anywhere.

    Every way carries the same light. What a face takes up ends there, and what comes to a black shell about
    the lamp is out: the share of these is p, its relative error that of counting, √((1 − p)/(p·n)).
    """
    flux = flux_of(light)
    if not len(light.points) or flux.total <= 0.0:
        return LightLeaving(0.0, flux.total, 0.0, flux.assumed)
    scene = glow_scene(stack, light, flux)
    corners = np.concatenate([body.vertices for body in scene.bodies])
    shell = _shell(corners.min(axis=0) - _FAR, corners.max(axis=0) + _FAR)
    faces = optical_faces(
        scene, Room((shell,)), light.points, mean_light_colour(light.points.kelvin, flux.lumens)
    )
    within = sum(len(body.triangles) for body in scene.bodies)
    is_shell = np.zeros(len(faces.part), np.bool_)
    is_shell[within : within + len(shell.triangles)] = True
    emitters, chance = emitters_of(scene, light.points), np.random.Generator(np.random.SFC64([11, seed]))
    own = _Outwards(faces, is_shell)
    for start in range(0, ways, _BATCH):
        count = min(_BATCH, ways - start)
        _, at, travel = set_out(emitters, count, chance)
        going = begun(at, travel, np.ones(count, np.float32), np.arange(count, dtype=np.int32))
        follow(faces, own, faces_work(faces, own, chance, halve=False), going, chance)
    share = own.out / ways
    error = float(np.sqrt(max(1.0 - share, 0.0) / (share * ways))) if share > 0.0 else 0.0
    return LightLeaving(share * flux.total, flux.total, error, flux.assumed)


def _shell(low: Floats, high: Floats) -> SkinFaces:
    """A black box about the lamp, its faces turned inwards."""
    corners = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], np.float64)
    quads = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    places, normals, triangles = [], [], []
    for number, quad in enumerate(quads):
        square = corners[list(quad)]
        inwards = 0.5 - square.mean(axis=0)
        inwards /= np.linalg.norm(inwards)
        if np.cross(square[1] - square[0], square[2] - square[0]) @ inwards < 0.0:
            square = square[::-1]
        places.append(low + square * (high - low))
        normals.append(np.tile(inwards, (4, 1)))
        triangles += [
            [4 * number, 4 * number + 1, 4 * number + 2],
            [4 * number, 4 * number + 2, 4 * number + 3],
        ]
    return SkinFaces(
        "shell",
        -1,
        Matt((0.0, 0.0, 0.0)),
        np.concatenate(places),
        np.concatenate(normals),
        np.array(triangles),
    )


@dataclass(slots=True, eq=False)
class _Outwards:
    """Ends that nothing is joined to: what comes to the shell is counted."""

    faces: Faces
    is_shell: Yes
    out: float = 0.0

    def come_upon(self, going: Going, met: FacesMet) -> None:
        self.out += float(going.weight[self.is_shell[met.triangle]].sum())

    def after_first(self, going: Going) -> Going:
        """All ways go on."""
        return going

    def aims(self, asked: Asked) -> Aim:
        """Anywhere: nothing is asked of the joining lines."""
        count = len(asked.going.origin)
        up = np.zeros((3, count), np.float32)
        up[2] = 1.0
        return Aim(np.zeros(count, np.int64), up, np.ones(count, np.float32), np.zeros(count, np.float32))

    def join(self, asked: Asked, aim: Aim, share: np.ndarray) -> None:
        """Nothing is joined."""
