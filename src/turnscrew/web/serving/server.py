"""How do the pages come to those who ask for them?"""

import os
import signal
import socket
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile

from granian import Granian
from granian.constants import Interfaces, SSLProtocols
from granian.log import LogLevels

from turnscrew.errors import TurnscrewError
from turnscrew.web.serving.certificates import Certificates

LOOPBACK, ROOM = "127.0.0.1", "0.0.0.0"
PORT, SHARED_PORT, HIGHEST_PORT = 8000, 8443, 65535
N_THREADS = 4
STOPPED_WITHIN_S = 2
"""How long open pages are waited for: what was acknowledged is on the disk. [s]"""


class Server(Granian):  # type: ignore[misc,valid-type]
    """The web server, which says at once that it was told to stop."""

    outlives_terminal = False

    def signal_handler_interrupt(self, *args: object, **more: object) -> None:
        if not self.interrupt_signal:
            # Past the buffer, which may be in use; its terminal may be gone.
            with suppress(OSError):
                os.write(sys.stdout.fileno(), b"\nStopping\n")
        super().signal_handler_interrupt(*args, **more)

    def signal_handler_reload(self, *args: object, **more: object) -> None:
        # Its terminal was closed: there is nothing to read anew.
        if not self.outlives_terminal:
            self.signal_handler_interrupt(*args, **more)


@dataclass(frozen=True)
class Place:
    """Where the pages are served."""

    address: str
    port: int
    papers: Certificates | None = None


def require_free(place: Place) -> None:
    """Refuse a port that somebody else listens on."""
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((place.address, place.port))
        except (OSError, OverflowError) as error:
            raise TurnscrewError(
                f"--port: found {place.port} taken or not allowed, wanted a free one, "
                f"such as --port {_another(place.port)}"
            ) from error


def _another(port: int) -> int:
    """Name a port that anybody may open, next to the one that was wanted."""
    return port + 1 if 1024 <= port < HIGHEST_PORT else PORT + 1


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
    server = Server(
        "turnscrew.web.wsgi:application",
        address=place.address,
        port=place.port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=N_THREADS,
        websockets=False,
        log_level=LogLevels.error,
        respawn_failed_workers=True,
        workers_kill_timeout=STOPPED_WITHIN_S,
        ssl_cert=papers.chain if papers else None,
        ssl_key=papers.key if papers else None,
        ssl_protocol_min=SSLProtocols.tls12,
    )
    hung_up = getattr(signal, "SIGHUP", None)
    # As nohup starts it.
    server.outlives_terminal = bool(
        hung_up and signal.getsignal(hung_up) is signal.SIG_IGN
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
