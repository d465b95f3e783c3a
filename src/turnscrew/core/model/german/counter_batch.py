"""What do the pages of a batch at the counter say in German?"""

from turnscrew.core.model.german.batch_sentences import BATCH_SENTENCES
from turnscrew.core.model.german.own_words import WAITING_WORDS
from turnscrew.core.model.german.screens import VERDICTS

_ENDED = {
    "handed back": "abgegeben",
    "promise over": "Zusage abgelaufen",
    "returned unrepaired": "unrepariert zurückgegeben",
    "disposed": "entsorgt",
}

_STATES = {
    **_ENDED,
    **{
        state: BATCH_SENTENCES[state]
        for state in (
            "received", "identified", "pre-checked", "diagnosed", "quoted", "kitted",
            "open", "tested open", "closed", "final-tested", "charged and clean",
            "packed", "isolated", "awaiting answer", "awaiting part",
            "awaiting administrator", "parked open", "soaking", "second look", "donor",
        )
    },
}  # fmt: skip

_OUTCOMES = {
    "accepted": "angenommen",
    "with a note": "mit Vermerk",
    "rejected": "abgelehnt",
    "sent": "gesandt",
    "back to the supplier": "zurück an den Lieferanten",
    "credited": "gutgeschrieben",
    "exchanged": "getauscht",
    "written off": "abgeschrieben",
    "good": "gut",
    "bad": "schlecht",
    "returned": "zurückgegeben",
    "cleared": "gelöscht",
    "purged": "gründlich gelöscht",
    "destroyed": "zerstört",
    "kept in": "blieb im Gerät",
    "withdrawn": "zurückgezogen",
    "added": "hinzugefügt",
    "listed": "aufgeführt",
    "listed, it needs an end": "aufgeführt, es braucht ein Ende",
    "now verify it": "jetzt nachweisen",
    "not done": "nicht getan",
    "passed": "gut",
    "failed": "schlecht",
    "damaged pack": "beschädigter Akku",
    "taken out": "herausgenommen",
    "swollen": "aufgebläht",
    "damaged": "beschädigt",
    "boxed": "in der Kiste",
    "looked at": "angesehen",
    "fitted": "eingebaut",
    "gone": "fort",
    "disposed of": "entsorgt",
}

_FACES = {
    "lid": "Deckel", "base": "Boden", "keys": "Tasten", "picture": "Bild",
    "front": "Vorderseite", "back": "Rückseite", "window": "Fenster",
    "left edge": "linke Kante", "right edge": "rechte Kante",
    "edge with the socket": "Kante mit der Buchse",
}  # fmt: skip

_DUTIES = {
    "contract": "Vertrag", "instructions": "Weisungen", "bound": "Schweigepflicht",
    "security": "Datensicherheit", "others": "Dritte", "rights": "Rechte",
    "incident": "Vorfall", "end": "Ende", "audit": "Nachweis",
}  # fmt: skip

_INCIDENTS = {
    "injury": "Verletzung", "pack": "Akku", "fire or smoke": "Feuer oder Rauch",
    "shock": "Stromschlag", "liquid or fumes": "Flüssigkeit oder Dämpfe",
    "near miss": "Beinahe-Unfall",
}  # fmt: skip

