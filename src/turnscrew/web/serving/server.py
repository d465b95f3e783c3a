"""How do the pages come to those who ask for them?"""

import socket
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile

from granian import Granian
from granian.constants import Interfaces, SSLProtocols
from granian.log import LogLevels

from turnscrew.errors import TurnscrewError
from turnscrew.web.serving.certificates import Certificates

LOOPBACK, ROOM = "127.0.0.1", "0.0.0.0"
PORT, SHARED_PORT = 8000, 8443
N_THREADS = 4
KILLED_AFTER_S = 10


@dataclass(frozen=True)
class Place:
    """Where the pages are served."""

    address: str
    port: int
    papers: Certificates | None = None

    @property
    def is_shared(self) -> bool:
        return self.papers is not None


def require_free(place: Place) -> None:
    """Refuse a port that somebody else listens on."""
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((place.address, place.port))
        except (OSError, OverflowError) as error:
            raise TurnscrewError(
                f"--port: found {place.port} taken or not allowed, wanted a free one"
            ) from error


def require_writable(folder: Path) -> None:
    """Refuse a folder in which no photo could be kept, before anybody takes one."""
    try:
        with TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise TurnscrewError(
            f"{folder}: found read-only ({error.strerror}), wanted one to write in"
        ) from error


def serve(place: Place) -> None:
    """Serve until told to stop: one process, since one writes at a time anyway."""
    papers = place.papers
    server = Granian(
        "turnscrew.web.wsgi:application",
        address=place.address,
        port=place.port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=N_THREADS,
        websockets=False,
        log_level=LogLevels.warning,
        respawn_failed_workers=True,
        workers_kill_timeout=KILLED_AFTER_S,
        ssl_cert=papers.chain if papers else None,
        ssl_key=papers.key if papers else None,
        ssl_protocol_min=SSLProtocols.tls12,
    )
    # Before, nobody would be heard: neither who asks for a page nor who says stop.
    server.on_startup(lambda: print("Stop with Ctrl-C", flush=True))  # noqa: T201
    server.serve()


def sharing_words(place: Place, names: tuple[str, ...], photos: Path) -> str:
    """Tell what is shared, with whom, and how a tablet learns to trust it."""
    papers = place.papers
    assert papers is not None
    addresses = "\n".join(f"    https://{name}:{place.port}/" for name in names)
    is_new = "This authority is new. " if papers.is_new_authority else ""
    return f"""\
Shared with everybody on this network, behind the sign-in page: all records and the
photos in {photos}. Stop sharing by starting without --share.
{addresses}
{is_new}Each tablet must trust it once:
    1. bring {papers.authority}
       to the tablet by cable or stick, never by mail;
    2. install it there as a certificate authority (settings, security, certificates);
    3. compare the SHA-256 fingerprint there with
       {papers.fingerprint}
It can vouch for the names above and for nothing else. Keep {papers.authority.parent}
to yourself."""
