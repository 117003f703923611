"""Layers built face by face are the solids that cutting gives: same closed shape, volume and faces."""

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.curves.arcs import polygon
from stackview.description.lamp import Chamfer, Layer, Opening, Recess
from stackview.description.outline import Around, Outline, path_of
from stackview.description.shapes import Circle, Rectangle, Regular, Shape
from stackview.solids.build import _cut, _labelled
from stackview.solids.chamfer import block, wall
from stackview.solids.cuts import recess_cuts
from stackview.solids.holes import hole_walls, holes_of
from stackview.solids.measure import volume
from stackview.solids.solid import Face, Solid
from stackview.solids.stepped import stepped
from tests.stack.layers import ASH

E = 0.05


def plate(shape: Shape, *, openings=(), recesses=(), thick: float = 12.0, chamfers=()) -> Layer:  # type: ignore[no-untyped-def]
    return Layer("plate", ASH, thick, Outline(shape), openings=openings, recesses=recesses, chamfers=chamfers)


def pocket(outline: Outline, depth: float, face="top") -> Recess:  # type: ignore[no-untyped-def]
    return Recess(face, depth, outline, 0.0)


def built(layer: Layer) -> Solid | None:
    found = stepped(layer, path_of(layer.outline), holes_of(layer, {}), E)
    return None if found is None else _labelled(found.manifold())


def cut(layer: Layer) -> Solid:
    """The same layer by booleans."""
    thick = (0.0, layer.thickness)
    walls, cuts = hole_walls(holes_of(layer, {}), thick, E)
    whole = block([wall(polygon(path_of(layer.outline), E), thick, Face.OUTER), *walls])
    return _cut(whole, [*cuts, *recess_cuts(layer, E)], "plate", "recess")


def areas(solid: Solid) -> list[float]:
    """Area of each sort of face [mm²]."""
    corners = solid.vertices[solid.triangles]
    each = (
        np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2.0
    )
    return [float(each[solid.faces == face].sum()) for face in Face]


def alike(layer: Layer) -> None:
    ours, theirs = built(layer), cut(layer)
    assert ours is not None
    mesh = trimesh.Trimesh(ours.vertices, ours.triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert volume(ours) == pytest.approx(volume(theirs), rel=1e-9)
    assert areas(ours) == pytest.approx(areas(theirs), rel=1e-9, abs=1e-6)
    # Nothing of either is outside the other.
    one, other = (
        manifold3d.Manifold(manifold3d.Mesh64(np.array(solid.vertices), solid.triangles.astype(np.uint64)))
        for solid in (ours, theirs)
    )
    assert (one - other).volume() == pytest.approx(0.0, abs=1e-6)
    assert (other - one).volume() == pytest.approx(0.0, abs=1e-6)


def test_a_ring_with_a_recess_in_closed_form() -> None:
    # 100 × 100 × 12, an opening of 40 × 40 in a recess of 60 × 60 × 5 (plane geometry).
    layer = plate(
        Rectangle(100.0, 100.0),
        openings=(Opening(Outline(Rectangle(40.0, 40.0)), main=True),),
        recesses=(pocket(Outline(Rectangle(60.0, 60.0)), 5.0),),
    )
    solid = built(layer)
    assert solid is not None
    assert volume(solid) == pytest.approx(12.0 * (10_000 - 1_600) - 5.0 * (3_600 - 1_600), rel=1e-12)
    found = dict(zip(Face, areas(solid), strict=True))
    assert found[Face.TOP] == pytest.approx(10_000 - 3_600)
    assert found[Face.RECESS_FLOOR] == pytest.approx(3_600 - 1_600)
    assert found[Face.UNDERSIDE] == pytest.approx(10_000 - 1_600)
    assert found[Face.RECESS_WALL] == pytest.approx(4 * 60 * 5)
    assert found[Face.OPENING] == pytest.approx(4 * 40 * 7)
    assert found[Face.OUTER] == pytest.approx(4 * 100 * 12)


@settings(max_examples=25, deadline=None)
@given(
    outer=st.sampled_from([Circle(120.0), Rectangle(120.0, 118.0, 6.0), Regular(6, 121.0)]),
    inner=st.sampled_from([Circle(60.0), Rectangle(50.0, 40.0, 3.0), Regular(5, 45.0)]),
    wide=st.floats(64.0, 84.0),
    top=st.floats(0.5, 5.5),
    below=st.floats(0.5, 5.5),
    sides=st.sampled_from([("top",), ("underside",), ("top", "underside")]),
    pins=st.integers(0, 5),
)
def test_any_clear_layer_is_as_cut(outer, inner, wide, top, below, sides, pins) -> None:  # type: ignore[no-untyped-def]
    openings = [Opening(Outline(inner), main=True)]
    if pins:
        openings.append(Opening(Outline(Circle(4.0)), around=Around(pins, 100.0)))
    depths = {"top": top, "underside": below}
    recesses = [pocket(Outline(Circle(wide)), depths[side], side) for side in sides]
    recesses.append(pocket(Outline(Circle(3.0), at=(31.15, -42.88)), 4.0))
    alike(plate(outer, openings=tuple(openings), recesses=tuple(recesses)))


@pytest.mark.parametrize(
    "layer",
    [
        plate(Circle(100.0), recesses=(pocket(Outline(Circle(99.9)), 3.0),)),
        plate(Circle(100.0), recesses=(pocket(Outline(Circle(60.0), at=(40.0, 0.0)), 3.0),)),
        plate(
            Circle(100.0),
            openings=(Opening(Outline(Circle(20.0), at=(30.0, 0.0))),),
            recesses=(pocket(Outline(Circle(60.0)), 3.0),),
        ),
        plate(
            Circle(100.0),
            openings=(Opening(Outline(Circle(59.9))),),
            recesses=(pocket(Outline(Circle(60.0)), 3.0),),
        ),
        plate(
            Circle(100.0),
            recesses=(pocket(Outline(Circle(60.0)), 3.0), pocket(Outline(Circle(40.0)), 5.0)),
        ),
        plate(
            Circle(100.0),
            recesses=(pocket(Outline(Circle(60.0)), 3.0),),
            chamfers=(Chamfer("top outer", 1.0),),
        ),
    ],
    ids=["at the edge", "over the edge", "across an opening", "beside an opening", "in a recess", "bevelled"],
)
def test_edges_that_meet_are_left_to_cutting(layer: Layer) -> None:
    assert built(layer) is None
