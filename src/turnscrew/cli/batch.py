"""The command ``turnscrew batch``."""

import json
import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from turnscrew.cli.batch_folder import folder_from
from turnscrew.cli.batch_lines import lines_of
from turnscrew.cli.opening import paper_in, time_limit
from turnscrew.cli.progress import progress
from turnscrew.cli.reading import device_from
from turnscrew.cli.said import Says, Wording, phrases_of, said, says_in
from turnscrew.cli.writing import write_whole
from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.calendar import A_DAY_MEANT, can_be_meant
from turnscrew.core.model.device import Device
from turnscrew.errors import BadArgumentError
from turnscrew.files.batch_json import batch_json
from turnscrew.files.question_text import (
    absence_from,
    answer_from,
    late_part_from,
    sign_off_from,
)
from turnscrew.flows.batch.harvest import with_never_harvested
from turnscrew.flows.batch.openings import (
    computed_openings,
    minutes_by_description,
    paths_remembered,
    uses_by_description,
)
from turnscrew.flows.batch.whole import (
    USUAL_EFFORT,
    USUAL_SEED,
    Effort,
    batch_reckoned,
    usual_plays,
)
from turnscrew.papers.batch.speech import Speech

if TYPE_CHECKING:
    from turnscrew.papers.page import Page

_OPENING_S = 20.0
"""Time for all computed openings of a batch. [s]"""


@dataclass(frozen=True)
class Wish:
    """
    What the user asked for.

    Parameters
    ----------
    folder
        Folder of the batch.
    out
        Folder for papers, or none.
    today
        The day work begins; the day received if not said.
    away, answers_on, answers, no_donors, late_parts, sign_offs, copies
        The question, in the user's words.
    effort
        Work of the search for the best plan; the usual if not said.
    n_plays
        Plays of the simulation; by the size of the batch if not said.
    paper
        Paper size.
    as_json
        True for JSON.
    wording
        How what is printed and the papers are read.
    """

    folder: Path
    out: Path | None = None
    today: str | None = None
    away: tuple[str, ...] = ()
    answers_on: int | None = None
    answers: tuple[str, ...] = ()
    no_donors: bool = False
    late_parts: tuple[str, ...] = ()
    sign_offs: tuple[str, ...] = ()
    copies: int = 1
    effort: float | None = None
    n_plays: int | None = None
    paper: str = "a4"
    as_json: bool = False
    wording: Wording = Wording()


def reckon_batch(wish: Wish) -> None:
    """
    Reckon a batch, print it and write its papers.

    Parameters
    ----------
    wish
        What the user asked for.
    """
    page = _page_of(wish)
    batch = folder_from(wish.folder)
    n_devices = len(batch.lines) * wish.copies
    with progress(f"{n_devices:,} devices") as tell:
        tell(0, 1, "compare, decide, quote, allot, plan")
        answer, openings = answered(wish, batch)
        if wish.out is None:
            tell(1, 1, "reckoned")
        else:
            write_papers(answer, wish.out, page, openings(), tell)
    if wish.as_json:
        print(json.dumps(batch_json(answer), ensure_ascii=False))
    else:
        print("\n".join(said(lines_of(answer), _says(answer, wish.wording))))


def _says(answer: BatchAnswer, wording: Wording) -> Says:
    if not wording.language:
        return says_in(wording, "batch")
    phrases = phrases_of("batch")
    return Speech(answer, wording.language, wording.notation, phrases).line


def _page_of(wish: Wish) -> "Page":
    return paper_in(wish.paper, wish.wording)


def answered(
    wish: Wish, batch: BatchInput
) -> tuple[BatchAnswer, Callable[[], list[tuple[str, str, str]]]]:
    """
    Give the answer, and how to reckon the openings that its papers list.

    Parameters
    ----------
    wish
        What the user asked for.
    batch
        What its folder holds.

    Returns
    -------
    tuple
        The answer, and what gives the computed openings as words.

    Raises
    ------
    BadArgumentError
        If a word cannot be read, or a device is answered for that is not asked about.
    """
    what_if = question_of(wish, batch)
    device_of = descriptions_in(wish.folder, batch)
    batch = with_never_harvested(batch, device_of)
    path_of = paths_remembered(device_of, time_limit(_OPENING_S))
    effort = USUAL_EFFORT if wish.effort is None else wish.effort
    n_plays = wish.n_plays
    if n_plays is None:
        n_plays = usual_plays(len(batch.lines) * wish.copies)
    answer = batch_reckoned(
        batch,
        what_if,
        minutes_by_description(batch, device_of, path_of),
        Effort(effort, n_plays, _draws()),
        uses_by_description(batch, device_of, path_of),
    )
    _refuse_unasked(answer)

    def openings() -> list[tuple[str, str, str]]:
        found = computed_openings(answer.batch, answer.devices, device_of, path_of)
        return [
            (
                f"{one.model}: {', '.join(one.reach)}",
                "–" if one.standard_min is None else f"{one.standard_min} min",
                one.proof
                if one.computed_s is None
                else f"{one.computed_s / 60:.1f} min",
            )
            for one in found
        ]

    return answer, openings


