"""Models for other programs: GLB, 3MF, OBJ and STL, as bytes under the names of their files."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, get_args

from stackview import __version__
from stackview.errors import StackviewError
from stackview.shop.file_names import file_names
from stackview.shop.model_3mf import body_colour, threemf_bytes
from stackview.shop.model_bodies import single_parts, whole_lamp
from stackview.stack.placed import Placed
from stackview.stack.trimesh_scene import trimesh_scene

if TYPE_CHECKING:
    from stackview.study import Study

ModelFormat = Literal["glb", "3mf", "obj", "stl"]
MODEL_FORMATS: tuple[ModelFormat, ...] = get_args(ModelFormat)
MODEL_MARKS: Mapping[str, bytes] = MappingProxyType(
    {
        ".glb": b'"generator":"stackview ',
        ".3mf": b"made by stackview ",
        ".obj": b"# stackview ",
        ".mtl": b"# stackview ",
        ".stl": b"stackview ",
    }
)
"""What every file of ours holds, by its ending: in an STL its 80 bytes of header, in a 3MF the archive's comment."""
_MAKER = f"stackview {__version__}"
_STL_HEADER = 80
"""Bytes before the count of triangles in a binary STL."""
_TO_GLTF = ((0.001, 0.0, 0.0, 0.0), (0.0, 0.0, 0.001, 0.0), (0.0, -0.001, 0.0, 0.0), (0.0, 0.0, 0.0, 1.0))
"""Millimetres with z up as metres with y up, the front towards +z: glTF 2.0, § 3.4."""


def model_files(
    study: "Study", formats: Iterable[str] = MODEL_FORMATS, *, parts: bool = False, stem: str = "lamp"
) -> dict[str, bytes]:
    """Models of the lamp, by the names of their files.

    GLB counts in metres with y up, 3MF, OBJ and STL in millimetres with z up. The lamp is one file
    called ``stem`` with every part as a body of its own under its name; with ``parts``, and always as STL,
    which knows but one body, every different part is a file of its own, as it lies on the bench. An OBJ
    has its colours in an MTL beside it. Curves are facets within the lamp's chord error.

    Raises LampError where the lamp cannot be built, StackviewError for a format that is none of these.
    """
    chosen = _known(formats)
    found: dict[str, bytes] = {}
    single = single_parts(study) if parts or "stl" in chosen else ()
    own = file_names([part.name for part in single])
    whole = file_names([stem])[0]
    for kind in chosen:
        if parts or kind == "stl":
            for part, name in zip(single, own, strict=True):
                found |= _files(kind, (part,), name, f"{study.lamp.name}: {part.name}")
        else:
            found |= _files(kind, whole_lamp(study), whole, study.lamp.name)
    return found


def _known(formats: Iterable[str]) -> list[ModelFormat]:
    asked = [one.lower().removeprefix(".") for one in formats]
    for one in asked:
        if one not in MODEL_FORMATS:
            raise StackviewError(f'"{one}" is no format of a model: choose among {", ".join(MODEL_FORMATS)}')
    return [kind for kind in MODEL_FORMATS if kind in asked] or list(MODEL_FORMATS)


def _files(kind: ModelFormat, bodies: tuple[Placed, ...], name: str, title: str) -> dict[str, bytes]:
    if kind == "glb":
        return {f"{name}.glb": glb_bytes(bodies)}
    if kind == "3mf":
        return {f"{name}.3mf": threemf_bytes(bodies, title, _MAKER)}
    if kind == "obj":
        return obj_files(bodies, name)
    return {f"{name}.stl": stl_bytes(bodies[0])}


def glb_bytes(bodies: tuple[Placed, ...]) -> bytes:
    """A binary glTF 2.0: metres, y up, a node with name and material for each body."""
    from trimesh.exchange.gltf import export_glb

    scene = trimesh_scene(bodies)
    scene.metadata.pop("units", None)
    for mesh in scene.geometry.values():
        mesh.apply_transform(_TO_GLTF)
        # heights in it would still be millimetres
        mesh.metadata = {key: mesh.metadata[key] for key in ("name", "material", "role")}

    def marked(tree: dict[str, Any]) -> None:
        tree["asset"]["generator"] = _MAKER

    made = export_glb(scene, include_normals=False, tree_postprocessor=marked)
    return bytes(made)


def obj_files(bodies: tuple[Placed, ...], name: str) -> dict[str, bytes]:
    """An OBJ in millimetres, z up, an object for each body, and its MTL with their colours.

    Written here: trimesh takes materials that look alike for one, whatever they are called.
    """
    looks = _looks(bodies)
    text, before = [f"# {_MAKER}, millimetres, z up", f"mtllib {name}.mtl"], 1
    for body, look in zip(bodies, looks, strict=True):
        points, faces = body.solid.vertices.tolist(), (body.solid.triangles + before).tolist()
        text += ["", f"o {body.name}", *(f"v {x:.9g} {y:.9g} {z:.9g}" for x, y, z in points)]
        text += [f"usemtl {look}", *(f"f {a} {b} {c}" for a, b, c in faces)]
        before += len(points)
    colours = [f"# {_MAKER}"]
    for look, body in dict(zip(looks, bodies, strict=True)).items():
        *rgb, covers = body_colour(body)
        shown = " ".join(f"{part:.4f}" for part in rgb)
        colours += ["", f"newmtl {look}", f"Kd {shown}", f"d {covers:.4f}", "illum 1"]
    files = {f"{name}.obj": text, f"{name}.mtl": colours}
    return {file: ("\n".join(lines) + "\n").encode("utf-8") for file, lines in files.items()}


def _looks(bodies: tuple[Placed, ...]) -> tuple[str, ...]:
    """A name without spaces for what each body looks like: its material, and how its faces are finished."""
    known: dict[tuple[object, str], int] = {}
    kinds = [(body.material.name, body.level_sort) for body in bodies]
    for kind in kinds:
        known.setdefault(kind, len(known))
    names = file_names([name if sort == "opaque" else f"{name} {sort}" for name, sort in known])  # type: ignore[misc]
    return tuple(names[known[kind]] for kind in kinds)


def stl_bytes(body: Placed) -> bytes:
    """A binary STL in millimetres, z up."""
    from trimesh.exchange.stl import export_stl

    (mesh,) = trimesh_scene((body,)).geometry.values()
    header = f"{_MAKER}, millimetres, z up: {body.name}".encode("ascii", "replace")[:_STL_HEADER]
    return header.ljust(_STL_HEADER, b" ") + bytes(export_stl(mesh))[_STL_HEADER:]
