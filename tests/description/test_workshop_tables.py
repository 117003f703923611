from stackview.description import defaults
from stackview.description.workshop_tables import usual_workshop, wood_finishes


def test_every_finish_has_a_source_and_dries() -> None:
    for finish in wood_finishes().values():
        assert finish.source, finish.name
        assert (finish.coats == 0) is (finish.hours == 0.0), finish.name


def test_rags_of_drying_oils_are_known_to_heat_themselves() -> None:
    # linseed and other drying oils oxidise; fire services warn of rags wet with them
    assert all(wood_finishes()[name].oily for name in ("linseed oil", "danish oil", "hard wax oil"))
    assert not any(wood_finishes()[name].oily for name in ("shellac", "water varnish", "none"))


def test_the_usual_finish_is_the_default() -> None:
    assert usual_workshop().finishing.wood.name == defaults.WOOD_FINISH.value
