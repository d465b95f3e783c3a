"""Coming in, going out, and what keeps strangers out."""

from dataclasses import asdict
from functools import partial
from typing import Any

import segno
from axes.decorators import axes_dispatch
from django.conf import settings
from django.contrib.auth import login, logout, update_session_auth_hash
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST
from django_otp import login as otp_login
from django_otp import match_token, user_has_device
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.notation_forms import NotationChosen
from turnscrew.web.records.queries.notation import notation
from turnscrew.web.records.services import notation as service
from turnscrew.web.records.services import people
from turnscrew.web.records.services.refusal import RefusedError

_N_RECOVERY = 8
_WRONG_CODE = "code: found none or a wrong one, wanted one shown now"
_PASSWORD_BACKEND = "django.contrib.auth.backends.ModelBackend"


@never_cache
@axes_dispatch  # type: ignore[untyped-decorator]
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let somebody in by name, password and, where set up, a second factor."""
    form = AuthenticationForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        user: Any = form.get_user()
        has_factor = user_has_device(user)
        device = _shown_factor(request, user)
        if not has_factor or device is not None:
            _let_in(request, user, device)
            return redirect(_next(request))
        form.add_error(None, _WRONG_CODE)
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "next": request.GET.get("next", "")}
    return render(request, "counter/sign_in.html", context, status=status)


def _next(request: HttpRequest) -> str:
    wanted = request.POST.get("next", "")
    hosts = {request.get_host()}
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts=hosts, require_https=settings.SHARED
    )
    return wanted if wanted and is_ours else settings.LOGIN_REDIRECT_URL


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Let somebody out."""
    logout(request)
    return redirect("counter:sign_in")


@never_cache
def first(request: HttpRequest, token: str) -> HttpResponse:
    """Let somebody in once by a link; opening the page alone uses nothing up."""
    now = timezone.localtime()
    user: Any = people.account_of_link(token, now=now)
    has_factor = user is not None and user_has_device(user)
    wrong = ""
    if request.method == "POST":
        if user is None:
            raise Http404
        device = _shown_factor(request, user)
        if not has_factor or device is not None:
            user = people.sign_in_by_link(token, now=now)
            if user is None:
                raise Http404
            _let_in(request, user, device, backend=_PASSWORD_BACKEND)
            return redirect("counter:account")
        wrong = _WRONG_CODE
    return render(
        request, "counter/first.html", {"has_factor": has_factor, "wrong": wrong},
        status=422 if wrong else 200,
    )  # fmt: skip


def _shown_factor(request: HttpRequest, user: Any) -> Any:
    """Give the second device whose code was sent; none if it is none of theirs."""
    code = request.POST.get("otp_token", "").strip()
    return match_token(user, code) if code else None


def _let_in(
    request: HttpRequest, user: Any, device: Any, backend: str | None = None
) -> None:
    """Sign somebody in, with the second device they showed if they have one."""
    login(request, user, backend=backend)
    request.session["second_factor"] = device is not None
    if device is not None:
        otp_login(request, device)


@never_cache
def account(request: HttpRequest) -> HttpResponse:
    """Set a password, and a second factor if wanted."""
    person = request.person  # type: ignore[attr-defined]
    acts = {
        "language": Act(
            partial(_speak, person),
            "Speak it",
            forms.Spoken,
            "look",
            {"language": person.language},
        ),
        "notation": Act(
            _show_figures,
            "Show it so",
            NotationChosen,
            "people",
            asdict(notation()),
        ),
        "password": Act(
            partial(_set_password, request), "Set password", forms.NewPassword, "look"
        ),
        "begin": Act(
            partial(_begin_factor, request), "Set up a second factor", right="look"
        ),
        "confirm": Act(
            partial(_confirm_factor, request), "Confirm", forms.SecondFactor, "look"
        ),
        "give_up": Act(
            partial(_give_factor_up, request), "Take it away", forms.Password, "look"
        ),
    }
    return page(request, "counter/account.html", lambda: _factor(request.user), acts)


def _speak(person: Any, entered: Entered) -> Done:
    people.speak_to(person, entered["language"], now=timezone.localtime())
    return Done()


def _show_figures(entered: Entered) -> Done:
    service.choose_notation(entered["lengths"], entered["sign"], entered["week"])
    return Done("shown so from now on; nothing that is kept has changed")


def _set_password(request: HttpRequest, entered: Entered) -> Done:
    user: Any = request.user
    password = entered["password"]
    if password != entered["again"]:
        raise RefusedError("password: found two different ones, wanted one twice")
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise RefusedError(*error.messages) from None
    user.set_password(password)
    user.save()
    # The session goes on; every other one of this person ends.
    update_session_auth_hash(request, user)
    return Done("password set")


def _begin_factor(request: HttpRequest, _: Entered) -> Done:
    user: Any = request.user
    TOTPDevice.objects.filter(user=user, confirmed=False).delete()
    TOTPDevice.objects.create(user=user, name="second device", confirmed=False)
    return Done()


def _confirm_factor(request: HttpRequest, entered: Entered) -> Done:
    user: Any = request.user
    device = TOTPDevice.objects.filter(user=user, confirmed=False).first()
    if device is None or not device.verify_token(entered["code"].strip()):
        raise RefusedError("code: found a wrong one, wanted the one shown now")
    device.confirmed = True
    device.save()
    _fresh_recovery_codes(user)
    otp_login(request, device)
    request.session["second_factor"] = True
    return Done("second factor set up: write the recovery codes down")


def _give_factor_up(request: HttpRequest, entered: Entered) -> Done:
    user: Any = request.user
    if not user.check_password(entered["password"]):
        raise RefusedError("password: found a wrong one, wanted yours")
    people.take_factor_away(request.person)  # type: ignore[attr-defined]
    request.session["second_factor"] = False
    return Done("second factor taken away")


def _factor(user: Any) -> dict[str, Any]:
    begun = TOTPDevice.objects.filter(user=user, confirmed=False).first()
    picture = ""
    if begun is not None:
        picture = segno.make(begun.config_url).svg_data_uri(scale=4)
    tokens = StaticToken.objects.filter(device__user=user)
    return {
        "has_factor": user_has_device(user),
        "begun": begun,
        "picture": picture,
        "recovery": [token.token for token in tokens],
    }


def _fresh_recovery_codes(user: Any) -> None:
    device, _ = StaticDevice.objects.get_or_create(user=user, name="recovery codes")
    device.token_set.all().delete()
    for _n in range(_N_RECOVERY):
        device.token_set.create(token=StaticToken.random_token())
