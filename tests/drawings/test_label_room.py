"""Labels find the first place that covers nothing."""

from hypothesis import given
from hypothesis import strategies as st

from stackview.drawings.label_room import LabelRoom, meets

REGION = (0.0, 0.0, 100.0, 80.0)
box = st.builds(
    lambda x, y, w, h: (x, y, x + w, y + h),
    st.floats(-20.0, 110.0), st.floats(-20.0, 90.0), st.floats(1.0, 40.0), st.floats(1.0, 8.0),
)  # fmt: skip


@given(asked=st.lists(st.lists(box, min_size=1, max_size=6), max_size=12))
def test_taken_places_never_meet_and_stay_in_the_region(asked: list[list[tuple[float, ...]]]) -> None:
    room = LabelRoom(REGION)
    for places in asked:
        found = next((place for place in places if room.is_free(place)), None)  # type: ignore[arg-type]
        if found is not None:
            room.take(found)  # type: ignore[arg-type]
    for k, one in enumerate(room.labels):
        assert one[0] >= 0.0
        assert one[1] >= 0.0
        assert one[2] <= 100.0
        assert one[3] <= 80.0
        assert not any(meets(one, other) for other in room.labels[:k])


def test_lines_are_kept_clear_of() -> None:
    room = LabelRoom(REGION)
    room.take_line([(0.0, 40.0), (100.0, 40.0)])
    assert not room.is_free((10.0, 38.0, 30.0, 42.0))
    assert room.is_free((10.0, 38.0, 30.0, 42.0), over_lines=True)
    assert not room.is_free((10.0, 40.5, 30.0, 44.0))  # nearer than the clear paper round it
    assert room.is_free((10.0, 41.0, 30.0, 44.0))


def test_a_line_through_a_label_is_told() -> None:
    room = LabelRoom(REGION)
    room.take((10.0, 10.0, 30.0, 14.0))
    assert room.crosses_label([(20.0, 0.0), (20.0, 50.0)])
    assert not room.crosses_label([(31.0, 0.0), (31.0, 50.0)])
