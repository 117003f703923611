"""What a named eye sees, as rooms tell it."""

from stackview.drawings.eye_seen import EyeSeen, counted, noun_of, one_eye
from stackview.sight.room import Zone
from stackview.study import Study


def test_an_eye_says_what_is_most_exposed_first() -> None:
    study = Study.read("demos/moor-drum.toml")
    reader, standing = (one_eye(seen, None) for seen in study.eyes)
    assert reader.zone == (Zone.BARE, 1)
    assert reader.words("LED")[0] == "1 LED bare"
    assert standing.words("LED") == ["no LED"]


def test_each_kind_has_a_line_and_an_edge_counts_only_where_no_face_is_bare() -> None:
    own = EyeSeen("eye", 1000.0, 1200.0, 0, 2, 1, True, 30.0)
    assert own.zone == (Zone.PART_BARE, 0)
    assert own.words("LED") == [
        "edge of an LED, bare",
        "2 LEDs through clear acrylic",
        "1 LED through sanded or opal",
    ]
    assert counted(1, "light point") == "1 light point"


def test_from_one_bearing_it_is_what_shows_there() -> None:
    study = Study.read("demos/moor-drum.toml")
    seen = study.eyes[0]
    hidden = int((seen.kind[0] == 0).argmin())
    assert one_eye(seen, float(seen.bearings[hidden])).bare == 0
    assert noun_of(study) == "LED"
