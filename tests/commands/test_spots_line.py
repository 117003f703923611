"""What the terminal says of spots, eye by eye."""

from dataclasses import replace
from io import StringIO
from pathlib import Path

from rich.console import Console

from stackview.change.evened import Evened, LightAndPower
from stackview.change.mend import Mend, NewNumber
from stackview.change.mends import Mending
from stackview.commands.spots_line import eye_brief, eye_line, show_evening, show_spots, spots_lines
from stackview.description.lamp import Eye
from stackview.kept import keep
from stackview.spots.eye_spots import EyeSpots, PlateSpots
from stackview.study import Study
from tests.change.spotty import small

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
        '"seated": spots on plate 1 and plate 4 (brightest place 3.2 ± 0.3 times its surround at most); '
        "about spots on plate 3 (brightest place 3.8 ± 0.8 times its surround); "
        "even on plate 2 (brightest place 1.1 ± 0.1 times its surround); dark on plate 5; "
        "plate 6: not known without `stackview glow`."
    )


def test_many_plates_are_counted() -> None:
    many = [replace(SPOTTY, layer=f"plate {k}") for k in range(1, 8)]
    assert "plate 1, plate 2 and 5 more, to plate 7" in line(*many)


def test_in_brief_the_ratio_is_that_of_the_spottiest_plate_of_which_it_is_known() -> None:
    guess = replace(SPOTTY, layer="plate 6", ratio=9.0, ratio_error=1.2)
    assert eye_brief(EyeSpots(EYE, 30.0, (SPOTTY, guess))) == (
        '"seated": spots on plate 1; not known on plate 6 (plate 1: 3.0 ± 0.3 times its surround).'
    )
    assert eye_brief(EyeSpots(EYE, 30.0, (guess,))) == '"seated": not known on plate 6.'


def test_what_is_simplified_is_said_below_the_eyes(tmp_path: Path) -> None:
    file = tmp_path / "wide.toml"
    file.write_text(
        'name = "Wide"\nmaterials.opal = { acrylic = "opal", sold = 4 }\n'
        'materials.ash = { wood = "ash", sold = 15 }\n'
        '[[layer]]\nname = "base"\nmaterial = "ash"\noutline = { circle = 100 }\n'
        '[[layer]]\nname = "lid"\nmaterial = "opal"\noutline = { circle = 100 }\n'
        '[[layer]]\nname = "cap"\nmaterial = "opal"\noutline = { circle = 100 }\n'
        '[[light]]\ndiode = { on = "cap" }\nbeam = 165\nwatts = 1\n'
    )
    study, written = Study.read(file), StringIO()
    keep(study, spots=(EyeSpots(EYE, 30.0, (SPOTTY,)),))
    show_spots(Console(file=written, width=200), study)
    assert "Simplified: beams of 165° shine as beams of 150°." in written.getvalue()
    assert "Simplified: acrylic glued to acrylic counts as dry" in written.getvalue()


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


def test_what_evens_spots_is_told_once_with_what_it_costs(monkeypatch) -> None:  # type: ignore[no-untyped-def]
    study = small("opal")
    eye = study.lamp.eyes[0]
    before = PlateSpots("plate", 8.0, 0.1, 900.0, 300.0, 0.02, (1,))
    after = replace(before, ratio=1.2)
    opal = NewNumber("materials.stock.acrylic", "clear", "opal", "opal", ("plate",))
    mend = Mend(
        (opal,),
        Evened(eye.name, before, after).text,
        0.0,
        0.0,
        evened=(Evened(eye.name, before, after),),
        light=LightAndPower((28.0, 19.0), None),
    )
    keep(study, spots=(EyeSpots(eye, 0.0, (before,)),))
    monkeypatch.setattr(Mending, "evening", lambda *_: iter((mend, mend)))
    out = StringIO()
    show_evening(Console(file=out, width=200), Mending(study))
    lines = out.getvalue().splitlines()
    assert lines[1].startswith("What evens them out (each was tried")
    assert [line for line in lines if "opal" in line] == [
        "  Mend: materials.stock.acrylic clear to opal (plate): from 8.0 ± 0.8 (plate) to 1.2 ± 0.1 "
        '(about even) for "over it"; light out 28 to 19 lm, lamp no taller.'
    ]
    assert lines[-1].startswith("  Of the 60 lm that its light points give, ")
    assert mend.evens_briefly == (
        'materials.stock.acrylic clear to opal: for "over it" 8.0 ± 0.8 to 1.2 ± 0.1; light out 28 to 19 lm.'
    )


def test_even_plates_are_offered_nothing() -> None:
    study = small()
    even = PlateSpots("plate", 1.1, 0.05, 900.0, 800.0, 0.02, (1,))
    keep(study, spots=(EyeSpots(study.lamp.eyes[0], 0.0, (even,)),))
    out = StringIO()
    show_evening(Console(file=out, width=80), Mending(study))
    assert out.getvalue() == ""
