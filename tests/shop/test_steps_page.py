from html.parser import HTMLParser

from stackview.description.units import MILLIMETRES
from stackview.shop.step import WorkOrder, WorkStep
from stackview.shop.steps_page import PAGE_MARK, steps_page
from tests.shop.hand_lamps import glued_order

_ALONE = {"meta", "input"}


class _Read(HTMLParser):
    """Counts boxes and refuses tags that do not close in their order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.boxes = 0
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.boxes += ("type", "checkbox") in attrs
        if tag not in _ALONE:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def read(page: str) -> _Read:
    found = _Read()
    found.feed(page)
    found.close()
    assert found.open == []
    return found


def test_a_box_for_every_step_and_all_that_belongs_to_it() -> None:
    order = glued_order()
    page = steps_page(order, MILLIMETRES)
    assert page.startswith(PAGE_MARK)
    found = read(page)
    assert found.boxes == len(order.steps)
    words = "".join(found.words)
    for step in order.steps:
        assert step.title in words
        assert all(each[1:] in words for each in (*step.do, *step.cautions))
    # a caution stands once over all steps of one kind that come one after the other
    sawing = "clamp every sheet"
    spells = sum(any(sawing in each for each in spell.cautions) for spell in order.spells)
    steps = sum(any(sawing in each for each in step.cautions) for step in order.steps)
    assert words.count(sawing[1:]) == spells < steps


def test_nothing_in_the_file_becomes_markup() -> None:
    wild = "<script>alert('x')</script> & \"co\""
    step = WorkStep("a", "cut", wild, (wild,), tools=(wild,), do=(wild,), cautions=(wild,))
    page = steps_page(WorkOrder(wild, (step,), (), ()), MILLIMETRES)
    assert "<script" not in page
    assert wild in "".join(read(page).words)
