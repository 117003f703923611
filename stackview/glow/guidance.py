"""Glare and shielding of the named eyes as findings: guidance for a home lamp, never a fault."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.findings import Bound, Finding, Level
from stackview.glow.glare import BACKGROUND, Sources, glare_term, most_glare_term, sources_seen, ugr, word_of
from stackview.glow.picture_glare import PictureGlare
from stackview.glow.shielding import SHIELDING_SOURCE, FaceLight, Shielding, face_light, shielding_of
from stackview.in_figures import bearing_words
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen, eye_places
from stackview.sight.summary import Sightlines

_UGR = (
    "UGR of CIE 117, bare points small sources after CIE 147 (from memory); position index: Guth above, "
    "Iwata and Tokura 1997 below the line of sight (from memory)"
)
_OFFICE = 19.0
"""UGR that EN 12464-1 allows in offices (second-hand)."""
_NEAR = 5.0
"""Least angle off the line of sight in the rule for small sources [°] (CIE 147, from memory)."""


@dataclass(frozen=True, slots=True)
class EyeGlare:
    """UGR of the bare points that one eye sees, from its worst bearing."""

    ugr: float
    """Minus infinity where no bare point shows; nan where a point's flux or size is not known."""
    bearing: float
    points: int
    """Bare points seen from there."""
    luminance: float
    """The brightest of them, towards the eye [cd/m²]."""
    off_line: float
    """Angle between the line of sight and the nearest of them [°]."""


def glare_guidance(
    lines: Sightlines, lumens: Floats, *, background: float = BACKGROUND, assumed: str = ""
) -> tuple[Finding, ...]:
    """Notes on shielding and glare for each named eye, and on bare LEDs and eyes.

    Parameters
    ----------
    lumens : (n,) of each light point [lm], nan where not known
    background : luminance of the room behind the lamp [cd/m²]
    assumed : where the lumens are from, in words, if they are not the maker's own

    Raises
    ------
    ValueError
        lumens not one for each light point, or a background that is not above 0
    """
    if np.shape(lumens) != (len(lines.points),):
        raise ValueError("glare needs one value of lumens for each light point")
    if not background > 0:
        raise ValueError("the background's luminance must be above 0 cd/m²")
    light = face_light(lines.points, lumens)
    found: list[Finding] = []
    for seen in lines.eyes:
        shielding = shielding_of(seen, lines.bands, light)
        if shielding is None:
            found.append(_calm(seen))
            continue
        glare = glare_of(seen, lines, light, background)
        found.append(_shielded(seen, shielding, assumed))
        found.append(_glaring(seen, glare, background, assumed))
    if any((seen.kind == Kind.BARE).any() for seen in lines.eyes) or lines.share_bare > 0:
        found.append(_bare_leds())
    return tuple(found)


def glare_of(seen: Seen, lines: Sightlines, light: FaceLight, background: float) -> EyeGlare:
    """UGR of an eye's bare points at the bearing where it is worst.

    A point counts whole where the middle of its face is bare. Bearings are taken in order of what
    their points could give at most, so that few need the whole sum.
    """
    bare = seen.kind == Kind.BARE
    known = np.isfinite(light.candela) & np.isfinite(light.areas)
    if (bare.any(axis=1) & ~known).any():
        index = seen.worst
        return EyeGlare(np.nan, float(seen.bearings[index]), int(bare[:, index].sum()), np.nan, np.nan)
    views = _views(seen, lines, light)
    best, highest = seen.worst, 0.0
    bounds = np.array([most_glare_term(view) for view in views])
    for index in np.argsort(-bounds, kind="stable").tolist():
        if bounds[index] <= highest:
            break
        term = glare_term(views[index])
        if term > highest:
            best, highest = index, term
    view = views[best]
    off = np.degrees(np.arctan2(np.hypot(view.places[:, 0], view.places[:, 1]), view.places[:, 2]))
    return EyeGlare(
        ugr(highest, background),
        float(seen.bearings[best]),
        len(view),
        float(view.luminance.max(initial=0.0)),
        float(off.min(initial=180.0)),
    )


def _views(seen: Seen, lines: Sightlines, light: FaceLight) -> list[Sources]:
    """The bare points as sources, one set for each bearing of the eye."""
    points, bare = lines.points, seen.kind == Kind.BARE
    return [
        sources_seen(
            points.centres[at],
            points.directions[at],
            light.candela[at],
            light.powers[at],
            light.areas[at],
            place,
        )
        for at, place in zip(bare.T, eye_places(seen.eye, lines.standpoint, seen.bearings), strict=True)
    ]


def picture_guidance(where: str, glare: PictureGlare) -> Finding:
    """A note on the glare of everything bright in one luminance picture, lit plates and bare points alike.

    ``where`` says from where the picture was taken, e.g. ``eye "sofa"``.
    """
    if glare.solid_angle == 0.0:
        text = f"nothing in the picture reaches {_luminance(glare.threshold)}, so nothing glares"
    else:
        text = (
            f"UGR {_whole(glare.ugr)}, {word_of(glare.ugr)}, by all that reaches {_luminance(glare.threshold)}, "
            f"lit plates and bare points alike, in a room of {_room(BACKGROUND)}; "
            f"offices allow {_OFFICE:g} (guidance at home, no limit)"
        )
    return Finding(
        check="glare of the lit lamp",
        level=Level.NOTE,
        where=where,
        what=text,
        value=glare.ugr if np.isfinite(glare.ugr) else None,
        unit="UGR",
        limit=_OFFICE if np.isfinite(glare.ugr) else None,
        bound=Bound.MOST if np.isfinite(glare.ugr) else None,
        source=_UGR,
        advice="Dim it, or keep another lamp lit behind it." if glare.ugr >= _OFFICE else "",
    )


