"""The group of commands and the one table from error to exit code."""

import io
import sys
import traceback
from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from turnscrew.cli import cards, fleets, records
from turnscrew.errors import (
    BadArgumentError,
    BadFileError,
    ConflictError,
    NotAllowedError,
    TurnscrewError,
)

EXIT_CODES = (
    (BadFileError, 2),
    (BadArgumentError, 2),
    (ConflictError, 3),
    (NotAllowedError, 4),
    (TurnscrewError, 1),
)
OUR_BUG = 70

app = typer.Typer(
    help="Memory and arithmetic for mending fleets of portable computers.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Json = Annotated[
    bool, typer.Option("--json", help="Print one JSON document on standard output.")
]
Language = Annotated[
    str, typer.Option(help="Of what it prints and of its papers, as de.")
]
Decimal = Annotated[
    str,
    typer.Option(help="Decimal sign: point or comma; the language's if not said."),
]
Lengths = Annotated[str, typer.Option(help="mm, or inch for inches beside them.")]
Seconds = Annotated[
    float,
    typer.Option(
        help="Time to search; then the best plan so far with its bound.", min=0
    ),
]


@app.command()
def check(
    files: Annotated[list[Path], typer.Argument(help="Files, or folders of batches.")],
    as_json: Json = False,
) -> None:
    """
    Check files and list every problem with its line.

    Known are device descriptions (*.device.yaml), fault tables (*.faults.yaml), closed
    jobs (*history.csv), bare problems (*.json), the folder of a batch and each of its
    files.
    Exit code 0 if all are clean, 2 with the problems otherwise. What a description
    still lacks is listed too; it is no error.
    """
    from turnscrew.cli import check as command  # noqa: PLC0415 - slow libraries

    raise typer.Exit(command.check_files(files, as_json=as_json))


@app.command()
def opening(
    device: Annotated[
        Path | None, typer.Argument(help="Device description (*.device.yaml).")
    ] = None,
    reach: Annotated[
        list[str] | None, typer.Option(help="Part or joint to reach; may be repeated.")
    ] = None,
    revision: Annotated[
        str | None, typer.Option(help="Revision; the first one if not said.")
    ] = None,
    already_off: Annotated[
        list[str] | None,
        typer.Option(help="Part or joint off already; what tied a part is too."),
    ] = None,
    problem: Annotated[
        Path | None,
        typer.Option(help="Solve a bare numeric problem (JSON) instead."),
    ] = None,
    one_way: Annotated[
        bool, typer.Option("--one-way", help="With --problem: the way in alone.")
    ] = False,
    seconds: Seconds = 10.0,
    out: Annotated[
        Path | None, typer.Option(help="Write the sheets (PDF) and drawings here.")
    ] = None,
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    pace: Annotated[str, typer.Option(help="first, typical or practised.")] = "typical",
    serial: Annotated[str, typer.Option(help="To be told how it came before.")] = "",
    language: Language = "",
    decimal: Decimal = "",
    lengths: Lengths = "mm",
    as_json: Json = False,
) -> None:
    """
    Reckon the cheapest way to parts of a device, and the way back.

    Prints the opening path and the refit list, one line per action. The answer says
    how far it is proven: optimal, bounded (with its gap) or impossible (with the
    reason). On the way in, anything extra is taken off only where it pays; after the
    turn-round nothing more comes off.
    """
    from turnscrew.cli import opening as command  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.said import Wording, notation_from  # noqa: PLC0415 - slow libraries

    if problem is not None:
        command.solve_problem(
            problem, one_way=one_way, seconds=seconds, as_json=as_json
        )
        return
    wish = command.Wish(
        device=device,
        reach=tuple(reach or ()),
        revision=revision,
        already_off=tuple(already_off or ()),
        seconds=seconds,
        out=out,
        paper=paper,
        as_json=as_json,
        pace=pace,
        serial=serial,
        wording=Wording(language, notation_from(decimal, lengths)),
    )
    command.open_device(wish)


