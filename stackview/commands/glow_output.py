"""What ``stackview glow`` says: a table of the layers, the light given, and one JSON object."""

import math
from typing import Any, TextIO

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stackview.commands.glow_study import Glowing
from stackview.commands.json_text import json_text
from stackview.commands.summary import STYLE, say
from stackview.findings import Level
from stackview.glow import engine
from stackview.glow.gathered import PlateGlow
from stackview.glow.simplified import simplified
from stackview.in_figures import percent
from stackview.spots.light_out import LightOut, OnTable

GUESS = 0.5
"""Relative standard error from which on a figure is no figure."""


def glow_record(glowing: Glowing) -> dict[str, Any]:
    """Everything found, as plain values for JSON; luminances in cd/m², light in lm and lx, lengths in mm."""
    look, out, camera = glowing.look, glowing.out, glowing.place.camera
    return {
        "lamp": glowing.study.lamp.name,
        "unit": glowing.study.lamp.unit,
        "from": {
            "words": glowing.place.words,
            "bearing": round(camera.bearing % 360.0, 3),
            "elevation": round(camera.elevation, 3),
            "distance_mm": round(camera.distance, 1),
        },
        "plates": [
            {
                "layer": plate.layer,
                "hot_spot_ratio": _told(plate.hot_spot_ratio, plate.ratio_error),
                "ratio_error": _figures(plate.ratio_error, 3),
                "peak_cd_m2": _told(plate.peak_cd_m2, plate.peak_error),
                "peak_error": _figures(plate.peak_error, 3),
                "mean_cd_m2": _told(plate.mean_cd_m2, plate.mean_error),
                "mean_error": _figures(plate.mean_error, 3),
                "looks": plate.looks,
                "samples": plate.samples,
            }
            for plate in look.plates
        ],
        "plates_out_of_sight": list(look.unseen),
        "error_asked": glowing.wanted.error,
        "error_met": look.met,
        **({"unfinished": glowing.unfinished} if glowing.unfinished else {}),
        "samples": look.samples,
        "lumens_of_light_points": _figures(glowing.flux.total),
        **({} if out is None else _light_record(out)),
        "simplified": list(simplified(glowing.study.stack, glowing.study.light.points)),
        "assumed": list(glowing.flux.assumed),
        "guidance": [{"where": note.where, "what": note.what} for note in glowing.guidance],
        "renderer": glowing.variant.name,
        "seconds": round(glowing.seconds, 1),
        "files": [str(file) for file in glowing.files],
    }


def _light_record(out: LightOut) -> dict[str, Any]:
    """Light out of the lamp and on the table."""
    return {
        "lumens_out": _figures(out.lumens),
        "lumens_out_error": _figures(out.error, 3),
        "share_out": _figures(out.share),
        "lumens_by_layer": [
            {"from": own.name, "lumens": _figures(own.lumens), "error": _figures(own.error, 3)}
            for own in out.by_layer
        ],
        "table": [
            {
                "distance_mm": ring.distance,
                "lux": _figures(ring.mean),
                "error": _figures(ring.error, 3),
                "least_lux": _figures(ring.least),
                "most_lux": _figures(ring.most),
            }
            for ring in out.table
        ],
    }


def print_record(record: dict[str, Any], out: TextIO) -> None:
    """One JSON object on its own line."""
    out.write(json_text(record, out) + "\n")


def show_glow(screen: Console, glowing: Glowing) -> None:
    """The glow in words and a table."""
    screen.print(Text(f"{glowing.study.lamp.name}: how it glows", style="bold"))
    say(screen, f"Seen from {glowing.place.words}.")
    for words in glowing.flux.assumed:
        say(screen, f"Assumed: {words}. Ratios and shares do not depend on it.")
    for words in simplified(glowing.study.stack, glowing.study.light.points):
        say(screen, f"Simplified: {words}.")
    if glowing.unfinished:
        say(screen, glowing.unfinished, label=Text("caution ", style=STYLE[Level.CAUTION]))
    screen.print()
    if not glowing.wanted.only_pictures:
        screen.print(_table(glowing))
        _say_plates(screen, glowing)
        screen.print()
    if glowing.out is not None:
        _say_light(screen, glowing, glowing.out)
        screen.print()
    for note in glowing.guidance:
        label = Text(f"{note.level.word} ", style=STYLE[note.level])
        say(screen, f"{note.where}: {note.what}. {note.advice}".strip(), label=label)
    for file in glowing.files:
        screen.print(f"Wrote {file}", soft_wrap=True)


def _table(glowing: Glowing) -> Table:
    plates = {plate.layer: plate for plate in glowing.look.plates}
    layers = () if glowing.out is None else glowing.out.by_layer
    lumens = {own.name: own for own in layers}
    least = 0.001 * sum(own.lumens for own in layers)
    table = Table(title="From the top down", title_justify="left")
    table.add_column("layer")
    for heading in ("light out", "hot-spot ratio", "peak", "mean"):
        table.add_column(heading, justify="right")
    table.add_column("looks")
    for name in [
        *(part.name for part in reversed(glowing.study.stack.placed)),
        *(own.name for own in layers[-2:]),
    ]:
        plate, light = plates.get(name), lumens.get(name)
        if plate is None and (light is None or light.lumens <= least) and name not in glowing.look.unseen:
            continue
        looks = plate.looks if plate else ""
        hidden = "out of sight" if name in glowing.look.unseen else looks
        given = "" if light is None else f"{_known(light.lumens, light.error)} lm"
        table.add_row(name, given, *_cells(plate), hidden)
    return table


