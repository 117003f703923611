"""Curves from drawings against closed forms, and drawings that cannot be used."""

import itertools
import math
from collections.abc import Sequence
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from stackview.curves.arcs import Path as Closed
from stackview.curves.arcs import area as area_of
from stackview.curves.arcs import bounds
from stackview.description.curve_file import MOST_CURVE_BYTES, Drawings, read_curve
from stackview.description.curve_limits import CurveError
from stackview.description.shapes import Curve

SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="10in" viewBox="0 0 5 5">{}</svg>'
# four cubics with the usual handle 0.5522847498 r; the drawn curve swells by at most 2.73e-4 r
KAPPA = 0.5522847498307936


def from_svg(folder: Path, inner: str, unit: str = "mm", **options: str) -> Curve:
    file = folder / "leaf.svg"
    file.write_text(SVG.format(inner), "utf-8")
    return read_curve(file, unit, **options)  # type: ignore[arg-type]


def refused(folder: Path, inner: str, **options: str) -> str:
    with pytest.raises(CurveError) as caught:
        from_svg(folder, inner, **options)
    return str(caught.value)


def bezier_circle(radius: float) -> str:
    r, k = radius, radius * KAPPA
    return (
        f"M {r},0 C {r},{k} {k},{r} 0,{r} C {-k},{r} {-r},{k} {-r},0 "
        f"C {-r},{-k} {-k},{-r} 0,{-r} C {k},{-r} {r},{-k} {r},0 Z"
    )


def bezier_area(controls: list[list[complex]]) -> float:
    """Exact area under cubics by Green's theorem, the integrand a polynomial of degree 5.

    Gauss-Legendre quadrature with three points is exact to degree 5 (Abramowitz & Stegun 25.4.30).
    """
    total = 0.0
    for p0, p1, p2, p3 in controls:
        for node, weight in ((-math.sqrt(0.6), 5 / 9), (0.0, 8 / 9), (math.sqrt(0.6), 5 / 9)):
            t = (node + 1) / 2
            here = (1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t * t * p2 + t**3 * p3
            way = 3 * (1 - t) ** 2 * (p1 - p0) + 6 * (1 - t) * t * (p2 - p1) + 3 * t * t * (p3 - p2)
            total += weight / 2 * (here.conjugate() * way).imag / 2
    return total


def test_a_circle_of_beziers_has_the_area_of_its_beziers(tmp_path: Path) -> None:
    r, k = 50.0, 50 * KAPPA
    quarter = [complex(r, 0), complex(r, k), complex(k, r), complex(0, r)]
    exact = bezier_area([[p * 1j**n for p in quarter] for n in range(4)])
    curve = from_svg(tmp_path, f'<path d="{bezier_circle(r)}"/>')
    # arcs within 0.001 mm of a rim 2πr long
    assert signed_area(curve.vertices) == pytest.approx(exact, abs=0.001 * 2 * math.pi * r)
    assert exact == pytest.approx(math.pi * r * r, rel=6e-4)


def test_arcs_are_exact(tmp_path: Path) -> None:
    path = "M -10,0 A 10,10 0 0 1 10,0 A 10,10 0 0 1 -10,0 Z"
    curve = from_svg(tmp_path, f'<path d="{path}"/>')
    assert len(curve.vertices) == 2
    assert signed_area(curve.vertices) == pytest.approx(100 * math.pi, rel=1e-12)
    assert all(bulge == pytest.approx(1, rel=1e-12) for _, _, bulge in curve.vertices)


def signed_area(vertices: Sequence[tuple[float, float, float]]) -> float:
    return area_of(Closed(np.array(vertices)))


def extent(vertices: Sequence[tuple[float, float, float]]) -> tuple[float, float, float, float]:
    return bounds(Closed(np.array(vertices)))


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        ('<circle cx="7" cy="3" r="20"/>', 400 * math.pi),
        ('<rect x="1" y="2" width="30" height="20"/>', 600),
        ('<rect x="1" y="2" width="30" height="20" rx="5"/>', 600 - (4 - math.pi) * 25),
        ('<polygon points="0,0 30,0 0,40"/>', 600),
        ('<polyline points="0,0 30,0 0,40 0,0"/>', 600),
        ('<path d="M0 0H30V20H0Z"/>', 600),
        ('<path d="M0 0H30V20H0V0"/>', 600),
        ('<path d="m5 5l30 0l0 20l-30 0z m100 0h3v3z"/>', 600),
    ],
)
def test_shapes_are_exact(tmp_path: Path, shape: str, area: float) -> None:
    assert signed_area(from_svg(tmp_path, shape).vertices) == pytest.approx(area, rel=1e-9)


