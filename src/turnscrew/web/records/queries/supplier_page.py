"""What do suppliers still owe for faulty pieces, what is lost, and by when?"""

from dataclasses import dataclass
from datetime import date, timedelta

from django.http import Http404

from turnscrew.web.records.models import Lot, Part, PartPhoto, SupplierReturn
from turnscrew.web.records.photo_files import CONTENT_TYPES, part_path_of
from turnscrew.web.records.queries.beyond import first_of

NEAR_DAYS = 7
"""A deadline so near is shown every morning; common practice, no source. [days]"""

_MOST_ENDED = 50


@dataclass(frozen=True)
class ReturnStand:
    """One return as it reads today."""

    row: SupplierReturn
    stands: str
    is_lost: bool
    is_near: bool
    photos: list[PartPhoto]


@dataclass(frozen=True)
class ReturnSums:
    """What all returns come to, in pieces and in minor units."""

    n: int
    n_ended: int
    n_lost: int
    pending_minor: int
    lost_minor: int
    credited_minor: int
    written_off_minor: int


def stand_of(row: SupplierReturn, today: date) -> ReturnStand:
    """Say how a return stands: ended, lost by its day, or what it waits for."""
    is_lost = row.is_lost(today)
    if row.end:
        stands = row.end
    elif is_lost:
        stands = "loss: the day passed"
    elif row.deadline is None:
        stands = "no deadline known: ask the supplier"
    elif row.sent_on is None:
        stands = "to be sent back"
    else:
        stands = f"sent, {row.asked} awaited"
    near = today + timedelta(days=NEAR_DAYS)
    is_near = not row.end and (row.deadline is None or row.deadline <= near)
    return ReturnStand(row, stands, is_lost, is_near, list(row.photos.all()))


def open_returns(today: date) -> list[ReturnStand]:
    """Give the returns without an end, what has no day and the nearest day first."""
    rows = SupplierReturn.objects.filter(end="").select_related("part", "job__item")
    stands = [stand_of(row, today) for row in rows.prefetch_related("photos")]
    return sorted(stands, key=lambda one: (one.row.deadline or date.min, one.row.pk))


def ended_returns() -> tuple[list[SupplierReturn], int]:
    """Give the latest returns that came to an end, and how many more there are."""
    rows = SupplierReturn.objects.exclude(end="").select_related("part")
    return first_of(rows.order_by("-ended_on", "-id"), _MOST_ENDED)


def returns_near(today: date) -> list[ReturnStand]:
    """Give the returns somebody must look at this morning."""
    return [one for one in open_returns(today) if one.is_near]


def return_sums(today: date) -> ReturnSums:
    """Add all returns up; a day that passed makes a loss of what was pending."""
    rows = list(SupplierReturn.objects.all())
    lost = [row for row in rows if row.is_lost(today)]
    waiting = [row for row in rows if not row.end and not row.is_lost(today)]
    given_up = [row for row in rows if row.end == SupplierReturn.WRITTEN_OFF]
    return ReturnSums(
        n=sum(row.n for row in rows),
        n_ended=sum(row.n for row in rows if row.end),
        n_lost=sum(row.n for row in lost),
        pending_minor=sum(row.expected_minor for row in waiting),
        lost_minor=sum(row.expected_minor for row in lost),
        credited_minor=sum(row.credited_minor for row in rows),
        written_off_minor=sum(row.expected_minor for row in given_up),
    )


def known_photos(parts: list[Part]) -> dict[int, list[PartPhoto]]:
    """Give the photos of known pieces to compare with, by part."""
    found: dict[int, list[PartPhoto]] = {}
    for photo in PartPhoto.objects.filter(part__in=parts, is_known_good=True):
        found.setdefault(photo.part_id, []).append(photo)
    return found


def lots_not_used() -> list[Lot]:
    """Give the lots that came whose first piece has not proven itself yet."""
    rows = Lot.objects.filter(first_use="")
    rows = rows.exclude(outcome__in=["rejected", Lot.TAKEN_BACK])
    return list(rows.select_related("part").order_by("id")[:_MOST_ENDED])


def lot_of(pk: int) -> Lot:
    """Give one lot."""
    lot = Lot.objects.select_related("part").filter(pk=pk).first()
    if lot is None:
        raise Http404
    return lot


def part_picture(ref: str, copy: str) -> tuple[bytes, str]:
    """Give a copy of a part's photo and the type of its content."""
    photo = PartPhoto.objects.filter(ref=ref).first()
    if photo is None or copy not in {"shown", "small"}:
        raise Http404
    path = part_path_of(photo, "shown" if copy == "shown" else "small")
    if not path.is_file():
        raise Http404
    return path.read_bytes(), CONTENT_TYPES[path.suffix.removeprefix(".")]
