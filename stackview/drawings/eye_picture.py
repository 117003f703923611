"""What a named eye sees from its worst bearing, with the bare light points ringed and counted."""

import numpy as np
from numpy.typing import NDArray

from stackview.description.units import Units
from stackview.drawings.chart_style import (
    INK,
    KIND_COLOURS,
    PAPER,
    QUIET,
    Sheet,
    blank,
    box_loop,
    draw_line,
    fill_area,
    printable,
    shortened,
    text_width,
    with_noun,
    write,
)
from stackview.drawings.inked import inked
from stackview.errors import OutputError
from stackview.in_figures import bearing_words, degrees
from stackview.light.layout import LightLayout
from stackview.sight.bands import HIDDEN, Kind
from stackview.sight.camera import Camera, eye_view, project
from stackview.sight.eyes import Seen, Standpoint, eye_places
from stackview.stack.assembly import Stack
from stackview.stills.kept_light import baked
from stackview.stills.mix import DUSK
from stackview.stills.picture import Picture, picture_of
from stackview.stills.setting import Setting, assembled
from stackview.stills.studio import shoot
from stackview.stills.views import check_size, check_units
from stackview.study import Study, of_study

BAND = 5.4
"""Height of the words under the picture [em]."""


@of_study
def draw_eye(
    study: Study,
    name: str,
    *,
    size: tuple[int, int] = (1600, 1200),
    units: str | None = None,
    transparent: bool = False,
) -> Picture:
    """Draw what the eye of that name sees from its worst bearing: (h, w, 3), or (h, w, 4) if transparent.

    Raises OutputError for an eye that the lamp does not name, or a size that cannot be drawn.
    """
    check_size("eyes", size)
    check_units(units)
    for seen in study.eyes:
        if seen.eye.name == name:
            shown_in = study.lamp.units.asked(units)
            return picture_of(eye_picture(study, seen, shown_in, size=size, cut_out=transparent))
    known = ", ".join(f'"{eye.name}"' for eye in study.lamp.eyes) or "none"
    raise OutputError(f'eye "{name}": the lamp names none of that name; it names {known}')


def eye_picture(
    study: Study,
    seen: Seen,
    units: Units,
    *,
    size: tuple[int, int],
    cut_out: bool = False,
) -> NDArray[np.uint8]:
    """Draw what one eye sees from its worst bearing: (h, w, 3), or (h, w, 4) where cut out.

    True perspective: the camera stands where the eye is, at its distance and height.
    """
    stack, light = study.stack, study.light
    setting = assembled(stack, light)
    sheet = blank(size)
    band = round(BAND * sheet.em)
    camera = eye_camera(stack, setting, seen, (size[0], size[1] - band))
    surface = stack.lamp.surface if stack.lamp.hangs_at is None else None
    picture = shoot(baked(setting), camera, mix=DUSK, cut_out=cut_out, surface=surface)
    under = np.full((size[1], size[0], picture.shape[2]), 255, np.uint8)
    under[: size[1] - band] = picture
    draw_rings(sheet, project(camera, bare_places(light, seen)), camera.size, band)
    _caption(sheet, seen, len(light.points), band, units)
    return inked(sheet, under)


def eye_camera(stack: Stack, setting: Setting, seen: Seen, size: tuple[int, int]) -> Camera:
    """Stand the camera in the eye, at the bearing from which it sees most bare points."""
    standpoint = Standpoint(stack.floor, stack.lamp.surface)
    place = eye_places(seen.eye, standpoint, seen.bearings[[seen.worst]])[0]
    points = np.concatenate([part.solid.vertices for part in setting.body])
    return eye_view(points, place, stack.height, size)


def bare_places(light: LightLayout, seen: Seen) -> NDArray[np.float64]:
    """Middles (k, 3) [mm] of the light points that are bare to an eye at its worst bearing."""
    return np.asarray(light.points.centres[seen.kind[:, seen.worst] == Kind.BARE])


def draw_rings(sheet: Sheet, places: NDArray[np.float64], size: tuple[int, int], band: float) -> None:
    """Ring places (k, 2) [px, from the upper left]; rings shrink where they would run into each other."""
    em = sheet.em
    radius = 0.85 * em
    if len(places) > 1:
        apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
        np.fill_diagonal(apart, np.inf)
        radius = float(np.clip(0.47 * np.median(apart.min(axis=1)), 0.38 * em, radius))
    turn = np.linspace(0.0, 2.0 * np.pi, 49)
    circle = radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    rings = [np.array([x, band + size[1] - y]) + circle for x, y in places.tolist()]
    if rings:
        # A pale rim keeps the ring readable on dark and on bright parts alike.
        draw_line(sheet, rings, colour="#ffffff", width=3.6, over=9.0, opacity=0.75)
        draw_line(sheet, rings, colour=KIND_COLOURS[Kind.BARE], width=2.0, over=9.1)


def _caption(sheet: Sheet, seen: Seen, total: int, band: float, units: Units) -> None:
    em = sheet.em
    kinds = seen.kind[:, seen.worst]
    bare, glazed, veiled = (int((kinds == kind).sum()) for kind in (Kind.BARE, Kind.GLAZED, Kind.VEILED))
    fill_area(sheet, [box_loop((0.0, 0.0, float(sheet.width), float(band)))], PAPER, over=10.0)
    left = 1.2 * em
    if bare:
        turn = np.linspace(0.0, 2.0 * np.pi, 33)
        at = np.array([left + 0.6 * em, band - 1.75 * em])
        ring = at + 0.6 * em * np.stack([np.cos(turn), np.sin(turn)], axis=1)
        draw_line(sheet, [ring], colour=KIND_COLOURS[Kind.BARE], width=2.2, over=11.0)
        left += 1.9 * em
    of = f" of {with_noun(total, 'light point')}"
    told = f"{bare} bare{of}" if bare else f"no bare light point ({total} in all)"
    rest = f"{glazed} glazed, {veiled} veiled, {int((kinds == HIDDEN).sum())} hidden"
    corner = int(seen.part_bare[:, seen.worst].sum())
    if corner:
        rest += f"; of {corner} more a corner is bare"
    room = sheet.width - left - 1.2 * em
    title = shortened(sheet, f"{printable(seen.eye.name)}: {told}", room, 1.35, bold=True)
    write(sheet, (left, band - 2.2 * em), title, size=1.35, bold=True, upright="baseline")
    used = text_width(sheet, title, 1.35, bold=True) + 1.2 * em
    if used + text_width(sheet, rest) <= room:
        write(sheet, (left + used, band - 2.2 * em), rest, colour=INK, upright="baseline")
        where = ""
    else:
        where = f"{rest}. "
    where += (
        f"Eye {units.show(seen.eye.distance)} from the axis, {units.show(seen.eye.height)} above the "
        f"floor, at bearing {bearing_words(float(seen.bearings[seen.worst]))}, elevation "
        f"{degrees(seen.elevation)}; its true perspective."
    )
    words = shortened(sheet, where, sheet.width - 2.4 * em, 0.95)
    write(sheet, (1.2 * em, 1.3 * em), words, size=0.95, colour=QUIET, upright="baseline")
