"""What is said in German when the records have no room for what was entered?"""

_TEXTS = {
    "name": "Name", "order": "Bestellung", "contact": "Ansprechperson",
    "signature": "Unterschrift", "explanation": "Erklärung", "serial": "Seriennummer",
    "asset": "Nummer des Eigentümers", "model": "Modell", "rev": "Ausführung",
    "site": "Ort", "acc": "Zubehör", "kind": "Art", "contract": "Vertrag",
    "tax number": "Steuernummer",
}  # fmt: skip
_OF_WHAT = {
    "": "", "row {k#}, ": "Zeile {k}, ", "line {k#}, ": "Zeile {k}, ",
    "device {k#}, ": "Gerät {k}, ", "closed job {k#}, ": "abgeschlossene Arbeit {k}, ",
    "customer, ": "Kunde, ", "contact, ": "Ansprechperson, ",
}  # fmt: skip
_OF_A_LIST = {
    "part {k!}, ": ("Ersatzteil {k}, ", (
        "number", "description", "model", "revisions", "unit", "supplier", "place",
        "breaks", "cost", "lead days", "pack", "reorder point", "on hand",
    )),
    "person {k!}, ": ("Person {k}, ", ("key", "name", "skill")),
}  # fmt: skip
_ALONE = {
    "about": "Worum", "act": "Handlung", "address": "Anschrift",
    "again words": "Worte zum Wiederkommen", "against": "Dagegen", "agent": "Mittel",
    "agrees": "Stimmt überein", "answer": "Antwort", "answered by": "Wer antwortete",
    "asked": "Verlangt", "asked of": "Gefragt", "author": "Verfasser",
    "belongs": "Gehört dazu", "bench": "Werkbank", "breaks": "Mengenpreise",
    "caption": "Bildunterschrift", "carcass receipt": "Beleg der Reste",
    "cause": "Ursache", "charges": "Kosten", "claimed by": "Wer es sagt",
    "client key": "Schlüssel des Geräts", "code": "Code",
    "columns text": "Spaltennamen", "comeback class": "Klasse des Wiederkommens",
    "consent": "Einwilligung", "cover": "Was im Weg ist",
    "data allowed": "Was mit Daten erlaubt ist",
    "data allowed by": "Wer es mit Daten erlaubte", "data class": "Datenklasse",
    "data decision": "Worte zu den Daten", "description": "Beschreibung",
    "digest": "Prüfsumme", "done": "Getan", "donor consent": "Einwilligung zum Spenden",
    "drawings": "Zeichnungen", "edited": "Geändert", "end": "Ende",
    "ended as": "Geendet als", "event": "Ereignis", "evidence": "Beleg",
    "face": "Seite des Geräts", "facts": "Angaben", "faults text": "Fehlertafel",
    "first use": "Erste Verwendung", "first use how": "Wie zuerst geprüft",
    "fits": "Passt zu", "goal": "Ziel", "holder": "Halter", "how": "Wie",
    "journal": "Journal", "key": "Schlüssel", "language": "Sprache", "layer": "Lage",
    "learnt": "Gelernt", "lengths": "Längen", "load": "Last", "lock": "Sperre",
    "look": "Blick", "main state": "Hauptzustand", "marks": "Kennzeichen",
    "marks left": "Bleibende Spuren", "marks seen": "Gesehene Kennzeichen",
    "masks": "Abdeckungen", "mode": "Ausfallart", "note": "Notiz", "number": "Nummer",
    "outcome": "Ergebnis", "owner": "Eigentümer", "pack": "Akku oder Packung",
    "part": "Ersatzteil", "parts told": "Genannte Ersatzteile", "place": "Platz",
    "position": "Lage im Gerät", "previous": "Vorgänger", "reach": "Erreichbar unter",
    "reading": "Messwert", "reason": "Grund", "receipt": "Belegnummer",
    "receiver": "Abnehmer", "ref": "Kennung", "remarks": "Bemerkungen",
    "reported": "Gemeldet", "result": "Ergebnis", "results told": "Genannte Ergebnisse",
    "revisions": "Ausführungen", "rights": "Rechte", "run": "Ablauf",
    "said by": "Wer es sagte", "salt": "Salz", "says": "Worte der Rechnung",
    "scopes": "Bereiche", "sha256": "Prüfsumme", "shows": "Zeigt", "side": "Seite",
    "sign": "Dezimalzeichen", "skill": "Fertigkeit", "stage": "Stufe",
    "standing": "Geltung", "state": "Zustand", "strokes": "Striche",
    "subject": "Gegenstand", "suffix": "Dateiendung", "supplier": "Lieferant",
    "surface": "Oberfläche", "tell": "Unterscheidungszeichen",
    "terms text": "Bedingungen", "tested how": "Wie geprüft", "text": "Text",
    "token digest": "Prüfsumme des Zugangs", "tried": "Versucht", "unit": "Einheit",
    "use": "Verwendung", "verb": "Tätigkeit", "verdict": "Urteil",
    "verified how": "Wie nachgewiesen", "verified with": "Nachgewiesen mit",
    "week": "Woche", "what": "Was", "who": "Wer", "why": "Warum",
    "why ended": "Warum beendet", "words": "Worte",
    "words digest": "Prüfsumme der Worte",
}  # fmt: skip
_NUMBERS = {
    "amount": "Betrag", "came in": "Gekommen", "charge high percent": "Ladung höchstens",
    "charge low percent": "Ladung mindestens", "charge percent": "Ladung",
    "corrects": "Berichtigt", "cost": "Kosten", "credited": "Gutgeschrieben",
    "device ma": "Gerät in mA", "device mv": "Gerät in mV", "devices": "Geräte",
    "due day": "Fälliger Tag", "every days": "Alle Tage", "expected": "Erwartet",
    "explained": "Erklärt", "height px": "Höhe in Punkten",
    "high mv": "Höchstens in mV", "keep months": "Monate der Aufbewahrung",
    "lead days": "Lieferzeit in Tagen", "left over": "Übrig", "limit": "Grenze",
    "line": "Zeile", "load ma": "Last in mA", "low mv": "Mindestens in mV",
    "mass g": "Masse in g", "minutes a day": "Minuten am Tag", "net": "Netto",
    "number": "Nummer", "on charge min": "Minuten am Ladegerät",
    "on hand": "Vorhanden", "order": "Reihenfolge", "output mv": "Ausgang in mV",
    "owed": "Geschuldet", "pack": "Packungsgrösse", "pay": "Lohn", "piece": "Stück",
    "pieces": "Stücke", "planned min": "Geplante Minuten", "promised": "Zugesagt",
    "quote": "Angebot", "ran min": "Gelaufene Minuten", "rated ma": "Nennwert in mA",
    "rated mv": "Nennwert in mV", "rated mw": "Nennwert in mW",
    "received": "Erhalten", "rejected": "Zurückgewiesen",
    "reorder point": "Nachbestellpunkt", "row": "Zeile", "sequence": "Laufnummer",
    "supervised": "Begleitete Durchgänge", "tax": "Steuer",
    "temperature c": "Temperatur", "went back": "Zurückgegangen",
    "width px": "Breite in Punkten", "x percent": "Von links", "y percent": "Von oben",
}  # fmt: skip


