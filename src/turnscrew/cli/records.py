"""The commands that keep the records: serve, back up, restore, audit, export, erase."""

import os
import sys
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated, Any

import typer

from turnscrew.cli import restores
from turnscrew.cli.records_folder import (
    ADDRESS,
    PHOTOS_LACK,
    default_home,
    now_here,
    opened,
    tell_audit,
)
from turnscrew.core.model.amounts import counted
from turnscrew.errors import BadArgumentError, BadFileError, TurnscrewError

app = typer.Typer()

Home = Annotated[
    Path | None,
    typer.Option(
        "--home",
        help="Folder of the records; TURNSCREW_HOME or turnscrew-records if not said.",
    ),
]


@app.command()
def serve(
    home: Home = None,
    port: Annotated[
        int | None,
        typer.Option(help="8000; 8443 when shared, if not said.", min=1, max=65535),
    ] = None,
    share: Annotated[
        list[str] | None,
        typer.Option(help="Share under this name or address by HTTPS; repeatable."),
    ] = None,
) -> None:
    """
    Serve the records and the counter on this machine.

    Makes the folder and its tables at the first start. Until the owner has been in,
    each start prints a link that signs the owner in once. Nobody else on the network
    reaches it unless --share is said.
    """
    names = tuple(share or ())
    (home or default_home()).mkdir(mode=0o700, parents=True, exist_ok=True)
    with opened(home, shared=names, is_new=True) as folder:
        from turnscrew.web.keeping.owner import (  # noqa: PLC0415 - slow libraries
            first_owner,
            make_sign_in_link,
            owner_not_yet_in,
        )
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            bring_up_to_date,
        )
        from turnscrew.web.serving import server  # noqa: PLC0415 - slow libraries
        from turnscrew.web.serving.certificates import (  # noqa: PLC0415
            certificates,
        )

        now = datetime.now(UTC)
        papers = certificates(folder / "tls", names, now) if names else None
        place = server.Place(
            server.ROOM if names else server.LOOPBACK,
            port or (server.SHARED_PORT if names else server.PORT),
            papers,
        )
        server.require_free(place)
        server.require_writable(folder)
        bring_up_to_date()
        first_owner(now)
        owner = owner_not_yet_in()
        address = _address(names, place.port)
        if names:
            print(server.sharing_words(place, names, folder / "photos"))
        print(f"Records in {folder}\nPages on {address}")
        if owner is not None:
            print(_link_words(address, make_sign_in_link(owner, now)), flush=True)
    server.serve(place)


@app.command()
def receive(
    folder: Annotated[
        Path, typer.Argument(help="Folder with the batch, parts, terms and people.")
    ],
    home: Home = None,
) -> None:
    """
    Bring the folder of a batch into the records, its devices and descriptions.

    The same as choosing its files on the page "Batches". All of it is written or
    nothing; a batch that is there already is refused. Of a customer, a person, a part
    or a description on record nothing is written over, nor is one withdrawn worked
    from again: what the folder says otherwise is told.
    """
    from turnscrew.cli.batch_folder import folder_from  # noqa: PLC0415 - slow libraries

    batch = folder_from(folder)
    (home or default_home()).mkdir(mode=0o700, parents=True, exist_ok=True)
    with opened(home, is_new=True):
        from turnscrew.web.keeping import receiving  # noqa: PLC0415 - slow libraries
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            bring_up_to_date,
        )

        bring_up_to_date()
        came = receiving.receive(folder, batch, now_here())
        print(
            f"{batch.terms.batch}: {counted(len(batch.lines), 'device')} received, "
            f"{counted(came.n_descriptions, 'description')} kept",
            *came.otherwise, sep="\n"
        )  # fmt: skip


@app.command("sign-in-link")
def sign_in_link(
    key: Annotated[str, typer.Argument(help="Short name of the person.")],
    home: Home = None,
    port: Annotated[
        int, typer.Option(help="Port that the pages are served on.", min=1, max=65535)
    ] = 8000,
    without_second_factor: Annotated[
        bool,
        typer.Option(
            "--without-second-factor",
            help="Take the person's second factor away: its device is lost.",
        ),
    ] = False,
) -> None:
    """Print a link that signs a person in once within a day."""
    with opened(home):
        from turnscrew.web.keeping import owner  # noqa: PLC0415 - slow libraries
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            require_current,
        )

        require_current()
        token = owner.make_sign_in_link(
            owner.person_by_key(key), datetime.now(UTC),
            without_factor=without_second_factor,
        )  # fmt: skip
        print(_link_words(_address((), port), token))
        print("Put the address of the pages in front if they are shared.")


