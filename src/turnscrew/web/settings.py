"""Settings of the records and their pages, read from the environment in one place."""

import os
import secrets
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, unquote, urlsplit

HERE = Path(__file__).resolve().parent

HOME = Path(os.environ.get("TURNSCREW_HOME", "turnscrew-records")).resolve()
"""Folder of everything that is kept: database, photos, keys."""

DATABASE = os.environ.get("TURNSCREW_DATABASE", "")
"""Address of a PostgreSQL database, ``postgresql://``; SQLite in HOME if empty."""

HOSTS = os.environ.get("TURNSCREW_HOSTS", "")
"""Names and addresses under which the pages are shared, with commas between."""

DOCS = os.environ.get("TURNSCREW_DOCS", "")
"""Folder of the built manual; without one its page says how to build it."""

SHARED = bool(HOSTS)
"""True if the pages are shared on the room's network, with HTTPS."""


def _secret() -> str:
    """Give the secret of this folder; made at the first start, never in the program."""
    path = HOME / "secret"
    if not path.is_file():
        if not HOME.is_dir():
            # Only a check of the program itself runs without a folder of records.
            return secrets.token_urlsafe(64)
        fresh = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(fresh, "w", encoding="utf-8") as file:
            file.write(secrets.token_urlsafe(64))
    return path.read_text("utf-8")


def _database() -> dict[str, Any]:
    if not DATABASE:
        pragmas = (
            "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;"
            "PRAGMA mmap_size=134217728;PRAGMA cache_size=-16000;"
            "PRAGMA secure_delete=ON"
        )
        return {
            "ENGINE": "django.db.backends.sqlite3",
            "NAME": HOME / "records.sqlite3",
            "CONN_MAX_AGE": None,
            "OPTIONS": {
                "transaction_mode": "IMMEDIATE",
                "timeout": 20,
                "init_command": pragmas,
            },
        }
    address = urlsplit(DATABASE)
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": unquote(address.path.lstrip("/")),
        "USER": unquote(address.username or ""),
        "PASSWORD": unquote(address.password or ""),
        "HOST": address.hostname or "",
        "PORT": str(address.port or ""),
        "CONN_MAX_AGE": 600,
        "OPTIONS": dict(parse_qsl(address.query)),
    }


SECRET_KEY = _secret()
DEBUG = False
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *filter(None, HOSTS.split(","))]
INTERNAL_IPS: list[str] = []

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "django_htmx",
    "django_otp",
    "django_otp.plugins.otp_static",
    "django_otp.plugins.otp_totp",
    "axes",
    "simple_history",
    "ninja",
    "turnscrew.web.records",
    "turnscrew.web.counter",
    "turnscrew.web.bench",
    "turnscrew.web.api",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "turnscrew.web.counter.gate.SizeGate",
    "turnscrew.web.counter.notation_now.NotationGate",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_otp.middleware.OTPMiddleware",
    "turnscrew.web.counter.gate.StaffGate",
    "turnscrew.web.counter.gate.LackGate",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "turnscrew.web.urls"
WSGI_APPLICATION = "turnscrew.web.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [HERE / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "turnscrew.web.counter.gate.who",
            ]
        },
    }
]
DATABASES = {"default": _database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
# One-time links and tokens are told once: on the server, not in a cookie.
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = 0.25
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False
LOGIN_URL = "counter:sign_in"
LOGIN_REDIRECT_URL = "counter:home"

SESSION_COOKIE_AGE = 12 * 3600
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = SHARED
CSRF_COOKIE_SECURE = SHARED
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "turnscrew.web.counter.views.errors.form_too_old"
CSRF_TRUSTED_ORIGINS = [
    f"https://{name}:8443" for name in filter(None, HOSTS.split(","))
]
SECURE_SSL_REDIRECT = False
SECURE_HSTS_SECONDS = 3600 if SHARED else 0
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "img-src": ["'self'", "data:", "blob:"],
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "worker-src": ["'self'"],
        "manifest-src": ["'self'"],
        "form-action": ["'self'"],
        "frame-ancestors": ["'none'"],
        "base-uri": ["'none'"],
    }
}

DATA_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
UPLOAD_LIMIT_BYTES = 20_000_000
PHOTO_LIMIT_PIXELS = 60_000_000

PHOTOS = HOME / "photos"
STATIC_URL = "static/"
STATIC_ROOT = None
STATICFILES_DIRS = [HERE / "static"]
WHITENOISE_USE_FINDERS = True
# Asked about each time, which is cheap: a page is never of two versions.
WHITENOISE_MAX_AGE = 0

USE_TZ = True
TIME_ZONE = os.environ.get("TURNSCREW_TIME_ZONE") or "UTC"
LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("de", "Deutsch")]
LOCALE_PATHS = [HERE / "locale"]
USE_I18N = True

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "loggers": {
        "django": {"handlers": ["console"], "level": "ERROR"},
        "axes": {"handlers": ["console"], "level": "ERROR"},
    },
}
SILENCED_SYSTEM_CHECKS = [
    # On loopback there is no HTTPS to insist on; sharing turns cookies and HSTS on.
    *([] if SHARED else ["security.W004", "security.W012", "security.W016"]),
    # The server speaks HTTPS alone when shared: there is nothing to redirect from.
    "security.W008",
    # A room's network has no subdomains of ours, and no public preload list.
    "security.W005",
    "security.W021",
]
