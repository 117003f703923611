"""A trial in its own process: a failure there, even by a signal, is one line here."""

import pytest

from stackview.window.libraries import NoWindowError
from stackview.window.probe import begin_probe, end_probe


def test_a_trial_that_works() -> None:
    end_probe(begin_probe("raise SystemExit(0)"))


@pytest.mark.parametrize("source", ["raise SystemExit(3)", "import os; os.abort()", "import no_such_module"])
def test_a_trial_that_fails_or_dies(source: str) -> None:
    with pytest.raises(NoWindowError) as trouble:
        end_probe(begin_probe(source))
    assert "install" in str(trouble.value)
    assert "\n" not in str(trouble.value)
