from stackview.description.service_tables import carries, climates, copper, glues, usual_gluing, usual_rooms
from stackview.sight.refraction import INDEX


def test_every_row_has_a_source() -> None:
    assert all(glue.source and glue.grips and glue.film > 0.0 for glue in glues().values())
    assert all(climate.source for climate in climates().values())
    assert copper()[1]


def test_glues_bend_light_as_plastics_do() -> None:
    # From memory: clear plastics and glues lie between silicone's 1.40 and epoxy's 1.57.
    assert all(1.40 <= glue.set_film.index <= 1.57 for glue in glues().values())
    assert glues()["acrylic cement"].set_film.index == INDEX
    assert not glues()["mounting tape"].set_film.clear


def test_copper_as_the_standard_has_it() -> None:
    # International Annealed Copper Standard, used by ASTM B258
    assert copper()[0] == 0.017241


def test_climates_are_rooms_that_one_can_live_in() -> None:
    for climate in climates().values():
        assert 5.0 < climate.celsius < 40.0
        assert 0.1 < climate.humidity < 0.9


def test_flexible_cords_carry_more_the_thicker_they_are() -> None:
    assert [carries(area)[0] for area in (0.5, 0.75, 1.0, 1.5, 2.5, 4.0)] == [
        3.0,
        6.0,
        10.0,
        16.0,
        25.0,
        32.0,
    ]
    amps = [carries(area)[0] for area in (0.01, 0.05, 0.2, 0.34, 0.4, 0.5, 0.6, 0.75, 1.0, 1.5, 4.0)]
    assert amps == sorted(amps)
    assert 3.0 < carries(0.6)[0] < 6.0


def test_the_usual_glues_grip_what_they_are_taken_for() -> None:
    usual = usual_gluing()
    assert {"wood", "plywood", "board"} <= set(usual.wood.grips)
    assert {"acrylic", "wood", "metal"} <= set(usual.acrylic.grips)
    assert usual.acrylic.on_acrylic == "clean"
    assert {"metal", "wood", "plastic"} <= set(usual.other.grips)
    assert not usual.written


def test_the_usual_rooms() -> None:
    rooms = usual_rooms()
    assert rooms.workshop.name == "workshop"
    assert [room.name for room in rooms.lives_in] == ["dry winter room", "humid summer room"]
