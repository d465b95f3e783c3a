"""What do records know of the devices of a batch beside its figures?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from turnscrew.papers.set_aside import written


@dataclass(frozen=True)
class Tested:
    """
    One test of a device as it was answered.

    Parameters
    ----------
    says
        What was tested.
    outcome
        Passed, failed, not tested, not possible, not applicable, or measured.
    value
        The reading with its unit; empty if none was asked for.
    reason
        Why it was not tested or not possible; empty if it was.
    by
        Who answered it; empty if nobody did.
    at
        When, in words.
    """

    __test__ = False

    says: str
    outcome: str
    value: str = ""
    reason: str = ""
    by: str = ""
    at: str = ""


@dataclass(frozen=True)
class Picture:
    """
    A photo that was cleared for the customer.

    Parameters
    ----------
    content
        The picture as PNG or JPEG, what is private covered.
    says
        What it shows, in words.
    """

    content: bytes
    says: str


@dataclass(frozen=True)
class Beside:
    """
    What is known of devices, by their number in the batch.

    Words are English; what a person wrote in them is marked by ``written``.

    Parameters
    ----------
    tests
        Tests that were answered or left out.
    pictures
        Photos cleared for the customer.
    arrival
        Photos taken on arrival, in words.
    data
        What was decided about what is stored, in words.
    trials
        Trials that ended, in words for the customer.
    condition
        Gap, missing pieces and marks on arrival, in words.
    passed_over
        What was passed over at the bench, each with its reason, in words.
    fitted
        Numbers of the parts that were written as fitted in devices worked on.
    closed_up
        Devices that were closed up as they were: whether any of the work was done.
    waits
        By part, devices that must be seen open before it is ordered, in words.
    """

    tests: Mapping[int, tuple[Tested, ...]] = field(default_factory=dict)
    pictures: Mapping[int, tuple[Picture, ...]] = field(default_factory=dict)
    arrival: Mapping[int, str] = field(default_factory=dict)
    data: Mapping[int, str] = field(default_factory=dict)
    trials: Mapping[int, str] = field(default_factory=dict)
    condition: Mapping[int, str] = field(default_factory=dict)
    passed_over: Mapping[int, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    fitted: Mapping[int, Sequence[str]] = field(default_factory=dict)
    closed_up: Mapping[int, bool] = field(default_factory=dict)
    waits: Mapping[str, Sequence[str]] = field(default_factory=dict)


MOST_PICTURES = 2
"""Pictures that stand side by side next to what was said and done."""

NOTHING = Beside()
"""Where there are no records, as when a folder of files is reckoned."""

HALF = """
#let half(body, foot) = layout(room => {
  let all = [#body #v(2mm) #foot]
  let is-half = measure(width: room.width - 6mm, all).height + 6mm <= 118mm
  if is-half {
    block(width: 100%, height: 118mm, stroke: fine, inset: 3mm, breakable: false,
      [#body #v(1fr) #foot])
  } else { block(width: 100%, stroke: fine, inset: 3mm, breakable: true, all) }
})
#let half-head(one) = {
  show grid.cell: broken
  grid(columns: (1fr, 72mm), column-gutter: 3mm, align: (left, right),
    text(size: 14pt, weight: "bold")[
      #w("Device") #one.short #h(3mm) #one.owner],
    [#one.seen, #w("serial") #one.serial])
}
#let named(..pairs) = grid(columns: (26mm, 1fr), row-gutter: 1.6mm, column-gutter: 3mm,
  ..pairs.pos().enumerate().map(((i, w)) => if calc.even(i) { strong(w) } else {
    broken(w)
  }))
"""
"""Half a page for a device, and more where it needs more; for a sheet to begin with."""


def picture_values(pictures: tuple[Picture, ...]) -> dict[str, Any]:
    """
    Give pictures as values a sheet can read.

    Parameters
    ----------
    pictures
        The pictures.

    Returns
    -------
    dict
        ``shown`` with bytes and words; ``more`` says that there are others.
    """
    return {
        "shown": [
            {"bytes": list(one.content), "says": written(one.says)}
            for one in pictures[:MOST_PICTURES]
        ],
        "more": len(pictures) > MOST_PICTURES,
    }
