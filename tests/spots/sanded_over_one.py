"""One light point under a sanded disc, black all round: as the program has it, and as the brute walk sees it."""

from dataclasses import dataclass, replace

import numpy as np

from stackview.arrays import Floats
from stackview.description.lamp_file import LampFile
from stackview.glow.blur import masked_blur
from stackview.glow.hot_spots import eye_blur
from stackview.glow.room import DARK
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Matt
from stackview.sight.camera import Camera, project, rays
from stackview.sight.eyes import Standpoint, eye_places
from stackview.spots.faces import Faces, optical_faces
from stackview.spots.lit_lamp import LitLamp
from stackview.spots.plate_views import PlateView, as_fine_as_the_eye, plate_views
from stackview.study import Study
from tests.spots.brute_walk import SandedDisc, Shown, Square
from tests.spots.twelve_lamps import LAMPS

WIDE = 6.0
"""The wide peak is read through so many of the eye's blurs: a single one shows mostly chance."""


@dataclass(frozen=True, slots=True, eq=False)
class SandedOverOne:
    """The plate of that lamp as its eye sees it; nothing else throws light back."""

    lit: LitLamp
    scene: GlowScene
    faces: Faces
    camera: Camera
    view: PlateView
    disc: SandedDisc
    square: Square

    def picture(self, shown: Shown) -> Floats:
        """Luminance (h, w) [cd/m²] in the plate's box of what the brute walk shows."""
        x, y = np.floor(project(self.camera, shown.places.T)).astype(int).T
        (top, left), (tall, wide) = self.view.corner, self.view.mask.shape
        row, column = y - top, x - left
        shows = (row >= 0) & (row < tall) & (column >= 0) & (column < wide)
        cell = row[shows] * wide + column[shows]
        light = np.bincount(cell, shown.light[shows], minlength=tall * wide).reshape(tall, wide)
        rows, columns = np.mgrid[top : top + tall, left : left + wide] + 0.5
        slant = (rays(self.camera, columns.ravel(), rows.ravel()) @ self.camera.axes[2]).reshape(tall, wide)
        # A pixel's solid angle; millimetres in metres.
        return np.where(self.view.mask, 1e6 * light / (self.camera.pixel**2 * slant**3), 0.0)

    def through_wide_blur(self, picture: Floats) -> Floats:
        """A picture (h, w) as it is read for the wide peak."""
        return masked_blur(picture, self.view.mask, WIDE * eye_blur(self.camera))


def sanded_over_one(roughness: float) -> SandedOverOne:
    """The lamp with its plate sanded to a GGX width."""
    text = LAMPS["sanded over a diode"]
    sanded = text.replace('finish = "sanded" }', f'roughness = {roughness}, finish = "sanded" }}')
    assert sanded != text
    study = Study(LampFile.from_text(sanded))
    lit, seen = study.lit, study.sightlines.eyes[0]
    scene = _black(lit.scene)
    at = eye_places(seen.eye, Standpoint(study.stack.floor, study.lamp.surface), seen.bearings[[seen.worst]])
    camera = as_fine_as_the_eye(lit.corners, at[0], study.stack.height)
    faces = optical_faces(scene, DARK, study.light.points, lit.colour)
    (view,) = plate_views(scene, faces, camera)
    ring = next(part for part in study.stack.placed if part.name == "ring 1")
    plate, opening = (np.hypot(*part.solid.vertices[:, :2].T) for part in (view.part, ring))
    heights = view.part.solid.vertices[:, 2]
    disc = SandedDisc(plate.max(), heights.min(), heights.max(), opening.min(), roughness)
    (light,) = scene.lights
    corners = light.vertices
    square = Square(corners[:, 2].max(), float(np.ptp(corners[:, 0])), float(study.light.points.lumens[0]))
    return SandedOverOne(lit, scene, faces, camera, view, disc, square)


def _black(scene: GlowScene) -> GlowScene:
    """The same with wood and the light point's own face black."""
    black = (0.0, 0.0, 0.0)
    bodies = (replace(one, skin=Matt(black)) if isinstance(one.skin, Matt) else one for one in scene.bodies)
    return replace(
        scene, bodies=tuple(bodies), lights=tuple(replace(one, reflectance=black) for one in scene.lights)
    )
