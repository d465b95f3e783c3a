"""What do the records write by themselves where a person could have written?"""

from turnscrew.core.model import waiting

CHARGED_NOTHING = {
    "comeback, no charge": "Rückläufer, ohne Berechnung",
    "no charge": "ohne Berechnung",
    "closed up as it is, no charge": "geschlossen, wie es ist, ohne Berechnung",
    "nothing was mended, no charge": "nichts wurde repariert, ohne Berechnung",
    "refused by the customer, no charge": "vom Kunden abgelehnt, ohne Berechnung",
    "never answered by the customer, no charge":
        "vom Kunden nie beantwortet, ohne Berechnung",
}  # fmt: skip
"""Why a line of an invoice charges nothing, by its English."""

WAITING_WORDS = {
    waiting.FOR_ANSWER: "das Ja oder Nein des Kunden zum Angebot",
    waiting.BAD_PACK: "Akku aufgebläht, heiss oder in unbekanntem Zustand",
    waiting.YES_TO_OPEN_AGAIN:
        "der Kunde sagte ja, aber es wurde geschlossen, wie es ist: wieder öffnen",
    waiting.YES_GO_ON: "der Kunde sagte ja: weitermachen",
    waiting.NO_TO_THE_REST:
        "der Kunde sagte nein zum Rest: der Rückläufer geht weiter",
    waiting.NO_CLOSE_UP:
        "der Kunde sagte nein: so schliessen, wie es ist",
}  # fmt: skip
"""Why a device waits, by its English."""

TESTED_WORDS = {
    "by its tests the pack may be swollen":
        "nach seinen Prüfungen ist der Akku vielleicht aufgebläht",
    "by its tests liquid inside": "nach seinen Prüfungen Flüssigkeit im Gerät",
}  # fmt: skip
"""What is written of a device whose tests speak for what keeps power off."""

SURENESS = (
    ("{p#} %", "{p} %"), ("over {p#} %", "über {p} %"), ("under {p#} %", "unter {p} %"),
)  # fmt: skip
"""How a chance reads that is never certain."""
