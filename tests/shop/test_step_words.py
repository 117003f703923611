from dataclasses import replace

from stackview.shop.step import After, WorkOrder, WorkStep
from stackview.shop.step_words import after_words, headline, in_a_screen
from tests.shop.hand_lamps import glued_order


def test_reasons_that_are_alike_are_told_once() -> None:
    cut = [WorkStep(key, "cut", key, ()) for key in "abc"]
    last = WorkStep(
        "d", "sand", "d", (), after=(After("c", "it is cut"), After("a", "it is cut"), After("b", "dry"))
    )
    order = WorkOrder("lamp", (*cut, last), (), ())
    assert after_words(order, last) == ("after 1 and 3: it is cut", "after 2: dry")


def test_in_short_leaves_no_step_out() -> None:
    order = glued_order()
    told = [numbers for numbers, _ in in_a_screen(order)]
    ends = [tuple(map(int, one.split("–"))) for one in told]
    assert [one[0] for one in ends] == [1, *(one[-1] + 1 for one in ends[:-1])]
    assert ends[-1][-1] == len(order.steps)
    words = " ".join(words for _, words in in_a_screen(order))
    assert all(part in words for part in ("base", "3 × ring 1 to 3", "plate 3 on ring 3", "cap"))


def test_the_headline_says_from_which_end() -> None:
    assert "from the bottom up" in headline(glued_order())
    upside = replace(glued_order(), from_top=True)
    assert "from the top" in headline(upside)
