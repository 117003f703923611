from stackview.description.cautions_table import cautions_table
from stackview.description.service_tables import glues
from stackview.description.written_lamp import KIND_KEYS

STEPS = {"layer", "light", "strip", "pendant"}


def test_every_caution_is_brought_up_by_something_there_is() -> None:
    known = {*KIND_KEYS, *glues(), *STEPS}
    for caution in cautions_table():
        assert set(caution.when) <= known, caution.name


def test_the_hazards_that_a_lamp_must_speak_of() -> None:
    text = " ".join(caution.says for caution in cautions_table())
    for word in ("dust", "ignites", "catch fire", "blades", "stare", "flux", "electrician", "local codes"):
        assert word in text, word
