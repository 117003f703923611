"""What is only cut to length: one line for each stock and length."""

from pathlib import Path

from stackview.shop.rods import feet_of, posts_and_core
from stackview.study import Study
from tests.shop.box_lamp import BOX, box_study

HOLES = "{ circle = 2.5, around = { count = 4, circle = 40 } }"


def test_posts_of_one_length_are_one_and_feet_are_counted(tmp_path: Path) -> None:
    second = '[[post]]\nname = "more pins"\nmaterial = "dowel"\noutline = { circle = 2.5 }\nfrom = "base"\nto = "base"\n'
    second += "around = { count = 2, circle = 60 }\n"
    study = box_study(
        tmp_path,
        BOX.replace("[core]", second + "[core]").replace(
            HOLES, f"[{HOLES}, {{ circle = 2.5, around = {{ count = 2, circle = 60 }} }}]"
        ),
    )
    pins, core = posts_and_core(study)
    assert (pins.names, pins.count, pins.long) == (("pins", "more pins"), 6, 19.4)
    assert (core.title, core.count, round(core.long, 9)) == ("core", 1, 60.0)
    feet = feet_of(study)
    assert feet is not None
    # the usual three feet, 3 mm high
    assert (feet.count, feet.long) == (3, 3.0)


def test_no_feet_under_a_pendant() -> None:
    assert feet_of(Study.read("demos/kelp.toml")) is None
