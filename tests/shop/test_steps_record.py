import json

from stackview.shop.steps_record import steps_record
from tests.shop.hand_lamps import glued_order


def test_the_record_has_every_step_and_refers_backwards_by_number() -> None:
    order = glued_order()
    record = json.loads(json.dumps(steps_record(order), allow_nan=False))
    assert [step["title"] for step in record["steps"]] == [step.title for step in order.steps]
    for step in record["steps"]:
        assert all(0 < one["step"] < step["number"] for one in step["after"])
    assert sum(step["waits_minutes"] for step in record["steps"]) / 60.0 == record["hours_waiting"]
    assert {figure["material"] for figure in record["cutting"]} == {"plywood", "acrylic"}