_CHOICES = {
    **_FACES,
    **_DUTIES,
    **_INCIDENTS,
    "may hold some": "enthält vielleicht welche",
    "nobody looked": "niemand sah nach",
    "neither": "keines von beiden",
    "enrolled": "verwaltet",
    "enrolled with an administrator": "bei einem Verwalter angemeldet",
    "locked": "gesperrt",
    "locked: password not given": "gesperrt: Passwort nicht gegeben",
    "not looked": "nicht nachgesehen",
    "test image only": "nur Prüfbild",
    "given account": "gegebenes Konto",
    "no start": "kein Start",
    "read": "lesen",
    "bench": "Platz",
    "counter": "Theke",
    "money": "Geld",
    "seen": "gesehen",
    "wear": "Verschleiss",
    "drop or knock": "Fall oder Schlag",
    "heat": "Hitze",
    "dirt": "Schmutz",
    "cleaning agent": "Reinigungsmittel",
    "material or making": "Material oder Herstellung",
    "earlier work": "frühere Arbeit",
    "wrong use": "falscher Gebrauch",
    "not known after looking": "nach Ansehen unbekannt",
    "nothing said": "nichts gesagt",
    "lost": "verloren",
    "found": "gefunden",
    "contaminated": "verunreinigt",
    "something else": "etwas anderes",
    "serial number": "Seriennummer",
    "customer": "Kunde",
    "isolation place": "Absonderungsplatz",
    "waste receiver": "Entsorger",
    **WAITING_WORDS,
    "ours": "unsere",
    "part": "Ersatzteil",
    "other": "andere",
    "user": "Benutzung",
    "credit": "Gutschrift",
    "exchange": "Tausch",
    "goods-in": "Wareneingang",
    "first use": "erste Verwendung",
    "on the shelf": "im Lager",
    "glass": "Glas",
    "plastic": "Kunststoff",
    "metal": "Metall",
    "carcass": "Rest",
    "point": "Punkt",
    "arrow": "Pfeil",
    "text": "Text",
    "the masks hide all that is private": "die Masken verdecken alles Private",
    "nothing private is seen": "nichts Privates ist zu sehen",
    "cannot be read": "nicht lesbar",
    "whole": "ganz",
    "not whole": "nicht ganz",
    "bare glass": "blankes Glas",
    "coated picture": "beschichtetes Bild",
    "painted plastic": "lackierter Kunststoff",
    "bare plastic": "blanker Kunststoff",
    "soft coating": "weiche Beschichtung",
    "bare metal": "blankes Metall",
    "dry cloth": "trockenes Tuch",
    "cloth damp with water": "Tuch, feucht von Wasser",
    "cloth damp with mild soap": "Tuch, feucht von milder Seife",
    "cloth damp with 70 % alcohol": "Tuch, feucht von 70 % Alkohol",
    "crack": "Riss",
    "dent": "Delle",
    "scratch": "Kratzer",
    "stain": "Fleck",
    "missing": "fehlt",
}

