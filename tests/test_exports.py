"""The public names: few, all there, and all documented."""

import stackview


def test_public_names() -> None:
    assert set(stackview.__all__) == {
        "Finding",
        "LampError",
        "Level",
        "StackviewError",
        "Study",
        "__version__",
        "assemble",
        "draw",
        "draw_eye",
        "draw_map",
        "draw_section",
        "draw_view",
        "light_up",
        "load",
        "save",
        "schema",
        "sightlines",
        "turntable",
    }


def test_every_public_name_loads_and_is_documented() -> None:
    for name in stackview.__all__:
        value = getattr(stackview, name)
        assert name == "__version__" or value.__doc__, name


def test_the_class_does_not_hide_its_module() -> None:
    from stackview import Study

    assert stackview.Study is Study
    assert stackview.study.Study is Study


def test_unknown_name() -> None:
    assert not hasattr(stackview, "nothing")
