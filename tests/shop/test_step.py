from stackview.shop.step import After, WorkOrder, WorkStep


def order(*steps: WorkStep) -> WorkOrder:
    return WorkOrder("lamp", steps, (), ())


def test_numbers_are_places_in_the_order() -> None:
    made = order(
        WorkStep("a", "cut", "A", ("x",)),
        WorkStep("b", "sand", "B", ("x",), after=(After("a", "it is cut"),)),
    )
    assert [made.number(key) for key in "ab"] == [1, 2]


def test_waiting_adds_up() -> None:
    assert (
        order(
            WorkStep("a", "glue", "A", (), minutes=45), WorkStep("b", "glue", "B", (), minutes=15)
        ).hours_waiting
        == 1.0
    )


def test_steps_of_one_kind_in_a_row_are_a_run_up_to_one_that_seals() -> None:
    cut = [WorkStep(f"c{k}", "cut", "C", ()) for k in range(3)]
    placed = [
        WorkStep(f"p{k}", "glue", "P", (), places=(f"{k}",), seals=("cable",) if k == 1 else ())
        for k in range(3)
    ]
    assert order(*cut, WorkStep("t", "test", "T", ()), *placed).runs == ((1, 3), (4, 4), (5, 6), (7, 7))
