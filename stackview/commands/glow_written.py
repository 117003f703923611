"""The files of a lamp's glow: where they go, what is written in them, and what they say that they lack."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.commands.glow_place import GlowPlace
from stackview.commands.writing import write_ours
from stackview.glow.flux import Flux, power_of
from stackview.glow.look import Look
from stackview.glow.photometric_file import HEAD, opening_of, photometric_text
from stackview.in_figures import percent
from stackview.spots.light_out import LightOut
from stackview.stills.png import write_png
from stackview.study import Study


def targets_in(folder: Path | None, stem: str) -> dict[str, Path]:
    """Where each picture and the photometric file go, by name; nothing without a folder."""
    if folder is None:
        return {}
    pictures = {name: folder / f"{stem}-glow-{name}.png" for name in ("evening", "day", "luminance")}
    return pictures | {"intensity": folder / f"{stem}.ies"}


def unfinished_words(seen: Look, stopped: bool, missed: Sequence[str] = ()) -> str:
    """In words, how far the picture came where it did not get all the samples asked for, and what there was no time for."""
    if not (stopped or missed or seen.samples < seen.asked):
        return ""
    why = "stopped" if stopped else "the time was up"
    worst = max((plate.ratio_error for plate in seen.plates), default=0.0)
    known = f"; hot-spot ratios known to ±{percent(worst)} at worst" if seen.plates else ""
    gone = f" There was no time for {', '.join(missed)}: give --longest more seconds." if missed else ""
    return f"Unfinished: {why} after {seen.samples} of {seen.asked} samples a pixel{known}.{gone}"


def written(
    study: Study,
    place: GlowPlace,
    drawn: Mapping[str, NDArray[np.uint8]],
    out: LightOut | None,
    flux: Flux,
    targets: Mapping[str, Path],
    unfinished: str,
) -> tuple[Path, ...]:
    """Write the pictures, and the photometric file where the light out is known; gives what was written."""
    found = []
    more = {"Comment": unfinished} if unfinished else {}
    for name, pixels in drawn.items():
        write_png(pixels, targets[name], {"Title": f"{study.lamp.name}: {name}, {place.words}"} | more)
        found.append(targets[name])
    if out is not None and out.intensity.peak > 0.0:
        text = photometric_text(
            out.intensity,
            name=study.lamp.name,
            opening=opening_of(study.stack.placed),
            watts=_watts(study),
            issued=date.today(),
            notes=(*flux.assumed, error_note(out)),
        )
        write_ours(targets["intensity"], text, HEAD)
        found.append(targets["intensity"])
    return tuple(found)


def error_note(out: LightOut) -> str:
    """How well the file's figures are known, in one sentence."""
    lumens, peak = out.error / max(out.lumens, 1e-9), out.peak_error / max(out.intensity.peak, 1e-9)
    return f"Standard error of the flux {percent(lumens, 1)}, of the greatest intensity {percent(peak, 1)}, by chance alone."


def _watts(study: Study) -> float | None:
    each = [power_of(lit) for lit in study.light.lit]
    known = [watts for watts in each if watts is not None]
    return sum(known) if len(known) == len(each) else None
