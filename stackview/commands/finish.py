"""``stackview finish``: how rough a sanded face is, from a photograph of one LED behind an offcut."""

import re
import sys
from math import sqrt
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from stackview.errors import StackviewError

if TYPE_CHECKING:
    from stackview.glow.photograph import Photograph
    from stackview.glow.spot_model import Setup
    from stackview.glow.step_sheet import ToneSteps

MARK = "# Written by stackview finish"
_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")
_WRITTEN_CAMERA = 0.15
"""How well a camera's distance is known by the focal length that it wrote, which is rounded: an assumption."""
_Curve = Literal["unknown", "srgb", "linear"]


def finish(
    photo: Annotated[
        Path | None, Parameter(help="JPEG, PNG or TIFF of one LED's spot, seen straight on.")
    ] = None,
    /,
    *,
    distance: Annotated[
        str | None, Parameter(help="From the LED's face to the offcut's near face: 25, or '1 in'.")
    ] = None,
    thickness: Annotated[str | None, Parameter(help="Thickness of the offcut.")] = None,
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
        str | None,
        Parameter(help="From the lens to the offcut; else by what the camera wrote, or 100 mm to 1 m."),
    ] = None,
    tilt: Annotated[float | None, Parameter(help="How far from straight on it was looked at [°].")] = None,
    second: Annotated[
        tuple[Path, ...],
        Parameter(help="The same with another exposure; may be given several times.", negative=()),
    ] = (),
    exposures: Annotated[
        str | None,
        Parameter(
            help="Light of the photographs in turn, such as 1,4,16; else as the camera wrote it (Exif)."
        ),
    ] = None,
    steps: Annotated[
        Path | None, Parameter(help="The row of printed steps, cut out of a photograph by the same camera.")
    ] = None,
    reflectances: Annotated[
        str | None,
        Parameter(
            help="Of other steps than ours, in percent from the brightest: 90,18 for paper and grey card."
        ),
    ] = None,
    curve: Annotated[
        _Curve | None,
        Parameter(help="How the numbers stand for light; else linear for 16 bits, and unknown for 8."),
    ] = None,
    name: Annotated[str, Parameter(help="Name of the material in the entry.")] = "sanded-offcut",
    out: Annotated[Path | None, Parameter(help="Write the entry to this file, not below the report.")] = None,
    print_steps: Annotated[
        Path | None, Parameter(help="Only write our sheet of steps, as a PDF to be printed.")
    ] = None,
    paper: Annotated[Literal["a4", "letter"], Parameter(help="The sheet's paper.")] = "a4",
) -> int:
    """Photograph one LED behind a sanded offcut, and get the roughness for the lamp's file."""
    if print_steps is not None:
        return _write_steps(print_steps, paper)
    from stackview.commands.finish_report import finish_entry, finish_report
    from stackview.commands.place_check import check_folder
    from stackview.commands.writing import check_ours, write_ours
    from stackview.glow.finish_fit import MOST_PHOTOGRAPHS, fit_finish
    from stackview.glow.photograph import read_photograph
    from stackview.glow.spot_model import Setup

    if photo is None or distance is None or thickness is None:
        raise StackviewError(
            "give a photograph, --distance and --thickness (or --print-steps FILE.pdf alone)"
        )
    if not _NAME.fullmatch(name):
        raise StackviewError(f'--name "{name[:60]}": use letters, figures, "-" and "_" only')
    if out is not None:
        check_ours(out, MARK)
        check_folder(out.parent)
    if len(second) >= MOST_PHOTOGRAPHS:
        raise StackviewError(f"--second: at most {MOST_PHOTOGRAPHS - 1} further photographs")
    told = _exposures(exposures, 1 + len(second))
    shares = _shares(reflectances, steps)
    setup = Setup(
        distance=_length(distance, "--distance", 1.0, 1000.0),
        thickness=_length(thickness, "--thickness", 0.5, 50.0),
        scale=_scale(scale, across, pixels),
        sanded=sanded,
        face=_length(led, "--led", 0.05, 30.0) if led is not None else _usual_face(),
        camera=_length(camera, "--camera", 50.0, 20_000.0) if camera is not None else None,
        tilt=_tilt(tilt),
    )
    photographs = [read_photograph(file, curve) for file in (photo, *second)]
    setup = _with_written_camera(setup, photographs[0])
    fit = fit_finish(photographs, setup, exposures=told, steps=_steps(steps, shares, curve))
    entry = finish_entry(name, thickness, setup, fit, photo.name)
    report = finish_report(fit, setup, photographs, face_assumed=led is None, stepped=steps is not None)
    sys.stdout.write("\n".join(report) + "\n")
    if out is None:
        sys.stdout.write("\n" + entry)
    else:
        write_ours(out, f"{MARK}\n{entry}", MARK)
        sys.stdout.write(f"Wrote {out}\n")
    return 0


