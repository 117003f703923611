"""What ``stackview finish`` says of a fit, and the entry that it gives for the lamp's file."""

import re

from stackview.glow.finish_fit import FinishFit
from stackview.glow.photograph import Photograph
from stackview.glow.spot_model import Setup
from stackview.glow.spot_table import GREATEST_ROUGHNESS
from stackview.in_figures import percent

_SANDED = {
    "both": '"sanded"',
    "lamp-side": '{ underside = "sanded" }',
    "eye-side": '{ top = "sanded" }',
}
_SYMMETRIC = 0.35
"""Error over roughness from which a range says more than a plus and minus."""


def finish_report(
    fit: FinishFit, setup: Setup, photographs: list[Photograph], *, face_assumed: bool, stepped: bool
) -> list[str]:
    """What was found, how well it is known, and what that rests on."""
    share = fit.error / fit.roughness
    last = " (the roughest that is known)" if fit.high >= GREATEST_ROUGHNESS else ""
    if share <= _SYMMETRIC:
        found = f"Roughness {fit.roughness:.3f} ± {fit.error:.3f} (nine times in ten)"
    else:
        found = f"Roughness about {fit.roughness:.2f}, between {fit.low:.2f} and {fit.high:.2f}{last} nine times in ten"
    lines = [
        f"{found}: a {fit.word} fit, by {fit.rings} rings; {percent(fit.left, 1)} of the spot's height is left over."
    ]
    unknown = any(photo.curve == "unknown" for photo in photographs)
    if unknown and not stepped and (len(photographs) == 1 or not fit.told):
        lines.append(
            "Most of that is the camera's tone curve, which one photograph does not show. Better: the same "
            "again with other exposures (--second, with --exposures where the camera did not write them), "
            "a raw photograph saved as linear 16-bit TIFF, or a sheet of steps (--steps)."
        )
    if len(fit.exposures) > 1:
        ratios = ", ".join(f"{value:.3g}" for value in fit.exposures[1:])
        how = "told" if fit.told else "not told, so fitted"
        lines.append(
            f"{len(fit.exposures)} photographs; the others have {ratios} times the light of the first ({how})."
        )
    lines.append(f"Background {percent(fit.background, 1)} of the spot's height, taken off.")
    if face_assumed:
        lines.append(
            f"Assumed: an LED face of {setup.face:.1f} mm (the 2835 package); give yours with --led."
        )
    if setup.camera is None:
        lines.append("Assumed: a camera 100 mm to 1 m away; --camera makes the error less.")
    elif setup.camera_error > 0.1:
        lines.append(
            f"The camera was about {setup.camera:.0f} mm away, by the focal length that it wrote and the scale."
        )
    if setup.tilt is None:
        lines.append("Assumed: looked at straight on, to about 8°; else give --tilt.")
    return lines + [f"Note: {note}." for note in fit.notes]


def finish_entry(name: str, thickness: str, setup: Setup, fit: FinishFit, photo: str) -> str:
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
    shown = "".join(c if c.isprintable() else "?" for c in photo)[:60]
    return (
        f"[materials.{name}]\n"
        'acrylic = "clear"\n'
        f"sold = {sold}\n"
        f"finish = {_SANDED[setup.sanded]}{sides}\n"
        f"roughness = {fit.roughness:.3f}   # fitted from {shown}: {fit.low:.3f} to {fit.high:.3f}\n"
    )
