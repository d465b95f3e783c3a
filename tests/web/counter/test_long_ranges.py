"""Does a page that takes numbers of devices take or refuse as many as are entered?"""

import pytest

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.counter.fields import LinesField
from web.counter_case import signed_in

MANY = ",".join(f"{n}0001-{n + 1}0000" for n in range(30))
"""Thirty ranges that are each short enough: 300,000 numbers, more than any SQLite
looks for in one question."""


def takes_lines(form) -> bool:
    return any(isinstance(field, LinesField) for field in form.fields.values())


@pytest.mark.parametrize("where", ["", "donors/", "hand-back/", "approvals/"])
@pytest.mark.parametrize("lines", [MANY, "1-10001", "1-10000", "1-9999"])
def test_it_takes_or_refuses_any_number_of_devices(
    lead, sallowmere, where, lines
) -> None:
    client = signed_in(lead)
    address = f"/batches/{sallowmere.ref}/{where}"
    known = client.get(address).context["forms"].items()
    asked = {act: form.fields for act, form in known if takes_lines(form)}
    assert asked
    for act, fields in asked.items():
        sent = {"act": act}
        for name, field in fields.items():
            choices = [str(key) for key, _ in getattr(field, "choices", []) if key]
            sent[name] = choices[0] if choices else "2027-02-01"
            if isinstance(field, LinesField):
                sent[name] = lines
        # An error in a page is raised here, not shown as a page.
        assert client.post(address, sent).status_code in {302, 422}, act


def test_it_says_how_many_one_entry_may_name(lead, sallowmere) -> None:
    address = f"/batches/{sallowmere.ref}/"
    answer = signed_in(lead).post(address, {"act": "fitted", "lines": MANY})

    told = "found 20000 numbers or more, wanted 10000 or less"
    assert told in answer.content.decode()
    assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)