@app.command()
def audit(
    home: Home = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print one JSON document.")
    ] = False,
) -> None:
    """
    Walk every journal from its first entry and compare it with the records.

    The file of every photo is compared with what was sealed when it was kept. Exit
    code 0 if all is whole, 1 with the first break named and all of them listed.
    """
    with opened(home):
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            require_current,
        )

        require_current()
        tell_audit(as_json=as_json)


@app.command()
def backup(
    file: Annotated[Path, typer.Argument(help="New file for the backup.")],
    home: Home = None,
) -> None:
    """
    Write everything into one file, while others go on working.

    The file is restored on trial and audited before it gets its name. It holds the
    secret of the records: keep it as safe as the records themselves. Photos whose files
    lack or are no longer those that were kept are named; the exit code is 1 then.
    """
    with opened(home):
        from turnscrew.web.keeping.backup import (  # noqa: PLC0415 - slow libraries
            back_up,
        )
        from turnscrew.web.keeping.newest import remember  # noqa: PLC0415

        now = datetime.now(UTC)
        told = back_up(file, now)
        remember(file, now)
        print(told, f"{file}: {file.stat().st_size} bytes", sep="\n")
        _refuse_photos_that_lack(file, told.splitlines()[-1])


def _refuse_photos_that_lack(file: Path, end: str) -> None:
    """End with an error where a backup was written, but not every photo is whole."""
    if end.startswith(PHOTOS_LACK):
        raise TurnscrewError(
            f"{file}: written, {end}; keep an older backup that holds them"
        )


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A backup.")],
    home: Home = None,
    check: Annotated[
        bool, typer.Option("--check", help="Only say if it can be restored.")
    ] = False,
    trial: Annotated[
        bool,
        typer.Option("--trial", help="The same, and write it in the records' journal."),
    ] = False,
    what_is_whole: Annotated[
        bool,
        typer.Option("--what-is-whole", help="Of a damaged file, all that is whole."),
    ] = False,
    by: Annotated[
        str, typer.Option(help="With --trial: short name of who does it.")
    ] = "lead",
) -> None:
    """
    Bring a backup back on a clean machine, then audit it.

    The folder must be new or empty. A file that is not whole is refused, with a list of
    what is whole and what is not; --what-is-whole brings back what is, lists what is
    not, and writes both in the journal.
    """
    _require_at_most_one(check, trial, what_is_whole)
    if trial:
        restores.try_restore(file, home, by)
    elif what_is_whole and restores.told_damage(file):
        restores.restore_in_part(file, home)
    elif check:
        os.environ[ADDRESS] = ""
        folder = file.absolute().parent
        with TemporaryDirectory(prefix=".restoring-", dir=folder) as scratch:
            _restore(file, Path(scratch) / "records", with_photos=False)
    else:
        try:
            _restore(file, home, with_photos=True)
        except BadFileError as error:
            from turnscrew.web.keeping.sealed_rows import (  # noqa: PLC0415 - slow libraries
                MisfitError,
            )

            # What does not fit is whole: there is no more of it to bring back.
            if not isinstance(error, MisfitError):
                words = f"turnscrew restore {file} --what-is-whole brings back what is"
                print(words, file=sys.stderr)
            raise


def _require_at_most_one(*said: bool) -> None:
    if sum(said) > 1:
        raise BadArgumentError(
            "restore: wanted at most one of --check, --trial and --what-is-whole"
        )


def _restore(file: Path, home: Path | None, *, with_photos: bool) -> None:
    from turnscrew.web.keeping import restore as way  # noqa: PLC0415 - slow libraries
    from turnscrew.web.keeping.archive import (  # noqa: PLC0415 - slow libraries
        examined,
    )
    from turnscrew.web.keeping.tables import (  # noqa: PLC0415 - slow libraries
        require_counts,
        require_empty,
    )
    from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
        bring_up_to_date,
        require_known,
    )

    address = os.environ.get(ADDRESS, "")
    manifest = examined(file)
    way.require_fitting(manifest, address)
    way.make_way(home or default_home())
    with opened(home, is_new=True) as folder:
        require_known(manifest.steps)
        if address:
            require_empty()
        way.restore_files(file, manifest, folder, with_photos=with_photos)
        if not manifest.holds_sqlite:
            way.fill_from(folder, manifest)
        n_rows = require_counts(way.counts_told(file), manifest.steps)
        bring_up_to_date()
        print(f"{len(manifest.members)} members whole, made {manifest.made_at}")
        if n_rows:
            print(f"{n_rows} rows, as many as were put in")
        apart = {
            name.removeprefix("photos/"): digest
            for name, (_, digest) in manifest.members.items()
            if name.startswith("photos/")
        }
        tell_audit(as_json=False, photo_digests=None if with_photos else apart)


