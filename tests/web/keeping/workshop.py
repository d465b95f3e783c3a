"""Records of their own for tests that need processes, files and kills."""

import os
import secrets
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import psycopg

ROOT = Path(__file__).resolve().parents[3]
BENCHMARKS = ROOT / "benchmarks"
ADDRESS = os.environ.get("TURNSCREW_DATABASE", "")
"""The server on which databases are made; none if the suite runs on SQLite."""


@dataclass(frozen=True)
class Workshop:
    """A folder of records, and a database of its own if that is PostgreSQL."""

    home: Path
    address: str = ""

    @property
    def database(self) -> Path:
        return self.home / "records.sqlite3"

    @property
    def surroundings(self) -> dict[str, str]:
        return os.environ | {
            "TURNSCREW_HOME": str(self.home),
            "TURNSCREW_DATABASE": self.address,
            "DJANGO_SETTINGS_MODULE": "turnscrew.web.settings",
            "PYTHONPATH": os.pathsep.join((str(ROOT / "tests"), str(BENCHMARKS))),
        }

    def turnscrew(self, *words: object) -> subprocess.CompletedProcess[str]:
        return self.run("turnscrew", *words)

    def write(self, *words: object) -> subprocess.CompletedProcess[str]:
        done = self.run("web.keeping.writers", *words)
        assert "" == done.stderr
        return done

    def run(
        self, module: str, *words: object, before: Callable[[], None] | None = None
    ) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            self.words(module, *words), env=self.surroundings, capture_output=True,
            encoding="utf-8", check=False, cwd=ROOT, preexec_fn=before,
        )  # fmt: skip

    def start(self, module: str, *words: object) -> subprocess.Popen[str]:
        return subprocess.Popen(
            self.words(module, *words), env=self.surroundings, cwd=ROOT,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            encoding="utf-8",
        )  # fmt: skip

    def words(self, module: str, *words: object) -> list[str]:
        return [sys.executable, "-m", module, *map(str, words)]

    @contextmanager
    def read_only(self) -> Iterator[None]:
        """Let nobody write to the folder, nor to the database."""
        self._forbid_writing(True)
        try:
            yield
        finally:
            self._forbid_writing(False)

    def _forbid_writing(self, is_forbidden: bool) -> None:
        for path in self.home.iterdir():
            path.chmod(0o400 if is_forbidden else 0o600)
        self.home.chmod(0o500 if is_forbidden else 0o700)
        if self.address:
            name = urlsplit(self.address).path.lstrip("/")
            with psycopg.connect(ADDRESS, autocommit=True) as server:
                server.execute(
                    f"ALTER DATABASE {name} SET default_transaction_read_only"
                    f" = {'on' if is_forbidden else 'off'}"
                )


class Workshops:
    """Makes them and takes their databases away again."""

    def __init__(self) -> None:
        self.names: list[str] = []

    def empty(self, home: Path, *, address: str = ADDRESS) -> Workshop:
        return Workshop(home, self._new_database(address, "template0"))

    def copy_of(self, other: Workshop, home: Path) -> Workshop:
        shutil.copytree(other.home, home)
        name = urlsplit(other.address).path.lstrip("/")
        return Workshop(home, self._new_database(other.address, name))

    def _new_database(self, address: str, template: str) -> str:
        if not address:
            return ""
        name = f"apart_{secrets.token_hex(6)}"
        with psycopg.connect(ADDRESS, autocommit=True) as server:
            server.execute(f"CREATE DATABASE {name} TEMPLATE {template}")
        self.names.append(name)
        # The library would drop the slashes of an address without a host.
        head, _, tail = address.partition("?")
        place = head.rpartition("/")[0]
        return f"{place}/{name}" + (f"?{tail}" if tail else "")

    def close(self) -> None:
        if not self.names:
            return
        with psycopg.connect(ADDRESS, autocommit=True) as server:
            for name in self.names:
                server.execute(f"DROP DATABASE {name} WITH (FORCE)")
