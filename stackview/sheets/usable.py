"""What of a sheet a part may cover: its face without margin and zones, turned so that its grain lies along x."""

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.sheets.facets import inner_facets, outer_facets
from stackview.sheets.fits import turned_places
from stackview.sheets.no_fit import Region
from stackview.sheets.pieces import FACET_ERROR


def face_of(sheet: SheetAtHand) -> shapely.Geometry:
    """The whole face of a sheet, in its own frame; never more than the sheet."""
    return shapely.Polygon(inner_facets(sheet.path, FACET_ERROR))


def zones_of(sheet: SheetAtHand) -> list[shapely.Geometry]:
    """Places that cannot be used, in the sheet's own frame; never less than they are."""
    return [shapely.Polygon(outer_facets(zone.path, FACET_ERROR)) for zone in sheet.zones]


def usable_region(sheet: SheetAtHand, gap: float) -> Region:
    """What parts may cover, its grain along x: a margin from the sheet's edge and a ``gap`` from every zone [mm]."""
    face = face_of(sheet).buffer(-sheet.margin, join_style="mitre")
    zones = [zone.buffer(gap, join_style="mitre") for zone in zones_of(sheet)]
    return Region(along_grain(face, sheet), tuple(along_grain(zone, sheet) for zone in zones))


def grain_turn(sheet: SheetAtHand) -> float:
    """The turn [°] that brings the grain of a sheet along x, -135 to 45; none for a material without grain.

    Of the two that do, it is the one by which a board that stands upright is filled from its lower end.
    """
    if not sheet.material.is_figured:
        return 0.0
    turn = (90.0 - sheet.grain) % 180.0
    return turn if turn <= 45.0 else turn - 180.0


def along_grain(shape: shapely.Geometry, sheet: SheetAtHand) -> shapely.Geometry:
    """A shape on a sheet turned so that its grain lies along x."""
    turn = grain_turn(sheet)
    return shapely.transform(shape, lambda places: turned_places(places, turn)) if turn else shape


def in_own_frame(sheet: SheetAtHand, x: float, y: float) -> Floats:
    """A place (2,) of the turned sheet, back in the sheet's own frame [mm]."""
    return np.asarray(turned_places(np.array(((x, y),)), -grain_turn(sheet))[0])
