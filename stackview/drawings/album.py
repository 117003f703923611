"""Every still view of a lamp by its name."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.contact_sheet import contact_sheet
from stackview.drawings.elevation_drawing import elevation_picture
from stackview.drawings.plan_drawing import plan_picture
from stackview.drawings.room_drawing import room_picture
from stackview.drawings.round_drawing import round_picture
from stackview.drawings.section_drawing import section_drawing
from stackview.drawings.sightline_map import sightline_map
from stackview.drawings.spread_drawing import SPREAD_BEARING, SPREAD_ELEVATION, spread_picture
from stackview.errors import OutputError
from stackview.sight.camera import BEARING, ELEVATION, Camera, frame
from stackview.stills.evening_picture import evening_picture
from stackview.stills.halved import halved
from stackview.stills.kept_light import baked
from stackview.stills.mix import LIFTED, STUDIO, Mix
from stackview.stills.picture import Picture, picture_of
from stackview.stills.setting import Setting, assembled, lifted, without_cord
from stackview.stills.studio import shoot
from stackview.stills.views import check_size, check_units, check_view, chosen, size_of
from stackview.study import Study, of_study

LEVEL = 5.0
"""Elevation of the front and side views: level, but with the ground still seen [°]."""
_BENEATH = -38.0
_STEEP = 55.0
"""From above this a pendant's cord would hide the lamp [°]."""
HALF_TURN, HALF_ELEVATION = 16.0, 14.0
"""How far aside of the cut's own bearing, and how high, the eye stands in the half view [°]."""


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked of a picture; None stands for what suits the view."""

    size: tuple[int, int]
    bearing: float | None = None
    elevation: float | None = None
    units: str | None = None
    cut_out: bool = False
    eye: str | None = None
    distance: float | None = None


@of_study
def draw_view(
    study: Study,
    view: str,
    *,
    size: tuple[int, int] | None = None,
    bearing: float | None = None,
    elevation: float | None = None,
    units: str | None = None,
    transparent: bool = False,
    eye: str | None = None,
    distance: float | None = None,
) -> Picture:
    """Draw a still view by its name (see ``stackview picture``): (h, w, 3), or (h, w, 4) if transparent.

    ``bearing`` and ``elevation`` [°] are for studio, evening, half, spread and (bearing only)
    elevation, room and section; ``eye`` is whose plan, section or map it is, by name; ``distance`` from the
    lamp's axis [mm] is for a map of its own; ``units`` is "mm", "in" or "both".
    The eyes' views and the turntable have functions of their own. Raises OutputError for what cannot be drawn.
    """
    (name,) = chosen([view])
    ask = Ask(size or size_of(name, None, None), bearing, elevation, units, transparent, eye, distance)
    check_size(name, ask.size)
    check_units(units)
    check_view(_or(bearing, 0.0), _or(elevation, 0.0), ask.size)
    if name not in _STILL:
        raise OutputError(f"{name}: not one still picture; draw it with its own function")
    return picture_of(_STILL[name](study, ask))


def _plain(
    mix: Mix, bearing: float | None, elevation: float | None, up: bool = False
) -> Callable[[Study, Ask], NDArray[np.uint8]]:
    """A view of the lamp as built; None leaves an angle to who asks."""

    def draw(study: Study, ask: Ask) -> NDArray[np.uint8]:
        setting, camera = _standing(study, ask, bearing, elevation, up=up)
        return shoot(baked(setting), camera, mix=mix, cut_out=ask.cut_out)

    return draw


def _standing(
    study: Study, ask: Ask, bearing: float | None, elevation: float | None, *, up: bool
) -> tuple[Setting, Camera]:
    """The lamp as built and the camera that looks at it."""
    setting = assembled(study.stack, study.light)
    around = bearing if bearing is not None else _or(ask.bearing, BEARING)
    above = elevation if elevation is not None else _or(ask.elevation, ELEVATION)
    if up:
        setting = lifted(setting)
    if above > _STEEP:
        setting = without_cord(setting)
    return setting, _camera(setting, ask, around, above)


def _evening(study: Study, ask: Ask) -> NDArray[np.uint8]:
    setting, camera = _standing(study, ask, None, None, up=False)
    return evening_picture(study, setting, camera, cut_out=ask.cut_out)


def _or(asked: float | None, usual: float) -> float:
    return usual if asked is None else asked


def _camera(setting: Setting, ask: Ask, bearing: float, elevation: float) -> Camera:
    return frame(setting.body, bearing=bearing, elevation=elevation, size=ask.size)


def _half(study: Study, ask: Ask) -> NDArray[np.uint8]:
    cut = _or(ask.bearing, 0.0)
    setting = halved(study.stack, study.light, cut)
    camera = _camera(setting, ask, cut + HALF_TURN, _or(ask.elevation, HALF_ELEVATION))
    return shoot(baked(setting), camera, mix=STUDIO, cut_out=ask.cut_out)


def _spread(study: Study, ask: Ask) -> NDArray[np.uint8]:
    return spread_picture(
        study,
        study.lamp.units.asked(ask.units),
        size=ask.size,
        bearing=_or(ask.bearing, SPREAD_BEARING),
        elevation=_or(ask.elevation, SPREAD_ELEVATION),
        cut_out=ask.cut_out,
    )


def _elevation(study: Study, ask: Ask) -> NDArray[np.uint8]:
    units = study.lamp.units.asked(ask.units)
    bearing = _or(ask.bearing, 0.0)
    return elevation_picture(study, units, size=ask.size, bearing=bearing, cut_out=ask.cut_out)


def _room(study: Study, ask: Ask) -> NDArray[np.uint8]:
    return room_picture(study, ask.bearing, ask.size)


def _plan(study: Study, ask: Ask) -> NDArray[np.uint8]:
    return plan_picture(study, ask.eye, ask.size)


def _map(study: Study, ask: Ask) -> NDArray[np.uint8]:
    if ask.eye is None and ask.distance is None:
        return sightline_map(study, ask.size)
    return round_picture(study, study.sightlines.own_distance(ask.eye, ask.distance), ask.size)


def _section(study: Study, ask: Ask) -> NDArray[np.uint8]:
    return section_drawing(study, ask.bearing, ask.size, ask.eye)


def _sheet(study: Study, ask: Ask) -> NDArray[np.uint8]:
    def cell(view: str, size: tuple[int, int]) -> NDArray[np.uint8]:
        return _STILL[view](study, replace(ask, size=size, cut_out=False))

    return contact_sheet(study, cell, study.lamp.units.asked(ask.units), ask.size, cut_out=ask.cut_out)


_STILL: dict[str, Callable[[Study, Ask], NDArray[np.uint8]]] = {
    "room": _room,
    "plan": _plan,
    "map": _map,
    "section": _section,
    "studio": _plain(STUDIO, None, None),
    "evening": _evening,
    "front": _plain(STUDIO, 0.0, LEVEL),
    "side": _plain(STUDIO, 90.0, LEVEL),
    "top": _plain(STUDIO, 0.0, 90.0),
    "beneath": _plain(LIFTED, None, _BENEATH, up=True),
    "spread": _spread,
    "half": _half,
    "elevation": _elevation,
    "sheet": _sheet,
}
