import pytest

from stackview.commands.steps_output import show_steps
from stackview.description.units import MILLIMETRES
from tests.shop.hand_lamps import glued_order


def test_in_full_every_step_stands_with_its_reasons_tools_and_cautions(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    order = glued_order()
    show_steps(order, MILLIMETRES, full=True, written=None)
    said = capsys.readouterr().out
    assert max(map(len, said.splitlines())) <= 80
    words = "".join(said.split())  # lines break after dashes too

    def told(sentence: str) -> bool:
        return "".join(sentence.split()) in words

    for number, step in enumerate(order.steps, 1):
        assert told(f"{number} {step.title}")
        assert all(map(told, (*step.do, *step.cautions)))
    assert all(told(figures.words(MILLIMETRES)) for figures in order.figures)
    show_steps(order, MILLIMETRES, full=False, written=None)
    short = capsys.readouterr().out
    assert len(short.splitlines()) < len(said.splitlines()) / 3
    assert "--full" in short
