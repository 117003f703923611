from hypothesis import given
from hypothesis import strategies as st

from stackview.shop.file_names import file_names


@given(st.lists(st.text(max_size=200), max_size=12))
def test_any_names_are_safe_and_none_is_twice(words: list[str]) -> None:
    names = file_names(words)
    assert len({name.casefold() for name in names}) == len(words)
    for name in names:
        assert name
        assert not set(name) & set('/\\:*?"<>|. \0\n')
        assert len(name.encode("utf-8", "replace")) <= 100


def test_names_that_are_taken_are_not_given() -> None:
    assert file_names(["lamp", "ring"], taken=["Lamp"]) == ("lamp-2", "ring")
