"""Where the pages of the counter are."""

from django.urls import path

from turnscrew.web.counter import photo_urls
from turnscrew.web.counter.views import (
    ahead,
    batch,
    checks,
    contact,
    customer,
    descriptions,
    goods,
    hand_back,
    handover,
    item,
    manual,
    own_times,
    people,
    receiving,
    returns,
    safety,
    set_right,
    shelf,
    sign_in,
    today,
    trade,
    waste,
)

app_name = "counter"
urlpatterns = [
    path("", today.home, name="home"),
    path("find/", today.find, name="find"),
    path("sign-in/", sign_in.sign_in, name="sign_in"),
    path("sign-out/", sign_in.sign_out, name="sign_out"),
    path("first/<str:token>/", sign_in.first, name="first"),
    path("account/", sign_in.account, name="account"),
    path("answer/<str:address>/", contact.answer, name="answer"),
    path("batches/", receiving.batches, name="batches"),
    path("batches/<slug:ref>/", batch.stand, name="batch"),
    path("batches/<slug:ref>/receive/", receiving.receive, name="receive"),
    path("batches/<slug:ref>/list/", receiving.customer_list, name="customer_list"),
    path("batches/<slug:ref>/approvals/", batch.approvals, name="approvals"),
    path("batches/<slug:ref>/ahead/", ahead.ahead, name="ahead"),
    path("batches/<slug:ref>/plan/", batch.plan, name="plan"),
    path("batches/<slug:ref>/papers/", batch.papers, name="papers"),
    path("batches/<slug:ref>/papers/<str:name>", batch.paper, name="paper"),
    path("batches/<slug:ref>/order/", goods.order, name="order"),
    path("batches/<slug:ref>/donors/", goods.donors, name="donors"),
    path("batches/<slug:ref>/accessories/", set_right.accessories, name="accessories"),
    path("batches/<slug:ref>/hand-back/", hand_back.hand_back, name="hand_back"),
    path("batches/<slug:ref>/hand-back/<slug:tranche>/", hand_back.note, name="note"),
    path("batches/<slug:ref>/invoice/", trade.invoice, name="invoice"),
    path("items/<slug:ref>/", item.record, name="item"),
    path("journal/<slug:ref>/", item.journal, name="journal"),
    path("items/<slug:ref>/checks/", checks.checks, name="checks"),
    path("stock/", shelf.shelf, name="stock"),
    path("stock/goods-in/", goods.goods_in, name="goods_in"),
    path("stock/order/", goods.order_all, name="order_today"),
    path("stock/known-good/", shelf.known_good, name="known_good"),
    path("stock/waste/", waste.thrown_away, name="waste"),
    path("stock/returns/", returns.returns, name="returns"),
    path(
        "stock/part-photos/<slug:picture>/<slug:copy>/",
        returns.part_photo,
        name="part_photo",
    ),
    path("stock/<part:number>/", shelf.part, name="part"),
    path("customers/<slug:ref>/", customer.customer, name="customer"),
    path("customers/<slug:ref>/fleet/", customer.fleet, name="fleet"),
    path(
        "customers/<slug:ref>/fleet/report/", customer.fleet_report, name="fleet_report"
    ),
    path("money/", trade.money_owed, name="money"),
    path("money/<slug:ref>/", trade.invoiced, name="invoiced"),
    path("money/<slug:ref>/paper/", trade.paper, name="invoice_paper"),
    path("comebacks/", trade.comebacks, name="comebacks"),
    path("safety/", safety.safety, name="safety"),
    path("people/", people.everybody, name="people"),
    path("people/<slug:ref>/", people.one, name="person"),
    *(
        path(
            f"people/<slug:ref>/card-{size}.pdf",
            people.card,
            {"size": size},
            name=f"helper-card-{size}",
        )
        for size in ("a4", "letter")
    ),
    path("descriptions/", descriptions.every_model, name="descriptions"),
    *(
        path(
            f"descriptions/papers/{name}-{size}.pdf",
            descriptions.card,
            {"name": name, "size": size},
            name=f"{name}-{size}",
        )
        for name in descriptions.CARDS
        for size in ("a4", "letter")
    ),
    path("descriptions/text/<path:ref>.device.yaml", descriptions.text, name="text"),
    path("descriptions/<path:model>/", descriptions.one_model, name="description"),
    path("handover/", handover.every_open, name="handover"),
    path("handover/sheet-a4.pdf", handover.sheet, {"size": "a4"}, name="sheet-a4"),
    path(
        "handover/sheet-letter.pdf",
        handover.sheet,
        {"size": "letter"},
        name="sheet-letter",
    ),
    path("own-times/", own_times.times, name="own_times"),
    path("audit/", people.audit, name="audit"),
    path("docs/", manual.front, name="manual"),
    path("docs/<path:file>", manual.page, name="manual_page"),
    *photo_urls.urlpatterns,
]
