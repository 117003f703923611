"""What the terminal says of spots, eye by eye."""

from dataclasses import replace
from io import StringIO
from pathlib import Path

from rich.console import Console

from stackview.commands.spots_line import eye_line, show_spots, spots_lines
from stackview.description.lamp import Eye
from stackview.spots.eye_spots import EyeSpots, PlateSpots
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"
EYE = Eye("seated", 900.0, 1200.0)
SPOTTY = PlateSpots("plate 1", 3.0, 0.1, 900.0, 400.0, 0.05, (4, 5))


def line(*plates: PlateSpots) -> str:
    return eye_line(EyeSpots(EYE, 30.0, plates))


def test_no_acrylic_in_sight_is_said() -> None:
    assert line() == '"seated": no acrylic in sight.'


def test_a_plate_has_its_word_and_its_ratio_with_what_it_may_be_off() -> None:
    assert line(SPOTTY) == '"seated": spots on plate 1 (brightest place 3.0 ± 0.3 times its surround).'


def test_plates_alike_stand_together_worst_first() -> None:
    even = replace(SPOTTY, layer="plate 2", ratio=1.1, ratio_error=0.1)
    vague = replace(SPOTTY, layer="plate 3", ratio=3.8, ratio_error=0.2)
    worse = replace(SPOTTY, layer="plate 4", ratio=3.2)
    dark = replace(SPOTTY, layer="plate 5", peak_cd_m2=0.3)
    guess = replace(SPOTTY, layer="plate 6", ratio_error=1.2)
    assert line(dark, even, guess, SPOTTY, vague, worse) == (
        '"seated": spots on plate 1, plate 4 (brightest place 3.2 ± 0.3 times its surround at most); '
        "about spots on plate 3 (brightest place 3.8 ± 0.8 times its surround); "
        "even on plate 2 (brightest place 1.1 ± 0.1 times its surround); dark on plate 5; "
        "plate 6: not known without `stackview glow`."
    )


def test_many_plates_are_counted() -> None:
    many = [replace(SPOTTY, layer=f"plate {k}") for k in range(1, 8)]
    assert "plate 1, plate 2, plate 3 and 4 more" in line(*many)


def test_a_lamp_without_acrylic_says_nothing(tmp_path: Path) -> None:
    file = tmp_path / "block.toml"
    file.write_text(
        'name = "Block"\nmaterials.ash = { wood = "ash", sold = 15 }\n'
        '[[layer]]\nname = "base"\nmaterial = "ash"\noutline = { circle = 100 }\n'
    )
    assert spots_lines(Study.read(file)) == []


def test_every_eye_of_a_demo_has_its_line() -> None:
    out = StringIO()
    show_spots(Console(file=out, width=200), Study.read(DEMOS / "moor-drum.toml"))
    text = out.getvalue()
    assert '"reader lying down": ' in text
    assert '"standing": no acrylic in sight.' in text
