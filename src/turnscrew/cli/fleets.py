"""The commands about fleets, and those over many workshops at once."""

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer()

Json = Annotated[
    bool, typer.Option("--json", help="Print one JSON document on standard output.")
]
Language = Annotated[
    str, typer.Option(help="Of what it prints and of its report, as de.")
]
Engine = Annotated[str, typer.Option(help="here, or dask.")]
NWorkers = Annotated[int, typer.Option("--workers", help="Processes of dask.", min=1)]
Paper = Annotated[str, typer.Option(help="a4 or letter.")]


@app.command()
def fleet(
    histories: Annotated[
        list[Path],
        typer.Argument(help="Histories of one fleet, or one open record of repairs."),
    ],
    confidence: Annotated[
        float, typer.Option(help="How sure limits are.", min=0.5, max=0.999)
    ] = 0.9,
    term: Annotated[float, typer.Option(help="Days of a term.", min=1)] = 91,
    service: Annotated[
        float, typer.Option(help="Chance that nobody waits.", min=0.5, max=0.9999)
    ] = 0.95,
    lacking: Annotated[
        str, typer.Option(help="Cost of a piece lacking, as 12.00; with --over.")
    ] = "",
    over: Annotated[
        str, typer.Option(help="Cost of a piece too many, as 3.00; with --lacking.")
    ] = "",
    replace: Annotated[
        list[str] | None, typer.Option(help="What replaces a model: V80=389.00/5.")
    ] = None,
    pdf: Annotated[Path | None, typer.Option(help="Print the report here.")] = None,
    title: Annotated[str, typer.Option(help="Whose fleet.")] = "",
    paper: Paper = "a4",
    language: Language = "",
    decimal: Annotated[
        str,
        typer.Option(help="Decimal sign: point or comma; the language's if not said."),
    ] = "",
    engine: Engine = "here",
    workers: NWorkers = 2,
    as_json: Json = False,
) -> None:
    """
    Report on a fleet: rates, places, lives, next term, shelf, advice.

    A history has a row for each failure and for each device without one. An open record
    of repairs (Open Repair Data Standard 0.3, or a table mapped to it) is counted:
    rates need a fleet, which such a record has not.
    """
    from turnscrew.cli import fleet as command  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.fleet_history import (  # noqa: PLC0415 - slow libraries
        Options,
        level_from,
    )
    from turnscrew.cli.said import wording_from  # noqa: PLC0415 - slow libraries

    implied = level_from(lacking, over)
    command.run(
        histories,
        Options(
            confidence=confidence, term_days=term,
            target=service if implied is None else implied, is_implied=bool(implied),
            replace=tuple(replace or ()), pdf=pdf, title=title, paper=paper,
            engine=engine, n_workers=workers, as_json=as_json,
            wording=wording_from(language, decimal),
        ),
    )  # fmt: skip


@app.command()
def follows(
    spells: Annotated[
        Path, typer.Argument(help="Table: device, carrier, failures, days.")
    ],
    level: Annotated[
        float, typer.Option(help="Share of false blame allowed.", min=0.001, max=0.5)
    ] = 0.05,
    seed: Annotated[int, typer.Option(help="Seed of chance.", min=0)] = 1,
    language: Annotated[str, typer.Option(help="Of what it prints, as de.")] = "",
    as_json: Json = False,
) -> None:
    """
    Say whether failures follow an accessory, a place or a person.

    A damaged adapter or cradle can carry a fault from device to device. Only devices
    that were with it and without it tell; the chance is exact.
    """
    from turnscrew.cli import follows as command  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.said import wording_from  # noqa: PLC0415 - slow libraries

    wording = wording_from(language)
    command.show(spells, seed=seed, q=level, as_json=as_json, wording=wording)


@app.command()
def batches(
    folders: Annotated[
        list[Path], typer.Argument(help="Folders, each of one workshop's batch.")
    ],
    out: Annotated[
        Path | None, typer.Option(help="Write the papers here, a folder for each.")
    ] = None,
    plays: Annotated[
        int | None,
        typer.Option(help="Plays behind each promise; by its size if not said.", min=0),
    ] = None,
    paper: Paper = "a4",
    engine: Engine = "here",
    workers: NWorkers = 2,
    as_json: Json = False,
) -> None:
    """
    Reckon the batches of many workshops, each as turnscrew batch would.

    A folder with problems is told with all of them, and the others go on; the exit code
    is 1 then, and 70 where the fault is ours. With --engine dask several processes
    share the folders.
    """
    from turnscrew.cli import many  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.batch import Wish  # noqa: PLC0415 - slow libraries

    wish = Wish(folder=Path(), out=out, n_plays=plays, paper=paper, as_json=as_json)
    raise typer.Exit(many.batches(folders, wish, engine=engine, n_workers=workers))


@app.command("fleets")
def fleets_(
    histories: Annotated[
        list[Path], typer.Argument(help="Histories, each of one workshop's fleet.")
    ],
    out: Annotated[
        Path | None, typer.Option(help="Print a report (PDF) of each here.")
    ] = None,
    confidence: Annotated[
        float, typer.Option(help="How sure limits are.", min=0.5, max=0.999)
    ] = 0.9,
    term: Annotated[float, typer.Option(help="Days of a term.", min=1)] = 91,
    paper: Paper = "a4",
    engine: Engine = "here",
    workers: NWorkers = 2,
    as_json: Json = False,
) -> None:
    """
    Report on the fleets of many workshops, each by itself.

    turnscrew fleet takes several histories as one fleet instead. A history with
    problems is told with all of them, and the others go on; the exit code is 1 then,
    and 70 where the fault is ours.
    """
    from turnscrew.cli import many  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.fleet_history import Options  # noqa: PLC0415 - slow libraries

    options = Options(
        confidence=confidence, term_days=term, target=0.95, replace=(), pdf=None,
        title="", paper=paper, engine=engine, n_workers=workers, as_json=as_json,
    )  # fmt: skip
    raise typer.Exit(many.fleets(histories, options, out))
