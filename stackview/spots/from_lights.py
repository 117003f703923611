"""Ways from the light points forwards: at every face of acrylic that spreads light the eye is joined to them.

For light that enters acrylic by a clear face or from a mirror, and leaves it by a face that spreads it: followed from
the eye, it would have to come upon a light point by luck.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles, Yes
from stackview.glow.scene import GlowScene
from stackview.sight.camera import Camera
from stackview.sight.refraction import dot
from stackview.spots.at_faces import Aim, Asked, faces_work
from stackview.spots.faces import Does
from stackview.spots.from_eye import LitFaces, joined_light, only_free
from stackview.spots.light_choice import set_out
from stackview.spots.plate_views import PlateView
from stackview.spots.ways import Arrived, ByPlate, FacesMet, Going, begun, follow


@dataclass(frozen=True, slots=True, eq=False)
class EyePixels:
    """Where an eye sees acrylic: a camera, and for each pixel (h, w) the number of its cell, −1 where none is.

    part : (cells,) number of the placed part that a cell shows.
    """

    camera: Camera
    cell: Ints
    part: Ints


def pixels_of(camera: Camera, views: Sequence[PlateView], scene: GlowScene) -> EyePixels:
    """Cells for all pixels of all plates, plate by plate."""
    wide, tall = camera.size
    cell: Ints = np.full((tall, wide), -1, np.int32)
    parts: list[Ints] = [np.zeros(0, np.int32)]
    first = 0
    for view in views:
        number = next(index for index, part in enumerate(scene.placed) if part is view.part)
        cell[view.rows, view.columns] = first + np.arange(len(view.rows))
        parts.append(np.full(len(view.rows), number, np.int32))
        first += len(view.rows)
    return EyePixels(camera, cell, np.concatenate(parts))


def light_from_lights(
    around: LitFaces, eye: EyePixels, ways: int, groups: int, chance: np.random.Generator
) -> Arrived:
    """Follow ways from the light points, and join them to an eye where it sees acrylic.

    The light is luminance [cd/m²] of the pixel; its cell is the pixel's, plus the group times the number of all
    cells. On opal all light counts, on sanded acrylic what entered it by a clear face.
    """
    led, at, travel = set_out(around.emitters, ways, chance)
    # Flux π·L·A [cd/m²·mm²·sr], shared evenly.
    flux = around.emitters.luminance.astype(np.float64) @ around.emitters.area
    weight = np.full(ways, np.pi * flux / ways, np.float32)
    own = _FromLights(around, eye, groups, chance)
    going = begun(at, travel, weight, np.arange(ways, dtype=np.int32))
    own.led, own.group = led, (chance.permutation(ways) % groups).astype(np.int32)
    work = faces_work(around.faces, own, chance, halve=False, looked_up=own.known)
    follow(around.faces, own, work, going, chance)
    return joined_light(own.found)


@dataclass(slots=True, eq=False)
class _FromLights:
    around: LitFaces
    eye: EyePixels
    groups: int
    chance: np.random.Generator
    led: Ints = field(default_factory=lambda: np.zeros(0, np.int32))
    group: Ints = field(default_factory=lambda: np.zeros(0, np.int32))
    cells: Ints = field(default_factory=lambda: np.zeros(0, np.int32))
    found: list[Arrived] = field(default_factory=list)

    def come_upon(self, going: Going, _: FacesMet) -> None:
        """An eye is too small to be come upon; what comes by a level clear plate alone, or is caught, eyes' ways have."""
        going.weight = np.where(going.by == ByPlate.SPREAD, np.float32(0.0), going.weight)

    def known(self, _going: Going, met: FacesMet, back: Singles) -> Yes:
        """Eyes' ways look up what is caught."""
        caught = self.around.caught
        if caught is None:
            return np.zeros(len(back), np.bool_)
        return caught.known(met.triangle, self.around.faces.led[met.triangle])

    def after_first(self, going: Going) -> Going:
        """Light that the first face has spread is followed from the eye."""
        return going.only(going.began_straight)

    def aims(self, asked: Asked) -> Aim:
        """The eye for each way, and the pixel that shows this place, if one does.

        The weight is 1/(d²·Ω) with the pixel's solid angle Ω = pixel²·cos³ off the picture's axis.
        """
        begin, triangle = asked.begin, asked.met.triangle
        count, camera = begin.shape[1], self.eye.camera
        does = self.around.faces.does[triangle]
        line = camera.eye.astype(np.float32)[:, None] - begin
        far = np.sqrt(dot(line, line))
        weight, self.cells = np.zeros(count, np.float32), np.full(count, -1, np.int32)
        shows = (does == Does.OPAL) | (does == Does.SANDED)
        by_a_plate = asked.going.plain & asked.going.by_a_plate
        some = np.flatnonzero(shows & asked.going.began_straight & ~by_a_plate)
        if len(some):
            right, up, away = (axis.astype(np.float32)[:, None] for axis in camera.axes)
            own, length = line[:, some], far[some]
            depth = np.maximum(-dot(away, own), np.float32(1e-3))
            wide, tall = camera.size
            column = np.floor(wide / 2.0 - dot(right, own) / depth / camera.pixel).astype(np.int64)
            row = np.floor(tall / 2.0 + dot(up, own) / depth / camera.pixel).astype(np.int64)
            inside = (column >= 0) & (column < wide) & (row >= 0) & (row < tall)
            cell = self.eye.cell[np.clip(row, 0, tall - 1), np.clip(column, 0, wide - 1)]
            shown = self.eye.part[cell] == self.around.faces.part[triangle[some]]
            cell = np.where(inside & shown & (cell >= 0), cell, -1)
            solid = np.float32(camera.pixel) ** 2 * (depth / length) ** 3
            self.cells[some] = cell
            weight[some] = np.where(cell >= 0, 1.0 / (length * length * solid), 0.0)
        to = np.asarray(line / far, np.float32)
        return Aim(np.zeros(count, np.int64), to, far, weight)

    def join(self, asked: Asked, aim: Aim, share: Singles) -> None:
        going = asked.going
        value = only_free(self.around.faces.target, asked.begin, aim, going.weight * aim.weight * share)
        some = np.flatnonzero(value > 0.0)
        if len(some):
            way = going.origin[some]
            cell = self.cells[some] + self.group[way] * np.int32(len(self.eye.part))
            no = np.zeros(len(some), np.bool_)
            self.found.append(Arrived(cell, self.led[way], value[some], going.matt[some], no))
