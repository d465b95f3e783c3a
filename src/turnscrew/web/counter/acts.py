"""How does a page take what was entered, and lose nothing of it when it is refused?"""

import json
import secrets
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.datastructures import MultiValueDict

from turnscrew.errors import BadFileError, TurnscrewError
from turnscrew.papers.set_aside import written
from turnscrew.web.counter.gate import entered_in
from turnscrew.web.counter.spoken import reasons_of, said
from turnscrew.web.records.queries.rights import allow, may
from turnscrew.web.records.services import sent_sheets
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.trouble import StorageError

Entered = Mapping[str, Any]

_CHANGES = "csrfmiddlewaretoken"
"""A field that each page has another of."""

_TWICE = "sent twice: written once"
_AT_IT = "sent twice: it is being written, look again in a moment"

_LATE = (
    "found this not to be done any more, wanted the page looked at: it was done, or "
    "what it rests on changed, since the page was opened"
)

_HERE = "it stands here now"
_OVER = "pressed once more, what is entered here is written over it"


class Nothing(forms.Form):
    """A button alone."""


@dataclass(frozen=True)
class Done:
    """What an act led to, and what of it is to be looked at, a line each."""

    says: str = ""
    to: str = ""
    notes: Sequence[str] = ()


@dataclass(frozen=True)
class Act:
    """
    One thing that can be done on a page.

    One that ``is_whole`` writes all of its fields over what stands there: what others
    wrote since the page was shown is told first.
    """

    do: Callable[[Entered], Done]
    button: str
    form: type[forms.Form] = Nothing
    right: str = "counter"
    initial: Mapping[str, Any] = field(default_factory=dict)
    options: Mapping[str, Any] = field(default_factory=dict)
    is_whole: bool = False

    @property
    def was(self) -> str:
        """What stands there, as its form carries it; nothing if it need not."""
        return json.dumps(self._standing()) if self.is_whole else ""

    def since(self, was: str) -> Mapping[str, tuple[str, str]]:
        """Give by field what a form carried and what stands there, if they differ."""
        try:
            told = json.loads(was)
        except ValueError:
            return {}
        if not self.is_whole or not isinstance(told, dict):
            return {}
        now = self._standing()
        both = {name: (str(told.get(name, "")), now[name]) for name in now}
        return {name: (old, new) for name, (old, new) in both.items() if old != new}

    def _standing(self) -> dict[str, str]:
        return {
            name: "" if value is None else str(value)
            for name, value in self.initial.items()
        }


def page(
    request: HttpRequest,
    template: str,
    context: Callable[[], Mapping[str, Any]],
    acts: Mapping[str, Act] | None = None,
) -> HttpResponse:
    """Do what was asked and go on, or show the page with all that speaks against it."""
    acts = acts or {}
    person = request.person  # type: ignore[attr-defined]
    refused: dict[str, forms.Form] = {}
    late: list[str] = []
    if request.method == "POST":
        name = request.POST.get("act", "")
        if name in acts:
            allow(person, acts[name].right)
            refused[name] = form = _form(name, acts[name], request)
            _tell_written(form, acts[name], request.POST)
            done = _done_once(acts[name], form, request.POST)
        else:
            late, done = [said(_LATE)], _done_before(request)
        if done is not None:
            return _gone_on(request, done)
    shown = {
        name: refused.get(name) or _form(name, act)
        for name, act in acts.items()
        if may(person, act.right)
    }
    once = secrets.token_hex(12)
    for name, form in shown.items():
        form.act, form.button = name, acts[name].button  # type: ignore[attr-defined]
        form.was = acts[name].was  # type: ignore[attr-defined]
        form.once = once  # type: ignore[attr-defined]
    told = [line for form in refused.values() for line in reasons_of(form)]
    filled = {
        **context(), "forms": shown, "refused": refused, "reasons": late + told,
        "entered": entered_in(request) if late else [],
    }  # fmt: skip
    return render(request, template, filled, status=422 if refused or late else 200)


def _gone_on(request: HttpRequest, done: Done) -> HttpResponse:
    if done.says:
        messages.success(request, done.says)
    for note in done.notes:
        messages.warning(request, note)
    return redirect(done.to or request.get_full_path())


def _done_before(request: HttpRequest) -> Done | None:
    """Tell a button pressed twice whose act is offered no more since the first time."""
    sent = request.POST
    if not sent.get("once"):
        # Only a page that was shown gives it: to anybody else nothing is there.
        raise Http404
    digest = _digest(sent, request.FILES)
    return Done(_TWICE) if sent_sheets.is_written(digest) else None


def _form(name: str, act: Act, request: HttpRequest | None = None) -> forms.Form:
    given: dict[str, Any] = {
        "auto_id": f"{name}-%s", "label_suffix": "", "initial": dict(act.initial),
        **act.options,
    }  # fmt: skip
    if request is None:
        return act.form(**given)
    return act.form(request.POST, request.FILES, **given)


def _tell_written(form: forms.Form, act: Act, sent: QueryDict) -> None:
    """
    Refuse a form that would write over what it did not show, but where it agrees.

    A field that was left as it was shows what stands there now.
    """
    shown = sent.copy()
    for name, (old, new) in act.since(sent.get("was", "")).items():
        entered = _told(sent.get(name, ""))
        if entered == _told(new):
            continue
        found = written(new.strip()) or "nothing"
        said = f"found {found} written meanwhile, wanted it looked at; "
        is_left = entered == _told(old)
        if is_left:
            shown[name] = new
        form.add_error(name, said + (_HERE if is_left else _OVER))
    form.data = shown


def _told(text: str) -> str:
    """Give a text as it was meant: a form sends its lines with ends of its own."""
    return "\n".join(text.split("\r\n")).strip()


def _done_once(act: Act, form: forms.Form, sent: QueryDict) -> Done | None:
    """
    Do it, unless the very same sheet was sent before: a button pressed twice.

    What was changed on it since is another one, as is the same on a page shown anew.
    """
    if not sent.get("once"):
        return _done(act, form)
    digest = _digest(sent, form.files)
    try:
        if not sent_sheets.taken_up(digest, timezone.now()):
            return Done(_TWICE if sent_sheets.is_written(digest) else _AT_IT)
    except TurnscrewError as error:
        form.add_error(None, str(error))
        return None
    done = None
    try:
        done = _done(act, form)
    finally:
        # What was refused, or broke off, is not written: it may be sent again.
        settle = sent_sheets.let_go if done is None else sent_sheets.written
        # A database that fails now changes nothing of what was written or refused.
        with suppress(StorageError):
            settle(digest)
    return done


def _digest(sent: QueryDict, files: MultiValueDict[str, Any]) -> str:
    told = sorted((name, sent.getlist(name)) for name in sent if name != _CHANGES)
    brought = [
        (file.name, file.size) for _, some in sorted(files.lists()) for file in some
    ]
    return sha256(repr((told, brought)).encode()).hexdigest()


def _done(act: Act, form: forms.Form) -> Done | None:
    if not form.is_valid():
        return None
    try:
        return act.do(form.cleaned_data)
    except BadFileError as error:
        for problem in error.problems:
            form.add_error(None, str(problem))
    except RefusedError as error:
        for reason in error.reasons:
            form.add_error(None, reason)
    except TurnscrewError as error:
        form.add_error(None, str(error))
    return None
