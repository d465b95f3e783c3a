"""What is thrown away, and who took it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.papers.set_aside import written
from turnscrew.web.counter import supply_forms as forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.templatetags.house import known
from turnscrew.web.counter.views import set_right
from turnscrew.web.records.queries import find, waste_page
from turnscrew.web.records.services import waste


def thrown_away(request: HttpRequest) -> HttpResponse:
    """Show what lies here as waste, add to it, and let it go against a receipt."""
    person = request.person  # type: ignore[attr-defined]
    here = waste_page.waste_here()

    def add(entered: Entered) -> Done:
        scrap = waste.Scrap(entered["kind"], entered["mass_g"], entered["what"])
        made = waste.throw_away(
            scrap,
            by=person,
            now=timezone.localtime(),
            job=find.job_numbered(entered["job"]),
        )
        weighed = "" if made.is_weighed else ", not weighed: the usual mass"
        return Done(f"{made.kind}, {made.mass_g} g{weighed}")

    def gone(entered: Entered) -> Done:
        receipt = waste.Receipt(entered["receiver"], entered["receipt"])
        went = waste.let_go(
            entered["rows"], receipt, by=person, now=timezone.localtime(),
            is_apart=entered["is_apart"],
        )  # fmt: skip
        return Done(f"{len(went)} gone, receipt {written(receipt.number)}")

    acts = {"add": Act(add, "Write it", forms.WasteMade, "look")}
    if here:
        listed = [(one.ref, _words(one)) for one in here]
        acts["gone"] = Act(
            gone,
            "Write as gone",
            forms.WasteGone,
            "counter",
            options={"chosen": listed},
        )
    acts |= set_right.waste_act(person, [*here, *waste_page.waste_gone()[0]])
    return page(request, "counter/waste.html", waste_page.waste_page, acts)


def _words(one: Any) -> str:
    what = ", ".join(filter(None, [known(one.kind), one.what]))
    of = f" of device {written(one.job.number)}" if one.job else ""
    mass = f"{one.mass_g} g" if one.is_weighed else f"{one.mass_g} g, not weighed"
    return f"{written(what)}{of}, {mass}"
