"""How does what is whole of a damaged backup become the records of a workshop?"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from shutil import rmtree

from django.apps import apps
from django.db import connections

from turnscrew.core.ledger.entry import JOURNALS, JournalName
from turnscrew.core.ledger.gaps import gaps_text
from turnscrew.errors import BadFileError, Problem
from turnscrew.web.keeping.archive import DATABASE
from turnscrew.web.keeping.mending import Mended, poured
from turnscrew.web.keeping.owner import lead_now
from turnscrew.web.keeping.restore import folder_beside, put_in_place, require_whole
from turnscrew.web.keeping.sealed_rows import whole_rows_in
from turnscrew.web.keeping.tables import Row, tables_at
from turnscrew.web.keeping.upgrade import bring_up_to_date, newest_steps, require_known
from turnscrew.web.keeping.whole import Whole
from turnscrew.web.records.models import Entry, Head, PartPhoto, Photo
from turnscrew.web.records.photo_files import part_path_of, path_of
from turnscrew.web.records.queries.audit import lost_entries
from turnscrew.web.records.services.restoring import tell_in_part

_IN_WORDS = {
    "auth_user": "accounts to sign in by",
    "records_entry": "entries of the journals",
    "records_entrywords": "words of the journals",
    "records_head": "ends of the journals",
    "records_person": "people",
    "records_customer": "customers",
    "records_site": "sites of customers",
    "records_listedrow": "rows of customers' lists",
    "records_accessory": "accessories",
    "records_viewing": "viewings",
    "records_waste": "pieces of waste",
    "records_bench": "benches",
    "records_knowngood": "pieces of the known-good set",
    "records_lookalike": "look-alikes",
}


_REF_LENGTH = 16
"""With how many characters the name of a photo's file begins that name the photo."""


@dataclass
class Lacking:
    """What a restore could not bring back."""

    made_at: str
    n_rows: dict[str, tuple[int, int]] = field(default_factory=dict)
    mended: Mended = field(default_factory=Mended)
    photos: list[str] = field(default_factory=list)
    entries: dict[JournalName, frozenset[int]] = field(default_factory=dict)
    n_of_no_row: int = 0
    is_secret_lost: bool = False
    are_counts_known: bool = True

    def lines(self) -> list[str]:
        """Say it in words, the gravest first."""
        told = [
            f"{_name(table)}: {there} of {wanted} are whole, {wanted - there} lack"
            for table, (there, wanted) in self.n_rows.items()
            if there < wanted
        ]
        if not self.are_counts_known:
            told.append("how many rows there were is lost too: more may lack")
        told += [f"{journal} journal: entries {gaps_text(numbers)} lack"
                 for journal, numbers in self.entries.items() if numbers]  # fmt: skip
        told += [f"{journal} journal: its end is lost; later entries may lack"
                 for journal in self.mended.journals_without_end]  # fmt: skip
        told += list(self._mended_lines())
        told += [f"photo {one}: lacks" for one in self.photos]
        if self.n_of_no_row:
            told.append(
                f"photo files: {self.n_of_no_row} left out, as what they belong to"
                " lacks; the damaged file keeps them"
            )
        if self.is_secret_lost:
            told.append("secret: lacks; links sent to customers no longer open")
        return told

    def _mended_lines(self) -> Iterator[str]:
        sayings = (
            (self.mended.rebuilt, "made again from their earlier form"),
            (self.mended.stand_ins, "known by number alone, and called lost"),
            (self.mended.left_out, "left out, as what they belong to lacks"),
            (self.mended.untied, "no longer tied to what lacks"),
            (self.mended.refused, "left out, as they do not fit"),
        )
        for counts, saying in sayings:
            yield from (f"{_name(table)}: {n} {saying}" for table, n in counts.items())


