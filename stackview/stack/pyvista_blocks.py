"""The assembled lamp as pyvista blocks: one surface a part, under its own name."""

from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from stackview.solids.solid import Face
from stackview.stack.placed import Placed

if TYPE_CHECKING:
    import pyvista

    Blocks: TypeAlias = pyvista.MultiBlock


def pyvista_blocks(placed: tuple[Placed, ...]) -> "Blocks":
    """Every part as a closed ``pyvista.PolyData`` in the lamp's frame, in millimetres, z up.

    Field data of a block say its ``material``, ``role``, ``unit``, ``colour`` (linear sRGB, 0 to 1) and
    ``heights`` (underside and top); its cell data ``face`` the number of what each triangle belongs to,
    whose words are in the field data ``faces``.
    """
    import pyvista

    blocks = pyvista.MultiBlock()
    for part in placed:
        solid = part.solid
        surface = pyvista.PolyData.from_regular_faces(solid.vertices.copy(), solid.triangles)
        surface.cell_data["face"] = solid.faces.copy()
        surface.field_data["material"] = [part.material.name]
        surface.field_data["role"] = [part.role]
        surface.field_data["unit"] = ["mm"]
        surface.field_data["colour"] = np.array(part.material.colour)
        surface.field_data["heights"] = np.array((part.underside, part.top))
        surface.field_data["faces"] = [face.word for face in Face]
        blocks.append(surface, part.name)
    return blocks
