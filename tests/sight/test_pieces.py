"""Pieces: what a scene knows of one solid, kept for the solid whatever its height."""

import numpy as np
import pytest
import trimesh

from stackview.sight.pieces import piece_of
from tests.lamps import box, part, ring


def test_every_edge_stands_between_two_triangles_that_run_along_it_opposite_ways() -> None:
    solid = ring("ring", 20, 50, 0, 5, 24).solid
    piece = piece_of(solid)
    # Euler: a closed mesh has three edges for two triangles.
    assert 2 * len(piece.tail) == 3 * len(solid.triangles)
    for own, (start, end) in (
        (piece.left, (piece.tail, piece.head)),
        (piece.right, (piece.head, piece.tail)),
    ):
        corners = solid.triangles[own]
        runs = (corners == start[:, None]) & (np.roll(corners, -1, axis=1) == end[:, None])
        assert np.all(runs.sum(axis=1) == 1)


def test_a_lifted_solid_has_the_piece_of_the_one_it_was_lifted_from() -> None:
    solid = box("box", [10, 0, 3], [40, 30, 8]).solid
    piece = piece_of(solid)
    assert piece_of(solid.lifted(12.5)) is piece
    assert piece.radius == pytest.approx(50.0)  # the corner at (40, 30): 3-4-5
    assert (piece.bottom, piece.top) == (3.0, 8.0)


def test_only_joints_within_a_level_face_are_flat() -> None:
    piece = piece_of(box("box", [0, 0, 0], [1, 2, 3]).solid)
    assert piece.flat.sum() == 2  # the diagonals of top and underside


def test_arrays_are_read_only() -> None:
    piece = piece_of(box("box", [0, 0, 0], [1, 1, 1]).solid)
    with pytest.raises(ValueError, match="read-only"):
        piece.normals[0] = 0.0


def test_open_mesh_is_refused() -> None:
    mesh = trimesh.creation.box()
    mesh.update_faces(np.arange(11))
    with pytest.raises(ValueError, match="not watertight"):
        piece_of(part("open", mesh).solid)
