from stackview.description.written_workshop import WrittenFinishing, WrittenRouter, WrittenWiring


def test_all_of_it_is_optional() -> None:
    for table in (WrittenRouter, WrittenFinishing, WrittenWiring):
        assert set(table().model_dump().values()) == {None}
