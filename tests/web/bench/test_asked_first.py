"""Is a written yes asked for beside the price, before anybody stands at the label?"""

from turnscrew.web.records.queries.asked_first import asked_first


def test_it_is_asked_for_with_the_approvals(at_lead, batch) -> None:
    page = at_lead.get(f"/batches/{batch.ref}/approvals/").content.decode()

    (one,) = asked_first(batch)
    bearing = batch.jobs.filter(model="R50").values_list("line", flat=True)
    assert ("R50", "tamper label") == (one.model, one.cover)
    assert sorted(bearing) == list(one.lines)
    assert "R50, tamper label: customer agrees in writing first" in page


def test_it_is_not_asked_of_what_has_gone(batch) -> None:
    batch.jobs.filter(model="R50").update(state="handed back")

    assert [] == asked_first(batch)
