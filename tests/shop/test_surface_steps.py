from stackview.shop.surface_steps import outer_finish, surface_steps
from tests.shop.hand_lamps import made


def test_wood_is_sanded_and_finished_before_it_is_closed_in() -> None:
    found = {step.key: step for step in surface_steps(made())}
    assert list(found) == ["sand wood", "finish inside"]
    assert [one.key for one in found["finish inside"].after] == ["sand wood"]
    assert found["finish inside"].minutes == 2 * 12 * 60
    assert any("Mask" in line and "top of base" in line for line in found["finish inside"].do)


def test_sanded_acrylic_is_sanded_face_by_face() -> None:
    faces = 'finish = { top = "sanded", edge = "sanded" }'
    study = made(('acrylic = "opal", ', f'acrylic = "clear", {faces}, '))
    found = {step.key: step for step in surface_steps(study)}
    assert found["sand acrylic"].parts == ("plate 1", "plate 2", "plate 3")
    assert found["sand acrylic"].do[0] == "plate 1 to 3: top and edges."


def test_no_finish_no_steps() -> None:
    study = made(more='[finishing]\nwood = "none"\n')
    assert [step.key for step in surface_steps(study)] == ["sand wood"]
    assert outer_finish(study, "x") is None


def test_the_outside_comes_after_the_last_step() -> None:
    step = outer_finish(made(), "place cap")
    assert step is not None
    assert [one.key for one in step.after] == ["place cap"]