def test_the_user_unit_is_the_unit_asked_for_whatever_the_page(tmp_path: Path) -> None:
    curve = from_svg(tmp_path, '<rect width="3" height="2"/>', "in")
    assert extent(curve.vertices) == pytest.approx((-38.1, -25.4, 38.1, 25.4))


def test_the_top_of_the_page_is_the_back(tmp_path: Path) -> None:
    curve = from_svg(tmp_path, '<polygon points="0,10 40,10 20,0"/>')
    tip = max(curve.vertices, key=lambda vertex: vertex[1])
    assert tip[:2] == pytest.approx((0, 5))
    assert signed_area(curve.vertices) == pytest.approx(200)


def test_the_files_own_zero(tmp_path: Path) -> None:
    curve = from_svg(tmp_path, '<rect x="5" y="5" width="10" height="10"/>', origin="file")
    assert extent(curve.vertices) == pytest.approx((5, -15, 15, -5))


def test_transforms_of_groups_add_up(tmp_path: Path) -> None:
    inner = '<g transform="translate(100 0)"><g transform="scale(2)"><circle cx="1" cy="0" r="3"/></g></g>'
    curve = from_svg(tmp_path, inner, origin="file")
    assert extent(curve.vertices) == pytest.approx((96, -6, 108, 6))
    assert len(curve.vertices) <= 4


def test_a_stretched_circle_is_an_ellipse(tmp_path: Path) -> None:
    curve = from_svg(tmp_path, '<circle r="10" transform="scale(3 1)"/>')
    assert signed_area(curve.vertices) == pytest.approx(300 * math.pi, abs=0.15)
    assert extent(curve.vertices) == pytest.approx((-30, -10, 30, 10), abs=0.001)


def test_a_shape_is_picked_by_its_id(tmp_path: Path) -> None:
    inner = '<circle r="3"/><rect id="body" width="30" height="20"/>'
    assert signed_area(from_svg(tmp_path, inner, pick="body").vertices) == pytest.approx(600)
    assert 'with the id "leaf": mend pick' in refused(tmp_path, inner, pick="leaf")


def test_what_is_only_defined_is_not_drawn(tmp_path: Path) -> None:
    inner = '<defs><circle r="3"/></defs><clipPath><circle r="4"/></clipPath><rect width="30" height="20"/>'
    assert signed_area(from_svg(tmp_path, inner).vertices) == pytest.approx(600)


@pytest.mark.parametrize(
    ("inner", "says"),
    [
        ("", "holds no closed curve"),
        ("<text>leaf</text>", "holds no closed curve"),
        ('<path d="M0 0L30 0L30 20"/>', "is not closed: its ends are 36.056 mm apart; join them"),
        (
            '<path d="M0 0L40 40L40 0L0 40Z"/>',
            "crosses or touches itself near x 20.00, y 20.00 of the drawing (mm)",
        ),
        ('<path d="M0 0L10 0Z"/>', "encloses nothing"),
        ('<path d="M0 0L1e9 0L0 1e9Z"/>', "outside 0.01 mm to 5000 mm: check its unit"),
        ('<circle r="1e-5"/>', "outside 0.01 mm to 5000 mm"),
        ('<path d="M0 0 nan nan Z"/>', 'holds a path that cannot be read, "M0 0 nan nan Z"'),
        ('<path d="bogus"/>', "holds a path that cannot be read"),
        ('<path d="M0 0 L"/>', ""),
        ('<polygon points="0,0 1"/>', ""),
        ('<rect width="30mm" height="3"/>', 'rect with width = "30mm": draw it in the drawing\'s own units'),
        ('<circle r="3" transform="spin(3)"/>', 'holds a transform that cannot be read, "spin(3)"'),
        ('<circle r="3" transform="scale(0)"/>', ""),
    ],
)
def test_drawings_that_cannot_be_used(tmp_path: Path, inner: str, says: str) -> None:
    assert says in refused(tmp_path, inner)


