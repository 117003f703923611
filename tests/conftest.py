"""For every test: baked light is kept in a folder of this run, never in the user's own; few ways of light; an L to cut.

Properties are tried on the same examples every time, so that a run says the same twice; with
``--hypothesis-profile=thorough`` on ten times as many.
"""

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")
"""Before numpy: the threads of its libraries only wait for each other where every core has a test process of its own."""

os.environ.setdefault("STACKVIEW_PROGRESS", "0")
"""How long a command has been at work says how busy the machine is: no test's programs say it unasked."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from stackview.description.shapes import Curve
from stackview.glow import engine
from stackview.spots import eye_spots

# Tests import the renderer by themselves, and then it cannot be told any more.
packaged = engine.packaged_llvm()
if packaged is not None:
    os.environ.setdefault(engine.LIBRARY, str(packaged))

settings.register_profile("steady", deadline=None, max_examples=30, derandomize=True)
settings.register_profile("thorough", deadline=None, max_examples=300, derandomize=True)
settings.load_profile("steady")


def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The run's own folder, above those of its processes."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    # One folder for all processes of a run: light that one of them has baked serves the others.
    folder = shared(tmp_path_factory) / "cache"
    folder.mkdir(exist_ok=True)
    before = os.environ.get("STACKVIEW_CACHE")
    os.environ["STACKVIEW_CACHE"] = str(folder)
    yield folder
    if before is None:
        del os.environ["STACKVIEW_CACHE"]
    else:
        os.environ["STACKVIEW_CACHE"] = before


AS_SHIPPED = eye_spots.FIRST_WAYS, eye_spots.WAYS_IN_ALL


@pytest.fixture(scope="session", autouse=True)
def few_ways() -> Iterator[None]:
    """Light on the acrylic is followed along few ways where it is not what a test is about: rough, but quick."""
    eye_spots.FIRST_WAYS, eye_spots.WAYS_IN_ALL = 1_024, 4_096
    yield
    eye_spots.FIRST_WAYS, eye_spots.WAYS_IN_ALL = AS_SHIPPED


@pytest.fixture
def all_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """As many ways of light as the package follows, where a test is about the spots: with few nothing is sure."""
    monkeypatch.setattr(eye_spots, "FIRST_WAYS", AS_SHIPPED[0])
    monkeypatch.setattr(eye_spots, "WAYS_IN_ALL", AS_SHIPPED[1])


@pytest.fixture(scope="session", autouse=True)
def own_width() -> Iterator[None]:
    """Output is as wide as it is where nobody says; a test process has COLUMNS of its own."""
    before = os.environ.pop("COLUMNS", None)
    yield
    if before is not None:
        os.environ["COLUMNS"] = before


@pytest.fixture(scope="session")
def ell() -> Curve:
    """An L, 100 mm by 100 mm, both arms 40 mm wide: 6400 mm², one corner that sticks in."""
    points = ((0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100))
    return Curve(tuple((float(x), float(y), 0.0) for x, y in points), "ell.dxf")
