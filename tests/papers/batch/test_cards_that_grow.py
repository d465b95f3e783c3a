"""Do cards and labels hold their words, however many there are?"""

from dataclasses import replace

import pypdfium2
import pytest
import zxingcpp

from papers.batch.test_batch_papers import ANSWER, PAPERS, gray, made
from turnscrew.core.model.hold import Hold
from turnscrew.core.stock.demand import Offer
from turnscrew.papers.batch.bench import donor_cards
from turnscrew.papers.batch.labels import device_labels, isolation_labels
from turnscrew.papers.page import Paper

SEEN = (
    "case gap of 5 mm, warm, smells sweet, lid does not close, told by the driver " * 4
)
SITE = "Distribution centre number 11 of the northern region"


def loaded():
    """Give the example with every hazard and long words at each device."""
    kinds = ("pack", "liquid", "contaminated", "glass")
    holds = tuple(Hold(kind, "words of it", SEEN) for kind in kinds)
    devices = tuple(
        replace(one, line=replace(one.line, site=SITE), holds=holds)
        for one in ANSWER.devices
    )
    return replace(ANSWER, devices=devices)


def box_of(page: pypdfium2.PdfPage, words: str, *, first: bool = True):
    """Give the box of the first or last place of some words: left, low, right, high."""
    text = page.get_textpage()
    search = text.search(words)
    found = []
    while (hit := search.get_next()) is not None:
        found.append(text.get_charbox(hit[0]))
    assert found, words
    return found[0] if first else found[-1]


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_what_to_do_stands_on_an_isolation_label_whatever_was_seen(page) -> None:
    sheet = pypdfium2.PdfDocument(isolation_labels(loaded(), page))[0]

    seen = box_of(sheet, "pack may be swollen")
    call = box_of(sheet, "hiss, smoke or heat")
    since = box_of(sheet, "isolated Mon")
    # From the top down, one under the other.
    assert seen[1] > call[3]
    assert call[1] > since[3]
    assert "call the fire" in sheet.get_textpage().get_text_range()


@pytest.mark.parametrize("page", ["a4", Paper("letter", language="de")])
def test_a_donor_card_with_many_parts_keeps_its_last_lines_free(page) -> None:
    offers = tuple(Offer(2, part) for part in ANSWER.batch.parts)[:14]
    others = tuple(one for one in ANSWER.supply.offers if one.donor != 2)
    supply = replace(ANSWER.supply, offers=(*offers, *others))
    sheet = pypdfium2.PdfDocument(donor_cards(replace(ANSWER, supply=supply), page))[0]
    is_german = page != "a4"

    last = box_of(sheet, ANSWER.batch.parts[offers[-1].part].description)
    never = box_of(sheet, "Nie entnommen" if is_german else "Never harvested")
    data = box_of(sheet, "Datenträger" if is_german else "Data-bearing")
    assert last[1] > never[3]
    assert never[1] > data[3]
    assert len(pypdfium2.PdfDocument(donor_cards(ANSWER, page))) <= 4


@pytest.mark.parametrize("page", ["a4", Paper("a4", language="de")])
def test_no_hazard_stands_on_the_bar_code_of_a_label(page) -> None:
    sheet = pypdfium2.PdfDocument(device_labels(loaded(), page))[0]
    number = box_of(sheet, "2702010")
    hazard = box_of(sheet, "GLAS")

    # The bars are 4.6 mm high and end 2.9 mm above the label's edge.
    point_per_mm = 72 / 25.4
    assert hazard[1] - number[3] > 4.6 * point_per_mm
    assert "…" in sheet.get_textpage().get_text_range()


OWNERS = (
    "HOSPITAL-NORTH-IT-2024-004711-B",
    "NORTHERN DISTRICT HOSPITALS INVENTORY 4711-0815-2024-B",
    "W" * 80,
    "4711-0815-2024-B-" * 4,
)


@pytest.mark.parametrize("page", ["a4", Paper("letter", language="de")])
@pytest.mark.parametrize("owner", OWNERS)
def test_a_long_number_of_the_owner_leaves_hazard_and_bars_free(owner, page) -> None:
    answer = loaded()
    devices = tuple(
        replace(one, line=replace(one.line, asset=owner)) for one in answer.devices
    )
    labels = device_labels(replace(answer, devices=devices), page)
    sheet = pypdfium2.PdfDocument(labels)[0]
    number, hazard = box_of(sheet, "2702010"), box_of(sheet, "GLAS")
    site = box_of(sheet, "Distr")
    bars = number[3] + 4.6 * 72 / 25.4

    assert hazard[1] > site[3]
    assert hazard[1] > bars
    codes = zxingcpp.read_barcodes(gray(sheet, 300 / 72))
    n_read = sum("QR" not in str(code.format) for code in codes)
    assert n_read == sum("QR" in str(code.format) for code in codes) > 0


def wordy():
    """Give the example with owner's numbers, serials and sites that have no blank."""
    devices = tuple(
        replace(
            one,
            line=replace(
                one.line, asset=f"INVENTAR{100_000_000 + one.name}",
                serial=f"QX7{10**16 + one.name}", site="Krankenhausverwaltung",
            ),
        )
        for one in ANSWER.devices
    )  # fmt: skip
    customer = replace(ANSWER.batch.terms.customer, order="SHN-27-014/" * 9)
    terms = replace(ANSWER.batch.terms, customer=customer)
    batch = replace(ANSWER.batch, terms=terms)
    known = {one.name: one for one in devices}
    items = tuple(replace(one, device=known[one.device.name]) for one in ANSWER.items)
    return replace(ANSWER, devices=devices, batch=batch, items=items)


def set_over(page: pypdfium2.PdfPage) -> list[str]:
    """Give the signs that stand on others, by more than a third of their area."""
    text = page.get_textpage()
    boxes = []
    for i in range(text.count_chars()):
        sign = text.get_text_range(i, 1)
        left, low, right, high = text.get_charbox(i)
        if sign.strip() and right > left and high > low:
            boxes.append((left, low, right, high, sign))
    boxes.sort()
    found = []
    for i, (left, low, right, high, sign) in enumerate(boxes):
        for other in boxes[i + 1 :]:
            if other[0] >= right:
                break
            if other[:4] == (left, low, right, high):
                # Two letters drawn as one.
                continue
            wide = min(right, other[2]) - other[0]
            tall = min(high, other[3]) - max(low, other[1])
            least = min((right - left) * (high - low),
                        (other[2] - other[0]) * (other[3] - other[1]))  # fmt: skip
            if tall > 0 and wide * tall > least / 3:
                found.append(sign + other[4])
    return found


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_no_long_word_is_set_over_the_next_column(name) -> None:
    pdf = pypdfium2.PdfDocument(made(name, "a4", wordy()))

    assert [] == [pair for page in list(pdf)[:2] for pair in set_over(page)]