def test_self_crossing_of_curved_pieces(tmp_path: Path) -> None:
    loop = "M0 0 C 100 0 -60 60 40 60 L 40 80 L 0 80 C 60 40 20 20 0 0 Z"
    assert "crosses or touches itself near x" in refused(tmp_path, f'<path d="{loop}"/>')


def test_entities_are_refused_before_they_grow(tmp_path: Path) -> None:
    bomb = '<!DOCTYPE svg [<!ENTITY a "xxxxxxxxxx"><!ENTITY b "&a;&a;&a;&a;">]><svg>&b;</svg>'
    (tmp_path / "bomb.svg").write_text(bomb)
    with pytest.raises(CurveError, match="defines XML entities, which are not read"):
        read_curve(tmp_path / "bomb.svg", "mm")


def test_broken_binary_large_and_missing_files(tmp_path: Path) -> None:
    for name, data, says in [
        ("a.svg", b"<svg><path", "is not sound SVG"),
        ("b.svg", b"\0\1\2", "is binary, not text"),
        ("c.svg", b" " * (MOST_CURVE_BYTES + 1), "larger than 5 MB"),
        ("d.dxf", b"hello", "is not sound DXF|holds no closed curve"),
        ("e.png", b"hello", 'neither SVG nor DXF by its ending, ".png"'),
    ]:
        (tmp_path / name).write_bytes(data)
        with pytest.raises(CurveError, match=says):
            read_curve(tmp_path / name, "mm")
    with pytest.raises(CurveError, match="there is no such file"):
        read_curve(tmp_path / "none.svg", "mm")
    (tmp_path / "folder.svg").mkdir()
    with pytest.raises(CurveError, match="is not an ordinary file: name an SVG or a DXF"):
        read_curve(tmp_path / "folder.svg", "mm")


def test_vertices_are_bounded(tmp_path: Path) -> None:
    points = " ".join(f"{1000 * math.cos(i / 4000)},{1000 * math.sin(i / 4000)}" for i in range(25132))
    assert "has more than 20000 vertices" in refused(tmp_path, f'<polygon points="{points}"/>')


# --- DXF -------------------------------------------------------------------------------------------


def drawing(folder: Path, draw: object) -> Path:
    made = ezdxf.new()  # type: ignore[attr-defined]
    draw(made.modelspace())  # type: ignore[operator]
    made.saveas(folder / "leaf.dxf")
    return folder / "leaf.dxf"


def test_dxf_bulges_are_exact(tmp_path: Path) -> None:
    slot = [(-10, -5, 0), (10, -5, 1), (10, 5, 0), (-10, 5, 1)]
    file = drawing(tmp_path, lambda space: space.add_lwpolyline(slot, format="xyb", close=True))
    curve = read_curve(file, "mm")
    assert curve.vertices == tuple(map(tuple, slot))
    assert signed_area(curve.vertices) == pytest.approx(200 + 25 * math.pi, rel=1e-14)


def test_dxf_clockwise_is_turned_round(tmp_path: Path) -> None:
    slot = [(-10, 5, -0.5), (10, 5, 0), (10, -5, 0), (-10, -5, 0)]
    file = drawing(tmp_path, lambda space: space.add_lwpolyline(slot, format="xyb", close=True))
    curve = read_curve(file, "mm")
    bulged = [vertex for vertex in curve.vertices if vertex[2]]
    # the arc now runs from the right end to the left, bulging upwards as before
    assert bulged[0][0] == pytest.approx(10)
    assert bulged[0][2] == 0.5
    assert signed_area(curve.vertices) > 200


