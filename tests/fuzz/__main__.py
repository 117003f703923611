"""Coverage-guided fuzzing: ``python -m tests.fuzz {lamps,svg,dxf,photographs} [MINUTES] [FOLDER]``.

Needs the extra ``fuzz`` (atheris: libFuzzer for Python, and branches of Python as its coverage).
What is found stands in FOLDER/finds, how many were asked in FOLDER/tally.txt, and what reached new
branches in FOLDER/corpus, from which the next run goes on.
"""

import importlib
import sys
from pathlib import Path
from typing import Any

KINDS = ("lamps", "svg", "dxf", "photographs")
_INSTRUMENTED = ["stackview", "tomllib", "svgelements", "ezdxf", "PIL"]
_NO_ANSWER_SECONDS, _MOST_MEGABYTES = 60, 3000


def main() -> None:
    kind = sys.argv[1] if len(sys.argv) > 1 else ""
    if kind not in KINDS:
        sys.exit(__doc__)
    minutes = float(sys.argv[2]) if len(sys.argv) > 2 else 60.0
    folder = Path(sys.argv[3] if len(sys.argv) > 3 else f"fuzz-{kind}").absolute()
    try:
        import atheris
    except ImportError:
        sys.exit("tests.fuzz needs atheris: install the extra fuzz")
    with atheris.instrument_imports(include=_INSTRUMENTED):
        target: Any = importlib.import_module(f"tests.fuzz.fuzz_{kind}")
    from tests.fuzz.finds import Finds

    corpus = folder / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(target.seeds()):
        (corpus / f"seed-{number:03}").write_bytes(seed)
    finds = Finds(target.ask, folder / "finds")
    options = [
        f"-max_total_time={round(60 * minutes)}",
        f"-timeout={_NO_ANSWER_SECONDS}",
        f"-rss_limit_mb={_MOST_MEGABYTES}",
        f"-max_len={target.LONGEST}",
        f"-artifact_prefix={folder}/",
        "-print_final_stats=1",
        "-verbosity=1",
        # a run that goes on from a corpus tries other things than the one before
        f"-seed={len(list(corpus.iterdir()))}",
        "-mutate_depth=2",
    ]
    atheris.Setup(
        [sys.argv[0], *options, str(corpus)], finds, custom_mutator=lambda *given: target.changed(*given)
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main()
