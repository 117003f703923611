"""A lamp's glow, taken all the way: rendered, measured, and its pictures written, within the time given."""

import os
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from multiprocessing import Event
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.at_once import begun_behind
from stackview.commands.arguments import length_of
from stackview.commands.glow_limit import (
    DAYLIGHT,
    LAMPLIGHT,
    LIGHT_OUT,
    PICTURES,
    RATIOS,
    GlowLimit,
    fitting,
    least_time,
)
from stackview.commands.glow_place import FARTHEST_GLOW, NEAREST_GLOW, GlowPlace, place_for
from stackview.commands.glow_written import targets_in, unfinished_words, written
from stackview.commands.progress import progress, stages
from stackview.commands.writing import check_ours
from stackview.errors import StackviewError
from stackview.findings import Finding
from stackview.glow.flux import Flux, flux_of
from stackview.glow.gathered import luminance_of
from stackview.glow.guidance import glare_guidance, picture_guidance
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import Look, look
from stackview.glow.parts_seen import FirstSeen
from stackview.glow.photometric_file import HEAD
from stackview.glow.picture_glare import picture_glare, pixels_seen
from stackview.glow.proving import Variant, best_variant
from stackview.glow.room import Room, room_behind
from stackview.glow.scene import GlowScene, glow_scene
from stackview.photographs.glow_album import (
    PhotographPlace,
    dark_gaps,
    daylight_of,
    drawn_glow,
    photograph_place,
)
from stackview.sight.camera import Camera
from stackview.spots.light_out import LightOut, light_out
from stackview.stills.png import check_target
from stackview.study import Study

_SHARES = {DAYLIGHT: 0.2, RATIOS: 0.45, LIGHT_OUT: 0.15, PICTURES: 0.2}
"""Pieces of the work in their order, each with its usual share of the time."""
_SHARES_OF_PICTURES = {DAYLIGHT: 0.25, LAMPLIGHT: 0.5, PICTURES: 0.25}
"""Those of pictures alone."""
_WITH_DAY = 1.6
"""So many times as long do pictures take with daylight."""
_BUSY = 3.0
"""The rest of the work is reckoned to take at most so many times as long as a machine at rest would."""
_FOR_LIGHT_OUT = 0.25
"""Share of the time left that light out may take where it is not followed behind the rest."""


@dataclass(frozen=True, slots=True)
class GlowWanted:
    """What is asked for; None where the usual will do. ``folder`` None writes nothing."""

    eye: str | None
    bearing: float | None
    elevation: float | None
    distance: str | None
    error: float
    longest: float
    seed: int
    folder: Path | None
    only_ratios: bool = False
    only_pictures: bool = False
    keep: bool = False
    """Ctrl-C ends the rendering alone, and what it has shown by then is told and drawn."""
    begun: float = field(default_factory=time.monotonic)
    """When the command began, by the monotonic clock [s]."""


@dataclass(frozen=True, slots=True, eq=False)
class Glowing:
    """Everything known about how one lamp glows."""

    study: Study
    wanted: GlowWanted
    place: GlowPlace
    flux: Flux
    look: Look
    out: LightOut | None
    """None where only ratios were asked for, or where there was no time for it."""
    guidance: tuple[Finding, ...]
    files: tuple[Path, ...]
    variant: Variant
    seconds: float
    unfinished: str = ""
    """In words, what was not come to; nothing where all was."""
    stopped: bool = False
    """Whether Ctrl-C ended the work."""


def study_glow(file: Path, wanted: GlowWanted, *, allow_outside: bool = False) -> Glowing:
    """Render and measure; pictures are written at the end, all of them.

    Raises LampError, StackviewError and OutputError as the other commands do.
    """
    limit = GlowLimit(wanted.begun, wanted.longest, wanted.keep)
    study = Study.read(file, allow_outside=allow_outside, progress=progress)
    if not len(study.light.points):
        raise StackviewError(f"{file}: no light is described, so nothing can glow; add a [[light]]")
    place = place_for(
        study,
        eye=wanted.eye,
        bearing=wanted.bearing,
        elevation=wanted.elevation,
        distance=length_of("--distance", wanted.distance, study.lamp.units, NEAREST_GLOW, FARTHEST_GLOW),
    )
    targets = targets_in(wanted.folder, file.stem)
    for name, target in targets.items():
        check_ours(target, HEAD) if name == "intensity" else check_target(target)
    variant = best_variant()
    flux = flux_of(study.light)
    scene = glow_scene(study.stack, study.light, flux)
    room = room_behind(study.stack, place.camera)
    asked = _parts(wanted, bool(targets))
    with stages("glow", asked) as begin, _light_out_behind(study, scene, flux, wanted, limit) as light_out_of:
        told = begin(next(iter(asked)))
        ready = _made_ready(scene, room, place) if PICTURES in asked else None
        unit = ready.seconds if ready else 1.0
        parts = fitting(tuple(asked), unit, limit.left) if ready else tuple(asked)
        day: Singles | None = None
        if ready and DAYLIGHT in parts:
            told(0.2)
            day = daylight_of(scene, room, ready.place, seed=wanted.seed, variant=variant.name)
        least = {part: least_time(part, unit) for part in parts}
        drawing = least.get(PICTURES, 0.0) * (1.0 if day is None else _WITH_DAY)
        camera = ready.place.camera if ready and wanted.only_pictures else place.camera
        told = begin(LAMPLIGHT if wanted.only_pictures else RATIOS)
        longest = max(limit.left - drawing - least.get(LIGHT_OUT, 0.0), 0.0)
        shown = None if ready is None else ready.place.seen if wanted.only_pictures else ready.place.looked
        gaps = (
            dark_gaps(scene, ready.place, day, shown.part.shape)
            if ready and shown and day is not None
            else None
        )
        seen = _looked(study, scene, room, camera, wanted, variant, longest, shown, gaps, told, limit)
        out: LightOut | None = None
        if LIGHT_OUT in parts and not limit.ended():
            begin(LIGHT_OUT)
            out = light_out_of()
        files: tuple[Path, ...] = ()
        missed = tuple(part for part in asked if part not in parts)
        words = unfinished_words(seen, limit.ended(), missed)
        if ready and PICTURES in parts:
            begin(PICTURES)
            drawn = _drawn(
                scene, ready.place, day, seen, study.lamp.name, f"From {place.words}", words, limit
            )
            files = written(study, place, drawn, out, flux, targets, words)
    guidance = _guidance(study, place.words, flux, None if wanted.only_ratios else seen)
    return Glowing(
        study, wanted, place, flux, seen, out, guidance, files, variant, limit.spent, words, limit.ended()
    )