def test_dxf_circle_polyline_layers_and_inches(tmp_path: Path) -> None:
    def draw(space: object) -> None:
        space.add_line((0, 0), (5, 5))  # type: ignore[attr-defined]
        space.add_circle((3, 4), 2, dxfattribs={"layer": "hole"})  # type: ignore[attr-defined]
        space.add_polyline2d(  # type: ignore[attr-defined]
            [(0, 0), (30, 0), (30, 20), (0, 20)], close=True, dxfattribs={"layer": "Body"}
        )

    file = drawing(tmp_path, draw)
    assert signed_area(read_curve(file, "in").vertices) == pytest.approx(math.pi * (2 * 25.4) ** 2)
    assert signed_area(read_curve(file, "mm", pick="body").vertices) == pytest.approx(600)
    with pytest.raises(CurveError, match='no polyline or circle with the layer "lid": mend pick'):
        read_curve(file, "mm", pick="lid")


def test_dxf_open_polyline(tmp_path: Path) -> None:
    file = drawing(tmp_path, lambda space: space.add_lwpolyline([(0, 0), (30, 0), (30, 40)]))
    with pytest.raises(CurveError, match=r"is not closed: its ends are 50 mm apart; join them"):
        read_curve(file, "mm")


def test_dxf_ends_that_meet_are_closed(tmp_path: Path) -> None:
    file = drawing(tmp_path, lambda space: space.add_lwpolyline([(0, 0), (30, 0), (30, 40), (0, 0)]))
    assert signed_area(read_curve(file, "mm").vertices) == pytest.approx(600)


def test_dxf_drawn_from_below_is_mirrored(tmp_path: Path) -> None:
    slot = [(0, 0, 0.3), (30, 0, 0), (30, 20, 0)]
    below = {"extrusion": (0, 0, -1)}
    file = drawing(
        tmp_path, lambda space: space.add_lwpolyline(slot, format="xyb", close=True, dxfattribs=below)
    )
    curve = read_curve(file, "mm", origin="file")
    assert extent(curve.vertices)[0] == pytest.approx(-30)
    assert signed_area(curve.vertices) == pytest.approx(signed_area(slot))


def widest(curve: Curve) -> float:
    return max(x for x, _, _ in curve.vertices)


def test_a_drawing_is_read_once_for_all_its_curves(tmp_path: Path) -> None:
    file = tmp_path / "curve.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg"><circle id="a" r="5"/><circle id="b" r="7"/></svg>'
    )
    drawings = Drawings()
    small = read_curve(file, "mm", pick="a", drawings=drawings)
    file.unlink()
    large = read_curve(file, "mm", pick="b", drawings=drawings)
    assert (widest(small), widest(large)) == pytest.approx((5, 7), abs=1e-9)
    with pytest.raises(CurveError, match="there is no such file"):
        read_curve(file, "mm", pick="a")


def test_a_curve_is_kept_by_the_text_of_its_drawing(tmp_path: Path) -> None:
    file = tmp_path / "curve.svg"
    file.write_text('<svg xmlns="http://www.w3.org/2000/svg"><circle r="5"/></svg>')
    first = read_curve(file, "mm")
    assert read_curve(file, "mm") is first
    file.write_text('<svg xmlns="http://www.w3.org/2000/svg"><circle r="6"/></svg>')
    assert widest(read_curve(file, "mm")) == pytest.approx(6, abs=1e-9)
    assert widest(read_curve(file, "cm")) == pytest.approx(60, abs=1e-9)


def test_drawings_are_bounded_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stackview.description.curve_file.MOST_TOGETHER", 1_000_000)
    drawings = Drawings()
    for number in (1, 2):
        file = tmp_path / f"{number}.svg"
        file.write_text('<svg xmlns="http://www.w3.org/2000/svg"><circle r="5"/></svg>' + " " * 600_000)
        if number == 1:
            read_curve(file, "mm", drawings=drawings)
    with pytest.raises(CurveError, match="more than 1 MB together: draw them simpler, or fewer"):
        read_curve(file, "mm", drawings=drawings)