def _refuse_unasked(answer: BatchAnswer) -> None:
    """Refuse an answer for a device that nobody asks about."""
    faults = {line.line: line.found for line in answer.batch.lines}
    # Where the answer left a fault out, that fault was asked about.
    asked = {
        one.name
        for one in answer.devices
        if one.decision.code == "ask" or one.line.found != faults.get(one.name)
    }
    odd = sorted(set(answer.what_if.answers) - asked)
    if odd:
        found = ", ".join(map(str, odd))
        wanted = ", ".join(map(str, sorted(asked))) or "none, as nothing is asked"
        raise BadArgumentError(f"answer: found {found}, wanted one of {wanted}")


def question_of(wish: Wish, batch: BatchInput) -> WhatIf:
    """
    Read the question from the user's words.

    Parameters
    ----------
    wish
        What the user asked for.
    batch
        The batch.

    Returns
    -------
    WhatIf
        The question.

    Raises
    ------
    BadArgumentError
        If a word cannot be read.
    """
    terms = batch.terms
    start = 1
    if wish.today is not None:
        try:
            today = date.fromisoformat(wish.today)
        except ValueError:
            raise BadArgumentError(
                f"today: found {wish.today}, wanted a day such as 2027-02-01"
            ) from None
        if not can_be_meant(today):
            raise BadArgumentError(f"today: found {today}, wanted {A_DAY_MEANT}")
        if today < terms.received:
            raise BadArgumentError(
                f"today: found {today}, wanted {terms.received} or later"
            )
        start = terms.calendar.number_of(today, terms.received)
    return WhatIf(
        away=tuple(absence_from(words) for words in wish.away),
        answers_on=wish.answers_on,
        answers=dict(answer_from(words) for words in wish.answers),
        use_donors=not wish.no_donors,
        late_parts=dict(map(late_part_from, wish.late_parts)),
        sign_offs=tuple(sign_off_from(words) for words in wish.sign_offs),
        copies=wish.copies,
        start_day=start,
    )


def _draws() -> Callable[[], float]:
    source = random.Random(USUAL_SEED)
    return lambda: source.gauss(0.0, 1.0)


def descriptions_in(
    folder: Path, batch: BatchInput
) -> Callable[[str, str], Device | None]:
    """
    Look descriptions up in the folder of a batch.

    Parameters
    ----------
    folder
        The folder.
    batch
        What it holds.

    Returns
    -------
    Callable
        Gives the description of a model and revision, if there is one.
    """

    @cache
    def device_of(model: str, revision: str) -> Device | None:
        name = batch.terms.models[model].device
        if not name or not (folder / name).is_file():
            return None
        return device_from(folder / name, revision or None)

    return device_of


def write_papers(
    answer: BatchAnswer,
    out: Path,
    page: "Page",
    openings: list[tuple[str, str, str]],
    tell: Callable[[int, int, str], None],
) -> None:
    """
    Write every paper of a batch.

    Parameters
    ----------
    answer
        The batch.
    out
        Folder, made if it is not there.
    page
        Paper size.
    openings
        Computed openings, as words.
    tell
        Takes steps done, steps in all, and words for the step that begins.
    """
    from turnscrew.papers.batch.every import (  # noqa: PLC0415 - slow library
        every_paper,
    )

    papers = every_paper(answer, page, openings)
    out.mkdir(parents=True, exist_ok=True)
    n_steps = 1 + len(papers)
    for n, (name, make) in enumerate(papers.items(), 1):
        tell(n, n_steps, str(out / name))
        content = make()
        if content is None:
            tell(n, n_steps, f"{out / name}: nothing to say")
            continue
        raw = content.encode() if isinstance(content, str) else content
        write_whole(out / name, raw)
    tell(n_steps, n_steps, f"all papers in {out}")
