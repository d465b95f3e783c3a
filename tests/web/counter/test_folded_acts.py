"""Are the acts of a device out of the way until one is wanted or was refused?"""

import re

import pytest
from django.test import Client

from web.counter_case import signed_in

FOLDED = {"find", "withdraw", "decide", "data_part", "bring", "correct", "give_up"}


@pytest.fixture
def counter(lead) -> Client:
    return signed_in(lead)


def acts_by_fold(page: str) -> dict[str, set[str]]:
    """Give the acts of a page by how they are folded."""
    found: dict[str, set[str]] = {"": set(), " open": set()}
    for fold, inside in re.findall(r"<details( open)?>(.*?)</details>", page, re.S):
        found[fold] |= set(re.findall(r'name="act" value="(\w+)"', inside))
    return found


def test_acts_stay_folded_but_for_moving_and_danger(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=31)
    page = counter.get(f"/items/{job.item.ref}/").content.decode()

    assert {"": FOLDED, " open": set()} == acts_by_fold(page)
    assert 'name="act" value="move"' in page
    assert 'name="act" value="isolate"' in page


def test_a_refused_act_stays_open_with_what_was_entered(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=31)
    wrong = {"act": "find", "stage": "seen", "code": "T-GLA", "said": "a tale"}
    page = counter.post(f"/items/{job.item.ref}/", wrong).content.decode()

    assert {"": FOLDED - {"find"}, " open": {"find"}} == acts_by_fold(page)
    assert "a tale" in page
