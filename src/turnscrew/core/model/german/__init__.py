"""What is said in German at the bench, at the counter and on the papers of both?"""

from collections.abc import Mapping
from types import MappingProxyType

from turnscrew.core.model.german.batch_papers import BATCH_PAPERS
from turnscrew.core.model.german.batch_sentences import BATCH_SENTENCES
from turnscrew.core.model.german.cards import CARDS, STOPS
from turnscrew.core.model.german.commands import (
    BATCH_COMMAND,
    DIAGNOSE_COMMAND,
    FLEET_COMMAND,
    FOLLOWS_COMMAND,
    OPENING_COMMAND,
)
from turnscrew.core.model.german.counter_batch import COUNTER_BATCH
from turnscrew.core.model.german.counter_house import COUNTER_HOUSE
from turnscrew.core.model.german.counter_otherwise import COUNTER_OTHERWISE
from turnscrew.core.model.german.counter_refusals import COUNTER_REFUSALS
from turnscrew.core.model.german.counter_shown import COUNTER_SHOWN
from turnscrew.core.model.german.counter_supply import COUNTER_SUPPLY
from turnscrew.core.model.german.dangers import DANGERS
from turnscrew.core.model.german.facts import FACTS
from turnscrew.core.model.german.fault import FAULT
from turnscrew.core.model.german.fleet import FLEET, FLEET_REPORT
from turnscrew.core.model.german.lines import LINES
from turnscrew.core.model.german.papers import BOXES, PAPERS
from turnscrew.core.model.german.refusals import REFUSALS
from turnscrew.core.model.german.screens import SCREENS
from turnscrew.core.model.job_state import STATES
from turnscrew.core.model.phrasebook import together

_SHARED = ("revision", "page", "of")

GERMAN = together((LINES, FACTS, DANGERS, FAULT, SCREENS, REFUSALS, PAPERS, BOXES))
"""Every phrase of the bench, by its English."""

GERMAN_BATCH = together((BATCH_SENTENCES, BATCH_PAPERS, BOXES))
"""Every phrase of the papers of a batch: apart, as its words mean other things there."""

_COUNTER = (
    STOPS, COUNTER_HOUSE, COUNTER_BATCH, COUNTER_REFUSALS, COUNTER_SUPPLY,
    COUNTER_SHOWN, COUNTER_OTHERWISE,
)  # fmt: skip

# Named first too: of two shapes of one length that fit, the first is taken.
GERMAN_COUNTER = together((*_COUNTER, GERMAN, GERMAN_BATCH, *_COUNTER, FLEET))
"""Every phrase of the counter: of two meanings it takes that of a batch."""

_STATES = {state: GERMAN_BATCH[state] for state in STATES if state in GERMAN_BATCH}

GERMAN_CARDS = together((_STATES, GERMAN, CARDS))
"""Every phrase of the cards of the workshop."""

GERMAN_FLEET = together(({name: GERMAN[name] for name in _SHARED}, BOXES, FLEET_REPORT))
"""Every phrase of the report on a fleet."""

GERMAN_COMMANDS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "opening": together((GERMAN, OPENING_COMMAND)),
        "diagnose": together((GERMAN_CARDS, DIAGNOSE_COMMAND)),
        "batch": together((COUNTER_BATCH, GERMAN_BATCH, BATCH_COMMAND)),
        "fleet": together((GERMAN_FLEET, FLEET_COMMAND)),
        "follows": FOLLOWS_COMMAND,
    }
)
"""Every phrase that a command prints, by its name."""
