from stackview.description import defaults


def test_every_default_says_why() -> None:
    every = [value for value in vars(defaults).values() if isinstance(value, defaults.Default)]
    assert len(every) > 25
    assert len({default.key for default in every}) == len(every)
    for default in every:
        assert default.key
        assert len(default.why) > 8
        assert isinstance(default.value, int | float | str | tuple)
