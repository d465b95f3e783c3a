"""What is said in German of a folder that says otherwise than the records?"""

_OF_WHAT = {
    ("customer", "Kunde"): {
        "address": "Anschrift", "contract": "Vertrag", "tax number": "Steuernummer",
    },
    ("person {k!}", "Person {k}"): {
        "name": "Name", "minutes a day": "Minuten am Tag", "pay": "Lohn",
        "pace": "Tempo",
    },
    ("part {k!}", "Ersatzteil {k}"): {
        "description": "Beschreibung", "model": "Modell", "revisions": "Ausführungen",
        "unit": "Einheit", "cost": "Kosten", "free": "kostenlos",
        "lead days": "Lieferzeit in Tagen", "pack": "Packungsgröße",
        "breaks": "Mengenpreise", "supplier": "Lieferant", "place": "Lagerort",
        "reorder point": "Nachbestellpunkt", "sold no more": "nicht mehr verkauft",
    },
}  # fmt: skip

COUNTER_OTHERWISE = {
    "description {k!}: found one, kept it withdrawn as on record":
    "Beschreibung {k}: gefunden eine, sie bleibt zurückgezogen wie eingetragen",
    "description {k!}: found other in {what,}; kept version {n#} as on record":
    "Beschreibung {k}: gefunden anders in {what}; es bleibt Version {n} wie eingetragen",
} | {
    f"{where}, {name}: found {{x!}}, kept {{y!}} as on record":
    f"{dort}, {german}: gefunden {{x}}, es bleibt {{y}} wie eingetragen"
    for (where, dort), names in _OF_WHAT.items()
    for name, german in names.items()
}  # fmt: skip
"""What a new folder told and the records did not take."""
