import math

import numpy as np
import pytest

from stackview.description.lamp import Bore, Groove, Opening, Recess
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.errors import SolidError
from stackview.solids.build import solid_of
from stackview.solids.measure import volume
from stackview.solids.solid import Face

E = 0.01
SQUARE = Rectangle(100.0, 100.0)
FRAME = (Opening(Outline(Rectangle(40.0, 40.0)), main=True),)


def recess(face: str, depth: float, shape: object, **fields: object) -> Recess:
    return Recess(face, depth, Outline(shape, **fields), 0.0)


def test_groove_along_the_outline(layer, watertight) -> None:
    solid = solid_of(layer(SQUARE, 18.0, grooves=(Groove("top", "outline", 5.0, 2.0, 3.0),)), E)
    watertight(solid)
    assert volume(solid) == pytest.approx(180000.0 - 3.0 * (90.0**2 - 86.0**2), rel=1e-12)
    assert (solid.faces == Face.GROOVE).any()


def test_groove_along_the_opening_from_below(layer, watertight) -> None:
    solid = solid_of(
        layer(SQUARE, 18.0, openings=FRAME, grooves=(Groove("underside", "opening", 5.0, 2.0, 3.0),)), E
    )
    watertight(solid)
    assert volume(solid) == pytest.approx(18.0 * 8400.0 - 3.0 * (54.0**2 - 50.0**2), rel=1e-12)
    groove = solid.vertices[np.unique(solid.triangles[solid.faces == Face.GROOVE])]
    assert groove[:, 2].max() == pytest.approx(3.0)


def test_groove_in_a_recess_floor(layer, watertight) -> None:
    solid = solid_of(
        layer(
            SQUARE,
            18.0,
            recesses=(recess("top", 5.0, Rectangle(80.0, 80.0)),),
            grooves=(Groove("top", "recess", 4.0, 2.0, 3.0),),
        ),
        E,
    )
    watertight(solid)
    assert volume(solid) == pytest.approx(180000.0 - 5.0 * 6400.0 - 3.0 * (72.0**2 - 68.0**2), rel=1e-12)
    groove = solid.vertices[np.unique(solid.triangles[solid.faces == Face.GROOVE])]
    assert groove[:, 2].min() == pytest.approx(10.0)
    assert groove[:, 2].max() == pytest.approx(13.0)


def test_groove_follows_the_cutters_corners(layer) -> None:
    # A recess with corner radius 3: the groove's near side has radius 2, its far side is sharp.
    plate = layer(
        SQUARE,
        18.0,
        recesses=(recess("top", 5.0, Rectangle(80.0, 80.0), cutter_radius=3.0),),
        grooves=(Groove("top", "recess", 1.0, 2.0, 3.0),),
    )
    bare = layer(SQUARE, 18.0, recesses=plate.recesses)
    exact = 3.0 * (78.0**2 - (4.0 - math.pi) * 4.0 - 74.0**2)
    cut = volume(solid_of(bare, E)) - volume(solid_of(plate, E))
    assert 0.0 <= exact - cut < 3.0 * E * 4.0 * math.pi


@pytest.mark.parametrize("bearing", [0.0, 90.0, 45.0, 200.0])
def test_bore_to_the_axis(layer, watertight, bearing: float) -> None:
    solid = solid_of(layer(Circle(100.0), 18.0, bores=(Bore(6.0, 9.0, bearing),)), 0.002)
    watertight(solid)
    whole = volume(solid_of(layer(Circle(100.0), 18.0), 0.002))
    # A bar from the axis to the rim; the rim curves back by y²/2R over the bore: π r⁴/(8R) less.
    bar = math.pi * 9.0 * 50.0 - math.pi * 3.0**4 / (8.0 * 50.0)
    assert whole - volume(solid) == pytest.approx(bar, rel=2e-3)
    found = solid.vertices[np.unique(solid.triangles[solid.faces == Face.BORE])]
    assert found[:, 2].min() == pytest.approx(6.0, abs=1e-9)
    assert found[:, 2].max() == pytest.approx(12.0, abs=1e-9)
    out = np.array((math.sin(math.radians(bearing)), -math.cos(math.radians(bearing))))
    assert (found[:, :2] @ out).max() == pytest.approx(50.0, abs=0.01)
    assert (found[:, :2] @ out).min() == pytest.approx(0.0, abs=1e-9)


def test_bore_into_an_opening(layer, watertight) -> None:
    solid = solid_of(layer(SQUARE, 18.0, openings=FRAME, bores=(Bore(6.0, 9.0, 90.0),)), E)
    watertight(solid)
    lost = 18.0 * 8400.0 - volume(solid)
    # A right cylinder 30 mm long, facetted from inside.
    assert math.pi * (3.0 - E) ** 2 * 30.0 < lost < math.pi * 9.0 * 30.0


def test_bore_with_a_length_counts_from_the_edge(layer, watertight) -> None:
    solid = solid_of(layer(SQUARE, 18.0, bores=(Bore(6.0, 9.0, 180.0, 12.0),)), E)
    watertight(solid)
    found = solid.vertices[np.unique(solid.triangles[solid.faces == Face.BORE])]
    assert (found[:, 1].min(), found[:, 1].max()) == pytest.approx((38.0, 50.0))


