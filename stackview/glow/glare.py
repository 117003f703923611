"""Glare after CIE 117: UGR = 8·log10[(0.25/Lb)·Σ L²ω/p²], from sources as an eye sees them.

The eye looks level, straight towards the lamp's axis. UGR was made for rooms lit from above and
for sources of 0.0003 to 0.1 sr (CIE 117, from memory); for a lamp at home it is guidance.

Small sources: CIE 147 (from memory) takes 200·I²/r² in place of L²ω where the projected area is
under 0.005 m², which is the source's intensity spread evenly over 0.005 m². A strip is many such
sources side by side. Taken one by one they would glare the less, the finer a strip is divided; so
here their spread-out discs are laid over each other and luminances added where they overlap. One
source alone, and sources far apart, then come out as CIE 147 has them; sources in one place as
one source of their intensities' sum. CIE 147 keeps to sources more than 5° off the line of sight.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.glow.position_index import position_index

BACKGROUND = 10.0
"""Luminance of a living room's walls in the evening [cd/m²]: assumed, editable."""
SMALL = 5000.0
"""Projected area under which a source is small [mm²]: 0.005 m² (CIE 147, from memory)."""
_DISC = float(np.sqrt(SMALL / np.pi))
_GRAZING = float(np.cos(np.radians(85.0)))
"""A face seen from nearer to edge-on than this counts as large as from there: no real face is sharp."""
_ROWS = 256
"""Sources set against all others at once, to bound memory."""
_SCALE = (
    (10.0, "imperceptible"),
    (13.0, "just perceptible"),
    (16.0, "perceptible"),
    (19.0, "just acceptable"),
    (22.0, "not acceptable for long work"),
    (25.0, "just uncomfortable"),
    (28.0, "uncomfortable"),
    (31.0, "just intolerable"),
)
"""Glare by steps of UGR: the scale behind CIE 117, in steps of 3 (second-hand)."""


def ugr(term: float, background: float) -> float:
    """UGR from the sum Σ L²ω/p² [cd²/m⁴·sr] and the background's luminance [cd/m²] (CIE 117).

    Minus infinity where nothing glares. Raises ValueError for a background that is not above 0.

    >>> round(ugr(6484.6**2 * 4.86014e-4 / 1.26**2, 47.75), 2)
    14.63
    """
    if not background > 0:
        raise ValueError("the background's luminance must be above 0 cd/m²")
    return float(8.0 * np.log10(0.25 / background * term)) if term > 0 else -np.inf


def word_of(value: float) -> str:
    """The step of the scale that a UGR has reached, in words.

    >>> word_of(-np.inf), word_of(18.9), word_of(19.0), word_of(40.0)
    ('imperceptible', 'perceptible', 'just acceptable', 'intolerable')
    """
    if value >= _SCALE[-1][0] + 3.0:
        return "intolerable"
    reached = [word for step, word in _SCALE if value >= step]
    return reached[-1] if reached else _SCALE[0][1]


@dataclass(frozen=True, slots=True, eq=False)
class Sources:
    """Flat sources as one eye sees them; read-only.

    places : (n, 3) relative to the eye: to its right, up, and along its line of sight [mm]
    candela : (n,) intensity towards the eye [cd]
    areas : (n,) projected square to the line to the eye [mm²], above 0
    """

    places: Floats
    candela: Floats
    areas: Floats

    def __post_init__(self) -> None:
        for array in (self.places, self.candela, self.areas):
            array.setflags(write=False)

    def __len__(self) -> int:
        return len(self.candela)

    @property
    def reach(self) -> Floats:
        """Distance of each from the eye (n,) [mm]."""
        return np.asarray(np.linalg.norm(self.places, axis=1))

    @property
    def luminance(self) -> Floats:
        """Luminance of each as seen from the eye (n,) [cd/m²]: I/A."""
        return np.asarray(self.candela / self.areas * 1e6)

    @property
    def index(self) -> Floats:
        """Position index of each (n,)."""
        return position_index(*self.places.T)


