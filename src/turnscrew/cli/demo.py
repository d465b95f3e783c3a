"""The command ``turnscrew demo``: the main job on the example batch and its devices."""

from pathlib import Path

from turnscrew.cli.batch import Wish as BatchWish
from turnscrew.cli.batch import reckon_batch
from turnscrew.cli.diagnose import Wish, advise
from turnscrew.cli.opening import lines_of, page_named, time_limit, write_papers
from turnscrew.cli.reading import device_from
from turnscrew.errors import BadArgumentError
from turnscrew.flows.opening import opening_path

EXAMPLES = Path(__file__).parents[3] / "examples"
BATCH = EXAMPLES / "sallowmere"

SHOWN = (
    ("pellorin-l240", "B", ("upper case", "fan")),
    ("tavistle-v80", "2", ("camera",)),
    ("grondle-r50", "K", ("keypad membrane",)),
)
"""Example, revision and what is to be reached."""

ASKED = (
    ("pellorin-l240", "will not charge"),
    ("tavistle-v80", "cannot hear calls"),
    ("grondle-r50", "no red line"),
)
"""Example and what its customer said."""


def show(out: Path, paper: str) -> None:
    """
    Take the example batch to its papers, then show openings and next steps of its kind.

    Parameters
    ----------
    out
        Folder for the papers.
    paper
        Paper size.

    Raises
    ------
    BadArgumentError
        If the examples are not beside the program.
    """
    if not EXAMPLES.is_dir():
        raise BadArgumentError("the examples folder is not beside the program")
    page = page_named(paper)
    reckon_batch(BatchWish(folder=BATCH, out=out, paper=paper))
    print()
    for name, revision, reach in SHOWN:
        device = device_from(BATCH / f"{name}.device.yaml", revision)
        answer = opening_path(device, reach, time_limit(10.0))
        print("\n".join(lines_of(answer)[:3]))
        print(
            f"{len(answer.opening)} lines in, {len(answer.refit)} back, "
            f"{len(answer.gates)} questions at the close gate"
        )
        if len(reach) > 1:
            apart_s = sum(
                opening_path(device, (one,), time_limit(10.0)).hands_on_s
                for one in reach
            )
            print(f"one opening saves {(apart_s - answer.hands_on_s) / 60:.1f} min")
        for path in write_papers(device, answer, out / name, page):
            print(f"  {path}")
        print()
    for name, sign in ASKED:
        print(f"{name}, sign: {sign}")
        advise(
            Wish(
                faults=BATCH / f"{name}.faults.yaml",
                device=BATCH / f"{name}.device.yaml",
                revision=None,
                signs=(sign,),
                findings=(),
                open_now=(),
                mode="block",
                seconds=0.5,
                tree=False,
                history=EXAMPLES / "workshop-history.csv",
                site="",
                out=out / name,
                paper=paper,
                as_json=False,
            )
        )
        print()
