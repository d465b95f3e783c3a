"""What is handed in when a batch is to be reckoned?"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.person import Person
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms


@dataclass(frozen=True)
class BatchInput:
    """
    All that is known of a batch.

    Parameters
    ----------
    lines
        The devices as received.
    listed
        The customer's own list.
    parts
        Spare parts by number.
    terms
        The terms.
    people
        People by role.
    past
        Closed jobs.
    notes
        What was noticed on reading and is no error, in words.
    own_min
        Minutes of the workshop's own whole jobs, by model. [min]
    never_harvested
        Spare parts listed for harvest that are a pack or hold data: no donor gives
        them.
    pieces_left
        Parts that devices taken as donors still give, by device; one that is not named
        gives what the terms list.
    given
        Pieces promised to devices or fitted, those that were fitted first.
    by_draft
        Roles that may open by a description that is not released, by its model.
    """

    lines: tuple[BatchLine, ...]
    listed: tuple[ListedDevice, ...]
    parts: Mapping[str, SparePart]
    terms: Terms
    people: Mapping[str, Person]
    past: tuple[PastJob, ...] = ()
    notes: tuple[str, ...] = ()
    own_min: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    never_harvested: tuple[str, ...] = ()
    pieces_left: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    given: tuple[GivenPiece, ...] = ()
    by_draft: Mapping[str, frozenset[str]] = field(default_factory=dict)
