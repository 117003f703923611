"""Layers to cut, and the same ones moved as if they had been drawn again elsewhere."""

from dataclasses import replace

from stackview.curves.arcs import Path, moved, turned
from stackview.curves.one_form import mirrored_path
from stackview.description.lamp import Layer, Opening, Recess
from stackview.description.material import Finish
from stackview.description.outline import Outline, around, path_of
from stackview.description.shapes import Curve


def drawn(path: Path) -> Outline:
    return Outline(Curve(tuple((float(x), float(y), float(b)) for x, y, b in path.vertices), "drawn.dxf"))


def drawn_again(
    layer: Layer, *, turn: float = 0.0, to: tuple[float, float] = (0.0, 0.0), over: bool = False
) -> Layer:
    """The layer's curves drawn out, turned over if asked, then turned [°] and shifted [mm]; bores are left out."""

    def put(path: Path) -> Outline:
        path = mirrored_path(path) if over else path
        return drawn(moved(turned(path, turn), *to))

    other = {"top": "underside", "underside": "top"}
    finish = Finish(layer.finish.underside, layer.finish.top, layer.finish.edge) if over else layer.finish
    openings = [
        Opening(put(path), main=one.main)
        for one in layer.openings
        for path in around(path_of(one.outline), one.around)
    ]
    recesses = [
        Recess(other[one.face] if over else one.face, one.depth, put(path_of(one.outline)), one.clearance)  # type: ignore[arg-type]
        for one in layer.recesses
    ]
    chamfers = [
        replace(
            one,
            edge=one.edge.replace("top", "?").replace("underside", "top").replace("?", "underside")
            if over
            else one.edge,
        )
        for one in layer.chamfers
    ]
    return replace(
        layer,
        name=f"{layer.name} again",
        outline=put(path_of(layer.outline)),
        openings=tuple(openings),
        recesses=tuple(recesses),
        chamfers=tuple(chamfers),
        grain=(-layer.grain if over else layer.grain) + turn,
        finish=finish,
    )
