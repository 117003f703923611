"""The assembled lamp as a trimesh scene: one mesh a part, under its own name, with a material that shows it."""

from typing import TYPE_CHECKING, TypeAlias

from stackview.stack.placed import Placed

if TYPE_CHECKING:
    import trimesh
    from trimesh.visual.material import PBRMaterial

    Scene: TypeAlias = trimesh.Scene

_SHINE = {"wood": 0.6, "plywood": 0.6, "board": 0.7, "acrylic": 0.05, "metal": 0.35, "plastic": 0.5}
"""Roughness of each kind of material as it comes (0 a mirror, 1 matt): our choice, for the eye alone."""
_CLEAR = 0.2
"""What a clear sheet covers of what is behind it: our choice, so that it can be seen at all."""


def trimesh_scene(placed: tuple[Placed, ...]) -> "Scene":
    """Every part as a watertight ``trimesh.Trimesh`` in the lamp's frame, in millimetres, z up.

    Geometry and node carry the part's name; ``metadata`` of a mesh its material, role and heights.
    Colours are the materials' own, linear as glTF 2.0 has them (``baseColorFactor``, § 3.9.2); acrylic lets
    light through. glTF counts in metres with y up: convert units and turn before writing it for others.
    """
    import trimesh
    from trimesh.visual import TextureVisuals

    scene = trimesh.Scene(metadata={"units": "mm"})
    for part in placed:
        mesh = trimesh.Trimesh(
            part.solid.vertices.copy(), part.solid.triangles.copy(), process=False, validate=False
        )
        mesh.units = "mm"
        mesh.visual = TextureVisuals(material=_material(part))
        mesh.metadata.update(
            name=part.name,
            material=part.material.name,
            role=part.role,
            underside=part.underside,
            top=part.top,
        )
        scene.add_geometry(mesh, node_name=part.name, geom_name=part.name)
    return scene


def covers_behind(part: Placed) -> float:
    """What a part covers of what is behind it where it is shown, 0 to 1: our choice for acrylic, all for the rest."""
    return {
        "opaque": 1.0,
        "opal": 1.0 - part.material.optics.transmission,
        "sanded": 2.0 * _CLEAR,
        "clear": _CLEAR,
    }[part.level_sort]


def _material(part: Placed) -> "PBRMaterial":
    from trimesh.visual.material import PBRMaterial

    material, sort = part.material, part.level_sort
    return PBRMaterial(
        name=material.name,
        baseColorFactor=[*material.colour, covers_behind(part)],
        metallicFactor=1.0 if material.is_metal else 0.0,
        roughnessFactor=material.optics.roughness if sort == "sanded" else _SHINE[material.kind],
        alphaMode="OPAQUE" if part.opaque else "BLEND",
    )
