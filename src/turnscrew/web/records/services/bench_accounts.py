"""Which of two accounts of one device holds, after two benches were apart?"""

from datetime import datetime
from hashlib import sha256

from turnscrew.web.records.models import BenchRun, BenchStroke, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services.bench import Told, tell
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def settle(
    row: BenchRun, *, is_theirs: bool, by: Person, now: datetime
) -> list[BenchStroke]:
    """
    Say which of two accounts of a device holds: what is written, or what came later.

    If theirs holds, what is written is taken back as far as the two part, and theirs
    is written in its order; nothing is erased.
    """
    disputed = list(
        row.strokes.filter(standing=BenchStroke.DISPUTED).order_by("told_at", "id")
    )
    if not disputed:
        return _set_old_aside(row, is_theirs=is_theirs, by=by, now=now)
    words = f"{len(disputed)} told apart: {'they hold' if is_theirs else 'do not hold'}"
    parted_at = min(one.line for one in disputed)
    theirs = _account_of(row, disputed, parted_at) if is_theirs else []
    if is_theirs:
        _take_back_to(row, parted_at, by=by, now=now)
    for one in disputed:
        one.standing = BenchStroke.SETTLED
        one.save(update_fields=["standing"])
    append(
        "bench", "action", row.job.ref, by=by, now=now,
        facts={"does": "settle", "run": row.ref, "is_theirs": is_theirs}, words=words,
    )  # fmt: skip
    return [
        tell(
            Told(
                key=_made_key("again", one), run=row.ref, act=one.act, line=one.line,
                at=one.told_at, facts=one.facts, after=bench_runs.told(row).head,
                bench=one.bench,
            ),
            by=one.by, now=now,
        )
        for one in theirs
    ]  # fmt: skip


def _set_old_aside(
    row: BenchRun, *, is_theirs: bool, by: Person, now: datetime
) -> list[BenchStroke]:
    """Set aside what was told of paths that are no longer worked on."""
    old = BenchStroke.objects.filter(
        run__job=row.job_id, standing=BenchStroke.DISPUTED
    ).exclude(run=row)
    if not old.exists():
        raise RefusedError("accounts: found one, wanted two that do not agree")
    if is_theirs:
        raise RefusedError(
            "accounts: found one of an older path, wanted what is so told anew"
        )
    n = old.update(standing=BenchStroke.SETTLED)
    append(
        "bench", "action", row.job.ref, by=by, now=now,
        facts={"does": "settle", "run": row.ref, "is_theirs": False},
        words=f"{n} told of an older path: set aside",
    )  # fmt: skip
    return []


def _account_of(
    row: BenchRun, disputed: list[BenchStroke], parted_at: int
) -> list[BenchStroke]:
    """Give what the other account says from where it parts, without what it undid."""
    benches = {one.bench for one in disputed}
    told_there = row.strokes.filter(bench__in=benches).select_related("by")
    settled = row.strokes.filter(standing=BenchStroke.SETTLED).order_by("id").last()
    apart = told_there.filter(
        id__gt=settled.pk if settled else 0,
        standing__in=(BenchStroke.AGREED, BenchStroke.DISPUTED),
    )
    first = apart.order_by("id")[0]
    account: list[BenchStroke] = []
    for one in told_there.filter(id__gte=first.pk).order_by("id"):
        if one.act != "undo":
            account.append(one)
        elif account:
            account.pop()
    return [one for one in account if one.line >= parted_at]


def _made_key(what: str, one: BenchStroke) -> str:
    """Make a key for what is written of a stroke, the same whenever it is asked."""
    return sha256(f"{what} {one.client_key}".encode()).hexdigest()


def _take_back_to(row: BenchRun, line: int, *, by: Person, now: datetime) -> None:
    while True:
        state, _ = bench_runs.state_and_run(row)
        if not state.held or state.held[-1].line < line:
            return
        last = BenchStroke.objects.get(client_key=state.held[-1].key)
        undo = Told(
            key=_made_key("back", last), run=row.ref, act="undo", line=last.line,
            at=now, after=bench_runs.told(row).head,
        )  # fmt: skip
        tell(undo, by=by, now=now)
