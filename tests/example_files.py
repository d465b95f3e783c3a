"""Where a file of the examples lies, whichever folder it belongs to."""

from pathlib import Path

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"


def example_file(name: str) -> Path:
    (found,) = EXAMPLES.rglob(name)
    return found


def example_text(name: str) -> str:
    return example_file(name).read_text("utf-8")
