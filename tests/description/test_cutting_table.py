from stackview.description.cutting_table import cutting_ranges
from stackview.description.written_lamp import KIND_KEYS


def test_every_kind_of_material_has_a_range_with_a_source() -> None:
    ranges = cutting_ranges()
    assert set(ranges) == set(KIND_KEYS)
    for one in ranges.values():
        assert one.speed[0] < one.speed[1], one.kind
        assert 0.0 < one.chip[0] < one.chip[1] < 0.1, one.kind
        assert 0.0 < one.depth <= 1.0, one.kind
        assert one.source, one.kind