@app.command()
def export(
    target: Annotated[Path, typer.Argument(help="New folder, or new FILE.zip.")],
    home: Home = None,
) -> None:
    """
    Write all records so that anybody can read them without this program.

    One CSV and one JSON a table, the photos, and a page that explains them. Passwords,
    sessions and tokens stay here.
    """
    with opened(home):
        from turnscrew.web.keeping.export import (  # noqa: PLC0415 - slow libraries
            export,
        )

        counts = export(target, datetime.now(UTC))
        print(f"{target}: {sum(counts.values())} rows in {len(counts)} tables")


@app.command("import")
def import_(
    source: Annotated[Path, typer.Argument(help="Folder or FILE.zip of an export.")],
    home: Home = None,
) -> None:
    """
    Bring an export into an empty home, then audit it.

    Reads the JSON of a table, or its CSV where the JSON is missing. Nobody has a
    password afterwards: turnscrew sign-in-link lets people in.
    """
    from turnscrew.web.keeping.importing import (  # noqa: PLC0415 - slow libraries
        import_from,
    )
    from turnscrew.web.keeping.restore import made_anew  # noqa: PLC0415
    from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
        bring_up_to_date,
    )

    with made_anew(home or default_home()), opened(home, is_new=True):
        counts = import_from(source)
        bring_up_to_date()
        print(f"{sum(counts.values())} rows in {len(counts)} tables")
        tell_audit(as_json=False)


@app.command()
def erase(
    home: Home = None,
    due: Annotated[
        bool, typer.Option("--due", help="Customers kept long enough.")
    ] = False,
    customer: Annotated[
        str | None, typer.Option(help="One customer, by reference.")
    ] = None,
    person: Annotated[
        str | None, typer.Option(help="Somebody who has left, by short name.")
    ] = None,
    by: Annotated[str, typer.Option(help="Short name of who does it.")] = "lead",
) -> None:
    """
    Erase the names, words and photos of customers or of somebody who has left.

    Money, counts and journals stay, and the audit stays whole. A customer with open
    jobs or invoices not settled is refused. It cannot be undone, and older backups
    still hold what was erased.
    """
    _require_one(due, customer is not None, person is not None)
    with opened(home):
        from turnscrew.web.keeping import erasing  # noqa: PLC0415 - slow libraries
        from turnscrew.web.keeping.owner import (  # noqa: PLC0415 - slow libraries
            person_by_key,
        )
        from turnscrew.web.keeping.upgrade import (  # noqa: PLC0415 - slow libraries
            require_current,
        )

        require_current()
        now = now_here()
        author = person_by_key(by)
        if person is not None:
            erasing.erase_person(person_by_key(person), by=author, now=now)
            print(f"{person}: erased")
        meant = erasing.due_customers(now.date()) if due else []
        if customer is not None:
            meant = [erasing.customer_by_ref(customer)]
        refused = [one for one in meant if not _erased(one, author, now)]
        erasing.erase_removed_photos()
        erasing.compact()
        tell_audit(as_json=False)
        _require_none(refused)


def _require_one(*said: bool) -> None:
    if sum(said) != 1:
        raise BadArgumentError(
            "erase: wanted exactly one of --due, --customer and --person"
        )


def _require_none(refused: list[Any]) -> None:
    if refused:
        raise TurnscrewError(f"customers: found {len(refused)} refused, wanted none")


def _erased(customer: Any, author: Any, now: datetime) -> bool:
    from turnscrew.web.keeping.erasing import (  # noqa: PLC0415 - slow libraries
        erase_customer,
    )
    from turnscrew.web.records.services.refusal import (  # noqa: PLC0415
        RefusedError,
    )

    try:
        erase_customer(customer, by=author, now=now)
    except RefusedError as error:
        print(f"{customer.ref}: not erased: {error}")
        return False
    print(f"{customer.ref}: erased")
    return True


def _address(names: tuple[str, ...], port: int) -> str:
    return f"https://{names[0]}:{port}" if names else f"http://localhost:{port}"


def _link_words(address: str, token: str) -> str:
    return f"Signs in once, within 24 hours:\n    {address}/first/{token}/"
