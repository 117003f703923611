"""Which finish a triangle of a sheet takes."""

import numpy as np

from stackview.solids.solid import Face, SheetFace, sheet_faces


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