def _cells(plate: PlateGlow | None) -> tuple[str, str, str]:
    if plate is None:
        return "", "", ""
    found = []
    for value, error, figures, unit in (
        (plate.hot_spot_ratio, plate.ratio_error, 2, ""),
        (plate.peak_cd_m2, plate.peak_error, 1, " cd/m²"),
        (plate.mean_cd_m2, plate.mean_error, 1, " cd/m²"),
    ):
        known = _told(value, error) is not None
        found.append(f"{_known(value, value * error, figures)}{unit}" if known else "not known yet")
    return found[0], found[1], found[2]


def _say_plates(screen: Console, glowing: Glowing) -> None:
    look = glowing.look
    if not look.plates:
        say(screen, "No acrylic plate is in sight from there, so there is no hot-spot ratio to give.")
    elif not glowing.flux.total:
        say(screen, "The light points give no light, so every plate is dark.")
    else:
        worst = max(look.plates, key=lambda plate: plate.ratio_error)
        most = max(plate.samples for plate in look.plates)
        reached = "met" if look.met else "not met within the time; give --longest more seconds"
        after = f"{look.samples} samples a pixel, " if look.samples else ""
        say(
            screen,
            f"Behind each ± stands its standard error. Ratio: brightest spot over the plate around it, as an eye resolves "
            f"it there; known to ±{percent(worst.ratio_error, 1)} at worst, on {worst.layer}, after {after}up to {most} on "
            f"plates and more at their brightest places; ±{percent(glowing.wanted.error)} asked for: {reached}. Words are "
            "ours: under 1.3 even, to 2 soft, to 4 spots, above single LEDs.",
        )
    if look.coarse:
        say(
            screen,
            "A pixel of this picture is coarser than the eye so near: spots may be sharper than it says.",
        )
    if not glowing.variant.fast:
        say(
            screen,
            f"Rendered by {glowing.variant.why}. Sanded and opal faces take it about ten times as long; `stackview "
            "sight` tells in seconds how spotty they look, and an LLVM library of another version may serve "
            f"({engine.LIBRARY} names one).",
        )


def _say_light(screen: Console, glowing: Glowing, out: LightOut) -> None:
    say(
        screen,
        f"Out of the lamp come {_known(out.lumens, out.error)} lm of the {_short(glowing.flux.total)} lm that its light "
        f"points give: {percent(out.share, 1)}.",
    )
    units = glowing.study.lamp.units
    rings = "; ".join(
        f"{_known(ring.mean, ring.error)} lx at {units.show(ring.distance)} ({_round_it(ring)})"
        for ring in out.table
    )
    say(
        screen,
        f"On a level surface {units.show(out.table_height)} above the floor, by the lamp alone: {rings} "
        "from its axis.",
    )


def _round_it(ring: OnTable) -> str:
    """How the light differs round the lamp, where it does by more than chance."""
    if ring.most - ring.least < 0.01 * ring.mean:
        return "even all round, as far as is known"
    return f"{_short(ring.least)} to {_short(ring.most)} round it"


def _known(value: float, error: float, figures: int = 1) -> str:
    """A figure with its standard error, no finer than that is known; "under" where it may be nought.

    >>> _known(17.345, 0.21), _known(1234.0, 60.0), _known(0.01, 0.02), _known(3.0, 0.0)
    ('17.3 ± 0.2', '1230 ± 60', 'under 0.05', '3.00')
    """
    if error <= 0.0:
        return _short(value)
    if value < 2.0 * error:
        return f"under {value + 2.0 * error:.1g}"
    places = figures - 1 - math.floor(math.log10(error))
    return f"{round(value, places):.{max(places, 0)}f} ± {round(error, places):.{max(places, 0)}f}"


def _short(value: float) -> str:
    """Three figures, without powers of ten.

    >>> _short(12345.6), _short(0.01234), _short(0.0)
    ('12300', '0.0123', '0')
    """
    if value == 0.0 or not math.isfinite(value):
        return "0" if value == 0.0 else str(value)
    places = 2 - math.floor(math.log10(abs(value)))
    return f"{round(value, places):.{max(places, 0)}f}"


def _told(value: float, error: float) -> float | None:
    """A figure for the record; None where its relative error says that it is a guess.

    >>> _told(1.234567, 0.1), _told(29.0, 0.7)
    (1.2346, None)
    """
    return _figures(value) if error <= GUESS else None


def _figures(value: float, count: int = 5) -> float:
    """Rounded to so many figures, for a record that says no more than is known."""
    return float(f"{value:.{count}g}")
