"""The command ``turnscrew opening``."""

import json
import sys
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from turnscrew.cli.reading import device_from, problem_from
from turnscrew.cli.said import Says, Wording, phrases_of, said, says_in
from turnscrew.cli.writing import write_whole
from turnscrew.core.model.device import Device
from turnscrew.core.model.language import in_language, own_words
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.core.model.times import Who
from turnscrew.core.opening.answer import Action, OpeningAnswer
from turnscrew.core.opening.whole import arrived_words
from turnscrew.errors import BadArgumentError
from turnscrew.files.problem_file import answer_json
from turnscrew.flows.opening import opening_compared, solved
from turnscrew.papers.page import Paper

if TYPE_CHECKING:
    from turnscrew.papers.page import Page, Size


@dataclass(frozen=True)
class Wish:
    """
    What the user asked for.

    Parameters
    ----------
    device
        File of the description; needed unless a bare problem is solved.
    reach
        What to reach.
    revision
        Revision, or none said.
    already_off
        What is off already.
    seconds
        Time to search. [s]
    out
        Folder for papers, or none.
    paper
        Paper size.
    as_json
        True for JSON.
    pace
        Whose times are taken.
    serial
        Serial of the device; empty if not said.
    wording
        How what is printed and the sheets are read.
    """

    device: Path | None
    reach: tuple[str, ...]
    revision: str | None
    already_off: tuple[str, ...]
    seconds: float
    out: Path | None
    paper: str
    as_json: bool
    pace: str = "typical"
    serial: str = ""
    wording: Wording = Wording()


def time_limit(seconds: float) -> Callable[[], bool]:
    """
    Start the clock.

    Parameters
    ----------
    seconds
        Time allowed. [s]

    Returns
    -------
    Callable
        Tells whether the time is up.
    """
    end = time.monotonic() + seconds
    return lambda: time.monotonic() >= end


def page_named(word: str) -> "Size":
    """
    Read the name of a paper size.

    Parameters
    ----------
    word
        The name.

    Returns
    -------
    Size
        The size.

    Raises
    ------
    BadArgumentError
        If it is neither of the two.
    """
    match word.lower():
        case "a4":
            return "a4"
        case "letter":
            return "letter"
    raise BadArgumentError(f"paper {word}, wanted a4 or letter")


def paper_in(word: str, wording: Wording) -> Paper:
    """
    Read the name of a paper size, and how it is read.

    Parameters
    ----------
    word
        The name of the size.
    wording
        How it is read.

    Returns
    -------
    Page
        The paper.

    Raises
    ------
    BadArgumentError
        If the size is not known.
    """
    return Paper(page_named(word), wording.notation, wording.language or "en")


def pace_named(word: str) -> Who:
    """
    Read whose times are taken.

    Parameters
    ----------
    word
        The word.

    Returns
    -------
    Who
        The pace.

    Raises
    ------
    BadArgumentError
        If it is none of the three.
    """
    match word:
        case "first" | "typical" | "practised":
            return word
    raise BadArgumentError(f"pace {word}, wanted first, typical or practised")


def _says(device: Device, wording: Wording) -> Says:
    phrases = phrases_of("opening").get(wording.language)
    if phrases is None:
        return says_in(wording, "opening")
    book = Phrasebook(phrases, own_words(device, wording.language))
    return lambda text: wording.figures(book.says(text))


def _in_words_of(device: Device, language: str) -> Device:
    known = {**phrases_of("opening"), **device.words}
    if language and language not in known:
        raise BadArgumentError(f"language {language}, wanted {', '.join(known)}")
    return in_language(device, language)


def solve_problem(path: Path, *, one_way: bool, seconds: float, as_json: bool) -> None:
    """
    Solve a numeric problem and print the answer.

    Parameters
    ----------
    path
        The problem's file.
    one_way
        True for the way in alone.
    seconds
        Time to search. [s]
    as_json
        True for JSON.
    """
    # Wording and replaying need a share of the time too.
    is_time_up = time_limit(seconds)
    answer = solved(problem_from(path), is_time_up, one_way=one_way)
    if as_json:
        print(json.dumps(answer_json(answer), ensure_ascii=False))
        return
    print(f"{answer.status}: cost {answer.cost}, bound {answer.bound}")
    if answer.reason:
        print(answer.reason)
    for move in answer.plan:
        print(f"{move.cost:>7}  {move}")


def open_device(wish: Wish) -> None:
    """
    Reckon a device's opening, print it and write its papers.

    Parameters
    ----------
    wish
        What the user asked for.

    Raises
    ------
    BadArgumentError
        If no device is named, or paper size, pace or language is unknown.
    """
    if wish.device is None:
        raise BadArgumentError("name a device description, or --problem with a file")
    page = paper_in(wish.paper, wish.wording)
    language = wish.wording.language
    pace = pace_named(wish.pace)
    device = _in_words_of(device_from(wish.device, wish.revision), language)
    answer = opening_compared(
        device,
        wish.reach,
        time_limit(wish.seconds),
        already_off=wish.already_off,
        pace=pace,
    )
    arrived = arrived_words(device, wish.serial)
    answer = replace(answer, about=(*answer.about, *arrived))
    if wish.as_json:
        print(json.dumps(opening_json(answer), ensure_ascii=False))
    else:
        print("\n".join(said(lines_of(answer), _says(device, wish.wording))))
    if wish.out is not None and answer.cost_s is not None:
        papers = write_papers(device, answer, wish.out, page, language)
        written = [f"written: {path}" for path in papers]
        for line in said(written, _says(device, wish.wording)):
            print(line, file=sys.stderr)


