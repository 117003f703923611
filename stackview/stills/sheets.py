"""What acrylic does with light, triangle by triangle: a look that is tuned by eye, not measured."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.solids.solid import SheetFace, sheet_faces
from stackview.stack.placed import Placed
from stackview.stills.refine import Facets

_OPAL_SPREAD = 11.0
_SANDED_SPREAD = 5.0
"""How far light spreads inside opal and sanded sheets [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Sheets:
    """Acrylic, triangle by triangle: whether it is ``opal`` or ``sanded``, and on an ``edge`` (s,).

    ``spreading`` (parts,) is how far light spreads within each part of the lamp [mm]; ``unspread`` (s,) the share
    of light that opal passes straight on.
    """

    opal: NDArray[np.bool_]
    sanded: NDArray[np.bool_]
    edge: NDArray[np.bool_]
    spreading: NDArray[np.float64]
    unspread: Singles

    @property
    def straight(self) -> Singles:
        """Share of light that truly goes straight on, unspread, through one triangle's whole sheet (s,)."""
        return np.where(self.opal, self.unspread, np.where(self.sanded, 0.0, 0.86)).astype(np.float32)

    @property
    def holding(self) -> Singles:
        """Light inside a sheet (s,) for which its face glows with a luminance of 1.

        Of a sanded plate half is seen through it, and half is its own glow, of both its faces.
        """
        held = 1.0 / np.maximum(self.glowing, 1e-3)
        return np.where(self.opal, held, np.where(self.sanded, held * 0.25 / 0.45, 0.0)).astype(np.float32)

    @property
    def passing(self) -> Singles:
        """Share of light that goes straight on through one triangle's whole sheet (s,)."""
        return np.where(self.opal, 0.30, np.where(self.sanded, 0.55, 0.86)).astype(np.float32)

    @property
    def glowing(self) -> Singles:
        """Share of the light inside that leaves towards every side (s,)."""
        plain = np.where(self.edge, 0.18, 0.0)
        return np.where(self.opal, 0.62, np.where(self.sanded, 0.45, plain)).astype(np.float32)

    @property
    def fading(self) -> Singles:
        """Way inside the sheet that leaves 1/e of the light (s,) [mm]: short in opal, long in clear."""
        return np.where(self.opal, 22.0, np.where(self.sanded, 90.0, 300.0)).astype(np.float32)


def sheets_of(placed: Sequence[Placed], acrylic: Facets) -> Sheets:
    """Sort the triangles of all acrylic parts by body, finish and place."""
    opal = np.array([part.sort == "opal" for part in placed], np.bool_)
    sanded = np.array([part.finish.sanded for part in placed], np.bool_).reshape(-1, 3)
    side = sheet_faces(acrylic.face, acrylic.flat[:, 2])
    spreading = np.where(opal, _OPAL_SPREAD, np.where(sanded.any(axis=1), _SANDED_SPREAD, 0.0))
    optics = [part.material.optics for part in placed]
    unspread = np.array([own.transmission * (1.0 - own.haze) for own in optics], np.float32)
    return Sheets(
        opal[acrylic.part],
        sanded[acrylic.part, side],
        side == SheetFace.EDGE,
        spreading,
        unspread[acrylic.part],
    )