@app.command()
def diagnose(
    faults: Annotated[
        Path | None, typer.Argument(help="Fault table (*.faults.yaml).")
    ] = None,
    device: Annotated[
        Path | None, typer.Option(help="Device description (*.device.yaml).")
    ] = None,
    revision: Annotated[
        str | None, typer.Option(help="Revision; if not said, each may be it.")
    ] = None,
    sign: Annotated[
        list[str] | None,
        typer.Option(help="Sign, by name or in the customer's words; repeatable."),
    ] = None,
    words: Annotated[
        str, typer.Option(help="The customer's own words; read as a sign, or asked.")
    ] = "",
    finding: Annotated[
        list[str] | None,
        typer.Option(help="TEST=OUTCOME, TEST=19.4 V, REPAIR=still at fault, ..."),
    ] = None,
    already_open: Annotated[
        list[str] | None, typer.Option("--open", help="Layer that is open already.")
    ] = None,
    case: Annotated[
        Path | None, typer.Option(help="Solve a bare model (JSON) instead.")
    ] = None,
    mode: Annotated[
        str, typer.Option(help="Power test after each repair, each block, or free.")
    ] = "block",
    seconds: Annotated[
        float | None,
        typer.Option(
            help="Time to search; 10 for a bare model, 1 for a device if not said.",
            min=0,
        ),
    ] = None,
    tree: Annotated[
        bool, typer.Option("--tree", help="Print the whole strategy.")
    ] = False,
    history: Annotated[
        Path | None, typer.Option(help="Closed jobs (CSV) to learn from.")
    ] = None,
    site: Annotated[str, typer.Option(help="Where the device is used.")] = "",
    open_counts: Annotated[
        Path | None,
        typer.Option(help="Open record of repairs, or its counts of signs: priors."),
    ] = None,
    open_cases: Annotated[
        float | None,
        typer.Option(
            help="Own cases that the open counts weigh; 30 if not said.",
            min=0.1,
            max=1_000_000,
        ),
    ] = None,
    replay: Annotated[
        bool, typer.Option("--replay", help="Compare the history with the advice.")
    ] = False,
    out: Annotated[
        Path | None, typer.Option(help="Write the policy sheet (PDF) here.")
    ] = None,
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    language: Language = "",
    decimal: Decimal = "",
    lengths: Lengths = "mm",
    as_json: Json = False,
) -> None:
    """
    Say which test or exchange comes next, and why.

    The answer weighs minutes, money and risk to the end against what opening and
    closing cost. Ask again after every finding, with all findings so far: nothing is
    remembered. Not tried, not applicable and could not tell are findings too.
    Words that no sign fits clearly are not taken: the nearest signs are named instead.
    """
    from turnscrew.cli import diagnose as command  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.said import wording_from  # noqa: PLC0415 - slow libraries

    if case is not None:
        command.solve_case(
            case,
            mode=mode,
            seconds=10.0 if seconds is None else seconds,
            tree=tree,
            as_json=as_json,
        )
        return
    wish = command.Wish(
        faults=faults,
        device=device,
        revision=revision,
        signs=tuple(sign or ()),
        findings=tuple(finding or ()),
        open_now=tuple(already_open or ()),
        mode=mode,
        seconds=1.0 if seconds is None else seconds,
        tree=tree,
        history=history,
        site=site,
        words=words,
        open_counts=open_counts,
        open_cases=open_cases,
        out=out,
        paper=paper,
        as_json=as_json,
        wording=wording_from(language, decimal, lengths),
    )
    if replay:
        command.replay(wish)
    else:
        command.advise(wish)


@app.command()
def batch(
    folder: Annotated[
        Path, typer.Argument(help="Folder with the batch, parts, terms and people.")
    ],
    out: Annotated[
        Path | None, typer.Option(help="Write the papers (PDF) here.")
    ] = None,
    today: Annotated[
        str | None, typer.Option(help="Day work begins; the day received if not said.")
    ] = None,
    away: Annotated[
        list[str] | None,
        typer.Option(help="PERSON=FROM-TO, workshop days; repeatable."),
    ] = None,
    answers_on: Annotated[
        int | None, typer.Option(help="Day on which pending answers are in hand.")
    ] = None,
    answer: Annotated[
        list[str] | None,
        typer.Option(help="LINE=yes or LINE=no; the other lines stay pending."),
    ] = None,
    no_donors: Annotated[
        bool, typer.Option("--no-donors", help="Donors give nothing.")
    ] = False,
    late_part: Annotated[
        list[str] | None, typer.Option(help="PART=DAYS more lead; repeatable.")
    ] = None,
    sign_off: Annotated[
        list[str] | None, typer.Option(help="PERSON=SKILL; repeatable.")
    ] = None,
    copies: Annotated[
        int, typer.Option(help="How often the batch comes at once.", min=1, max=1000)
    ] = 1,
    effort: Annotated[
        float | None,
        typer.Option(
            help="Work at the best plan, in the solver's unit; 0: none.", min=0
        ),
    ] = None,
    plays: Annotated[
        int | None,
        typer.Option(
            help="Plays behind the promise; 0: none; by the size if not said.", min=0
        ),
    ] = None,
    to_come: Annotated[
        list[str] | None,
        typer.Option(
            help="Foretell a next batch instead, such as '40 V80'; repeatable."
        ),
    ] = None,
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    language: Language = "",
    decimal: Decimal = "",
    as_json: Json = False,
) -> None:
    """
    Reckon a whole batch, from the customer's list to tomorrow's papers.

    Compares list and bodies, decides and quotes every device, allots parts, chooses
    donors, writes the order, plans the people's days and says what can be promised.
    The options ask what if; PERSON is a role or a name.
    """
    from turnscrew.cli.said import wording_from  # noqa: PLC0415 - slow libraries

    wording = wording_from(language, decimal)
    if to_come:
        from turnscrew.cli import ahead  # noqa: PLC0415 - slow libraries

        ahead.tell_ahead(folder, tuple(to_come), as_json=as_json, wording=wording)
        return
    from turnscrew.cli import batch as command  # noqa: PLC0415 - slow libraries

    command.reckon_batch(
        command.Wish(
            folder=folder,
            out=out,
            today=today,
            away=tuple(away or ()),
            answers_on=answers_on,
            answers=tuple(answer or ()),
            no_donors=no_donors,
            late_parts=tuple(late_part or ()),
            sign_offs=tuple(sign_off or ()),
            copies=copies,
            effort=effort,
            n_plays=plays,
            paper=paper,
            as_json=as_json,
            wording=wording,
        )
    )