def _said(where: str, text: str, an: str, german: str) -> dict[str, str]:
    return {
        f"{where}{text}: found {{n#}} characters, wanted at most {{m#}}":
        f"{an}{german}: gefunden {{n}} Zeichen, gesucht höchstens {{m}}",
        f"{where}{text}: found NUL or half a character, wanted whole ones":
        f"{an}{german}: NUL oder ein halbes Zeichen gefunden, gesucht ganze",
    }  # fmt: skip


def _of_number(where: str, text: str, an: str, german: str) -> dict[str, str]:
    return {
        f"{where}{text}: found {{n#}}, wanted {{m#}} to {{k2#}}":
        f"{an}{german}: gefunden {{n}}, gesucht {{m}} bis {{k2}}"
    }  # fmt: skip


def _of_a_list() -> dict[str, str]:
    told: dict[str, str] = {}
    for where, (an, names) in _OF_A_LIST.items():
        for name in names:
            if name in _NUMBERS:
                told |= _of_number(where, name, an, _NUMBERS[name])
            german = {**_ALONE, **_TEXTS}.get(name)
            if german:
                told |= _said(where, name, an, german)
    return told


NO_ROOM = {
    **{
        shape: words
        for where, an in _OF_WHAT.items()
        for text, german in _TEXTS.items()
        for shape, words in _said(where, text, an, german).items()
    },
    **{
        shape: words
        for text, german in _ALONE.items()
        for shape, words in _said("", text, "", german).items()
    },
    **{
        shape: words
        for text, german in _NUMBERS.items()
        for shape, words in _of_number("", text, "", german).items()
    },
    **_of_a_list(),
}
"""Texts too long, texts that cannot be kept, and numbers out of all bounds."""
