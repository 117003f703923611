"""Shielding of bare light points, against the table of EN 12464-1.

The shielding angle (CIE S 017 17-30-036) is the complement of the cut-off angle (17-30-035): how
far the eye must move up or down from the horizontal before it sees a source bare. EN 12464-1 asks
for a least angle by the source's luminance, at work places and for luminaires seen from below
(second-hand). A lamp on a table is seen from above as well: the same angle is then counted upwards,
which is this program's own reading and guidance only.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.light.beam import beam_power
from stackview.light.points import LightPoints
from stackview.sight.bands import Bands, Kind
from stackview.sight.eyes import Seen

TABLE = ((20_000.0, 15.0), (50_000.0, 20.0), (500_000.0, 30.0))
"""Source luminance from which on [cd/m²], and least shielding angle [°] (EN 12464-1, second-hand)."""
SHIELDING_SOURCE = "EN 12464-1, least shielding angles (for work places; second-hand); CIE S 017 17-30-036"


def least_angle(luminance: float) -> float:
    """Least shielding angle [°] for a source luminance [cd/m²]; 0 under 20 kcd/m².

    >>> least_angle(19_999.0), least_angle(20_000.0), least_angle(50_000.0), least_angle(500_000.0)
    (0.0, 15.0, 20.0, 30.0)
    """
    return max((angle for bright, angle in TABLE if luminance >= bright), default=0.0)


@dataclass(frozen=True, slots=True, eq=False)
class FaceLight:
    """What each light point's face sends out; read-only, nan where it is not known.

    areas : (n,) [mm²]; powers : (n,) exponent m of I = I0·cosᵐγ; candela : (n,) I0 [cd];
    luminance : (n,) straight off the face, I0/A [cd/m²]
    """

    areas: Floats
    powers: Floats
    candela: Floats
    luminance: Floats

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).setflags(write=False)


def face_light(points: LightPoints, lumens: Floats) -> FaceLight:
    """Axial intensity I0 = Φ(m + 1)/2π and luminance I0/A of each face, from its flux (n,) [lm].

    Nan where the flux is, or where the face has no size. Source: ∫ cosᵐγ dω over the half sphere
    is 2π/(m + 1) (IES definitions of flux and luminance).
    """
    powers = beam_power(points.beams)
    areas = np.full(len(points), np.nan)
    if points.corners.shape[1] == 4:
        sides = points.corners[:, (1, 3)] - points.corners[:, :1]
        areas = np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1)
    areas = np.where(areas > 0, areas, np.nan)
    candela = np.asarray(lumens, dtype=np.float64) * (powers + 1.0) / (2.0 * np.pi)
    return FaceLight(areas, powers, candela, candela / areas * 1e6)


@dataclass(frozen=True, slots=True)
class Shielding:
    """How well the bare points that one eye sees are shielded on that eye's side of the horizontal."""

    angle: float
    """First seen bare this far from the horizontal [°], at the worst bearing; 90 if never on that side."""
    bearing: float
    """Where that is [°]."""
    above: bool
    """Whether counted upwards, for an eye above the lamp's middle."""
    points: int
    """Light points that the eye sees bare from some bearing."""
    luminance: float
    """The brightest of them, straight off its face [cd/m²]; nan where none is known."""
    least: float
    """What the table asks for at that luminance [°]; nan where it is not known."""


def shielding_of(seen: Seen, bands: Bands, light: FaceLight) -> Shielding | None:
    """Shielding of the points that an eye sees bare; None where it sees none.

    ``bands`` are the lamp's, over all directions and of every kind. A point counts where the
    middle of its face is bare.
    """
    chosen = np.flatnonzero((seen.kind == Kind.BARE).any(axis=1))
    if not len(chosen):
        return None
    above = seen.elevation >= 0.0
    own = bands.chosen((bands.kind == Kind.BARE) & np.isin(bands.point, chosen))
    angles = first_seen(own.low, own.high, above=above)
    worst = int(np.argmin(angles)) if (angles < 90.0).any() else None
    known = light.luminance[chosen][np.isfinite(light.luminance[chosen])]
    brightest = float(known.max()) if len(known) else np.nan
    return Shielding(
        angle=90.0 if worst is None else float(angles[worst]),
        bearing=np.nan if worst is None else float(own.bearings[own.bearing[worst]]),
        above=above,
        points=len(chosen),
        luminance=brightest,
        least=least_angle(brightest) if len(known) else np.nan,
    )


def first_seen(low: Floats, high: Floats, *, above: bool) -> Floats:
    """Angle from the horizontal at which each band of elevations (n,) [°] begins; 90 if on the other side.

    >>> first_seen(np.array([-5.0, 10.0, -40.0]), np.array([5.0, 20.0, -30.0]), above=True).tolist()
    [0.0, 10.0, 90.0]
    """
    near, far = (low, high) if above else (-high, -low)
    return np.asarray(np.where(far >= 0.0, np.clip(near, 0.0, 90.0), 90.0))