def opening_json(answer: OpeningAnswer) -> dict[str, object]:
    """
    Give an answer as plain JSON values.

    Parameters
    ----------
    answer
        The answer.

    Returns
    -------
    dict
        The document.
    """
    document = asdict(answer)
    for name in ("opening", "refit"):
        document[name] = [
            {
                "action": line.pop("verb"),
                ("joint" if line["letter"] else "part"): line["name"],
            }
            | line
            for line in document[name]
        ]
    return document


def lines_of(answer: OpeningAnswer) -> list[str]:
    """
    Write an answer as readable text.

    Parameters
    ----------
    answer
        The answer.

    Returns
    -------
    list[str]
        Lines.
    """
    revision = f", revision {answer.revision}" if answer.revision else ""
    lines = [f"{answer.device}{revision}: to reach {', '.join(answer.reach)}"]
    if answer.cost_s is None or answer.bound_s is None:
        lines.append(f"impossible: {answer.reason}")
        if answer.apart:
            openings = " – ".join(", ".join(group) for group in answer.apart)
            lines.append(f"not in one opening, but one after another: {openings}")
        return lines
    lines += [answer.proof_words, answer.time_words]
    lines += [answer.saved_words] if answer.saved_words else []
    lines += answer.about
    lines += [f"uses up: {u.spare}, {u.amount} ({u.why})" for u in answer.used_up]
    lines += [f"before opening: {words}" for words in answer.before_opening]
    lines += [f"easily mistaken: {words}" for words in answer.confusable]
    lines += ["", "Opening path"]
    for action in answer.opening:
        lines += _action_lines(action)
    lines += ["", "Refit list"]
    for action in answer.refit:
        lines += _action_lines(action)
    lines += ["", "Close gate"]
    lines += [f"  [ ] {g.name}: {g.says}" for g in answer.gates] or ["  nothing to ask"]
    counts = {(a.letter, a.name, a.n) for a in answer.opening if a.letter}
    lines += [
        f"  [ ] {n} of {letter} {name} back" for letter, name, n in sorted(counts)
    ]
    lines += ["", "After closing"]
    lines += [f"  [ ] {words}" for words in (*answer.settings, *answer.final_tests)]
    lines += [f"  {words}" for words in (*answer.signals, *answer.photos)]
    lines.append(f"untouched joints: {len(answer.untouched)}")
    lines.append("Follow local codes; leave mains parts to licensed people.")
    return lines


def _action_lines(action: Action) -> list[str]:
    head = f"  [ ] {action.number:>2}  {action.letter:<2}  {action.says}"
    if action.seconds:
        head += f"  ({action.seconds:g} s)"
    lines = [f"      {action.stop}"] if action.stop else []
    lines += [f"      ! {caution}" for caution in action.cautions]
    lines.append(head)
    lines += [f"         {detail}" for detail in action.details]
    if action.sign_off:
        lines.append(f"         only: {action.sign_off}")
    if action.renew:
        lines.append(f"         renew at refit: {action.renew}")
    return lines


def write_papers(
    device: Device,
    answer: OpeningAnswer,
    out: Path,
    paper: "Page",
    language: str = "",
) -> list[Path]:
    """
    Write sheets, card and drawings of an opening.

    Parameters
    ----------
    device
        The device.
    answer
        Its opening.
    out
        Folder, made if it is not there.
    paper
        Paper size.
    language
        Language of the opening sheet; empty for English.

    Returns
    -------
    list[Path]
        The files written.
    """
    from turnscrew.papers.drawing import face_svg  # noqa: PLC0415 - slow library
    from turnscrew.papers.fastener_card import fastener_card  # noqa: PLC0415
    from turnscrew.papers.in_words import in_words  # noqa: PLC0415
    from turnscrew.papers.sheets import opening_sheet  # noqa: PLC0415
    from turnscrew.papers.word_card import word_card  # noqa: PLC0415

    letters = {a.name: a.letter for a in answer.opening if a.letter}
    faces = sorted({a.view for a in answer.opening if a.view})
    files: dict[str, bytes] = {
        "opening-sheet.pdf": opening_sheet(device, answer, paper, language),
        "fastener-card.pdf": fastener_card(device, answer, paper, language or "en"),
        "word-card.pdf": word_card(paper, language or "en"),
    }
    drawn = {face: face_svg(device, face, letters) for face in faces}
    own = own_words(device, language)
    told = in_words({"faces": drawn}, "", language, own=own)["faces"]
    for face, svg in told.items():
        files[f"face-{face.replace(' ', '-')}.svg"] = svg.encode()
    out.mkdir(parents=True, exist_ok=True)
    written = []
    for name, content in files.items():
        path = out / name
        write_whole(path, content)
        written.append(path)
    return written