@app.command()
def reckon(
    name: Annotated[
        str | None,
        typer.Argument(help="Name of the reckoning; all are listed if none."),
    ] = None,
    figures: Annotated[
        list[str] | None, typer.Argument(help="Figures such as current_a=3.")
    ] = None,
    as_json: Json = False,
) -> None:
    """
    Reckon one figure of the power path or the handbook.

    Prints the answer with its equation and source. Units stand in the names; nothing is
    converted by guess.
    """
    from turnscrew.cli import reckon as command  # noqa: PLC0415 - slow libraries

    command.show(name, tuple(figures or ()), as_json=as_json)


@app.command()
def selfcheck(as_json: Json = False) -> None:
    """
    Reckon published figures anew and lay ours beside them, each with its source.

    Exit code 0 if all agree, 1 otherwise.
    """
    from turnscrew.cli import fleet as command  # noqa: PLC0415 - slow libraries

    raise typer.Exit(command.check_self(as_json=as_json))


@app.command()
def demo(
    out: Annotated[Path, typer.Option(help="Folder for the papers.")] = Path("out"),
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
) -> None:
    """
    Show the main job on the three example devices and write their papers.

    Uses the invented devices of the examples folder.
    """
    from turnscrew.cli import demo as command  # noqa: PLC0415 - slow libraries

    command.show(out, paper)


app.add_typer(fleets.app)
app.add_typer(cards.app)
app.add_typer(records.app)


def run(args: list[str] | None = None) -> None:
    """
    Run a command and turn errors into exit codes.

    Parameters
    ----------
    args
        The words after ``turnscrew``; those of the process if not given.
    """
    speak_utf8()
    sys.exit(guarded(lambda: app(args, standalone_mode=True), as_json=is_json(args)))


def speak_utf8() -> None:
    """Print in UTF-8 wherever it goes: a pipe may be set to what lacks a minus."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors=stream.errors)


def is_json(args: list[str] | None) -> bool:
    """
    Tell whether problems are wanted as JSON.

    Parameters
    ----------
    args
        The words after ``turnscrew``; those of the process if not given.

    Returns
    -------
    bool
        True if so.
    """
    return "--json" in (sys.argv[1:] if args is None else args)


def guarded(action: Callable[[], object], *, as_json: bool) -> int:
    """
    Do something; say what went wrong and give the exit code.

    Parameters
    ----------
    action
        What to do.
    as_json
        True if a file's problems are wanted as JSON on standard output.

    Returns
    -------
    int
        The exit code.
    """
    try:
        action()
    except BadFileError as error:
        if as_json:
            import json  # noqa: PLC0415 - only on this path

            print(json.dumps([asdict(p) for p in error.problems], ensure_ascii=False))
        for problem in error.problems:
            print(problem, file=sys.stderr)
        return 2
    except TurnscrewError as error:
        print(error, file=sys.stderr)
        return next(code for kind, code in EXIT_CODES if isinstance(error, kind))
    except OSError as error:
        print(f"{error.filename or 'file'}: {error.strerror}", file=sys.stderr)
        return 2
    except Exception:  # noqa: BLE001 - the outermost shell: whatever is left is our bug
        print("our bug, please report it with the lines below", file=sys.stderr)
        print(traceback.format_exc(), file=sys.stderr)
        return OUR_BUG
    return 0