_DONE = {
    "{n#} quotes kept": "{n} Angebote festgehalten",
    "{n#} quote kept": "{n} Angebot festgehalten",
    "{n#} piece allotted": "{n} Stück zugeteilt",
    "{n#} pieces allotted": "{n} Stücke zugeteilt",
    "{n#} piece written as fitted": "{n} Stück als eingebaut eingetragen",
    "{n#} pieces written as fitted": "{n} Stücke als eingebaut eingetragen",
    "{n#} device: {x}": "{n} Gerät: {x}",
    "{n#} devices: {x}": "{n} Geräte: {x}",
    "{n#} device: {x!}, {y!}": "{n} Gerät: {x}, {y}",
    "{n#} devices: {x!}, {y!}": "{n} Geräte: {x}, {y}",
    "{n#} device asked about": "nach {n} Gerät gefragt",
    "{n#} devices asked about": "nach {n} Geräten gefragt",
    "{n#} answers written": "{n} Antworten eingetragen",
    "{n#} answer written": "{n} Antwort eingetragen",
    "device {n#}: {rest.}": "Gerät {n}: {rest}",
    "{x}, quoted anew": "{x}, neu angeboten",
    "allot its parts again": "seine Ersatzteile neu zuteilen",
    "link made: send it to them by hand": "Link gemacht: von Hand senden",
    "the link of {name!} opens nothing any more": "der Link von {name} öffnet nichts mehr",
    "{n#} device received": "{n} Gerät angenommen",
    "{n#} devices received": "{n} Geräte angenommen",
    "booked: now the customer's list and the devices":
        "gebucht: jetzt die Liste des Kunden und die Geräte",
    "{n#} row kept": "{n} Zeile behalten",
    "{n#} rows kept": "{n} Zeilen behalten",
    "device {n#} received as {x!}": "Gerät {n} angenommen als {x}",
    "invoice {x!}": "Rechnung {x}",
    "payment written": "Zahlung eingetragen",
    "payment written, and as much of the write-off taken back":
        "Zahlung eingetragen und ebenso viel der Abschreibung zurückgenommen",
    "write-off taken back": "Abschreibung zurückgenommen",
    "written as paid back": "als zurückgezahlt eingetragen",
    "what is right is written": "was stimmt, ist eingetragen",
    "taken back": "zurückgenommen",
    "reminder written": "Mahnung eingetragen",
    "{n#} line written as ordered": "{n} Zeile als bestellt eingetragen",
    "{n#} lines written as ordered": "{n} Zeilen als bestellt eingetragen",
    "{n#} donors": "{n} Spender",
    "{n#} donor": "{n} Spender",
    "device {n#} disposed of": "Gerät {n} entsorgt",
    "the rest went back": "das Übrige ist abgegeben",
    "{n#} device handed back": "{n} Gerät abgegeben",
    "{n#} devices handed back": "{n} Geräte abgegeben",
    "set right by a new entry": "durch einen neuen Eintrag berichtigt",
    "the old one stays readable": "der alte bleibt lesbar",
    "call the order of the exchange off on the part's page":
        "die Bestellung des Tauschs auf der Seite des Ersatzteils absagen",
    "written": "eingetragen",
    "written; plans count it from now on": "eingetragen; Pläne zählen es von jetzt an",
    "{n#} device here got a due day": "{n} Gerät hier bekam einen Termin",
    "{n#} devices here got a due day": "{n} Geräte hier bekamen einen Termin",
    "marked": "bezeichnet",
    "masked": "verdeckt",
    "taken away": "weggenommen",
    "removed": "entfernt",
    "cleared: the customer may see it": "freigegeben: der Kunde darf es sehen",
    "taken for {x!}": "gehalten für {x}",
    "taken for {x!}, seen open": "gehalten für {x}, offen gesehen",
    "isolated: print the label, put it on, do not power it":
        "abgesondert: das Etikett drucken und anbringen, nicht einschalten",
    "{n#} {x!} added": "{n} {x} hinzugefügt",
    "it stays readable": "es bleibt lesbar",
    "it stands on the page of the morning when its day nears":
        "es steht auf der Seite des Morgens, wenn sein Tag naht",
    "planned": "geplant",
    "written as cut": "als abgeschnitten eingetragen",
    "it lies with the waste": "es liegt beim Abfall",
    "kept": "behalten",
    "counted": "gezählt",
    "counted, as the books say": "gezählt, wie die Bücher sagen",
    "counted: {n#}": "gezählt: {n}",
    **{f"{code}: {word}": f"{german}: {told}" for code, german in _DUTIES.items()
       for word, told in (("yes", "ja"), ("no", "nein"))},
    **{f"{{x!}}: {word}": f"{{x}}: {german}" for word, german in _OUTCOMES.items()},
    **{f"{state}, {{x!}}": f"{german}, {{x}}" for state, german in _STATES.items()},
    **{f"Kept: {verdict}": f"Behalten: {german}" for verdict, german in VERDICTS.items()},
    **{f"{face}: {verdict}": f"{german_face}: {german}" for face, german_face in _FACES.items()
       for verdict, german in VERDICTS.items()},
    **{f"{kind}: written": f"{german}: eingetragen" for kind, german in _INCIDENTS.items()},
    "close it with what was learnt": "mit dem Gelernten abschliessen",
    "{n#} {verb}": "{n} {verb}",
    "{n#} written as ordered": "{n} als bestellt eingetragen",
    "taken back by a new entry": "durch einen neuen Eintrag zurückgenommen",
    "bought again at {n#}": "nachgekauft bei {n}",
    "never": "nie",
    "kept, to compare with at goods-in": "behalten, zum Vergleichen am Wareneingang",
    "in use again": "wieder in Gebrauch",
    "retired": "ausser Gebrauch",
    "its past stays": "seine Vergangenheit bleibt",
    "sold again": "wieder erhältlich",
    "sold no more": "nicht mehr erhältlich",
    "costs nothing, confirmed": "kostet nichts, bestätigt",
    "{x!}: a claim until it was fitted once": "{x}: eine Behauptung, bis es einmal eingebaut war",
    "{x!}: tied to no key": "{x}: mit keinem Schlüssel verknüpft",
    "{x!}, lot {y!}: good at first use": "{x}, Charge {y}: gut bei der ersten Verwendung",
    "{x!}, lot {y!}: failed": "{x}, Charge {y}: versagt",
    "write here what is faulty": "hier eintragen, was fehlerhaft ist",
    "{x!}: yours now, its tray is as written": "{x}: jetzt bei Ihnen, seine Schale ist wie eingetragen",
    "{x!}: you hold it already": "{x}: schon bei Ihnen",
    "its tray is as written": "seine Schale ist wie eingetragen",
    "{x!}: covered until tomorrow": "{x}: abgedeckt bis morgen",
    "kept with the time": "bei der Zeit behalten",
    "{name!}: now make a link to sign in": "{name}: jetzt einen Link zum Anmelden machen",
    "signed off: {x!}": "freigegeben: {x}",
    "sent twice: written once": "zweimal gesendet: einmal geschrieben",
    "sent twice: it is being written, look again in a moment":
        "zweimal gesendet: es wird gerade geschrieben, gleich noch einmal ansehen",
    "signed off: {x!}; no fault of a batch that is here asks for it":
        "freigegeben: {x}; kein Fehler eines Loses im Haus verlangt es",
    "{n#} day away": "{n} Tag abwesend",
    "{n#} days away": "{n} Tage abwesend",
    "link, good once within a day: {x!}": "Link, einmal innerhalb eines Tages gut: {x}",
    "{name!} has left": "{name} ist ausgeschieden",
    "{name!} works here again: make a link to sign in":
        "{name} arbeitet wieder hier: einen Link zum Anmelden machen",
    "{name!}: comes in without a second factor now":
        "{name}: kommt jetzt ohne zweiten Faktor herein",
    "the history stays": "die Geschichte bleibt",
    "the token {name!} lets nobody in any more": "Das Zugangswort {name} lässt niemanden mehr ein",
    "token, shown this once: {x!}": "Zugangswort, nur dieses Mal gezeigt: {x}",
    "NOT whole: {x!}": "NICHT ganz: {x}",
    "whole: {n#} entries": "ganz: {n} Einträge",
    "the usual checks are listed": "die üblichen Prüfungen sind aufgeführt",
    "version {n#} released": "Version {n} freigegeben",
    "{name!} may try version {n#}": "{name} darf Version {n} proben",
    "{n#} gone, receipt {x!}": "{n} fort, Beleg {x}",
}  # fmt: skip