def _room(background: float) -> str:
    return f"{background:g} cd/m²" + (" (assumed)" if background == BACKGROUND else "")


def _whole(value: float) -> str:
    """A UGR for showing; under 0 is as good as none."""
    return f"{value:.0f}" if value >= 0.0 else "under 0"


def _calm(seen: Seen) -> Finding:
    return Finding(
        check="glare",
        level=Level.NOTE,
        where=f'eye "{seen.eye.name}"',
        what="no bare light point shows from any bearing, so none glares",
        value=0.0,
        unit="light points",
        source=_UGR,
    )


def _shielded(seen: Seen, shielding: Shielding, assumed: str) -> Finding:
    text = f"bare light points {_first_seen(shielding)}"
    if np.isnan(shielding.luminance):
        text += "; how bright they are is not known, for lumens or face size are not given"
    else:
        text += f"; straight on they have {_luminance(shielding.luminance)}{_because(assumed)}"
        text += _asked(shielding)
    short = shielding.angle < shielding.least
    return Finding(
        check="shielding",
        level=Level.NOTE,
        where=f'eye "{seen.eye.name}"',
        what=text,
        value=shielding.angle,
        unit="°",
        limit=shielding.least if shielding.least > 0 else None,
        bound=Bound.LEAST if shielding.least > 0 else None,
        source=SHIELDING_SOURCE,
        advice=(
            f"To shield them by {shielding.least:g}°, close the gaps that show them nearer the horizontal, or veil "
            "them with sanded or opal acrylic."
            if short
            else ""
        ),
    )


def _first_seen(shielding: Shielding) -> str:
    side = "above" if shielding.above else "below"
    if shielding.angle >= 90.0:
        return f"do not show from far off {side} the horizontal, but to this near eye they do"
    place = f"(bearing {bearing_words(shielding.bearing)})"
    if shielding.angle < 0.05:
        return f"show already level with the horizontal {place}"
    return f"are first seen {shielding.angle:.1f}° {side} the horizontal {place}"


def _asked(shielding: Shielding) -> str:
    if not shielding.least > 0:
        return "; work places ask no shielding for that"
    met = "met" if shielding.angle >= shielding.least else "not met"
    return f"; work places ask {shielding.least:g}° for that, {met} (guidance at home, no limit)"


def _glaring(seen: Seen, glare: EyeGlare, background: float, assumed: str) -> Finding:
    plural = "s" if glare.points != 1 else ""
    if np.isnan(glare.ugr):
        text, advice = "how much the bare light points glare is not known", "Give their lumens and face size."
    elif glare.ugr == -np.inf:
        text, advice = "no bare light point shines towards it, so none glares", ""
    else:
        text = (
            f"UGR {_whole(glare.ugr)}, {word_of(glare.ugr)}, by {glare.points} bare light point{plural} seen from bearing "
            f"{bearing_words(glare.bearing)}, up to {_luminance(glare.luminance)}{_because(assumed)}, in a room of "
            f"{_room(background)}; offices allow {_OFFICE:g} (guidance at home, no limit)"
        )
        if glare.off_line < _NEAR:
            text += f"; {glare.off_line:.0f}° off the line of sight, nearer than the rule for small sources was made for"
        advice = (
            "Hide or veil the bare light points, dim them, or keep another lamp lit behind it."
            if glare.ugr >= _OFFICE
            else ""
        )
    return Finding(
        check="glare",
        level=Level.NOTE,
        where=f'eye "{seen.eye.name}"',
        what=text,
        value=None if not np.isfinite(glare.ugr) else glare.ugr,
        unit="UGR",
        limit=_OFFICE if np.isfinite(glare.ugr) else None,
        bound=Bound.MOST if np.isfinite(glare.ugr) else None,
        source=_UGR,
        advice=advice,
    )


def _bare_leds() -> Finding:
    return Finding(
        check="bare LEDs and eyes",
        level=Level.NOTE,
        where="light points",
        what=(
            "some show bare; IEC 62471 sorts light sources by their risk to eyes, and a strip's data sheet "
            "states its group"
        ),
        source="IEC 62471 (second-hand); common practice",
        advice="Do not stare into a bare LED from near by, neither while building nor afterwards.",
    )


def _luminance(value: float) -> str:
    """A luminance in words that can be read: cd/m² up to 10 000, else thousands of them.

    >>> _luminance(950.4), _luminance(48_300.0), _luminance(2.1e6)
    ('950 cd/m²', '48 kcd/m²', '2100 kcd/m²')
    """
    if value < 10_000.0:
        return f"{value:.3g} cd/m²" if value < 100.0 else f"{value:.0f} cd/m²"
    return f"{float(f'{value / 1000.0:.2g}'):g} kcd/m²" if value < 1e8 else f"{value / 1e6:.3g} Mcd/m²"


def _because(assumed: str) -> str:
    return f" ({assumed})" if assumed else ""