def _write_steps(target: Path, paper: str) -> int:
    """Write the sheet of steps."""
    from stackview.commands.place_check import check_folder

    if target.suffix != ".pdf":
        raise StackviewError(f"--print-steps {target}: give the file the ending .pdf")
    check_folder(target.parent, "choose another with --print-steps")
    from stackview.commands.writing_together import write_together
    from stackview.drawings.paper import PDF_CREATOR, pdf_bytes
    from stackview.drawings.step_page import draw_step_page

    content = pdf_bytes([draw_step_page(paper)], "Steps for stackview finish")
    write_together({target: content}, {".pdf": f"/Creator ({PDF_CREATOR})".encode()})
    sys.stdout.write(f"Wrote {target}\n")
    return 0


def _steps(file: Path | None, shares: tuple[float, ...] | None, curve: _Curve | None) -> "ToneSteps | None":
    from stackview.glow.photograph import read_photograph
    from stackview.glow.step_sheet import read_steps

    return None if file is None else read_steps(read_photograph(file, curve), shares)


def _with_written_camera(setup: "Setup", photo: "Photograph") -> "Setup":
    """The camera's distance by what it wrote, where nobody told it: width shown times focal length over film."""
    from dataclasses import replace

    if setup.camera is not None or photo.record.away is None:
        return setup
    shown = setup.scale * photo.shrink * max(photo.light.shape)
    return replace(setup, camera=max(50.0, photo.record.away * shown), camera_error=_WRITTEN_CAMERA)


def _numbers(written: str, option: str, low: float, high: float, most: int) -> tuple[float, ...]:
    """Numbers parted by commas, each within its limits."""
    parts = [part.strip() for part in written[:400].split(",")]
    try:
        values = tuple(float(part) for part in parts)
    except ValueError:
        raise StackviewError(
            f'{option} "{written[:60]}": give numbers parted by commas, such as 1,4,16'
        ) from None
    if len(values) > most or not all(low <= value <= high for value in values):
        raise StackviewError(f"{option}: at most {most} numbers, each from {low:g} to {high:g}")
    return values


def _exposures(written: str | None, count: int) -> tuple[float, ...] | None:
    from stackview.glow.finish_fit import MOST_PHOTOGRAPHS

    if written is None:
        return None
    values = _numbers(written, "--exposures", 1e-6, 1e6, MOST_PHOTOGRAPHS)
    if len(values) != count:
        raise StackviewError(
            f"--exposures: {len(values)} numbers for {count} photographs; give one for each, PHOTO first"
        )
    return values


def _shares(written: str | None, steps: Path | None) -> tuple[float, ...] | None:
    from stackview.glow.step_sheet import MOST_STEPS

    if written is None:
        return None
    if steps is None:
        raise StackviewError("--reflectances: goes with --steps, a picture of the steps")
    return tuple(value / 100.0 for value in _numbers(written, "--reflectances", 0.1, 100.0, MOST_STEPS))


def _tilt(written: float | None) -> float | None:
    if written is not None and not 0.0 <= written <= 45.0:
        raise StackviewError(f"--tilt: {written:g}° is outside its limits, 0 to 45°; look straight on")
    return written


def _length(written: str, option: str, low: float, high: float) -> float:
    from stackview.description.written_length import LengthError, read_length

    try:
        return read_length(written, "mm", low=low, high=high).mm
    except LengthError as error:
        raise StackviewError(f"{option}: {error}") from None


def _scale(scale: float | None, across: str | None, pixels: float | None) -> float:
    """Millimetres for one pixel, from either way of giving it."""
    if scale is not None and (across is not None or pixels is not None):
        raise StackviewError("the scale is given twice: give either --scale, or --across with --pixels")
    if scale is None and (across is None or pixels is None):
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
