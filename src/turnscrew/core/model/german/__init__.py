"""What is said in German at the bench and on its papers?"""

from turnscrew.core.model.german.dangers import DANGERS
from turnscrew.core.model.german.facts import FACTS
from turnscrew.core.model.german.fault import FAULT
from turnscrew.core.model.german.lines import LINES
from turnscrew.core.model.german.papers import PAPERS
from turnscrew.core.model.german.refusals import REFUSALS
from turnscrew.core.model.german.screens import SCREENS
from turnscrew.core.model.phrasebook import together

GERMAN = together((LINES, FACTS, DANGERS, FAULT, SCREENS, REFUSALS, PAPERS))
"""Every phrase, by its English."""