def _parts(wanted: GlowWanted, pictures: bool) -> dict[str, float]:
    """Pieces of the work that are asked for, each with its share of the time."""
    if wanted.only_pictures:
        return _SHARES_OF_PICTURES
    if wanted.only_ratios:
        return {RATIOS: 1.0}
    return {part: share for part, share in _SHARES.items() if pictures or part in (RATIOS, LIGHT_OUT)}


def _looked(
    study: Study,
    scene: GlowScene,
    room: Room,
    camera: Camera,
    wanted: GlowWanted,
    variant: Variant,
    longest: float,
    shown: FirstSeen | None,
    gaps: NDArray[np.bool_] | None,
    told: Callable[[float], None],
    limit: GlowLimit,
) -> Look:
    return look(
        scene,
        room,
        camera,
        pitch=pitch_of(study.light.points),
        error=wanted.error,
        longest=longest,
        seed=wanted.seed,
        variant=variant.name,
        only_ratios=wanted.only_ratios,
        only_picture=wanted.only_pictures,
        shown=shown,
        gaps=gaps,
        progress=told,
        ended=limit.ended,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Ready:
    """What pictures need besides light, and how long it took [s]: by that the rest is reckoned."""

    place: PhotographPlace
    seconds: float


def _made_ready(scene: GlowScene, room: Room, place: GlowPlace) -> _Ready:
    begun, worked = time.monotonic(), time.process_time()
    found = photograph_place(scene, room, place.camera)
    # A machine that was busy for a moment does not make all that follows slow.
    seconds = min(time.monotonic() - begun, _BUSY * (time.process_time() - worked))
    return _Ready(found, seconds)


def _drawn(
    scene: GlowScene,
    place: PhotographPlace,
    day: Singles | None,
    seen: Look,
    name: str,
    viewpoint: str,
    words: str,
    limit: GlowLimit,
) -> Mapping[str, NDArray[np.uint8]]:
    """The pictures; the first request to end comes too late for them, where they are to be kept."""
    ended = limit.ended()

    def draw() -> Mapping[str, NDArray[np.uint8]]:
        return drawn_glow(scene, place, seen, day, name=name, viewpoint=viewpoint, unfinished=words)

    try:
        return draw()
    except KeyboardInterrupt:
        if ended or not limit.ended():
            raise
        return draw()


@contextmanager
def _light_out_behind(
    study: Study, scene: GlowScene, flux: Flux, wanted: GlowWanted, limit: GlowLimit
) -> Iterator[Callable[[], LightOut | None]]:
    """Begin to follow the light out of the lamp behind all else, where it is asked for; gives what waits for it.

    Once it is waited for, no more is followed than has been, or the least that is told. None comes where it was broken
    off, for nothing is known before the least batches are there.
    """
    if wanted.only_ratios or wanted.only_pictures:
        yield lambda: None
        return
    stack, points, lines = study.stack, study.light.points, study.sightlines
    here, hurry = os.getpid(), Event()

    def followed() -> LightOut:
        alone = os.getpid() == here
        return light_out(
            scene,
            stack,
            points,
            lines,
            flux,
            error=wanted.error,
            longest=_FOR_LIGHT_OUT * limit.left if alone else limit.left,
            seed=wanted.seed,
            enough=lambda: not alone and hurry.is_set(),
        )

    with begun_behind(followed) as answer:

        def waited() -> LightOut | None:
            hurry.set()
            try:
                return answer()
            except KeyboardInterrupt:
                if not limit.ended():
                    raise
                return None

        yield waited


def _guidance(study: Study, words: str, flux: Flux, seen: Look | None) -> tuple[Finding, ...]:
    """Glare of the bare light points for every eye, and of all that is bright from this place, where that was rendered."""
    assumed = "lumens assumed" if flux.assumed else ""
    bare = glare_guidance(study.sightlines, flux.lumens, assumed=assumed)
    if seen is None:
        return tuple(bare)
    solid_angles, directions = pixels_seen(seen.camera)
    # As rendered: the denoiser changes small bright spots, and the rule sums up over larger ones anyway.
    glare = picture_glare(luminance_of(seen.raw), solid_angles, directions, distance=seen.camera.distance)
    return (*bare, picture_guidance(f"from {words}", glare))
