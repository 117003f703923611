"""For every test: baked light is kept in a folder of this run, never in the user's own."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    folder = tmp_path_factory.mktemp("cache")
    before = os.environ.get("STACKVIEW_CACHE")
    os.environ["STACKVIEW_CACHE"] = str(folder)
    yield folder
    if before is None:
        del os.environ["STACKVIEW_CACHE"]
    else:
        os.environ["STACKVIEW_CACHE"] = before
