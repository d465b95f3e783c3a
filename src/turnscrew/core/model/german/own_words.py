"""What do the records write by themselves where a person could have written?"""

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
    "the customer's yes or no to the quote": "das Ja oder Nein des Kunden zum Angebot",
    "pack swollen, hot, or its state not known":
        "Akku aufgebläht, heiss oder in unbekanntem Zustand",
    "the customer said yes, but it was closed up as it is: open it again":
        "der Kunde sagte ja, aber es wurde geschlossen, wie es ist: wieder öffnen",
    "the customer said yes: go on": "der Kunde sagte ja: weitermachen",
    "the customer said no to the rest: the comeback goes on":
        "der Kunde sagte nein zum Rest: der Rückläufer geht weiter",
    "the customer said no: close it up as it is":
        "der Kunde sagte nein: so schliessen, wie es ist",
}  # fmt: skip
"""Why a device waits, by its English."""
