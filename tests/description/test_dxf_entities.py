from types import SimpleNamespace
from typing import Any

import ezdxf
import pytest

from stackview.description.dxf_entities import EntityError, points_of


def space() -> Any:
    return ezdxf.new("R2000").modelspace()


def test_points_are_seen_from_above() -> None:
    assert points_of(space().add_circle((1, 2), 5)) == ([(-4, 2, 1), (6, 2, 1)], True)
    line = [(0, 0, 0.5), (9, 0, 0), (5, 7, 0)]
    drawn = space().add_lwpolyline(line, format="xyb", close=True)
    assert points_of(drawn) == (line, True)
    drawn.dxf.extrusion = (0, 0, -1)
    assert points_of(drawn) == ([(-x, y, -bulge) for x, y, bulge in line], True)
    assert points_of(space().add_point((0, 0))) is None


def test_a_vertex_without_a_place_is_refused_in_printable_words() -> None:
    """Found by fuzzing: the library gives such a vertex None for its place."""
    drawn = space().add_polyline2d([(0, 0), (9, 0), (5, 7)], close=True)
    drawn.vertices[1].dxf.discard("location")
    with pytest.raises(EntityError, match='holds a "polyline" without all of its numbers'):
        points_of(drawn)
    odd = SimpleNamespace(dxftype=lambda: "POLY\x1aLINE", dxf=SimpleNamespace())
    with pytest.raises(EntityError) as refused:
        points_of(odd)
    assert str(refused.value).isprintable()
