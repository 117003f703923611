"""What light does at a sanded face after its first micro-facet, told by tables that come with the program.

``tables/make_sanded_table.py`` makes them from walks with all bounces (``microsurface``).
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from stackview.arrays import Floats


@dataclass(frozen=True, slots=True, eq=False)
class SandedFaces:
    """Sanded faces by roughness (n,), each curve at cosines μ that are even in their root.

    wide : (n,) roughness of the lobe of light that comes back after more than one facet
    shares : (n, 4, cosine) light that leaves after more than one facet: back and on from outside, then from inside
    ends : (n, 4, cosine) factors at both ends of such light's way: back outside, on outside, then those inside
    """

    roughness: Floats
    wide: Floats
    shares: Floats
    ends: Floats

    def __post_init__(self) -> None:
        for array in (self.roughness, self.wide, self.shares, self.ends):
            array.setflags(write=False)

    def at(self, roughness: float) -> tuple[float, Floats, Floats]:
        """The lobe's roughness, the shares (4, cosine) and the ends (4, cosine) of one roughness, held within the table."""
        where = float(np.interp(roughness, self.roughness, np.arange(len(self.roughness))))
        low = min(int(where), len(self.roughness) - 2)
        wide, shares, ends = (
            held[low] + (where - low) * (held[low + 1] - held[low])
            for held in (self.wide, self.shares, self.ends)
        )
        return float(wide), np.asarray(shares, np.float64), np.asarray(ends, np.float64)


@cache
def sanded_faces() -> SandedFaces:
    """The table that comes with the program."""
    with (files("stackview.glow") / "tables" / "sanded.npz").open("rb") as file, np.load(file) as held:
        return SandedFaces(
            *(held[name].astype(np.float64) for name in ("roughness", "wide", "shares", "ends"))
        )
