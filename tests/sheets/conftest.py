"""For every test of sheets: few ways are tried, for it is not about how good a layout is."""

from collections.abc import Iterator

import pytest

from stackview.sheets import search


@pytest.fixture(scope="session", autouse=True)
def few_layouts() -> Iterator[None]:
    before = search._LEAST_WAYS, search._MOST_WAYS
    search._LEAST_WAYS, search._MOST_WAYS = 8, 12
    yield
    search._LEAST_WAYS, search._MOST_WAYS = before
