"""What is said in German at the bench, at the counter and on the papers of both?"""

from turnscrew.core.model.german.batch_papers import BATCH_PAPERS
from turnscrew.core.model.german.batch_sentences import BATCH_SENTENCES
from turnscrew.core.model.german.counter_batch import COUNTER_BATCH
from turnscrew.core.model.german.counter_refusals import COUNTER_REFUSALS
from turnscrew.core.model.german.dangers import DANGERS
from turnscrew.core.model.german.facts import FACTS
from turnscrew.core.model.german.fault import FAULT
from turnscrew.core.model.german.lines import LINES
from turnscrew.core.model.german.papers import PAPERS
from turnscrew.core.model.german.refusals import REFUSALS
from turnscrew.core.model.german.screens import SCREENS
from turnscrew.core.model.phrasebook import together

GERMAN = together((LINES, FACTS, DANGERS, FAULT, SCREENS, REFUSALS, PAPERS))
"""Every phrase of the bench, by its English."""

GERMAN_BATCH = together((BATCH_SENTENCES, BATCH_PAPERS))
"""Every phrase of the papers of a batch: apart, as its words mean other things there."""

# Named first too: of two shapes of one length that fit, the first is taken.
GERMAN_COUNTER = together(
    (COUNTER_BATCH, COUNTER_REFUSALS, GERMAN, GERMAN_BATCH, COUNTER_BATCH)
)
"""Every phrase of the counter: of two meanings it takes that of a batch."""
