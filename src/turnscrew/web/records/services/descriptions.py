"""How does a description come into the records, and who lets others work from it?"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import count

from turnscrew.core.bench.run import Run
from turnscrew.core.model.device import Device
from turnscrew.core.model.proof import Release
from turnscrew.core.model.terms import Terms
from turnscrew.core.model.times import ElementTime
from turnscrew.core.recording.recorded import is_as_recorded
from turnscrew.core.recording.release import as_told, release_after
from turnscrew.errors import BadFileError, Problem
from turnscrew.files.device_file import read_device
from turnscrew.files.device_writing import edit_device
from turnscrew.files.faults_file import read_faults
from turnscrew.files.yaml_text import Branch, Leaf, Node, Row, decode, read_tree
from turnscrew.files.yaml_write import Plain
from turnscrew.web.records.models import BenchRun, Description, Person
from turnscrew.web.records.queries.descriptions import (
    UNWRITTEN,
    device_in,
    newest,
    revisions_of,
)
from turnscrew.web.records.queries.descriptions_page import (
    changed_between,
    loose_ends,
)
from turnscrew.web.records.queries.rebuilds import BY_LEAD, RebuildTold, rebuild_told
from turnscrew.web.records.queries.said_otherwise import descriptions_otherwise
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import read_anew
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def keep_description(
    model: str, text: str, *, by: Person, now: datetime, faults_text: str = ""
) -> Description:
    """
    Keep a version of a description; a text that is there already is not kept twice.

    It is as far proven as it says itself; whoever brings it in answers for that.
    """
    device = read_device(text)
    if faults_text:
        read_faults(faults_text, device)
    before = newest(model)
    faults_text = faults_text or (before.faults_text if before else "")
    if before is not None and (before.text, before.faults_text) == (text, faults_text):
        return before
    last = Description.objects.filter(model=model).order_by("-number").first()
    said = device.release.state if device.release else Description.DRAFT
    return Description.objects.create(
        model=model,
        number=last.number + 1 if last else 1,
        text=text,
        faults_text=faults_text,
        state=said,
        by=by,
        at=now,
    )


def keep_of_folder(
    contents: Mapping[str, bytes], terms: Terms, *, by: Person, now: datetime
) -> tuple[list[Description], list[str]]:
    """
    Keep the descriptions that came with a batch, by the names its terms give.

    Of a model on record nothing is written over: what was recorded, corrected or
    withdrawn since stands, and what the folder says otherwise is told.
    """
    texts = _texts_in(contents, terms)
    known = Description.objects.filter(model__in=texts).values_list("model", flat=True)
    on_record = {model: texts.pop(model) for model in set(known)}
    otherwise = descriptions_otherwise(on_record)
    kept = [
        keep_description(model, text, by=by, now=now, faults_text=faults_text)
        for model, (text, faults_text) in texts.items()
    ]
    return kept, otherwise


def _texts_in(
    contents: Mapping[str, bytes], terms: Terms
) -> dict[str, tuple[str, str]]:
    """Read descriptions and fault tables by model; all problems are told at once."""
    texts: dict[str, tuple[str, str]] = {}
    problems: list[Problem] = []
    for model, facts in terms.models.items():
        if facts.device not in contents:
            continue
        stem = facts.device.removesuffix(".device.yaml")
        names = {"description": facts.device, "fault table": f"{stem}.faults.yaml"}
        try:
            text, faults_text = (
                _decoded(contents.get(name, b""), name) for name in names.values()
            )
            read_all(text, faults_text)
            texts[model] = text, faults_text
        except BadFileError as error:
            problems += [
                replace(one, file=names.get(one.file, one.file))
                for one in error.problems
            ]
    if problems:
        raise BadFileError(tuple(problems))
    return texts


def _decoded(content: bytes, name: str) -> str:
    try:
        return decode(content)
    except BadFileError as error:
        told = tuple(replace(one, file=name) for one in error.problems)
        raise BadFileError(told) from None


@dataclass(frozen=True)
class Brought:
    """A version brought in, with what is draft again in it."""

    description: Description
    changed: tuple[str, ...] = ()
    is_new: bool = True


def bring(
    model: str,
    text: str,
    *,
    by: Person,
    now: datetime,
    faults_text: str = "",
    written_from: int | None = None,
) -> Brought:
    """
    Take in a description, or another text of one that is there.

    Of one that is there only what was changed falls back to draft; what recordings
    gave and was changed here is noted as told by a person, so that they leave it alone.
    A text written from a version that is not worked from any more undoes nothing: it is
    refused.
    """
    model = model.strip()
    if by.rights not in {Person.LEAD, Person.HELPER}:
        raise RefusedError(f"rights: found {by.name}, wanted a lead or helper")
    if not model:
        raise RefusedError("model: found none, wanted its short name as in the terms")
    read_all(text, faults_text)
    return _brought(
        model, text, by=by, now=now, faults_text=faults_text, written_from=written_from
    )


@writing
def _brought(
    model: str, text: str, *, by: Person, now: datetime, faults_text: str,
    written_from: int | None,
) -> Brought:  # fmt: skip
    if written_from is not None:
        _refuse_if_past(model, written_from)
    before = newest(model)
    if before is not None and text != before.text:
        text = _noted_as_told(before, text, by, now)
    kept = keep_description(model, text, by=by, now=now, faults_text=faults_text)
    if before is None:
        return Brought(_no_further_than(kept, by))
    if kept.pk == before.pk:
        return Brought(kept, is_new=False)
    changed = changed_between(before, kept)
    if kept.state != Description.WITHDRAWN:
        _carry(before, kept, changed, by)
    return Brought(kept, tuple(changed))


def _refuse_if_past(model: str, number: int) -> None:
    """Say which version came since a text was written from an older one."""
    rows = Description.objects.filter(model=model).order_by("-number")
    now = newest(model) or rows.first()
    if now is None or now.number == number:
        return
    base = rows.filter(number=number).first()
    other = [] if base is None else changed_between(base, now)
    if base is not None and base.faults_text != now.faults_text:
        other.append("the fault table")
    raise RefusedError(
        f"version: found version {now.number} by {now.by.name}, other in "
        f"{', '.join(other) or 'its text'}, wanted that put into this text too, and "
        f"{now.number} as what it was written from"
    )


def read_all(text: str, faults_text: str) -> Device:
    """Read a description and its fault table; every problem of both is told at once."""
    device: Device | None = None
    problems: tuple[Problem, ...] = ()
    try:
        device = read_device(text)
    except BadFileError as error:
        problems = tuple(replace(one, file="description") for one in error.problems)
    if device is not None and faults_text.strip():
        try:
            read_faults(faults_text, device)
        except BadFileError as error:
            problems = tuple(replace(one, file="fault table") for one in error.problems)
    if device is None or problems:
        raise BadFileError(problems)
    return device


def correct_fact(
    model: str, where: str, value: str, *, by: Person, now: datetime
) -> Brought:
    """Change one fact of the newest version; every other character of it stays."""
    before = newest(model)
    if before is None:
        raise RefusedError(f"description: found none of {model}, wanted one")
    plain = _typed(value.strip())
    device = device_in(before, "")
    text = edit_device(before.text, _path(where.strip(), device), plain)
    return bring(
        model, text, by=by, now=now, faults_text=before.faults_text,
        written_from=before.number,
    )  # fmt: skip


def copy_revision(
    description: Description, revision: str, words: str, *, by: Person, now: datetime
) -> tuple[Description, str]:
    """
    Copy a revision under a name of its own, to be written up: nobody described it yet.

    Work goes on by the copy; whatever is corrected in it later touches no other.
    """
    before = newest(description.model) or description
    known = revisions_of(before)
    name = next(one for n in count(1) if (one := f"{UNWRITTEN} {n}") not in known)
    entry: dict[str, Plain] = {"tell": f"not written up yet: {words}"}
    root = read_tree(before.text)[0].items.get("revisions")
    own = root.items.get(revision) if isinstance(root, Branch) else None
    differs = own.items.get("differs") if isinstance(own, Branch) else None
    if differs is not None:
        entry["differs"] = _plain(differs)
    text = edit_device(before.text, ("revisions", name), entry)
    brought = bring(before.model, text, by=by, now=now, faults_text=before.faults_text)
    return brought.description, name


def _path(where: str, device: Device) -> tuple[str | int, ...]:
    """Take a fact as the list of debts names it apart; a name may have dots in it."""
    section, _, rest = where.partition(".")
    named = {"joints": device.joints, "parts": device.parts, "moves": device.moves}
    fitting = [n for n in named.get(section, {}) if rest.startswith(f"{n}.")]
    if section in named and not fitting:
        known = ", ".join(named[section]) or "none"
        raise RefusedError(f"fact: found {where}, wanted {section} of {known}")
    if not fitting:
        return tuple(filter(None, where.split(".")))
    name = max(fitting, key=len)
    return (section, name, *filter(None, rest[len(name) + 1 :].split(".")))


_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|' r"'[^']*'")
_LOST = re.compile(r"(?<![^\s,:\[{])[#&*!]")
"""What of a list is no word in it unless it stands in quotation marks."""


def _typed(value: str) -> Plain:
    """Take what was typed: a list or keys in brackets, else all of it as one text."""
    if not value:
        raise RefusedError("value: found none, wanted what is right")
    if value[0] not in "[{":
        is_quoted = _QUOTED.fullmatch(value) is not None
        return _plain(_read(value)) if is_quoted else value
    lost = _LOST.search(_QUOTED.sub("", value))
    if lost:
        raise RefusedError(
            f"value: found {lost[0]} in a list, wanted its words in quotation marks"
        )
    if value[-1] not in "]}":
        raise RefusedError(
            "value: found a bracket that is not closed at the end, wanted it closed, "
            "or none at the beginning"
        )
    return _plain(_read(value))


def _read(value: str) -> Node | None:
    return read_tree(f"value: {value}\n")[0].items.get("value")


def _plain(node: Node | None) -> Plain:
    match node:
        case Leaf(text=text):
            return text
        case Row(items=items):
            return [_plain(one) for one in items]
        case Branch(items=by_key):
            return {key: _plain(one) for key, one in by_key.items()}
    return None


def _noted_as_told(before: Description, text: str, by: Person, now: datetime) -> str:
    """Write beside what recordings gave and was changed here that a person told it."""
    old, new = device_in(before, ""), read_device(text)
    told = as_told(old, new, by.ref, now.date())
    for section in ("parts", "joints", "moves"):
        things = getattr(told, section)
        for name, thing in getattr(new, section).items():
            if is_as_recorded(thing) and things[name].origin != thing.origin:
                origin = {"how": "told", "by": by.ref, "on": now.date().isoformat()}
                text = edit_device(text, (section, name, "origin"), origin)
    return text


def _no_further_than(kept: Description, by: Person) -> Description:
    """Let nobody but a lead bring in a text that says of itself that it was tried."""
    if by.rights != Person.LEAD and kept.state != Description.WITHDRAWN:
        kept.state = Description.DRAFT
        kept.save(update_fields=["state"])
    return kept


def _carry(
    before: Description, kept: Description, changed: Iterable[str], by: Person
) -> None:
    """Let a new version be as far proven as the one before, but for what changed."""
    kept.may_try = before.may_try
    if before.state == Description.DRAFT:
        _no_further_than(kept, by)
    else:
        kept.state, kept.edited = before.state, sorted({*before.edited, *changed})
        kept.tried_by, kept.released_by = before.tried_by, before.released_by
    kept.save(update_fields=_CARRIED)


_CARRIED = ("may_try", "state", "edited", "tried_by", "released_by")


@writing
def keep_times(
    model: str, times: Mapping[str, ElementTime], *, by: Person, now: datetime
) -> Description:
    """Put own times into the newest version; it stays as far proven as it was."""
    before = newest(model)
    if before is None:
        raise RefusedError(f"description: found none of {model}, wanted one")
    text = before.text
    for element, one in times.items():
        plain: Plain = {
            "strip_s": round(one.strip_s, 1), "refit_s": round(one.refit_s, 1),
            "n_jobs": one.n_jobs, "source": one.source,
        }  # fmt: skip
        text = edit_device(text, ("times", element), plain)
    kept = keep_description(model, text, by=by, now=now)
    if kept.pk != before.pk:
        for name in _CARRIED:
            setattr(kept, name, getattr(before, name))
        kept.save(update_fields=_CARRIED)
    return kept


@writing
def let_try(description: Description, who: Person, *, by: Person) -> None:
    """Let somebody who did not record a description rebuild a device from it."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to say so")
    read_anew(description)
    if who.pk == description.by_id:
        raise RefusedError(
            f"trial: found {who.name}, wanted somebody who did not record it"
        )
    description.may_try = who
    description.save(update_fields=["may_try"])


