def test_every_key_on_one_page_of_eighty_columns(run, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    code, out, err = run("keys")
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 80
    for heading in (
        "[materials.NAME]",
        "[[layer]]",
        "[layer.recess]",
        "[light.helix]",
        "[[eye]]",
        "[limits]",
    ):
        assert heading in out
    assert "Diameter of the cutter. Default 3.175 mm." in out


def test_one_key_in_full(run):
    code, out, err = run("keys", "chord_error")
    assert (code, err) == (0, "")
    assert out.splitlines()[0] == "chord_error"
    for line in ("Takes a length.", "Left out: 0.05 mm: greatest distance", "Example: chord_error = "):
        assert line in out


def test_an_unknown_word_is_one_message(run):
    code, out, err = run("keys", "pich")
    assert (code, out) == (2, "")
    assert err == 'no key of a lamp\'s file has to do with "pich": did you mean pitch or pick or price?\n'
