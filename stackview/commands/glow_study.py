"""A lamp's glow, taken all the way: rendered, measured, and its pictures written."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from stackview.commands.arguments import length_of
from stackview.commands.glow_place import FARTHEST_GLOW, NEAREST_GLOW, GlowPlace, place_for
from stackview.commands.progress import progress, share_done
from stackview.commands.writing import check_ours, write_ours
from stackview.errors import OutputError, StackviewError
from stackview.findings import Finding
from stackview.glow.flux import Flux, flux_of, power_of
from stackview.glow.gathered import luminance_of
from stackview.glow.guidance import glare_guidance, picture_guidance
from stackview.glow.hot_spots import pitch_of
from stackview.glow.look import Look, look
from stackview.glow.photometric_file import HEAD, opening_of, photometric_text
from stackview.glow.picture_glare import picture_glare, pixels_seen
from stackview.glow.proving import Variant, best_variant
from stackview.glow.room import Room, backdrop
from stackview.glow.scene import GlowScene, glow_scene
from stackview.in_figures import percent
from stackview.photographs.glow_album import daylight_of, drawn_glow
from stackview.spots.light_out import LightOut, light_out
from stackview.stills.png import check_target, write_png
from stackview.study import Study

_SHARES = (0.55, 0.80)
"""Share of the whole time after which the look is done, and the light out."""

_FOR_LIGHT_OUT = 0.25
"""Share of the longest time that light out may take."""


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


@dataclass(frozen=True, slots=True, eq=False)
class Glowing:
    """Everything known about how one lamp glows."""

    study: Study
    wanted: GlowWanted
    place: GlowPlace
    flux: Flux
    look: Look
    out: LightOut | None
    """None where only ratios were asked for."""
    guidance: tuple[Finding, ...]
    files: tuple[Path, ...]
    variant: Variant
    seconds: float


def study_glow(file: Path, wanted: GlowWanted, *, allow_outside: bool = False) -> Glowing:
    """Render and measure; pictures are written at the end, all of them.

    Raises LampError, StackviewError and OutputError as the other commands do.
    """
    begun = time.monotonic()
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
    room = Room((backdrop(study.stack.placed, place.camera, stands=study.lamp.hangs_at is None),))
    with share_done("glow") as done:
        seen = look(
            scene,
            room,
            place.camera,
            pitch=pitch_of(study.light.points),
            error=wanted.error,
            longest=wanted.longest * (1.0 if wanted.only_ratios else 1.0 - _FOR_LIGHT_OUT),
            seed=wanted.seed,
            variant=variant.name,
            progress=_part(done, 0.0, 1.0 if wanted.only_ratios else _SHARES[0]),
        )
        out: LightOut | None = None
        files: tuple[Path, ...] = ()
        if not wanted.only_ratios:
            out = light_out(
                scene,
                study.stack,
                study.light.points,
                study.sightlines,
                flux,
                error=wanted.error,
                longest=wanted.longest * _FOR_LIGHT_OUT,
                seed=wanted.seed,
                progress=_part(done, *_SHARES),
            )
            files = _written(study, place, scene, room, seen, out, flux, targets, wanted, variant.name)
        done(1.0)
    guidance = _guidance(study, place, flux, seen)
    seconds = time.monotonic() - begun
    return Glowing(study, wanted, place, flux, seen, out, guidance, files, variant, seconds)


def _guidance(study: Study, place: GlowPlace, flux: Flux, seen: Look) -> tuple[Finding, ...]:
    """Glare of the bare light points for every eye, and of all that is bright from this place."""
    assumed = "lumens assumed" if flux.assumed else ""
    solid_angles, directions = pixels_seen(place.camera)
    # As rendered: the denoiser changes small bright spots, and the rule sums up over larger ones anyway.
    glare = picture_glare(luminance_of(seen.raw), solid_angles, directions, distance=place.camera.distance)
    return (
        *glare_guidance(study.sightlines, flux.lumens, assumed=assumed),
        picture_guidance(f"from {place.words}", glare),
    )


def targets_in(folder: Path | None, stem: str) -> dict[str, Path]:
    """Where each picture and the photometric file go, by name; nothing without a folder."""
    if folder is None:
        return {}
    if folder.exists() and not folder.is_dir():
        raise OutputError(f"--out {folder}: this is a file; give a folder for the pictures")
    pictures = {name: folder / f"{stem}-glow-{name}.png" for name in ("evening", "day", "luminance")}
    return pictures | {"intensity": folder / f"{stem}.ies"}


def _written(
    study: Study,
    place: GlowPlace,
    scene: GlowScene,
    room: Room,
    seen: Look,
    out: LightOut,
    flux: Flux,
    targets: dict[str, Path],
    wanted: GlowWanted,
    variant: str,
) -> tuple[Path, ...]:
    if not targets:
        return ()
    day = daylight_of(scene, room, place.camera, seed=wanted.seed, variant=variant)
    viewpoint = f"From {place.words}"
    drawn = drawn_glow(scene, room, seen, day, name=study.lamp.name, viewpoint=viewpoint)
    for name, pixels in drawn.items():
        write_png(pixels, targets[name], {"Title": f"{study.lamp.name}: {name}, {place.words}"})
    if out.intensity.peak > 0.0:
        text = photometric_text(
            out.intensity,
            name=study.lamp.name,
            opening=opening_of(study.stack.placed),
            watts=_watts(study),
            issued=date.today(),
            notes=(*flux.assumed, error_note(out)),
        )
        write_ours(targets["intensity"], text, HEAD)
    return tuple(target for target in targets.values() if target.exists())


def error_note(out: LightOut) -> str:
    """How well the file's figures are known, in one sentence."""
    lumens, peak = out.error / max(out.lumens, 1e-9), out.peak_error / max(out.intensity.peak, 1e-9)
    return f"Standard error of the flux {percent(lumens, 1)}, of the greatest intensity {percent(peak, 1)}, by chance alone."


def _watts(study: Study) -> float | None:
    each = [power_of(lit) for lit in study.light.lit]
    known = [watts for watts in each if watts is not None]
    return sum(known) if len(known) == len(each) else None


def _part(progress: Callable[[float], None], low: float, high: float) -> Callable[[float], None]:
    return lambda share: progress(low + share * (high - low))
