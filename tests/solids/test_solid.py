"""Which finish a triangle of a sheet takes."""

import numpy as np
import pytest

from stackview.solids.solid import Face, SheetFace, Solid, sheet_faces


def test_level_faces_take_their_own_finish_and_cut_ones_that_of_the_edge() -> None:
    every = np.array(list(Face), np.int8)
    sides = dict(zip(Face, sheet_faces(every, np.zeros(len(every))), strict=True))
    assert sides.pop(Face.TOP) == SheetFace.TOP
    assert sides.pop(Face.UNDERSIDE) == SheetFace.UNDERSIDE
    assert set(sides.values()) == {SheetFace.EDGE}


def test_floors_of_recesses_and_grooves_go_with_the_face_they_are_cut_from() -> None:
    floors = np.array([Face.RECESS_FLOOR, Face.GROOVE] * 3, np.int8)
    up = np.array([1.0, 0.2, -1.0, -0.2, 0.0, 0.0])
    assert (
        sheet_faces(floors, up).tolist()
        == [SheetFace.TOP] * 2 + [SheetFace.UNDERSIDE] * 2 + [SheetFace.EDGE] * 2
    )


def tetrahedron() -> Solid:
    vertices = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], float)
    triangles = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]])
    return Solid(vertices, triangles, np.zeros(4, np.int8))


def test_faces_are_said_in_words() -> None:
    assert Face.RECESS_FLOOR.word == "recess floor"
    assert len({face.word for face in Face}) == len(Face)
    assert all(face.word == face.word.lower() and "_" not in face.word for face in Face)


def test_faces_fit_the_byte_they_are_kept_in() -> None:
    # They index tables by face, so they count on from 0.
    assert [int(face) for face in Face] == list(range(len(Face)))
    assert max(Face) <= np.iinfo(np.int8).max


def test_arrays_are_read_only() -> None:
    solid = tetrahedron()
    for array in (solid.vertices, solid.triangles, solid.faces):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0


def test_two_solids_are_never_taken_for_one() -> None:
    # Equality of arrays is no yes or no; a solid is itself alone, and can be a key.
    one, other = tetrahedron(), tetrahedron()
    assert one == one
    assert one != other
    assert len({one, other}) == 2


def test_a_solid_is_alike_to_one_made_anew_and_to_none_that_stands_elsewhere() -> None:
    assert tetrahedron().is_alike(tetrahedron())
    assert tetrahedron().lifted(2).lifted(-2).is_alike(tetrahedron())
    assert not tetrahedron().is_alike(tetrahedron().lifted(2))
    other = tetrahedron()
    assert not other.is_alike(Solid(other.vertices, other.triangles[::-1], other.faces))
