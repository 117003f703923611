"""SVG drawings for the fuzzer; what is read must be the same curve however the drawing is turned."""

import math
import re
from pathlib import Path
from random import Random
from tempfile import gettempdir
from xml.etree import ElementTree

import atheris

from stackview.curves.arcs import Path as CutPath
from stackview.curves.arcs import area
from stackview.description.curve_file import Drawings, read_curve
from stackview.description.curve_limits import CurveError
from stackview.description.shapes import Curve
from stackview.errors import SolidError
from tests.fuzz.finds import check_words

LONGEST = 4000
_FILE = Path(gettempdir()) / "stackview-fuzz.svg"
_SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90">{}</svg>'
_DRAWN = (
    '<path d="M0 0h40v30h-40z"/>',
    '<path d="m5,5 l40-3 -7 30z M10 10 l5 0 0 5z"/>',
    '<path d="M0 0C10-20 30-20 40 0S30 40 20 40 0 20 0 0"/>',
    '<path d="M0 0Q20 30 40 0T80 0L80-50 0-50Z"/>',
    '<path d="M0 20A20 20 0 1 1 40 20 20 20 0 010 20"/>',
    '<path id="a" d="M0 20a30 15 30 0 0 60 10H80V60z"/>',
    '<rect x="1" y="2" width="30" height="20" rx="5"/>',
    '<rect width="30" height="20" rx="5" ry="3" transform="rotate(30 2 3) skewX(10)"/>',
    '<circle cx="4" cy="5" r="10"/>',
    '<ellipse rx="20" ry="9" transform="matrix(1 .2 .3 1 4 5)"/>',
    '<polygon points="0,0 30,0 30,20 12,35"/>',
    '<polyline points="0 0 30 0 30 20 0 0"/>',
    '<g transform="translate(5,6) scale(2 -1)"><g id="b" style="fill:none"><path d="M0 0h9v9z"/></g></g>',
    '<defs><circle r="5"/></defs><g display="none"><circle r="6"/></g><circle r="7"/>',
    '<style>path{fill:red}</style><path d="M0 0h9v9z" style="stroke:#000"/>',
    '<svg x="0" y="0"><circle r="5"/></svg>',
    '<use href="#a"/><path d="M0 0h9v9z"/>',
)
_PIECES = (
    "z", "M0 0", "m1 1", "l3 4", "L-5 9", "h7", "V-3", "c1 2 3 4 5 0", "s5 5 9 0", "q4 4 8 0", "t5 0", "Z m2 2",
    "a5 9 30 1 0 4 4", "A5 5 0 01 9 9", "0", "-1", "1e9", "1e-9", "1e308", ".5.5", "+3", "1e400", "NaN", ",", " ",
    'transform="scale(0)"', 'transform="skewX(90)"', 'transform="rotate(45,9,9)translate(1)"', 'rx="99"', 'r="-1"',
    'style="transform:scale(2)"', 'style="display:none"', 'width="50%"', 'viewBox="0 0 5 5"', "<g>", "</g>", "&#49;",
    "<!-- -->", "<![CDATA[ ]]>", '<circle r="3"/>', "<title>x</title>",
)  # fmt: skip
_A_NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+")
_A_STEP = re.compile(r"[MLHVCSQTAZmlhvcsqtaz](?=[-0-9 ]|$)")
_A_NAME = re.compile(r' [a-zA-Z]+="[^"]*"')
_A_SHAPE = re.compile(r"<[a-z]|</")


def seeds() -> list[bytes]:
    """One drawing of every kind of shape."""
    return [_SVG.format(inner).encode() for inner in _DRAWN]


def ask(data: bytes) -> bool:
    """Read the first curve, and read it again from the drawing turned by 30°."""
    try:
        curve = _read(data)
    except CurveError as refused:
        check_words(refused)
        return False
    try:
        size = area(_path(curve))
    except SolidError as refused:
        # A curve that runs back along itself within a millionth of a millimetre is told once it is laid about its middle.
        check_words(refused)
        return False
    assert size > 0.0
    root = ElementTree.fromstring(Drawings().text(_FILE))
    turned = ElementTree.Element(root.tag, root.attrib)
    group = ElementTree.SubElement(turned, root.tag.replace("svg", "g"), {"transform": "rotate(30)"})
    group.extend(list(root))
    try:
        again = _read(ElementTree.tostring(turned))
    except CurveError:
        return True  # turned it may be too wide, or touch itself by a hair
    width = _path(curve).vertices[:, :2]
    around = math.dist(width.min(axis=0), width.max(axis=0))
    assert abs(area(_path(again)) - size) < 0.02 * around + 1e-6 * size, (size, area(_path(again)))
    return True


def changed(data: bytes, most: int, seed: int) -> bytes:
    """Numbers exchanged, pieces of the grammar set into attributes, shapes added; or bytes changed."""
    by = Random(seed)
    if by.random() < 0.15 or not data:
        return bytes(atheris.Mutate(data, most))
    text = data.decode("utf-8", "replace")
    for _ in range(by.choice((1, 1, 2, 3))):
        places = [
            found.span() for found in by.choice((_A_NUMBER, _A_NUMBER, _A_STEP, _A_NAME)).finditer(text)
        ]
        way = by.randrange(6)
        if way == 0:
            at = by.choice([found.start() for found in _A_SHAPE.finditer(text)] or [len(text)])
            text = text[:at] + by.choice(_DRAWN) + text[at:]
        elif places:
            start, end = by.choice(places)
            new = by.choice(_PIECES) if way < 3 else f"{by.uniform(-30, 60):.{by.randrange(9)}g}"
            text = text[: start if way % 2 else end] + new + text[end:]
    return text.encode("utf-8", "replace")[:most]


def _path(curve: Curve) -> CutPath:
    return curve.path(0.0, 0.0, "outline")


def _read(data: bytes) -> Curve:
    _FILE.write_bytes(data)
    return read_curve(_FILE, "mm")