def restore_in_part(found: Whole, home: Path, address: str, now: datetime) -> Lacking:
    """Bring back what is whole into a new folder, and write down what lacks."""
    if found.steps is not None:
        require_known(found.steps)
    rows = {} if _is_database_used(found, address) else _rows(found)
    if not rows and not _is_database_used(found, address):
        raise BadFileError(
            (Problem("archive", "no table of which a row is whole",
                     "at least one", file=found.path.name),)
        )  # fmt: skip
    lacking = Lacking(found.made_at, is_secret_lost=not found.is_whole("secret"))
    _put_files(found, home, address)
    try:
        if rows:
            tables = tables_at(found.steps or newest_steps(), with_secrets=True)
            lacking.mended = poured(tables, rows)
            lacking.n_rows = _counts(found, rows)
            lacking.are_counts_known = bool(found.n_rows)
        bring_up_to_date()
        lacking.n_of_no_row = _leave_out_of_no_row(home / "photos")
        lacking.photos = list(_lost_photos(found))
        lacking.entries = {journal: _lost_of(journal) for journal in JOURNALS}
        words = "\n".join(lacking.lines())
        tell_in_part(lacking.entries, lacking.made_at, words, by=lead_now(now), now=now)
    except BaseException:
        # An open database is not taken away everywhere.
        connections.close_all()
        rmtree(home, ignore_errors=True)
        raise
    return lacking


def _is_database_used(found: Whole, address: str) -> bool:
    return found.is_whole(DATABASE) and not address


def _rows(found: Whole) -> dict[str, list[Row]]:
    rows = {}
    for name in found.members:
        if name.startswith("tables/"):
            table = name.removeprefix("tables/").removesuffix(".jsonl")
            rows[table] = whole_rows_in(found.content(name), table)
    return {table: some for table, some in rows.items() if some}


def _put_files(found: Whole, home: Path, address: str) -> None:
    home.parent.mkdir(parents=True, exist_ok=True)
    with folder_beside(home) as partial:
        for name, member in found.members.items():
            is_file = name == "secret" or name.startswith("photos/")
            if name == DATABASE:
                is_file = not address
            if member.is_whole and is_file:
                target = partial / name
                target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
                with target.open("xb") as out:
                    target.chmod(0o600)
                    out.writelines(found.pieces(name))
        if (partial / DATABASE).is_file():
            require_whole(partial / DATABASE, found.path)
        put_in_place(partial, home)


def _counts(found: Whole, rows: dict[str, list[Row]]) -> dict[str, tuple[int, int]]:
    wanted = found.n_rows or {name: len(some) for name, some in rows.items()}
    return {name: (len(rows.get(name, ())), n) for name, n in wanted.items()}


def _lost_of(journal: JournalName) -> frozenset[int]:
    """Give the numbers of entries that lack, but for those told before."""
    head = Head.objects.get(journal=journal)
    numbers = Entry.objects.filter(journal=journal).values_list("sequence", flat=True)
    lost = frozenset(range(1, head.sequence + 1)) - frozenset(numbers)
    return lost - lost_entries(journal)


def _leave_out_of_no_row(folder: Path) -> int:
    """Take away the files of photos that are not on record: no erasing finds them."""
    refs = {*Photo.objects.values_list("ref", flat=True)}
    refs |= {*PartPhoto.objects.values_list("ref", flat=True)}
    loose = [
        path
        for path in folder.rglob("*")
        if path.is_file() and path.name[:_REF_LENGTH] not in refs
    ]
    for path in loose:
        path.unlink()
    return len(loose)


def _lost_photos(found: Whole) -> Iterator[str]:
    """Name the photos of which the original, or else a copy, lacks."""
    told = set()
    for photo in Photo.objects.filter(is_removed=False).select_related("job"):
        if not path_of(photo, "original").is_file():
            told.add(photo.ref)
            yield f"{photo.ref} of device {photo.job.number}"
    for one in PartPhoto.objects.select_related("part"):
        if not part_path_of(one, "original").is_file():
            told.add(one.ref)
            yield f"{one.ref} of part {one.part.number}"
    for name in found.manifest.members if found.manifest is not None else ():
        is_photo = name.startswith("photos/") and not found.is_whole(name)
        if is_photo and Path(name).name[:_REF_LENGTH] not in told:
            yield name.removeprefix("photos/")


def _name(table: str) -> str:
    if table in _IN_WORDS:
        return _IN_WORDS[table]
    model = {
        one._meta.db_table: one for one in apps.get_models(include_auto_created=True)
    }.get(table)
    if model is None:
        return table
    said = str(model._meta.verbose_name_plural)
    if said.startswith("historical "):
        return "earlier forms of " + said.removeprefix("historical ")
    return said