def as_seen_level(vectors: Floats, eye: Floats) -> Floats:
    """Vectors (…, 3) of the lamp's frame as an eye (3,) has them that looks level at the lamp's axis.

    Returns (…, 3): to the eye's right, up, and along its line of sight. Raises ValueError for an
    eye on the axis, which has no direction to look in.
    """
    level = float(np.hypot(eye[0], eye[1]))
    if not level > 0:
        raise ValueError("an eye on the lamp's axis does not look towards it")
    ahead = np.array([-eye[0], -eye[1], 0.0]) / level
    right = np.array([ahead[1], -ahead[0], 0.0])
    return np.stack([vectors @ right, vectors[..., 2], vectors @ ahead], axis=-1)


def sources_seen(
    centres: Floats, directions: Floats, candela: Floats, powers: Floats, areas: Floats, eye: Floats
) -> Sources:
    """Flat faces with I = I0·cosᵐγ as an eye sees them that looks level towards the lamp's axis.

    Parameters
    ----------
    centres, directions : (n, 3) of the faces [mm], in the lamp's frame; those that turn their
        backs to the eye are left out
    candela, powers : (n,) axial intensity I0 [cd] and exponent m
    areas : (n,) of the faces [mm²]
    eye : (3,) [mm], not on the axis

    Raises
    ------
    ValueError
        an eye on the lamp's axis, which has no direction to look in
    """
    offset = centres - eye
    reach = np.linalg.norm(offset, axis=1)
    cosine = -np.einsum("ij,ij->i", offset, directions) / np.where(reach > 0, reach, 1.0)
    front = cosine > 0
    offset, cosine = offset[front], cosine[front]
    return Sources(
        places=as_seen_level(offset, eye),
        candela=candela[front] * cosine ** powers[front],
        areas=areas[front] * np.maximum(cosine, _GRAZING),
    )


def glare_term(sources: Sources) -> float:
    """Σ L²ω/p² of sources [cd²/m⁴·sr], the small ones spread out as this module says.

    For a source of area A ≥ 0.005 m²: L²ω = I²/(A·r²). For small sources i and j, with
    A = 0.005 m²: Σ Σ I_i·I_j·f/(A·r_i·r_j·p_i·p_j), f the share of one disc that the other
    covers.
    """
    strength, large = _strength(sources), sources.areas >= SMALL
    # I² [cd²] over mm²·mm² is 1e12 times that over m²·m².
    alone = float((strength[large] ** 2 / sources.areas[large]).sum())
    strength, reach = strength[~large], sources.reach[~large]
    towards = sources.places[~large] / reach[:, None]
    together = 0.0
    for start in range(0, len(strength), _ROWS):
        row = slice(start, start + _ROWS)
        # The chord of the angle, at the pair's own distance, is how far apart two sources look.
        chord = np.sqrt(np.maximum(2.0 - 2.0 * (towards[row] @ towards.T), 0.0))
        apart = chord * np.sqrt(np.outer(reach[row], reach))
        together += float(strength[row] @ shared(apart) @ strength)
    return (alone + together / SMALL) * 1e12


def most_glare_term(sources: Sources) -> float:
    """A bound above :func:`glare_term`, as if all discs lay on each other; quick."""
    return float(_strength(sources).sum()) ** 2 / SMALL * 1e12


def _strength(sources: Sources) -> Floats:
    """I/(p·r) of each source (n,) [cd/mm]."""
    return np.asarray(sources.candela / (sources.index * sources.reach))


def shared(apart: Floats) -> Floats:
    """Share of a disc of 0.005 m² covered by another, their middles ``apart`` [mm]: two circles' lens.

    (2/π)(acos x − x√(1 − x²)) with x = apart/2R (plane geometry).
    """
    x = np.minimum(np.asarray(apart) / (2.0 * _DISC), 1.0)
    return np.asarray(2.0 / np.pi * (np.arccos(x) - x * np.sqrt(1.0 - x * x)))