@pytest.mark.parametrize(
    ("inner", "says"),
    [
        ('<circle r="5" style="transform:scale(2)"/>', "sets transform in a style"),
        ('<circle style="r:5mm" r="3"/>', "sets r in a style"),
        ('<style>circle{r:9px}</style><circle r="5"/>', "sets r in a style sheet"),
        ('<svg viewBox="0 0 1 1" width="9" height="9"><circle r="5"/></svg>', "its own viewBox and width"),
        ('<g transform-origin="5 5" transform="rotate(9)"><circle r="5"/></g>', "transform-origin"),
        ('<rect width="-5" height="5"/>', "a size is not negative"),
        ('<rect width="5" height="5" rx="-1"/>', "a size is not negative"),
        ('<ellipse rx="-5" ry="5"/>', "a size is not negative"),
        ('<circle r="-5"/>', "a size is not negative"),
        ('<defs><path id="a" d="M0 0h9v9Z"/></defs><use href="#a"/><circle r="5"/>', "unlink the copy"),
        ('<path d="M0 0L10 0L10 10L0"/>', "holds a path that cannot be read"),
        ('<polygon points="0,0 10,0 10,10 0"/>', "holds a polygon that cannot be read"),
    ],
)
def test_what_would_be_read_wrongly_is_refused(tmp_path: Path, inner: str, says: str) -> None:
    assert says in refused(tmp_path, inner)


def test_what_is_not_displayed_is_passed_over(tmp_path: Path) -> None:
    inner = '<g display="none"><circle r="9"/></g><circle r="7" style="display:none"/><circle r="5"/>'
    assert across_of(from_svg(tmp_path, inner)) == pytest.approx((10.0, 10.0))


def test_a_copy_does_not_matter_where_the_curve_is_named(tmp_path: Path) -> None:
    inner = '<use href="#a"/><circle id="a" r="5"/>'
    assert across_of(from_svg(tmp_path, inner, pick="a")) == pytest.approx((10.0, 10.0))


@pytest.mark.parametrize(
    ("arc", "across"),
    [
        # SVG 1.1, F.6.6: signs of radii are dropped; radii too small are scaled up; a radius of nought is a line
        ("M-5 0A-5 -5 0 0 1 5 0A5 -5 0 0 1 -5 0Z", (10.0, 10.0)),
        ("M-5 0A1 1 0 0 1 5 0A1 1 0 0 1 -5 0Z", (10.0, 10.0)),
        ("M0 0A0 5 0 0 1 10 0L10 10A5 0 0 0 1 0 10Z", (10.0, 10.0)),
        ("M-5 0a5 5 0 0110 0a5 5 0 01-10 0z", (10.0, 10.0)),
    ],
)
def test_arcs_by_the_rules_for_odd_radii(tmp_path: Path, arc: str, across: tuple[float, float]) -> None:
    assert across_of(from_svg(tmp_path, f'<path d="{arc}"/>')) == pytest.approx(across, abs=2e-3)


@pytest.mark.parametrize(
    ("rounded", "area"),
    [
        # SVG 1.1, 9.2: a radius that is missing is as the other; more than half a side is half a side
        ('rx="3"', 20 * 10 - (4 - math.pi) * 9),
        ('ry="3"', 20 * 10 - (4 - math.pi) * 9),
        ('rx="30" ry="2"', 20 * 10 - (4 - math.pi) * 10 * 2),
        ('rx="4" ry="0"', 20 * 10),
    ],
)
def test_rounded_rectangles(tmp_path: Path, rounded: str, area: float) -> None:
    curve = from_svg(tmp_path, f'<rect width="20" height="10" {rounded}/>')
    assert area_of(Closed(np.array(curve.vertices))) == pytest.approx(area, abs=0.05)


