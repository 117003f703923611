"""Light points that an eye sees through clear acrylic, in glimpses: ways that look for their faces alone.

In a rim of clear acrylic a light point may fill a third of one pixel and be a quarter of the plate's light: among ways
that are followed for all light, a handful meets it or none does. Ways that end at the first face that spreads light
cost a fraction of those.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Singles, Whole
from stackview.glow.seen_light import LOTS
from stackview.sight.camera import Camera
from stackview.spots.at_faces import JoinsNothing, unspread_work
from stackview.spots.from_eye import LitFaces, joined_light
from stackview.spots.gathering import Gathering
from stackview.spots.ways import Arrived, FacesMet, Going, begun, follow

_WAYS, _TRIED = 8_192, 256
"""In one look at a plate, of which so many tell first whether any goes unspread."""
_LOOKS, _ENOUGH = 8, 64
"""Looks at a plate at most, and none further where so many ways have met a light point: of one look's ways three meet the
face that is the brightest thing on a plate of Turning Lantern's, and with one seed in twenty none did."""


def glimpse(
    around: LitFaces, camera: Camera, plates: Sequence[Gathering], chance: np.random.Generator
) -> None:
    """Look for light points' faces in those of the plates that show anything unspread."""
    for plate in plates:
        pixels = len(plate.view.rows)
        even = np.full(pixels, 1.0 / pixels)
        travel, cell = plate.starts(camera, even, _WAYS // LOTS, chance)
        if not _faces_met(
            around, camera, travel[:: _WAYS // _TRIED], cell[:: _WAYS // _TRIED], chance
        ).unspread:
            continue
        met = 0
        for _ in range(_LOOKS):
            found = joined_light(_faces_met(around, camera, travel, cell, chance).found)
            plate.take_glimpsed(found, _WAYS // LOTS * even)
            met += len(found.value)
            if met >= _ENOUGH:
                break
            travel, cell = plate.starts(camera, even, _WAYS // LOTS, chance)


def _faces_met(
    around: LitFaces, camera: Camera, travel: Singles, cell: Whole, chance: np.random.Generator
) -> "_Glimpsing":
    """What ways along directions (n, 3) come upon."""
    own = _Glimpsing(around)
    work = unspread_work(around.faces, own, chance)
    at = np.repeat(camera.eye.astype(np.float32)[:, None], len(cell), axis=1)
    along = np.ascontiguousarray(travel.T, np.float32)
    follow(
        around.faces,
        own,
        work,
        begun(at, along, np.ones(len(cell), np.float32), cell.astype(np.int32)),
        chance,
    )
    return own


@dataclass(slots=True, eq=False)
class _Glimpsing(JoinsNothing):
    around: LitFaces
    unspread: bool = False
    found: list[Arrived] = field(default_factory=list)

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Take in light points' faces; what has been spread goes no further."""
        led = self.around.faces.led[met.triangle]
        some = np.flatnonzero(going.plain & going.straight & (led >= 0) & ~met.inside)
        if len(some):
            value, yes = self.around.emitters.luminance[led[some]], np.ones(len(some), np.bool_)
            self.found.append(Arrived(going.origin[some], led[some], going.weight[some] * value, ~yes, yes))
        going.weight = np.where(going.plain, going.weight, np.float32(0.0))

    def after_first(self, going: Going) -> Going:
        """Those that the first face has not spread."""
        going = going.only(going.began_straight)
        self.unspread = len(going.origin) > 0
        return going
