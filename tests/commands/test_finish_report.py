"""What is said of a fit: as sure as its error, and an entry that the lamp's file takes."""

import tomllib
from dataclasses import replace

import numpy as np
import pytest

from stackview.commands.finish_report import finish_entry, finish_report
from stackview.glow.finish_fit import FinishFit
from stackview.glow.photograph import Photograph
from stackview.glow.spot_model import Setup

FIT = FinishFit(0.2, 0.18, 0.225, 0.004, 0.003, 44, (1.0,), False, ())
SETUP = Setup(25.0, 4.0, 0.25)


def said(fit: FinishFit, curve: str = "unknown", count: int = 1, stepped: bool = False) -> str:
    dark = np.zeros((40, 40))
    photos = [Photograph("a.jpg", dark.copy(), dark > 0, 1, curve, bits=8) for _ in range(count)]  # type: ignore[arg-type]
    return "\n".join(finish_report(fit, SETUP, photos, face_assumed=False, stepped=stepped))


@pytest.mark.parametrize(
    ("high", "word", "number"),
    [
        (0.225, "good", "0.200 ± 0.025 (nine times in ten)"),
        (0.26, "fair", "0.200 ± 0.060"),
        (0.4, "poor", "about 0.20, between 0.18 and 0.40 nine times in ten"),
    ],
)
def test_the_word_and_the_number_follow_the_error(high: float, word: str, number: str) -> None:
    text = said(replace(FIT, high=high))
    assert number in text
    assert f"a {word} fit" in text


def test_what_would_help_is_told_where_it_would() -> None:
    assert "Most of that is the camera's tone curve" in said(FIT)
    two = replace(FIT, exposures=(1.0, 4.0))
    assert "Most of that" in said(two, count=2)
    assert "Most of that" not in said(replace(two, told=True), count=2)
    assert "Most of that" not in said(FIT, stepped=True)
    assert "Most of that" not in said(FIT, curve="linear")


def test_the_entry_is_toml_whatever_the_photograph_is_called() -> None:
    entry = finish_entry("mine", '1/8"', SETUP, FIT, 'a"\n[x]\x00.jpg')
    assert tomllib.loads(entry) == {
        "materials": {"mine": {"acrylic": "clear", "sold": '1/8"', "finish": "sanded", "roughness": 0.2}}
    }
