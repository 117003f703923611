"""DXF drawings for the fuzzer; a curve in centimetres must be ten times as wide as in millimetres."""

import io
from pathlib import Path
from random import Random
from tempfile import gettempdir

import atheris
import ezdxf

from stackview.curves.arcs import area
from stackview.description.curve_file import read_curve
from stackview.description.curve_limits import CurveError
from tests.fuzz.finds import check_words

LONGEST = 20_000
_FILE = Path(gettempdir()) / "stackview-fuzz.dxf"
_VALUES = (
    "0", "1", "-1", "70", "1e9", "1e-9", "1e308", "nan", "inf", "99999999999", "", "LINE", "ARC", "CIRCLE", "LWPOLYLINE",
    "POLYLINE", "VERTEX", "SEQEND", "SPLINE", "ELLIPSE", "INSERT", "ENDSEC", "EOF", "SECTION", "ENTITIES", "é",
)  # fmt: skip
_CODES = (
    "0",
    "2",
    "5",
    "8",
    "10",
    "20",
    "30",
    "40",
    "41",
    "42",
    "50",
    "51",
    "62",
    "67",
    "70",
    "90",
    "210",
    "230",
    "-5",
)


def seeds() -> list[bytes]:
    """Drawings of every kind of entity, as R12 without tables and as R2000."""
    return [_drawing(kind, version) for kind in range(8) for version in ("R12", "R2000")] + [
        b"0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\n0\n10\n1.0\n20\n2.0\n40\n5.0\n0\nENDSEC\n0\nEOF\n",
        b"0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n8\na\n66\n1\n70\n1\n0\nVERTEX\n8\na\n10\n0\n20\n0\n42\n1\n"
        b"0\nVERTEX\n8\na\n10\n9\n20\n0\n42\n1\n0\nSEQEND\n0\nENDSEC\n0\nEOF\n",
    ]


def _drawing(kind: int, version: str) -> bytes:
    drawing = ezdxf.new(version)
    space = drawing.modelspace()
    square = [(0, 0), (30, 0), (30, 20), (0, 20)]
    if kind == 0:
        space.add_circle((1, 2), 5)
    elif kind == 1:
        space.add_polyline2d(square, format="xy", close=True)
    elif kind == 2 and version != "R12":
        space.add_lwpolyline([(0, 0, 0.5), (9, 0, 0), (5, 7, -0.2)], format="xyb", close=True)
    elif kind == 3 and version != "R12":
        space.add_spline([(0, 0), (5, 9), (9, 0), (0, 0)])
    elif kind == 4 and version != "R12":
        space.add_ellipse((0, 0), (9, 0), 0.5)
    elif kind == 5:
        for start, end in zip(square, [*square[1:], square[0]], strict=True):
            space.add_line(start, end)
        space.add_circle((9, 9), 3)
    elif kind == 6:
        block = drawing.blocks.new("b")
        block.add_circle((0, 0), 4)
        space.add_blockref("b", (1, 1))
    else:
        space.add_arc((0, 0), 5, 0, 180)
        space.add_line((-5, 0), (5, 0))
    text = io.StringIO()
    drawing.write(text)
    lines = text.getvalue().splitlines(keepends=True)
    return _entities_alone(lines) if version == "R12" or len(lines) > 2000 else "".join(lines).encode()


def _entities_alone(lines: list[str]) -> bytes:
    """The section of entities without the tables about it, which a reader must not need."""
    for at in range(0, len(lines) - 3, 2):
        if lines[at + 1].strip() == "SECTION" and lines[at + 3].strip() == "ENTITIES":
            return "".join(lines[at:]).encode()
    return "".join(lines).encode()


def ask(data: bytes) -> bool:
    """Read the first curve in millimetres and in centimetres."""
    _FILE.write_bytes(data)
    try:
        curve = read_curve(_FILE, "mm")
    except CurveError as refused:
        check_words(refused)
        return False
    size = area(curve.path(0.0, 0.0, "outline"))
    assert size > 0.0
    try:
        again = read_curve(_FILE, "cm")
    except CurveError:
        return True  # too wide
    assert abs(area(again.path(0.0, 0.0, "outline")) / size / 100.0 - 1.0) < 1e-4, (
        size,
        area(again.path(0.0, 0.0, "outline")),
    )
    return True


def changed(data: bytes, most: int, seed: int) -> bytes:
    """A pair of lines changed, doubled, moved or left out; or bytes changed."""
    by = Random(seed)
    lines = data.split(b"\n")
    if by.random() < 0.25 or len(lines) < 4:
        return bytes(atheris.Mutate(data, most))
    for _ in range(by.choice((1, 1, 2, 5))):
        at = 2 * by.randrange(max(1, len(lines) // 2))
        pair = lines[at : at + 2]
        way = by.randrange(6)
        if way == 0:
            del lines[at : at + 2]
        elif way == 1:
            lines[at:at] = pair
        elif way == 2:
            lines[at : at + 1] = [by.choice(_CODES).encode()]
        elif way == 3:
            lines[at + 1 : at + 2] = [by.choice(_VALUES).encode()]
        elif way == 4:
            lines[at + 1 : at + 2] = [f"{by.uniform(-50, 50):.{by.randrange(9)}f}".encode()]
        else:
            to = 2 * by.randrange(max(1, len(lines) // 2))
            del lines[at : at + 2]
            lines[to:to] = pair
    made = b"\n".join(lines)
    return made if len(made) <= most else data[:most]
