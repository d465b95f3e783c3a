"""
How many requests do one, two and three servers of pages take on one PostgreSQL?

Every server is `turnscrew serve` in a process and a network namespace of its own, all
on one folder of records and one database; nothing of a session stays in a server. A
round-robin forwarder of connections stands before them, as a workshop would put a
reverse proxy, with a millisecond of delay on each wire. Clients in another process ask
as fast as they are answered. Needs root for the namespaces, and PostgreSQL::

    pg_virtualenv -t .venv/bin/python benchmarks/app_servers.py [--seconds 15]
"""

# The settings read the folder of the records when they are first imported.
# ruff: noqa: PLC0415

import argparse
import getpass
import itertools
import os
import select
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks import records  # noqa: E402 - the path comes first

DELAY = "1ms"
DELAYED = [DELAY]
"""The delay on the wires; emptied where the machine cannot make one."""

INNER, OUTER = 8000, 9000
CHUNK = 65536


def run(*words: object) -> None:
    subprocess.run([str(word) for word in words], check=True)


@contextmanager
def namespace(k: int) -> Iterator[str]:
    """Give a network namespace behind a wire with a delay; tell how it is reached."""
    name, here, there = f"ts{k}", f"tsh{k}", f"tst{k}"
    torn_down(name, here)
    run("ip", "netns", "add", name)
    try:
        run("ip", "link", "add", here, "type", "veth", "peer", "name", there)
        run("ip", "link", "set", there, "netns", name)
        run("ip", "addr", "add", f"10.77.{k}.1/24", "dev", here)
        run("ip", "link", "set", here, "up")
        inside = ("ip", "netns", "exec", name)
        run(*inside, "ip", "addr", "add", f"10.77.{k}.2/24", "dev", there)
        run(*inside, "ip", "link", "set", there, "up")
        run(*inside, "ip", "link", "set", "lo", "up")
        delay = ["tc", "qdisc", "add", "dev", here, "root", "netem", "delay", DELAY]
        if subprocess.run(delay, check=False, capture_output=True).returncode:
            DELAYED.clear()
        yield name
    finally:
        torn_down(name, here)


def torn_down(name: str, here: str) -> None:
    for words in (("link", "del", here), ("netns", "del", name)):
        subprocess.run(["ip", *words], check=False, capture_output=True)


def forward(listening: socket.socket, targets: list[tuple[str, int]]) -> None:
    """Pass each connection on to the next target, both ways, to the end."""
    turn = itertools.cycle(targets)
    while True:
        try:
            caller, _ = listening.accept()
        except OSError:
            return
        target = next(turn)
        threading.Thread(target=passed, args=(caller, target), daemon=True).start()


def passed(caller: socket.socket, target: tuple[str, int]) -> None:
    # While a server begins or ends, a connection is refused: the caller sees it closed.
    with suppress(OSError), caller, socket.create_connection(target) as server:
        ways = {caller: server, server: caller}
        for end in ways:
            end.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        while True:
            for ready in select.select(list(ways), [], [])[0]:
                data = ready.recv(CHUNK)
                if not data:
                    return
                ways[ready].sendall(data)


@contextmanager
def served(k: int, home: Path) -> Iterator[tuple[str, int]]:
    with namespace(k) as name:
        inside = ["ip", "netns", "exec", name, sys.executable]
        serve = [*inside, "-m", "turnscrew", "serve", "--home", str(home)]
        gate = [*inside, __file__, "--gate", f"10.77.{k}.2"]
        with ExitStack() as running:
            for words in ([*serve, "--port", str(INNER)], gate):
                process = subprocess.Popen(
                    words, stdout=subprocess.DEVNULL, start_new_session=True
                )
                running.callback(os.killpg, process.pid, signal.SIGTERM)
            wait_for((f"10.77.{k}.2", OUTER))
            yield f"10.77.{k}.2", OUTER


def wait_for(address: tuple[str, int]) -> None:
    """Wait until a whole answer comes through the gate."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        try:
            with socket.create_connection(address, timeout=5) as line:
                line.sendall(b"GET /sign-in/ HTTP/1.0\r\nHost: localhost\r\n\r\n")
                if line.recv(9):
                    return
        except OSError:
            pass
        time.sleep(0.2)
    raise AssertionError(f"no answer from {address}")


def measure(seconds: float) -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "turnscrew.web.settings"
    folder = subprocess.run(
        ["psql", "-At", "-c", "show unix_socket_directories"],
        check=True, capture_output=True, text=True,
    ).stdout.strip()  # fmt: skip
    # A socket in the file system is reached from every network namespace, by a role of
    # the name of whoever runs this.
    role = getpass.getuser()
    run("psql", "-q", "-c", f'create role "{role}" superuser login')
    port = os.environ.get("PGPORT", "5432")
    os.environ["TURNSCREW_DATABASE"] = (
        f"postgresql://{role}@:{port}/postgres?host={folder.split(',')[0]}"
    )
    with tempfile.TemporaryDirectory() as home:
        os.environ["TURNSCREW_HOME"] = home
        import django

        django.setup()
        from django.db import connection

        records.fill(1000)
        plan = {"every": 5.0, "people": 50, **records.keys()}
        connection.close()
        print("servers     kind  served  failed   median      p95      max  [ms]")
        for n in (1, 2, 3):
            with ExitStack() as running:
                targets = [
                    running.enter_context(served(k, Path(home)))
                    for k in range(1, n + 1)
                ]
                listening = socket.create_server(("127.0.0.1", 0))
                running.enter_context(listening)
                threading.Thread(
                    target=forward, args=(listening, targets), daemon=True
                ).start()
                plan["port"] = listening.getsockname()[1]
                warm = plan | {"flood": 2.0, "kinds": ["action", "record"]}
                records.run_client(warm, is_shown=False)
                for kind in ("action", "record"):
                    print(f"{n:>7}", end=" ", flush=True)
                    records.run_client(plan | {"flood": seconds, "kinds": [kind]})
        records.audit()
        print("audited: whole; delay on each wire:", *(DELAYED or ["none"]))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=15.0)
    parser.add_argument("--gate", help=argparse.SUPPRESS)
    said = parser.parse_args()
    if said.gate:
        listening = socket.create_server((said.gate, OUTER))
        forward(listening, [("127.0.0.1", INNER)])
    else:
        measure(said.seconds)


if __name__ == "__main__":
    main()