_PAGES = {
    "{x}: nothing to print on it now":
        "{x}: darauf gibt es jetzt nichts zu drucken",
    "cannot quote against limits: the terms name none":
        "kein Angebot gegen Grenzen möglich: die Bedingungen nennen keine",
    "nothing goes without asking: {x.}": "nichts geht ohne Rückfrage: {x}",
    "no contract on handling data on file: the strictest class holds":
        "kein Vertrag über den Umgang mit Daten hinterlegt: die strengste Klasse gilt",
    "duties on data without a yes: {list,}": "Pflichten zu Daten ohne ein Ja: {list}",
    "{n#} device of which nobody knows whether they are locked":
        "{n} Gerät, von dem niemand weiss, ob es gesperrt ist",
    "{n#} devices of which nobody knows whether they are locked":
        "{n} Geräte, von denen niemand weiss, ob sie gesperrt sind",
    "cannot promise: {n#} device without a due day": "keine Zusage möglich: {n} Gerät ohne Termin",
    "cannot promise: {n#} devices without a due day": "keine Zusage möglich: {n} Geräte ohne Termin",
    "cannot promise: nobody said what is to come and by which day":
        "keine Zusage möglich: niemand sagte, was kommt und bis zu welchem Tag",
    "cannot promise: {n#} device to come without a due day":
        "keine Zusage möglich: {n} erwartetes Gerät ohne Termin",
    "cannot promise: {n#} devices to come without a due day":
        "keine Zusage möglich: {n} erwartete Geräte ohne Termin",
    "{n#} device still here": "{n} Gerät noch hier",
    "{n#} devices still here": "{n} Geräte noch hier",
    "{n#} part with data without an end on record":
        "{n} Teil mit Daten ohne eingetragenes Ende",
    "{n#} parts with data without an end on record":
        "{n} Teile mit Daten ohne eingetragenes Ende",
    "neither given back nor explained: {n#} of the accessories":
        "weder zurückgegeben noch erklärt: {n} Stück Zubehör",
    "{n#} credit of a donor on no invoice":
        "{n} Gutschrift eines Spenders auf keiner Rechnung",
    "{n#} credits of a donor on no invoice":
        "{n} Gutschriften eines Spenders auf keiner Rechnung",
    "{n#} device on no invoice": "{n} Gerät auf keiner Rechnung",
    "{n#} devices on no invoice": "{n} Geräte auf keiner Rechnung",
    "nobody works here": "niemand arbeitet hier",
    "nobody is signed off for the description of {model!}":
        "niemand ist freigegeben für die Beschreibung von {model}",
    "nobody is signed off for {x!}": "niemand ist freigegeben für {x}",
    "{who!} has no bench minutes": "{who} hat keine Werkbankminuten",
    "takes {who!} {n#} min of a day of {m#}: {k#} min too long to be closed the same day":
        "braucht {who} {n} min von einem Tag mit {m}: {k} min zu lang, um am selben Tag zu schliessen",
    "waits for {n#}, which can not be done": "wartet auf {n}, das nicht zu machen ist",
    "{n!} min, in eight cases of ten {low!} to {high!}":
        "{n} min, in acht von zehn Fällen {low} bis {high}",
    **{
        f"from {{n#}} {device} of it met before{whose}": f"aus {{n}} früher gesehenen{wessen}"
        for device in ("device", "devices")
        for whose, wessen in (
            ("", ""),
            (", of all customers", " aller Kunden"),
            (", of this customer", " dieses Kunden"),
            (", in this batch and before it", " in dieser Lieferung und davor"),
        )
    },
    "written yes for {n#} device": "schriftliche Zustimmung für {n} Gerät",
    "written yes for {n#} devices": "schriftliche Zustimmung für {n} Geräte",
    "the fault table counts as {n#} more": "die Fehlertabelle zählt wie {n} weitere",
    "{n#} left out, with faults the terms do not name":
        "{n} weggelassen, mit Fehlern, welche die Bedingungen nicht nennen",
    "faults that the terms do not name left out, {p#} % of the table":
        "ohne die Fehler, welche die Bedingungen nicht nennen, {p} % der Tabelle",
    "bench minutes of {n#} whole jobs here": "Minuten am Platz aus {n} ganzen Arbeiten hier",
    "minutes as the terms set them": "Minuten, wie die Bedingungen sie setzen",
    "unknown: the terms do not name it": "unbekannt: die Bedingungen nennen es nicht",
    "unknown: none of it was here before, and no fault table tells its faults":
        "unbekannt: keines davon war früher hier, und keine Fehlertabelle nennt seine Fehler",
    "Approvals, to print": "Freigaben, zum Drucken",
    "Approvals, to send": "Freigaben, zum Senden",
    "Order list, all the batch needs, ordered or not":
        "Bestellliste, alles, was das Los braucht, bestellt oder nicht",
    "Kit lists": "Teilelisten",
    "Isolation labels": "Etiketten zum Absondern",
    "Donor cards": "Spenderkarten",
    "Receipt to the customer": "Empfangsschein für den Kunden",
    "Invoice of the whole batch, as planned": "Rechnung des ganzen Loses, wie geplant",
    "Test and evidence pages": "Prüf- und Belegseiten",
    "Day sheet, {x!}": "Tagesblatt, {x}",
    "{x!} is not on the customer's list": "{x} ist nicht auf der Liste des Kunden",
    "row {n#} of the customer's list: {x!}": "Zeile {n} der Liste des Kunden: {x}",
    "received already as device {n#}": "schon angenommen als Gerät {n}",
    "known: {x!}": "bekannt: {x}",
    "known: {x!}, last here {day}": "bekannt: {x}, zuletzt hier {day}",
    "job {n#} of this device: a lead must look, as it has been here before more than once: what was done did not hold, or was not what was wrong":
        "Arbeit {n} an diesem Gerät: die Leitung muss es ansehen, denn es war schon mehr als einmal hier: was getan wurde, hielt nicht, oder es war nicht das, was falsch war",
    "the list says {x!}, the body shows {y!}: parts go by the body, the list keeps its own":
        "die Liste sagt {x}, das Gehäuse zeigt {y}: Ersatzteile nach dem Gehäuse, die Liste behält ihres",
    "loss: the day passed": "Verlust: der Tag ist verstrichen",
    "no deadline known: ask the supplier": "kein letzter Tag bekannt: den Lieferanten fragen",
    "to be sent back": "zurückzusenden",
    "sent, {x} awaited": "gesandt, {x} erwartet",
    "{x!}, found {day}, {end}": "{x}, gefunden {day}, {end}",
    "device {n#}": "Gerät {n}",
    "device {n#}: {x!}, {m#} in": "Gerät {n}: {x}, {m} ein",
    "the batch: {x!}, {m#} in": "das Los: {x}, {m} ein",
    "{day}: {kind} {x!} g": "{day}: {kind} {x} g",
    "pending": "steht aus",
    "asked anew": "neu gefragt",
    "left unanswered": "unbeantwortet weg",
    "answer pending": "Antwort steht aus",
    "no end yet": "noch kein Ende",
    "same customer": "denselben Kunden",
    "any": "alle",
    "any customer": "alle Kunden",
    "untested": "ungeprüft",
    "used": "verwendet",
    "promised": "zugesagt",
    "short": "fehlt noch",
    "go": "reparieren",
    "ask": "zuerst fragen",
    # What has words of a person in it, where a page does not know whose.
    "device {n#}: no yes in hand": "Gerät {n}: noch kein Ja",
    "device {n#}: {x!} is sure only once open: {y!}": "Gerät {n}: {x} ist erst offen sicher: {y}",
    "{x} by this workshop ({y!}) {n#} day ago": "{x} von dieser Werkstatt ({y}) vor {n} Tag",
    "{x} by this workshop ({y!} with {list!}) {n#} day ago":
        "{x} von dieser Werkstatt ({y} mit {list}) vor {n} Tag",
    "{x} by this workshop ({y!}) {n#} days ago": "{x} von dieser Werkstatt ({y}) vor {n} Tagen",
    "{x} by this workshop ({y!} with {list!}) {n#} days ago":
        "{x} von dieser Werkstatt ({y} mit {list}) vor {n} Tagen",
    "{day}: {x} by this workshop ({y!})": "{day}: {x} von dieser Werkstatt ({y})",
    "{day}: {x} by this workshop ({y!} with {list!})":
        "{day}: {x} von dieser Werkstatt ({y} mit {list})",
    "same function; {list!} passed at hand-back": "dieselbe Funktion; {list} war gut bei der Abgabe",
    "possible, by owner's number ({x!}): {day}, {end}":
        "möglich, nach der Nummer des Eigentümers ({x}): {day}, {end}",
    "no part for {x!} fits {y!}: confirm the revision":
        "kein Ersatzteil für {x} passt zu {y}: die Ausführung bestätigen",
    "the cost of {x!} is not known: find it out": "die Kosten von {x} sind unbekannt: ermitteln",
    "{x!} costs {y!}: give its cost, or confirm that it is free":
        "{x} kostet {y}: die Kosten angeben, oder bestätigen, dass es nichts kostet",
    "no worth-mending limit known for {x!}: ask the list price and age":
        "keine Grenze der Reparaturwürdigkeit bekannt für {x}: Listenpreis und Alter erfragen",
    "no residual value known for {x!}: ask the list price and age":
        "kein Restwert bekannt für {x}: Listenpreis und Alter erfragen",
    "{x!}, piece {n#}": "{x}, Stück {n}",
    "{x!}: cut, does not go back": "{x}: abgeschnitten, geht nicht zurück",
    "{x!}: fit by {y}": "{x}: tauglich nach {y}",
    "{x!}: fit by {y}, look again by {day}": "{x}: tauglich nach {y}, wieder ansehen bis {day}",
    "{x!}: NOT HANDED BACK AS FIT ({standing}: {why;})":
        "{x}: NICHT ALS TAUGLICH ZURÜCKGEGEBEN ({standing}: {why})",
    "{x!}: NOT HANDED BACK AS FIT (passed at the bench; no reading is on record)":
        "{x}: NICHT ALS TAUGLICH ZURÜCKGEGEBEN (am Arbeitsplatz bestanden; kein Messwert ist festgehalten)",
    "over 99 %": "über 99 %",
    "under 1 %": "unter 1 %",
}  # fmt: skip

COUNTER_BATCH = {**_STATES, **_OUTCOMES, **VERDICTS, **_CHOICES, **_DONE, **_PAGES}
"""What is said of a batch at the counter, choices and messages after an act among it."""
