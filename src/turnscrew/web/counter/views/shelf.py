"""Stock, one part, and the known-good set."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from turnscrew.core.model.amounts import counted
from turnscrew.core.stock.part_outlook import TwoPrices
from turnscrew.files.parts_file import read_parts
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms, supply_forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import picture
from turnscrew.web.counter.pasted import table_in
from turnscrew.web.counter.supply_forms import FitClaimed
from turnscrew.web.counter.views import set_right
from turnscrew.web.records.queries import find, part_demand, stock_page
from turnscrew.web.records.queries.said_otherwise import parts_otherwise
from turnscrew.web.records.services import (
    fits,
    movement_back,
    part_photos,
    parts_list,
    people,
    stock,
)


def shelf(request: HttpRequest) -> HttpResponse:
    """Show what is on hand, promised, free and short; take a list of parts in."""
    text = request.GET.get("text", "")[:60].replace("\0", "")
    person = request.person  # type: ignore[attr-defined]

    def take_in(entered: Entered) -> Done:
        told = read_parts(*table_in(entered, "parts"))
        n = parts_list.keep_parts(told, by=person, now=timezone.localtime())
        says = f"{counted(n, 'new part')} of {len(told)}"
        return Done(says, notes=list(parts_otherwise(told)))

    def context() -> Mapping[str, Any]:
        now = timezone.localtime()
        parts, n_more = stock_page.parts_on_shelf(text)
        return {
            "text": text,
            "parts": parts,
            "n_more": n_more,
            "to_count": stock_page.to_count(now)[:10],
            "short": stock_page.shortages(),
            "low": stock_page.below_reorder_point(),
            "retired": stock_page.retired_parts(),
        }

    acts = {"parts": Act(take_in, "Bring it in", supply_forms.PartsListed)}
    return page(request, "counter/stock.html", context, acts)


def part(request: HttpRequest, number: str) -> HttpResponse:
    """Show one part: what it fits, what it looks like, where its pieces went."""
    one = find.part_named(number)
    is_asked = "lacking" in request.GET
    asked = supply_forms.PricesAsked(request.GET if is_asked else None, label_suffix="")
    person = request.person  # type: ignore[attr-defined]

    def count(entered: Entered) -> Done:
        more = stock.count(
            one, entered["n"], by=person, now=timezone.localtime(),
            words=entered["why"], shown=entered["on_hand"],
        )  # fmt: skip
        return Done("counted, as the books say" if not more else f"counted: {more:+d}")

    def move(entered: Entered) -> Done:
        stock.move_by_hand(
            one, entered["verb"], entered["n"], by=person, now=timezone.localtime(),
            words=entered["why"],
        )  # fmt: skip
        return Done(f"{entered['n']} {entered['verb']}")

    def order(entered: Entered) -> Done:
        line = stock.order_for_stock(
            one, entered["n"], by=person, now=timezone.localtime(),
            expected_on=entered["expected_on"],
        )  # fmt: skip
        return Done(f"{line.n} written as ordered")

    def correct(entered: Entered) -> Done:
        movement_back.correct(
            one, entered["sequence"], by=person, now=timezone.localtime(),
            words=entered["why"],
        )  # fmt: skip
        return Done("taken back by a new entry")

    def buy_again(entered: Entered) -> Done:
        stock.keep_reorder_point(one, entered["n"], now=timezone.localtime())
        return Done(f"bought again at {entered['n']}" if entered["n"] else "never")

    def known(entered: Entered) -> Done:
        sent = {side: entered[side] for side in ("front", "back") if entered[side]}
        ready = part_photos.looked_at(
            {side: part_photos.read_sent(file) for side, file in sent.items()}
        )
        part_photos.keep_known_piece(
            one, entered["marks"], ready, by=person, now=timezone.localtime()
        )
        return Done("kept, to compare with at goods-in")

    acts = {
        "free": Act(partial(_free, number), "It does cost nothing", right="stock"),
        "known": Act(
            known,
            "Keep it",
            supply_forms.KnownPiece,
            "stock",
            {"marks": one.marks},
            is_whole=True,
        ),
        "buy_again": Act(
            buy_again,
            "Keep",
            forms.BuyAgain,
            "stock",
            {"n": one.reorder_point},
            is_whole=True,
        ),
        "correct": Act(correct, "Take it back", forms.Corrected, "stock"),
        "count": Act(
            count, "Write the count", forms.Count, "stock", {"on_hand": one.on_hand}
        ),
        "move": Act(move, "Write it", forms.StockMove, "stock"),
        "order": Act(order, "Write as ordered", forms.OrderPieces),
        **set_right.part_act(person, one),
        **set_right.order_act(person, stock_page.orders_of(one)[0]),
        **_retire_act(one, person),
    }

    def context() -> Mapping[str, Any]:
        known = find.part_named(number)
        outlook = part_demand.demand_of(known, timezone.localdate(), _prices(asked))
        drawn = part_demand.demand_picture(known, outlook)
        return {
            "record": stock_page.part_record(known),
            "outlook": outlook,
            "prices": asked,
            "picture": drawn and picture(drawn),
            **_end(known, request.GET),
        }

    return page(request, "counter/part.html", context, acts)


def _prices(asked: supply_forms.PricesAsked) -> TwoPrices | None:
    if not asked.is_bound or not asked.is_valid():
        return None
    return TwoPrices(asked.cleaned_data["lacking"], asked.cleaned_data["over"])


def _end(known: Any, sent: Mapping[str, Any]) -> Mapping[str, Any]:
    """Ask for the end of a model, and say what carries the part there."""
    if not known.cost_minor:
        return {}
    today = timezone.localdate()
    asked = supply_forms.EndAsked(
        sent if "until" in sent else None, label_suffix="",
        today=today, cost_minor=known.cost_minor,
    )  # fmt: skip
    told = None
    if asked.is_bound and asked.is_valid():
        entered = asked.cleaned_data
        share = entered["good"] and entered["good"] / 10
        told = part_demand.end_of(
            known,
            today,
            part_demand.EndAsked(
                entered["until"], entered["fleet"] == "shrinking", entered["lost"],
                entered["left"], share,
            ),
        )  # fmt: skip
    return {"end_asked": asked, "end": told}


def _retire_act(one: Any, person: Any) -> Mapping[str, Act]:
    """Give the acts that each turn one thing round: they turn what the page showed."""
    is_retired, is_sold = one.retired_on is not None, not one.is_sold_no_more

    def turn(entered: Entered) -> Done:
        was_retired = entered["is_retired"]
        turned = stock.use_again if was_retired else stock.retire
        turned(one, by=person, now=timezone.localtime(), words=entered["reason"])
        return Done("in use again" if was_retired else "retired; its past stays")

    def sold(entered: Entered) -> Done:
        was_sold = entered["is_sold"]
        stock.keep_sold(one, is_sold=not was_sold, now=timezone.localtime())
        return Done("sold no more" if was_sold else "sold again")

    button = "Use it again" if is_retired else "Retire it"
    sold_button = "It is sold no more" if is_sold else "It is sold again"
    shown = {"is_retired": int(is_retired), "is_sold": int(is_sold)}
    return {
        "retire": Act(turn, button, forms.Retired, initial=shown),
        "sold": Act(sold, sold_button, forms.Sold, initial=shown),
        "claim": Act(partial(_claim, one, person), "Keep the claim", FitClaimed),
    }


def _claim(one: Any, person: Any, entered: Entered) -> Done:
    place = fits.Place(entered["model"], entered["revision"], entered["position"])
    made = fits.claim_fit(
        one, place, entered["claimed_by"], by=person, now=timezone.localtime()
    )
    return Done(f"{written(str(made))}: a claim until it was fitted once")


def _free(number: str, _: Entered) -> Done:
    stock.confirm_free(find.part_named(number), now=timezone.localtime())
    return Done("costs nothing, confirmed")


def known_good(request: HttpRequest) -> HttpResponse:
    """Show what may be swapped in for a test, and when it was last proven."""
    person = request.person  # type: ignore[attr-defined]

    def add(entered: Entered) -> Done:
        people.keep_known_good(
            entered["what"], entered["fits"], entered["place"],
            now=timezone.localtime(), key=entered["key"],
        )  # fmt: skip
        return Done(f"{written(entered['what'])}: now verify it")

    def tried(entered: Entered) -> Done:
        one = stock_page.known_good_one(entered["which"])
        is_good = entered["is_good"] == "yes"
        people.verify_known_good(
            one,
            is_good=is_good,
            by=person,
            now=timezone.localtime(),
            how=entered["how"],
        )
        return Done(f"{written(one.what)}: {'good' if is_good else 'withdrawn'}")

    acts = {
        "add": Act(add, "Add", forms.KnownGoodMade, "stock"),
        "tried": Act(tried, "Write it", forms.KnownGoodTried, "look"),
        "tie": Act(_tie, "Tie it", supply_forms.KnownGoodTied, "stock"),
    }

    def context() -> Mapping[str, Any]:
        return {
            "listed": stock_page.known_good_set(),
            "named": stock_page.named_in_tables(),
        }

    return page(request, "counter/known_good.html", context, acts)


def _tie(entered: Entered) -> Done:
    one = stock_page.known_good_one(entered["which"])
    people.tie_known_good(one, entered["key"], now=timezone.localtime())
    key = written(one.key) if one.key else "tied to no key"
    return Done(f"{written(one.what)}: {key}")
