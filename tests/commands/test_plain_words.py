"""Signs that an encoding lacks are written plainly, controls are shown, and ordinary names stay as they are."""

import pytest

from stackview.commands.plain_words import WRITTEN_PLAINLY, control_shown, has_controls


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "cp437", "koi8-r"])
def test_no_encoding_stops_a_sentence(encoding: str) -> None:
    told = "−5 mm ± 0.1 · ≤ 3 mm² at 35° → ½ in, “café” 月 🙂 \ud800"
    assert told.encode(encoding, WRITTEN_PLAINLY)


def test_a_minus_and_a_limit_keep_their_meaning() -> None:
    assert "−5 mm ±0.1, ≤ 3 mm², 4 × 6, 35°".encode("ascii", WRITTEN_PLAINLY) == (
        b"-5 mm +/-0.1, <= 3 mm2, 4 x 6, 35 deg"
    )
    assert (
        "−5 mm ±0.1, ≤ 3 mm²".encode("latin-1", WRITTEN_PLAINLY).decode("latin-1") == "-5 mm ±0.1, <= 3 mm²"
    )


@pytest.mark.parametrize(
    "text", ["\x1b[2J", "a\rb", "a\nb", "\x7f", "\x9b31m", "abc\u202etxt", "\u2066x", "a\u2028b", "\0"]
)
def test_what_a_terminal_obeys_is_shown(text: str) -> None:
    assert has_controls(text)
    shown = control_shown(text)
    assert not has_controls(shown)
    assert shown.encode("ascii").decode("unicode_escape") == text


@pytest.mark.parametrize(
    "text", ["lamp.toml", "Lampe für Oma.toml", "лампа", "ランプ", "👩‍🔧.toml", "a\u00a0b", "\udcff"]
)
def test_ordinary_names_stay_as_they_are(text: str) -> None:
    assert not has_controls(text)
    assert control_shown(text) == text