@writing
def note_rebuild(
    row: BenchRun, *, n_in_tray: int, by: Person, now: datetime
) -> Description | None:
    """Write what a device closed by a description that is not released proves of it."""
    if row.description is None or row.kind != BenchRun.PATH:
        return None
    description = Description.objects.select_for_update().get(pk=row.description.pk)
    if description.state == Description.RELEASED and not description.edited:
        return description
    told = rebuild_told(row, n_in_tray, by, now)
    rebuild = told.rebuild
    _keep_rebuild(row, description, told, by=by, now=now)
    is_proof = rebuild.is_blind and rebuild.is_clean and not loose_ends(description)
    if is_proof:
        description.edited = []
    if description.state != Description.RELEASED:
        after = release_after(rebuild, Release(description.state))  # type: ignore[arg-type]
        if after.state == Description.DRAFT:
            description.state, description.tried_by = Description.DRAFT, None
        elif is_proof:
            description.state, description.tried_by = after.state, by
    description.save(update_fields=["state", "tried_by", "edited"])
    return description


def _keep_rebuild(
    row: BenchRun, description: Description, told: RebuildTold, *, by: Person,
    now: datetime,
) -> None:  # fmt: skip
    one = told.rebuild
    append(
        "bench", "rebuilt", row.job.ref, by=by, now=now,
        facts={
            "version": description.number, "is_blind": one.is_blind,
            "n_left_over": one.n_left_over, "n_wrong_place": one.n_wrong_place,
            "n_questions": one.n_questions, "n_stops": one.n_stops,
            "minutes": round(told.minutes), "said_min": round(told.said_min),
            "asked_at": "; ".join(told.asked_at)[:300],
        },
    )  # fmt: skip


def with_lead_lines(run: Run, description: Description) -> Run:
    """Keep the lines on what was edited and not tried since for a lead."""
    edited = frozenset(description.edited)
    lines = tuple(
        replace(line, sign_off=BY_LEAD) if line.name in edited else line
        for line in run.lines
    )
    return replace(run, lines=lines)


@writing
def release(description: Description, *, by: Person) -> None:
    """Release a description for helpers: a lead's word, after a trial by another."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to release it")
    read_anew(description)
    if description.state != Description.TRIED:
        raise RefusedError(
            f"state: found {description.state}, wanted it tried by another first"
        )
    loose = loose_ends(description)
    if loose:
        raise RefusedError(f"holds: found nothing said of {', '.join(loose)}")
    description.state, description.released_by = Description.RELEASED, by
    description.save(update_fields=["state", "released_by"])


@writing
def withdraw(description: Description, *, by: Person) -> None:
    """Pull a description: nobody works from it any more."""
    if by.rights != Person.LEAD:
        raise RefusedError(f"lead: found {by.name}, wanted a lead to withdraw it")
    description.state = Description.WITHDRAWN
    description.save(update_fields=["state"])