def test_a_dxf_outline_of_single_lines_is_not_passed_over_for_a_hole(tmp_path: Path) -> None:
    drawing = ezdxf.new()
    space = drawing.modelspace()
    corners = [(0, 0), (50, 0), (50, 50), (0, 50), (0, 0)]
    for start, end in itertools.pairwise(corners):
        space.add_line(start, end)
    space.add_circle((25, 25), 5, dxfattribs={"layer": "hole"})
    drawing.saveas(tmp_path / "plate.dxf")
    with pytest.raises(
        CurveError, match="draws lines and arcs that close before its first closed polyline or circle"
    ):
        read_curve(tmp_path / "plate.dxf", "mm")
    assert across_of(read_curve(tmp_path / "plate.dxf", "mm", pick="hole")) == pytest.approx((10.0, 10.0))


def test_a_dxf_with_construction_lines_is_read(tmp_path: Path) -> None:
    drawing = ezdxf.new()
    space = drawing.modelspace()
    space.add_line((0, 0), (50, 0))
    space.add_line((50, 0), (50, 50))
    space.add_arc((0, 0), 5, 0, 90)
    space.add_circle((25, 25), 5)
    drawing.saveas(tmp_path / "plate.dxf")
    assert across_of(read_curve(tmp_path / "plate.dxf", "mm")) == pytest.approx((10.0, 10.0))


@pytest.mark.parametrize("kind", ["ellipse", "spline", "insert", "line and arc"])
def test_a_dxf_outline_of_a_kind_that_is_not_read(kind: str, tmp_path: Path) -> None:
    drawing = ezdxf.new()
    space = drawing.modelspace()
    if kind == "ellipse":
        space.add_ellipse((0, 0), (20, 0), 0.5)
    elif kind == "spline":
        space.add_spline([(0, 0), (9, 0), (9, 9), (0, 0)])
    elif kind == "insert":
        drawing.blocks.new("outline").add_circle((0, 0), 20)
        space.add_blockref("outline", (0, 0))
    else:
        space.add_line((-20, 0), (20, 0))
        space.add_arc((0, 0), 20, 0, 180)
    space.add_circle((0, 0), 2)
    drawing.saveas(tmp_path / "plate.dxf")
    with pytest.raises(CurveError, match="before its first closed polyline or circle"):
        read_curve(tmp_path / "plate.dxf", "mm")


def test_deep_groups_are_read_at_once(tmp_path: Path) -> None:
    inner = "<g>" * 30_000 + '<circle r="5"/>' + "</g>" * 30_000
    assert across_of(from_svg(tmp_path, inner)) == pytest.approx((10.0, 10.0))


def across_of(curve: Curve) -> tuple[float, float]:
    left, low, right, high = extent(curve.vertices)
    return right - left, high - low


@pytest.mark.parametrize(
    ("path", "says"),
    [
        ("M0 0C5e124 9 30-20 40 0Z", "lies more than 10000000000 mm"),
        ("M0 1e400a30 15 30 0 0 60 10V60z", "lies more than 10000000000 mm"),
        ("m1e15,5 l40-3 -7 30z", "lies more than 10000000000 mm"),
        ("M0 0C9e6 9 30-20 40 0Z", "reaches more than 50000 mm from its start"),
    ],
)
def test_what_is_far_too_large_is_refused_before_it_is_followed(tmp_path: Path, path: str, says: str) -> None:
    """Found by fuzzing: curves of more than 20 000 arcs took seconds, and places lost their figures."""
    assert says in refused(tmp_path, f'<path d="{path}"/>')


def test_a_broken_dxf_is_refused_in_one_printable_line(tmp_path: Path) -> None:
    """Found by fuzzing: the library's own words hold line ends, and infinite sizes could not be said."""
    circle = "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\n0\n10\n{}\n20\n2\n40\n5\n0\nENDSEC\n0\nEOF\n"
    for text in (circle.replace("8\n0", " \x1aA\nx"), circle.format("1.7e308"), circle.format("-inf")):
        (tmp_path / "a.dxf").write_text(text)
        with pytest.raises(CurveError) as wrong:
            read_curve(tmp_path / "a.dxf", "cm")
        assert str(wrong.value).isprintable()