def test_recess_over_the_edge_is_open_there(layer, watertight) -> None:
    solid = solid_of(
        layer(SQUARE, 18.0, recesses=(recess("top", 5.0, Rectangle(40.0, 40.0), at=(50.0, 0.0)),)), E
    )
    watertight(solid)
    assert volume(solid) == pytest.approx(180000.0 - 5.0 * 20.0 * 40.0, rel=1e-12)


CUTS = [
    (
        {"recesses": (recess("top", 18.0, Circle(50.0)),)},
        "recess",
        "depth 18 mm in the top.*thickness of 18 mm",
    ),
    ({"recesses": (recess("top", 0.0, Circle(50.0)),)}, "recess", "depth 0 mm"),
    ({"recesses": (recess("underside", 5.0, Circle(150.0)),)}, "recess", "right over the whole layer"),
    ({"recesses": (recess("top", 5.0, SQUARE),)}, "recess", "right over the whole layer"),
    (
        {"recesses": (recess("top", 5.0, Circle(10.0), at=(80.0, 0.0)),)},
        "recess",
        "outside the layer's outline",
    ),
    (
        {"recesses": (recess("top", 5.0, Circle(30.0)),), "openings": FRAME},
        "recess",
        "within an opening and cuts nothing",
    ),
    (
        {"recesses": (recess("top", 10.0, Circle(50.0)), recess("underside", 8.0, Circle(40.0)))},
        "recess",
        "10 mm deep in the top and 8 mm in the underside meet",
    ),
    (
        {"recesses": (recess("top", 5.0, Circle(5.0), cutter_radius=3.0),)},
        "recess",
        "smaller than the cutter",
    ),
    (
        {"grooves": (Groove("top", "outline", 5.0, 2.0, 18.0),)},
        "groove",
        "depth 18 mm.*the 18 mm of material",
    ),
    ({"grooves": (Groove("top", "outline", 5.0, 0.0, 2.0),)}, "groove", "width must be over 0 and"),
    ({"grooves": (Groove("top", "opening", 5.0, 2.0, 2.0),)}, "groove", "no main opening"),
    ({"grooves": (Groove("top", "recess", 5.0, 2.0, 2.0),)}, "groove", "the top has no recess"),
    (
        {"grooves": (Groove("top", "opening", 29.0, 2.0, 2.0),), "openings": FRAME},
        "groove",
        r"1\.4142 mm outside the layer's outline",
    ),
    (
        {"grooves": (Groove("top", "outline", 29.0, 2.0, 2.0),), "openings": FRAME},
        "groove",
        "runs into an opening",
    ),
    (
        {"grooves": (Groove("top", "outline", 49.0, 2.0, 2.0),)},
        "groove",
        "its far side lies 51 mm from its edge, where its sides meet: make it narrower",
    ),
    (
        {
            "grooves": (Groove("top", "recess", 5.0, 2.0, 13.0),),
            "recesses": (recess("top", 5.0, Circle(50.0)),),
        },
        "groove",
        "depth 13 mm.*the 13 mm of material",
    ),
    ({"bores": (Bore(6.0, 2.0, 0.0),)}, "bore", "does not stay inside the thickness.*under 4 mm"),
    ({"bores": (Bore(6.0, 16.0, 0.0),)}, "bore", "does not stay inside the thickness"),
    ({"bores": (Bore(0.0, 9.0, 0.0),)}, "bore", "diameter 0 mm"),
    ({"bores": (Bore(6.0, 9.0, 0.0, 0.0),)}, "bore", "length 0 mm"),
    (
        {
            "recesses": (
                recess("top", 10.0, Rectangle(10.0, 90.0)),
                recess("underside", 10.0, Rectangle(90.0, 10.0)),
            )
        },
        "recess",
        "meet in a layer 18 mm thick",
    ),
]


@pytest.mark.parametrize(("fields", "field", "message"), CUTS)
def test_messages(layer, fields: dict[str, object], field: str, message: str) -> None:
    with pytest.raises(SolidError, match=message) as caught:
        solid_of(layer(SQUARE, 18.0, **fields), E)
    assert caught.value.field == field


def test_bore_past_an_outline_off_the_axis(layer) -> None:
    aside = Outline(Circle(20.0), at=(60.0, 0.0))
    assert volume(solid_of(layer(aside, 18.0, bores=(Bore(6.0, 9.0, 90.0, 5.0),)), E)) > 0.0
    with pytest.raises(SolidError, match="bearing 0° never meets"):
        solid_of(layer(aside, 18.0, bores=(Bore(6.0, 9.0, 0.0),)), E)


def test_a_layer_cut_to_pieces_is_refused(layer) -> None:
    slots = tuple(
        Opening(Outline(Rectangle(90.0, 10.0), turn=turn, at=at))
        for turn, at in ((0, (0, 40)), (0, (0, -40)), (90, (40, 0)), (90, (-40, 0)))
    )
    with pytest.raises(SolidError, match='"plate" falls into 2 pieces') as caught:
        solid_of(layer(SQUARE, 18.0, openings=slots), E)
    assert caught.value.field == "opening"
