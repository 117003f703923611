"""Where the cuts of a part stand, in words for whoever marks them out."""

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path
from stackview.description.lamp import Opening, Recess
from stackview.description.shapes import Curve
from stackview.description.units import Units
from stackview.shop.drawn_cuts import DrawnCut, circle_of


def cut_place(cut: DrawnCut, units: Units) -> str:
    """Where a cut stands, in words that follow its size; empty where it stands about the axis.

    A drawn curve lies where it is drawn, and has no middle that could be marked out.
    """
    if isinstance(cut.of, Opening | Recess) and isinstance(cut.of.outline.shape, Curve):
        return ""
    middles = np.array([middle_of(path) for path in cut.paths])
    away = np.hypot(*middles.T)
    if len(middles) == 1:
        return "" if away[0] < 1e-6 else f", middle {from_axis(middles[0], units)}"
    bearings = np.degrees(np.arctan2(middles[:, 0], -middles[:, 1])) % 360.0
    bearings[bearings > 360.0 - 1e-6] = 0.0
    if np.ptp(away) < 1e-6:
        at = ", ".join(f"{value:.6g}°" for value in sorted(np.round(bearings, 4).tolist()))
        return f", on ⌀ {units.show(2.0 * float(away[0]))} at bearings {at}"
    return ", middles " + "; ".join(from_axis(middle, units) for middle in middles)


def from_axis(place: Floats | tuple[float, float], units: Units) -> str:
    """A place in words, from the lamp's axis.

    >>> from_axis((10.0, -6.0), Units("mm")), from_axis((0.0, 20.0), Units("mm"))
    ('10 mm right of and 6 mm in front of the axis', '20 mm behind the axis')
    """
    told = []
    x, y = place
    if abs(x) > 1e-6:
        told.append(f"{units.show(abs(x))} {'right' if x > 0.0 else 'left'} of")
    if abs(y) > 1e-6:
        told.append(f"{units.show(abs(y))} {'behind' if y > 0.0 else 'in front of'}")
    return f"{' and '.join(told)} the axis" if told else "on the axis"


def middle_of(path: Path) -> tuple[float, float]:
    """Centre of a circle, or the mean of a curve's vertices: the centre of every regular shape [mm].

    A pentagon's is not that of the box about it.
    """
    round_ = circle_of(path)
    x, y = (round_[0] if round_ is not None else path.vertices[:, :2].mean(axis=0)).tolist()
    return x, y
