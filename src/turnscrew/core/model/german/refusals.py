"""What is said in German when something is refused at the bench?"""

from turnscrew.core.model.german.own_words import WAITING_WORDS
from turnscrew.core.model.phrasebook import MONTHS

_MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()

_KEPT = "nothing of this was written, what was there before is kept"
_BLEIBT = "nichts davon ist geschrieben, was vorher da war, bleibt"

REFUSALS = {
    f"records: found no room left or a failing disk, wanted room; {_KEPT}":
        f"Aufzeichnungen: kein Platz mehr oder eine Platte, die versagt, gesucht Platz; {_BLEIBT}",
    f"records: found read-only, wanted a folder that may be written; {_KEPT}":
        f"Aufzeichnungen: nur zum Lesen gefunden, gesucht ein Ordner, in den geschrieben werden darf; {_BLEIBT}",
    f"records: found busy for 20 s, wanted a moment alone; {_KEPT}":
        f"Aufzeichnungen: seit 20 s beschäftigt, gesucht ein Augenblick allein; {_BLEIBT}",
    "records: found out of reach, wanted a database that can be opened":
        "Aufzeichnungen: nicht zu erreichen, gesucht eine Datenbank, die sich öffnen lässt",
    "records: found a damaged database, wanted a whole one: restore the last backup":
        "Aufzeichnungen: eine beschädigte Datenbank gefunden, gesucht eine ganze: die letzte Sicherung zurückholen",
    "{where}: found {x}, wanted {list,}": "{where}: gefunden {x}, gesucht {list}",
    "found {x}, wanted {list,}": "gefunden {x}, gesucht {list}",
    "found nothing to do here": "hier gibt es nichts zu tun",
    "found something else, wanted: it is so, or take it back":
        "etwas anderes gefunden, gesucht: es ist so, oder zurücknehmen",
    "found something else, wanted which one holds":
        "etwas anderes gefunden, gesucht, was gilt",
    "found something else, wanted an answer": "etwas anderes gefunden, gesucht eine Antwort",
    "found something else, wanted 1, 2 or Done":
        "etwas anderes gefunden, gesucht 1, 2 oder Fertig",
    "path: found another one by now, wanted the one this line stands in":
        "Weg: inzwischen einen anderen gefunden, gesucht der, in dem diese Zeile steht",
    "found {x}, wanted Done or Undo": "gefunden {x}, gesucht Fertig oder Zurück",
    "found {x}, wanted Read it or Undo": "gefunden {x}, gesucht Gelesen oder Zurück",
    "page: found it too small for what is to be done, wanted a larger window":
        "Seite: zu klein für das, was zu tun ist; gesucht ein größeres Fenster",
    "found {x}, wanted Done": "gefunden {x}, gesucht Fertig",
    "found {x}, wanted yes or no": "gefunden {x}, gesucht ja oder nein",
    "found {x}, wanted empty, or some left": "gefunden {x}, gesucht leer, oder Rest da",
    "found {x}, wanted passed or failed": "gefunden {x}, gesucht gut oder schlecht",
    "found {x}, wanted a number": "gefunden {x}, gesucht eine Zahl",
    "found {x}, wanted Done, Undo, three more, or a kind":
        "gefunden {x}, gesucht Fertig, Zurück, drei mehr oder eine Art",
    "text: found {x} with Enter behind it, wanted a label, a card or one key":
        "Text: gefunden {x} mit Eingabe dahinter, gesucht ein Etikett, eine Karte oder eine Taste",
    "place {n#}: found no open device there": "Platz {n}: dort kein offenes Gerät gefunden",
    "device: found none chosen, wanted its scan or its place number":
        "Gerät: keines gewählt, gesucht sein Scan oder seine Platznummer",
    "device: found no {x}, wanted one that is here":
        "Gerät: {x} nicht gefunden, gesucht eines, das hier ist",
    "device: found it isolated, {x}, wanted it moved out first":
        "Gerät: abgesondert, {x}, gesucht, dass es zuerst herausgestellt wird",
    "device: found nothing said of data of persons, wanted a decision on its page first":
        "Gerät: zu Daten von Personen ist nichts gesagt, gesucht zuerst eine Entscheidung auf seiner Seite",
    "device: found a permission for its data that ended on {x}, wanted a new decision on its page first":
        "Gerät: die Erlaubnis für seine Daten endete am {x}, gesucht zuerst eine neue Entscheidung auf seiner Seite",
    "told by: found somebody else, wanted who is signed in":
        "angegeben von: jemand anderem, gesucht, wer angemeldet ist",
    "device: found none in hand at the bench, wanted one chosen":
        "Gerät: keines in Arbeit gefunden, gesucht ein gewähltes",
    "photo: found HEIC, wanted a JPEG, PNG or WebP picture: in the settings of the phone's camera choose the most compatible format":
        "Foto: HEIC gefunden, gesucht ein Bild als JPEG, PNG oder WebP: in den Einstellungen der Kamera des Telefons das kompatibelste Format wählen",
    "photo: found something else, wanted a JPEG, PNG or WebP picture":
        "Foto: etwas anderes gefunden, gesucht ein Bild als JPEG, PNG oder WebP",
    "photo: found none, wanted one before it is covered, or signed for instead":
        "Foto: keines gefunden, gesucht eines vor dem Verdecken oder ein Zeichen dafür",
    "photo: found no {x} of this device, wanted one taken of it":
        "Foto: {x} von diesem Gerät nicht gefunden, gesucht eines von ihm",
    "yes in writing: found none for {x}, wanted it written on the page Approvals first":
        "Schriftliche Zustimmung: keine für {x} gefunden, zuerst auf der Seite Freigaben eintragen",
    "second look: found nobody, wanted another person's card scanned, or TS-WHO- and their short name typed":
        "Zweiter Blick: niemand gefunden, gesucht der Scan der Karte einer anderen Person, oder TS-WHO- und ihr Kurzname getippt",
    "second look: found nobody called {x}": "Zweiter Blick: niemand namens {x} gefunden",
    "second look: found one, wanted none here": "Zweiter Blick: hier keiner gesucht",
    "second look: found nobody, wanted another person than who refitted it":
        "Zweiter Blick: niemand gefunden, gesucht eine andere Person als die, die es eingesetzt hat",
    "second look: found the same one, wanted another person than who refitted it":
        "Zweiter Blick: dieselbe Person gefunden, gesucht eine andere als die, die es eingesetzt hat",
    "second look: found somebody unknown, wanted one who works at benches":
        "Zweiter Blick: eine unbekannte Person gefunden, gesucht eine, die an Plätzen arbeitet",
    "disk: found {x}, wanted this written; it is not told":
        "Speicher: gefunden {x}, gesucht, dass dies geschrieben ist; es ist nicht eingetragen",
    "no room": "kein Platz",
    "records: found no answer that can be read, wanted one for this alone; all else goes on":
        "Verzeichnis: gefunden keine lesbare Antwort, gesucht eine, nur hierfür; alles andere geht weiter",
    "Signed in anew meanwhile: press again; nothing told here is lost":
        "Inzwischen neu angemeldet: noch einmal drücken; nichts hier Gesagtes ist verloren",
    "network: found none, wanted it for this alone; all else goes on":
        "Netz: keines gefunden, nur hierfür gesucht; alles andere geht weiter",
    "choose: found something else, wanted one of the numbers":
        "Wählen: etwas anderes gefunden, gesucht eine der Nummern",
    "number: found none, wanted one": "Zahl: keine gefunden, gesucht eine",
    "number: found {x}, wanted {n#} to {m#}": "Zahl: gefunden {x}, gesucht {n} bis {m}",
    "number: found {x}, wanted a number": "Zahl: gefunden {x}, gesucht eine Zahl",
    "number: found something else, wanted digits and Enter":
        "Zahl: etwas anderes gefunden, gesucht Ziffern und Eingeben",
    "record: found none yet, wanted what it was: More":
        "Aufzeichnung: noch nichts da, gesucht, was es war: Mehr",
    "record: found no joint yet, wanted its kind: More":
        "Aufzeichnung: noch keine Verbindung da, gesucht ihre Art: Mehr",
    "record: found more of {x}, wanted one recorded":
        "Aufzeichnung: mehr von {x} gefunden, gesucht etwas Aufgezeichnetes",
    "record: found {x} twice, wanted it once":
        "Aufzeichnung: {x} zweimal gefunden, gesucht einmal",
    "undo: found nothing done in this path": "Zurück: auf diesem Weg noch nichts getan",
    "undo: found nothing recorded": "Zurück: nichts aufgezeichnet",
    "undo: found nothing recorded, wanted something":
        "Zurück: nichts aufgezeichnet, gesucht etwas",
    "undo: found nothing done in this path, wanted something to take back":
        "Zurück: auf diesem Weg noch nichts getan, gesucht etwas zum Zurücknehmen",
    "undo: found line {n#}, wanted the last one, {m#}":
        "Zurück: Zeile {n} gefunden, gesucht die letzte, {m}",
    "undo: found other work written since, wanted the last stroke":
        "Zurück: seither anderes eingetragen, gesucht der letzte Eintrag",
    "line: found line {n#}, wanted none: all done":
        "Zeile: Zeile {n} gefunden, gesucht keine: alles fertig",
    "line: found line {n#}, wanted line {m#}": "Zeile: Zeile {n} gefunden, gesucht Zeile {m}",
    "line: found line {n#}, wanted one of {m#}": "Zeile: Zeile {n} gefunden, gesucht eine von {m}",
    "tray: found {list,}, wanted none before it is closed":
        "Schale: {list} gefunden, gesucht nichts, bevor geschlossen wird",
    "{n#} in {x}": "{n} in {x}",
    "answer: found done alone, wanted the answer to this {x}":
        "Antwort: nur Fertig gefunden, gesucht die Antwort: {x}",
    "look": "Blick",
    "count": "Zählung",
    "test": "Prüfung",
    "answer: found {x}, wanted done: this line asks nothing":
        "Antwort: gefunden {x}, gesucht Fertig: diese Zeile fragt nichts",
    "answer: found {x}, wanted the customer's yes to the quote": (
        "Antwort: gefunden {x}, gesucht das Ja des Kunden zum Angebot"
    ),
    "answer: found a yes to less, wanted the customer's yes to the new quote": (
        "Antwort: gefunden ein Ja zu weniger, gesucht eines zum neuen Angebot"
    ),
    "quote: found no price, wanted one, and the customer's yes to it":
        "Angebot: kein Preis gefunden, gesucht einer, und das Ja des Kunden dazu",
    "question: found nothing to ask, wanted work to go on": (
        "Frage: nichts zu fragen gefunden, weiterarbeiten"
    ),
    "answer: found {x}, wanted {list,}": "Antwort: gefunden {x}, gesucht {list}",
    "compartment: found {x}, wanted {list,}": "Fach: gefunden {x}, gesucht {list}",
    "what: found {x}, wanted {list,}": "Was: gefunden {x}, gesucht {list}",
    "n: found {x}, wanted 1 or more": "Anzahl: gefunden {x}, gesucht 1 oder mehr",
    "n: found {x}, wanted {low#} to {high#}": "Anzahl: gefunden {x}, gesucht {low} bis {high}",
    "one": "eine",
    "value: found {x}, wanted 0 to 100 %": "Wert: gefunden {x}, gesucht 0 bis 100 %",
    "value: found {x}, wanted a number of {unit}":
        "Wert: gefunden {x}, gesucht eine Zahl in {unit}",
    "left: found {x}, wanted the number of pieces left":
        "Rest: gefunden {x}, gesucht die Zahl der übrigen Stücke",
    "left: found 0, wanted what became of {list,}":
        "Rest: 0 gefunden, gesucht, was daraus wurde: {list}",
    "power: found a test, wanted: {rest}; ask for a new path":
        "Strom: eine Prüfung gefunden, gesucht: {rest}; einen neuen Weg verlangen",
    "power: found a charge, wanted: {rest}; ask for a new path":
        "Strom: eine Ladung gefunden, gesucht: {rest}; einen neuen Weg verlangen",
    "line: found another one meanwhile, wanted this one seen first":
        "Zeile: inzwischen eine andere gefunden, gesucht: diese zuerst ansehen",
    "power: found a test, wanted: {rest.}": "Strom: eine Prüfung gefunden, gesucht: {rest.}",
    "reason: found none, wanted why": "Grund: keiner gefunden, gesucht warum",
    "reason: found none, wanted why it is left out":
        "Grund: keiner gefunden, gesucht, warum es weggelassen ist",
    "reason: found none, wanted what turned out different":
        "Grund: keiner gefunden, gesucht, was anders war",
    "line: found one without loose pieces, wanted one that takes or refits":
        "Zeile: eine ohne lose Stücke gefunden, gesucht eine, die herausnimmt oder einsetzt",
    "found: found a danger at this line, wanted a new path for it, or Undo":
        "gefunden: eine Gefahr an dieser Zeile, gesucht ein neuer Weg dafür, oder Zurück",
    "photo: found one taken on the page of another device, wanted device {n#}, in hand at the bench now: nothing kept; look, and take it again":
        "Foto: eines auf der Seite eines anderen Geräts aufgenommen gefunden, gesucht Gerät {n}, das jetzt am Arbeitsplatz in der Hand ist: nichts behalten; hinsehen und nochmals aufnehmen",
    "skip: found the closing itself, wanted it done: nobody skips that":
        "Auslassen: das Schliessen selbst gefunden, gesucht getan: das lässt niemand aus",
    "skip: found what lets it be powered again, wanted it done or a new path":
        "überspringen: gefunden, was es wieder unter Strom lässt, erwartet erledigt oder ein neuer Weg",
    "skip: found an action of the path, wanted it done or a new path":
        "Auslassen: eine Arbeit des Wegs gefunden, gesucht getan, oder ein neuer Weg",
    "description: found no way in to this: {x}; wanted it recorded, or the number of the part said on the page of {model}":
        "Beschreibung: keinen Weg hinein hierzu gefunden: {x}; gesucht aufgezeichnet, oder die Nummer des Teils auf der Seite von {model} genannt",
    "description: found none of {x}, wanted one, or to record it":
        "Beschreibung: keine von {x} gefunden, gesucht eine, oder aufzeichnen",
    "state: found {x}, wanted it on a bench: move it back on its page first":
        "Zustand: gefunden {x}, gesucht an einem Platz: zuerst auf seiner Seite zurückstellen",
    "state: found {x}, wanted it kitted or further":
        "Zustand: gefunden {x}, gesucht: Teile bereit oder weiter",
    "state: found it {x}, wanted one that is here":
        "Zustand: gefunden {x}, gesucht eines, das hier ist",
    "state: found it parked, covered, wanted it taken up again first":
        "Zustand: geparkt, abgedeckt, gesucht zuerst wieder aufgenommen",
    "state: found it isolated, wanted it left alone and moved out first":
        "Zustand: abgesondert, gesucht in Ruhe gelassen und zuerst herausgestellt",
    "holder: found somebody else, wanted you: take it over on the page Handover, where its tray is counted":
        "In Arbeit bei jemand anderem, gesucht bei Ihnen: auf der Seite Übergabe übernehmen, wo die Schale gezählt wird",
    "holder: found another than the one who has it open, wanted it taken over on the page Handover, where its tray is counted":
        "Halter: eine andere Person gefunden als die, bei der es offen liegt, gesucht auf der Seite Übergabe übernommen, wo seine Schale gezählt wird",
    "holder: found somebody else since, wanted you: take it over on the page Handover, where its tray is counted":
        "Seither in Arbeit bei jemand anderem, gesucht bei Ihnen: auf der Seite Übergabe übernehmen, wo die Schale gezählt wird",
    "path: found more told meanwhile, wanted it asked again":
        "Weg: inzwischen mehr gesagt, gesucht noch einmal gefragt",
    "path: found an older one, wanted the newest of the device":
        "Weg: ein älterer gefunden, gesucht der neueste des Geräts",
    "path: found a recording, wanted one that was computed":
        "Weg: eine Aufzeichnung gefunden, gesucht ein berechneter",
    "path: found none yet, wanted the device on a bench":
        "Weg: noch keiner gefunden, gesucht das Gerät an einem Platz",
    "path: found one of this device, wanted none to record it":
        "Weg: einer dieses Geräts gefunden, zum Aufzeichnen gesucht keiner",
    "path: found a computed one, wanted one that is recorded":
        "Weg: ein berechneter gefunden, gesucht ein aufgezeichneter",
    "revision: found {x}, wanted {list,}": "Ausführung: gefunden {x}, gesucht {list}",
    "test: found no answer, wanted one or a reading":
        "Prüfung: keine Antwort gefunden, gesucht eine oder ein Messwert",
    "key: found one of another device, wanted a new one":
        "Schlüssel: einer eines anderen Geräts gefunden, gesucht ein neuer",
    "act: found a record, wanted one of a computed path":
        "Eintrag: eine Aufzeichnung gefunden, gesucht einer eines berechneten Wegs",
    "act: found {x}, wanted record or undo": "Eintrag: gefunden {x}, gesucht Aufzeichnung oder Zurück",
    "pack swollen or not known, wanted it isolated and changed, or somebody signed off who says that it is sound":
        "Akku aufgebläht oder unbekannt, gesucht abgesondert und gewechselt, oder jemand mit Freigabe, der sagt, dass er in Ordnung ist",
    "holder: found nobody signed off for {x!}": "Halter: niemand gefunden mit Freigabe für {x}",
    "test: found passed though the customer wants it not started, wanted not possible, because not allowed":
        "Prüfung: bestanden gefunden, obwohl der Kunde es nicht gestartet haben will, gesucht nicht möglich, weil nicht erlaubt",
    "holder: found nobody signed off for {x!}; {later.}":
        "Halter: niemand gefunden mit Freigabe für {x}; {later}",
    "{who!} may from {day!} on": "{who} darf ab {day}",
    **{
        f"{{who!}} may from {{d#}} {month} {{y#}} on": f"{{who}} darf ab {{d}}. {monat} {{y}}"
        for month, monat in zip(_MONTHS, MONTHS, strict=True)
    },
    **WAITING_WORDS,
    "sign-off: found none for {x}, wanted one to say that its pack is not bad":
        "Freigabe: keine gefunden für {x}, gesucht eine, um zu sagen, dass der Akku nicht schlecht ist",
    "sign-off: found none for {x}, wanted one for this line":
        "Freigabe: keine gefunden für {x}, gesucht eine für diese Zeile",
    "accounts: found one, wanted two that do not agree":
        "Angaben: eine gefunden, gesucht zwei, die sich widersprechen",
    "accounts: found one of an older path, wanted what is so told anew":
        "Angaben: eine eines älteren Wegs gefunden, gesucht neu gesagt, was so ist",
    "bench: found {n#} devices on {x}, wanted one fewer: finish one, hand it over or put it elsewhere first":
        "Platz: {n} Geräte auf {x} gefunden, gesucht eines weniger: zuerst eines fertigstellen, übergeben oder anderswo hinstellen",
    "recording: found one that has ended, wanted one going on":
        "Aufzeichnung: eine beendete gefunden, gesucht eine laufende",
    "recording: found none of this device, wanted one going on":
        "Aufzeichnung: keine dieses Geräts gefunden, gesucht eine laufende",
    "recording: found nothing undone, wanted at least one joint":
        "Aufzeichnung: nichts gelöst, gesucht mindestens eine Verbindung",
    "what came before it of this device was refused":
        "was davor von diesem Gerät kam, wurde abgelehnt",
    "fault table: found none of {x}, wanted one beside its description":
        "Fehlertabelle: keine von {x} gefunden, gesucht eine neben der Beschreibung",
    "fault table: found none of {x}, wanted one":
        "Fehlertabelle: keine von {x} gefunden, gesucht eine",
    "body: found something else, wanted JSON": "Inhalt: etwas anderes gefunden, gesucht JSON",
}  # fmt: skip
"""Where, found and wanted."""
