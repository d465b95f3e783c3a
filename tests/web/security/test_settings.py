"""Settings as they are on loopback and when shared."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from systems import is_private

TELL = (
    "import json; from django.conf import settings as s; print(json.dumps({"
    "'debug': s.DEBUG, 'hsts': s.SECURE_HSTS_SECONDS, 'hosts': s.ALLOWED_HOSTS,"
    "'cookies': [s.SESSION_COOKIE_SECURE, s.CSRF_COOKIE_SECURE],"
    "'hashers': s.PASSWORD_HASHERS[0]}))"
)


def environment(home: Path, hosts: str) -> dict[str, str]:
    home.mkdir(exist_ok=True)
    # The browser tests of this process need what a deployment must not have.
    own = {k: v for k, v in os.environ.items() if k != "DJANGO_ALLOW_ASYNC_UNSAFE"}
    return own | {
        "TURNSCREW_HOME": str(home),
        "TURNSCREW_HOSTS": hosts,
        "DJANGO_SETTINGS_MODULE": "turnscrew.web.settings",
    }


def told(home: Path, hosts: str) -> dict:
    done = subprocess.run(
        [sys.executable, "-c", TELL],
        env=environment(home, hosts),
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    return json.loads(done.stdout)


@pytest.mark.parametrize("hosts", ["", "workshop.local,192.168.7.2"])
def test_it_is_ready_to_be_deployed(tmp_path, hosts) -> None:
    done = subprocess.run(
        [
            sys.executable, "-W", "error", "-m", "django", "check", "--deploy",
            "--fail-level", "DEBUG",
        ],
        env=environment(tmp_path / "home", hosts),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )  # fmt: skip

    assert (0, "") == (done.returncode, done.stderr)
    assert "no issues" in done.stdout


def test_it_insists_on_https_when_shared_and_on_loopback_needs_none(tmp_path) -> None:
    shared = told(tmp_path / "home", "workshop.local")
    alone = told(tmp_path / "home", "")

    assert not shared["debug"]
    assert shared["hsts"] >= 3600
    assert [True, True] == shared["cookies"]
    assert "workshop.local" in shared["hosts"]
    assert (0, [False, False]) == (alone["hsts"], alone["cookies"])
    assert "*" not in shared["hosts"] + alone["hosts"]
    assert "Argon2" in shared["hashers"]


def test_it_makes_a_secret_of_its_own_that_others_cannot_read(tmp_path) -> None:
    told(tmp_path / "home", "")
    told(tmp_path / "other", "")

    secret = tmp_path / "home" / "secret"
    assert is_private(secret)
    assert len(secret.read_text("utf-8")) > 60
    assert secret.read_text("utf-8") != (tmp_path / "other" / "secret").read_text()
