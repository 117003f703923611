"""``stackview finish``: how rough a sanded face is, from a photograph of one LED behind an offcut."""

import re
import sys
from math import sqrt
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from stackview.errors import StackviewError
from stackview.in_figures import percent

if TYPE_CHECKING:
    from stackview.glow.finish_fit import FinishFit, Setup

MARK = "# Written by stackview finish"
_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")
_SANDED = {
    "both": '"sanded"',
    "lamp-side": '{ underside = "sanded" }',
    "eye-side": '{ top = "sanded" }',
}


def finish(
    photo: Annotated[Path, Parameter(help="JPEG, PNG or TIFF of one LED's spot, seen straight on.")],
    /,
    *,
    distance: Annotated[str, Parameter(help="From the LED's face to the offcut's near face: 25, or '1 in'.")],
    thickness: Annotated[str, Parameter(help="Thickness of the offcut.")],
    scale: Annotated[
        float | None,
        Parameter(help="Millimetres for one pixel, at the offcut; or give --across and --pixels."),
    ] = None,
    across: Annotated[
        str | None, Parameter(help="A length known in the photograph, such as the offcut's width.")
    ] = None,
    pixels: Annotated[float | None, Parameter(help="How many pixels long that is in the photograph.")] = None,
    sanded: Annotated[
        Literal["both", "lamp-side", "eye-side"], Parameter(help="Which faces of the offcut are sanded.")
    ] = "both",
    led: Annotated[str | None, Parameter(help="Side of the LED's light-giving face; else 3.1 mm.")] = None,
    camera: Annotated[
        str | None, Parameter(help="From the lens to the offcut; without it the camera is taken as far away.")
    ] = None,
    second: Annotated[
        tuple[Path, ...],
        Parameter(help="The same with another exposure; may be given several times.", negative=()),
    ] = (),
    curve: Annotated[
        Literal["srgb", "linear"] | None,
        Parameter(help="How the photograph's numbers stand for light; else sRGB for 8 bits, linear for 16."),
    ] = None,
    name: Annotated[str, Parameter(help="Name of the material in the entry.")] = "sanded-offcut",
    out: Annotated[Path | None, Parameter(help="Write the entry to this file, not below the report.")] = None,
) -> int:
    """Photograph one LED behind a sanded offcut, and get the roughness for the lamp's file."""
    from stackview.commands.writing import check_ours, write_ours
    from stackview.glow.finish_fit import MOST_PHOTOGRAPHS, Setup, fit_finish
    from stackview.glow.photograph import read_photograph

    if not _NAME.fullmatch(name):
        raise StackviewError(f'--name "{name[:60]}": use letters, figures, "-" and "_" only')
    if out is not None:
        check_ours(out, MARK)
    if len(second) >= MOST_PHOTOGRAPHS:
        raise StackviewError(f"--second: at most {MOST_PHOTOGRAPHS - 1} further photographs")
    setup = Setup(
        distance=_length(distance, "--distance", 1.0, 1000.0),
        thickness=_length(thickness, "--thickness", 0.5, 50.0),
        scale=_scale(scale, across, pixels),
        sanded=sanded,
        face=_length(led, "--led", 0.05, 30.0) if led is not None else _usual_face(),
        camera=_length(camera, "--camera", 50.0, 20_000.0) if camera is not None else None,
    )
    fit = fit_finish([read_photograph(file, curve) for file in (photo, *second)], setup)
    entry = _entry(name, thickness, setup, fit, photo)
    sys.stdout.write("\n".join(_report(fit, setup, led is None)) + "\n")
    if out is None:
        sys.stdout.write("\n" + entry)
    else:
        write_ours(out, f"{MARK}\n{entry}", MARK)
        sys.stdout.write(f"Wrote {out}\n")
    return 0


def _length(written: str, option: str, low: float, high: float) -> float:
    from stackview.description.written_length import LengthError, read_length

    try:
        return read_length(written, "mm", low=low, high=high).mm
    except LengthError as error:
        raise StackviewError(f"{option}: {error}") from None


def _scale(scale: float | None, across: str | None, pixels: float | None) -> float:
    """Millimetres for one pixel, from either way of giving it."""
    if (scale is None) == (across is None) or (across is None) != (pixels is None):
        raise StackviewError("give the photograph's scale: either --scale, or --across with --pixels")
    if scale is None:
        assert across is not None
        assert pixels is not None
        if not 10.0 <= pixels <= 100_000.0:
            raise StackviewError(f"--pixels: {pixels:g} is outside its limits, 10 to 100000 pixels")
        scale = _length(across, "--across", 1.0, 2000.0) / pixels
    if not 1e-4 <= scale <= 5.0:
        raise StackviewError(f"the scale is {scale:g} mm for one pixel, outside 0.0001 to 5: check it")
    return scale


def _usual_face() -> float:
    """Side of a square as large as the usual LED's face [mm]."""
    from stackview.description.defaults import LED_FACE

    return sqrt(LED_FACE.pair[0] * LED_FACE.pair[1])


def _report(fit: "FinishFit", setup: "Setup", face_assumed: bool) -> list[str]:
    """What was found, how well it fits, and what it rests on."""
    lines = [
        f"Roughness {fit.roughness:.3f} ± {fit.error:.3f}: a {fit.word} fit, "
        f"{percent(fit.left, 1)} of the spot's height left over in {fit.rings} rings."
    ]
    if fit.word == "poor":
        lines.append(
            "The picture is not that of one LED behind such an offcut: "
            "check --sanded, the distance, reflections and the exposure before using the number."
        )
    if len(fit.exposures) > 1:
        ratios = ", ".join(f"{value:.3g}" for value in fit.exposures[1:])
        lines.append(
            f"{len(fit.exposures)} photographs joined; the brighter ones are {ratios} times the darkest."
        )
    lines.append(f"Background {percent(fit.background, 1)} of the spot's height, taken off.")
    if face_assumed:
        lines.append(
            f"Assumed: an LED face of {setup.face:.1f} mm (the 2835 package); give yours with --led."
        )
    if setup.camera is None:
        lines.append(
            f"Assumed: a camera far away; nearer than {10 * setup.distance:.0f} mm give --camera, "
            "or the roughness comes out too low."
        )
    return lines + [f"Note: {note}." for note in fit.notes]


def _entry(name: str, thickness: str, setup: "Setup", fit: "FinishFit", photo: Path) -> str:
    """The material as the lamp's file takes it."""
    plain = re.fullmatch(r"[0-9]+(\.[0-9]+)?", thickness)
    sold = (
        thickness
        if plain
        else f'"{thickness}"'.replace('""', '"')
        if '"' not in thickness
        else f"'{thickness}'"
    )
    sides = "" if setup.sanded == "both" else "   # if its top is turned to the eye"
    shown = "".join(c if c.isprintable() else "?" for c in photo.name)[:60]
    return (
        f"[materials.{name}]\n"
        'acrylic = "clear"\n'
        f"sold = {sold}\n"
        f"finish = {_SANDED[setup.sanded]}{sides}\n"
        f"roughness = {fit.roughness:.3f}   # fitted from {shown}, ±{fit.error:.3f}\n"
    )
