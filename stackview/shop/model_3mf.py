"""A 3MF file: bodies with names and colours, by the 3MF Core Specification 1.3 of the 3MF Consortium.

trimesh writes 3MF only with lxml, which we do without, and leaves the colours out.
"""

import zipfile
from io import BytesIO
from xml.sax.saxutils import escape, quoteattr

from stackview.stack.placed import Placed
from stackview.stack.trimesh_scene import covers_behind

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>'
    "</Relationships>\n"
)
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a ZIP archive can hold: the same lamp gives the same bytes."""


def threemf_bytes(bodies: tuple[Placed, ...], title: str, maker: str) -> bytes:
    """The bodies in millimetres, z up, each an object with its name and its material's colour."""
    colours = list(dict.fromkeys((body.material.name, _hex(body)) for body in bodies))
    base = "".join(
        f"<base name={quoteattr(name)} displaycolor={quoteattr(shown)}/>" for name, shown in colours
    )
    objects = "".join(
        _object(body, number, colours.index((body.material.name, _hex(body))))
        for number, body in enumerate(bodies, start=2)
    )
    items = "".join(f'<item objectid="{number}"/>' for number in range(2, len(bodies) + 2))
    model = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<model unit="millimeter" xml:lang="en-US" xmlns="{_CORE}">\n'
        f'<metadata name="Title">{escape(title)}</metadata>\n'
        f'<metadata name="Application">{escape(maker)}</metadata>\n'
        f'<resources>\n<basematerials id="1">{base}</basematerials>\n{objects}</resources>\n'
        f"<build>{items}</build>\n</model>\n"
    )
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.comment = f"made by {maker}".encode()
        for name, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELS),
            ("3D/3dmodel.model", model),
        ):
            entry = zipfile.ZipInfo(name, _FIRST_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, text)
    return packed.getvalue()


def body_colour(body: Placed) -> tuple[float, float, float, float]:
    """How a body is shown: red, green and blue in sRGB (IEC 61966-2-1), and what it covers of what is behind, 0 to 1."""
    red, green, blue = (_srgb(part) for part in body.material.colour)
    return red, green, blue, covers_behind(body)


def _srgb(linear: float) -> float:
    return 12.92 * linear if linear <= 0.0031308 else float(1.055 * linear ** (1.0 / 2.4) - 0.055)


def _hex(body: Placed) -> str:
    return "#" + "".join(f"{round(255.0 * min(max(part, 0.0), 1.0)):02X}" for part in body_colour(body))


def _object(body: Placed, number: int, colour: int) -> str:
    points = "".join(
        f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>' for x, y, z in body.solid.vertices.tolist()
    )
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in body.solid.triangles.tolist())
    return (
        f'<object id="{number}" name={quoteattr(body.name)} type="model" pid="1" pindex="{colour}"><mesh>'
        f"<vertices>{points}</vertices><triangles>{faces}</triangles></mesh></object>\n"
    )
