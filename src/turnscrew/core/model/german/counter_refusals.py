"""What is said in German when something is refused at the counter?"""

from turnscrew.core.model.german.counter_room import NO_ROOM

_ONE_OF = {
    "state": "Zustand", "stage": "Stufe", "asked": "verlangt", "end": "Ende",
    "outcome": "Ergebnis", "class": "Klasse", "lock": "Sperre", "kind": "Art",
    "result": "Ergebnis", "allowed": "erlaubt", "cause": "Ursache", "seen": "gesehen",
    "agrees": "stimmt überein", "damage": "Schaden", "duty": "Pflicht",
    "language": "Sprache", "person": "Person", "code": "Code", "revision": "Ausführung",
}  # fmt: skip

_LACKING = {
    **{
        f"history: found {{n#}} closed {job} without a day, wanted the day of each":
        f"Vorgeschichte: {{n}} {german} ohne Tag gefunden, gesucht der Tag von jeder"
        for job, german in (
            ("job", "abgeschlossene Arbeit"), ("jobs", "abgeschlossene Arbeiten")
        )
    },
    "place: found none, wanted exactly one": "Ort: keiner gefunden, gesucht genau einer",
    "holder: found none, wanted exactly one": "Halter: keiner gefunden, gesucht genau einer",
    "place: found none, wanted where it lies": "Ort: keiner gefunden, gesucht, wo es liegt",
    "day: found none, wanted the day until which it is {state}":
        "Tag: keiner gefunden, gesucht der Tag, bis zu dem es so steht: {state}",
    "reason: found none, wanted why it is {state}":
        "Grund: keiner gefunden, gesucht, warum es so steht: {state}",
    "reason: found none, wanted why it goes back as it came":
        "Grund: keiner gefunden, gesucht, warum es zurückgeht, wie es kam",
    "reason: found none, wanted why it does not hold":
        "Grund: keiner gefunden, gesucht, warum es nicht gilt",
    "reason: found none, wanted why it is given up":
        "Grund: keiner gefunden, gesucht, warum es aufgegeben wird",
    "reason: found none, wanted why it is owed after all":
        "Grund: keiner gefunden, gesucht, warum es doch offen ist",
    "reason: found none, wanted why it is removed":
        "Grund: keiner gefunden, gesucht, warum es entfernt wird",
    "reason: found none, wanted what is wrong with it":
        "Grund: keiner gefunden, gesucht, was daran falsch ist",
    "evidence: found none, wanted a photo, or in words what shows it":
        "Beleg: keiner gefunden, gesucht ein Foto oder in Worten, was es zeigt",
    "day: found {x!}, wanted {y!} or later": "Tag: gefunden {x}, gesucht {y} oder später",
    "day: found {x!}, wanted {y!} or earlier": "Tag: gefunden {x}, gesucht {y} oder früher",
    "until: found {x!}, wanted {y!} or later": "Bis: gefunden {x}, gesucht {y} oder später",
    "settled by: found {x!}, wanted {y!} or later":
        "Zu erledigen bis: gefunden {x}, gesucht {y} oder später",
    "due: found {x!}, wanted a day after {y!}": "Fällig: gefunden {x}, gesucht ein Tag nach {y}",
    "by: found none, wanted who allowed it": "Wer: niemand gefunden, gesucht, wer es erlaubte",
    "asked: found nobody, wanted who was asked":
        "Gefragt: niemand gefunden, gesucht, wer gefragt wurde",
    "name: found none, wanted who gave the answers":
        "Name: keiner gefunden, gesucht, wer die Antworten gab",
    "name: found none, wanted who gave the answer":
        "Name: keiner gefunden, gesucht, wer die Antwort gab",
    "name: found none, wanted the contact's":
        "Name: keiner gefunden, gesucht der der Ansprechperson",
    "signature: found no name, wanted who takes them":
        "Unterschrift: kein Name gefunden, gesucht, wer sie nimmt",
    "why: found nothing, wanted why it was wrong":
        "Warum: nichts gefunden, gesucht, warum es falsch war",
    "why: found nothing, wanted why it is given up":
        "Warum: nichts gefunden, gesucht, warum es aufgegeben wird",
    "why: found nothing, wanted what made it take so long":
        "Warum: nichts gefunden, gesucht, was es so lange dauern liess",
    "receiver: found none, wanted who took it": "Empfänger: keiner gefunden, gesucht, wer es nahm",
    "receipt: found none, wanted its number": "Beleg: keiner gefunden, gesucht seine Nummer",
    "receipt: found one of what is still here, wanted none":
        "Beleg: einer gefunden von etwas, das noch hier ist, gesucht keiner",
    "verified: found nothing, wanted how": "Nachweis: nichts gefunden, gesucht wie",
    "verified: found nothing, wanted with what": "Nachweis: nichts gefunden, gesucht womit",
    "test: found nothing, wanted how it was tested":
        "Prüfung: nichts gefunden, gesucht, wie geprüft wurde",
    "marks: found none, wanted what the comparison showed":
        "Zeichen: keine gefunden, gesucht, was der Vergleich zeigte",
    "photos: found {x!} of pieces without marks, wanted front and back":
        "Fotos: gefunden {x} von Stücken ohne Zeichen, gesucht Vorder- und Rückseite",
    "load: found none, wanted what the device does meanwhile":
        "Last: keine gefunden, gesucht, was das Gerät derweil tut",
    "position: found none, wanted how it lies or stands":
        "Lage: keine gefunden, gesucht, wie es liegt oder steht",
    "tried: found nothing, wanted what was tried":
        "Versucht: nichts gefunden, gesucht, was versucht wurde",
    "words: found none, wanted what the customer is told":
        "Worte: keine gefunden, gesucht, was dem Kunden gesagt wird",
    "words: found none, wanted what is done another way this time":
        "Worte: keine gefunden, gesucht, was diesmal anders getan wird",
    "answer: found no words, wanted what was answered":
        "Antwort: keine Worte gefunden, gesucht, was geantwortet wurde",
    "what: found nothing, wanted what happened": "Was: nichts gefunden, gesucht, was geschah",
    "learnt: found nothing, wanted what is done another way":
        "Gelernt: nichts gefunden, gesucht, was anders getan wird",
    "pack: found none, wanted its label or number":
        "Akku: keiner gefunden, gesucht sein Etikett oder seine Nummer",
    "face: found none, wanted on which it is": "Seite: keine gefunden, gesucht, auf welcher es ist",
    "value: found none, wanted what is right": "Wert: keiner gefunden, gesucht, was stimmt",
}  # fmt: skip

_STANDS = {
    "said: found nothing, wanted what the customer said, or that nothing was":
        "Gesagt: nichts gefunden, gesucht, was der Kunde sagte, oder dass nichts gesagt wurde",
    "seen: found nothing, wanted what was seen": "Gesehen: nichts gefunden, gesucht, was gesehen wurde",
    "confirmed: found nothing, wanted part, mode and cause":
        "Bestätigt: nichts gefunden, gesucht Teil, Art und Ursache",
    "confirmed, {x!}: wanted {list,} too": "Bestätigt, {x}: gesucht auch {list}",
    "mode": "Art",
    "trial: found none on record in which the fault did not show, wanted one before no fault found is the end":
        "Probelauf: keiner eingetragen, in dem sich der Fehler nicht zeigte, gesucht einer, bevor kein Fehler gefunden das Ende ist",
    "trial: found one that runs, wanted it ended first":
        "Probelauf: einer läuft, gesucht zuerst beendet",
    "trial: found none that runs, wanted one planned":
        "Probelauf: keiner läuft, gesucht ein geplanter",
    "device {n#}: not of this batch": "Gerät {n}: nicht von diesem Los",
    "device {n#}: is {state}, wanted packed": "Gerät {n}: Stand {state}, gesucht verpackt",
    "device {n#}: is a donor already": "Gerät {n}: ist schon ein Spender",
    "device {n#}: found it asked about at another price meanwhile, wanted an answer to that one":
        "Gerät {n}: inzwischen zu einem anderen Preis gefragt, gesucht eine Antwort auf diesen",
    "device {n#}: all final tests were answered in {s#} s, wanted a lead who looked into it (on the device's page)":
        "Gerät {n}: alle Schlussprüfungen in {s} s beantwortet, gesucht eine Leitung, die es ansah (auf der Seite des Geräts)",
    "found {x!} written meanwhile, wanted it looked at":
        "inzwischen eingetragen gefunden: {x}, gesucht, dass es angesehen wird",
    "it stands here now": "es steht jetzt hier",
    "pressed once more, what is entered here is written over it":
        "noch einmal gedrückt, wird es durch das hier Eingegebene ersetzt",
    "gap: found {x!} written meanwhile, wanted this page read anew":
        "Spalt: inzwischen {x} geschrieben, gesucht diese Seite neu gelesen",
    "device {n!}: no quote agreed, wanted one to bill by":
        "Gerät {n}: kein vereinbartes Angebot, gesucht eines zum Berechnen",
    "device: found it on an invoice, wanted one not billed yet":
        "Gerät: auf einer Rechnung gefunden, gesucht eines, das noch nicht berechnet ist",
    "device: found it here less often, wanted the third time":
        "Gerät: seltener hier gewesen, gesucht das dritte Mal",
    "devices: found none, wanted one or more": "Geräte: keines gefunden, gesucht eines oder mehr",
    "devices: found none to bill, wanted one or more":
        "Geräte: keines zu berechnen, gesucht eines oder mehr",
    "devices: found {x!}, wanted lines of this batch":
        "Geräte: gefunden {x}, gesucht Nummern dieses Loses",
    "line {n#}: received already": "Zeile {n}: schon angenommen",
    "line {n#}: found number {m#} borne by another batch of the day, wanted it received with that one, or on another day":
        "Zeile {n}: Nummer {m} trägt ein anderes Los des Tages, gesucht mit jenem angenommen oder an einem anderen Tag",
    "line: found {x!}, wanted one that waits for an answer: {y!}":
        "Zeile: gefunden {x}, gesucht eine, die auf Antwort wartet: {y}",
    "line: found {x!}, wanted one that waits for a yes: {y!}":
        "Zeile: gefunden {x}, gesucht eine, die auf Zustimmung wartet: {y}",
    "line: found {n#}, wanted one with a yes that holds":
        "Zeile: gefunden {n}, gesucht eine mit einer Zustimmung, die gilt",
    "name: found none, wanted who agreed in writing":
        "Name: keiner gefunden, gesucht, wer schriftlich zugestimmt hat",
    "data: found a part without an end, wanted none":
        "Daten: ein Teil ohne Ende gefunden, gesucht keines",
    "donor: the terms allow none": "Spender: die Bedingungen erlauben keinen",
    "donor part: belongs to another customer, no consent given":
        "Spenderteil: gehört einem anderen Kunden, keine Zustimmung gegeben",
    "end: found {x} already, wanted one without an end":
        "Ende: schon {x} gefunden, gesucht eines ohne Ende",
    "part: found {x!}, wanted one still to be ordered":
        "Ersatzteil: gefunden {x}, gesucht eines, das noch zu bestellen ist",
    "part: found it in use or no reason, wanted both otherwise":
        "Ersatzteil: in Gebrauch oder ohne Grund, gesucht beides anders",
    "answer: found none yet, wanted one to correct":
        "Antwort: noch keine gefunden, gesucht eine zum Berichtigen",
    "answer: found {x} on record, wanted the other one":
        "Antwort: {x} ist eingetragen, gesucht die andere",
    "answer: found {x}, wanted yes or no": "Antwort: gefunden {x}, gesucht ja oder nein",
    "finding: found one withdrawn already, wanted one that holds":
        "Befund: einer gefunden, der schon zurückgezogen ist, gesucht einer, der gilt",
    "amount: found {x!}, wanted {y!} to {z!}": "Betrag: gefunden {x}, gesucht {y} bis {z}",
    "amount: found {x!}, wanted more than nothing": "Betrag: gefunden {x}, gesucht mehr als nichts",
    "amount: found none, wanted what was credited":
        "Betrag: keiner gefunden, gesucht, was gutgeschrieben wurde",
    "amount: found one with {end}, wanted none": "Betrag: einer gefunden bei {end}, gesucht keiner",
    "payment: found the same one written already, wanted another":
        "Zahlung: dieselbe ist schon eingetragen, gesucht eine andere",
    "if it came twice, say so under how": "kam sie zweimal, das unter Wie sagen",
    "entry: found {n#}, wanted one that wrote a credit as paid back and holds":
        "Eintrag: gefunden {n}, gesucht einer, der ein Guthaben als zurückgezahlt einträgt und gilt",
    "payment: found one taken back already, wanted one that holds":
        "Zahlung: eine gefunden, die schon zurückgenommen ist, gesucht eine, die gilt",
    "invoice: found nothing written off, wanted one that is":
        "Rechnung: nichts abgeschrieben, gesucht eine, bei der etwas abgeschrieben ist",
    "invoice: found no credit, wanted one that has some":
        "Rechnung: kein Guthaben, gesucht eine mit Guthaben",
    "how: found nothing, wanted the way it went back":
        "Wie: nichts gefunden, gesucht der Weg zurück",
    "invoice: found nothing owed, wanted one that is":
        "Rechnung: nichts offen, gesucht eine, bei der etwas offen ist",
    "return: found one still open, wanted one that ended":
        "Rücksendung: eine offene gefunden, gesucht eine beendete",
    "return: found {x} already, wanted one still open":
        "Rücksendung: schon {x}, gesucht eine, die noch offen ist",
    "return: found {x} already, wanted it opened again first":
        "Rücksendung: schon {x}, gesucht zuerst wieder geöffnet",
    "return: found sent on {day}, wanted one still here":
        "Rücksendung: gesandt am {day}, gesucht eine, die noch hier ist",
    "first use: found {x} already, wanted none yet": "Erste Verwendung: schon {x}, gesucht noch keine",
    "pieces: found none, wanted how many are faulty":
        "Stücke: keine gefunden, gesucht, wie viele fehlerhaft sind",
    "pieces: found {n#}, wanted {m#} at most, as ordered":
        "Stücke: gefunden {n}, gesucht höchstens {m}, wie bestellt",
    "pieces: found {n#}, wanted {m#} or more, as they came":
        "Stücke: gefunden {n}, gesucht {m} oder mehr, wie sie kamen",
    "left here: found {n#}, wanted 0 or more": "Hier übrig: gefunden {n}, gesucht 0 oder mehr",
    "left here: found {n#}, wanted 0, as the device was handed back":
        "Hier übrig: gefunden {n}, gesucht 0, da das Gerät abgegeben ist",
    "right value: found what stands there, wanted another":
        "Richtiger Wert: gefunden, was dort steht, gesucht ein anderer",
    "number: found {n#}, wanted 1 or more": "Anzahl: gefunden {n}, gesucht 1 oder mehr",
    "number: found {n#}, wanted 1 to {m#}": "Nummer: gefunden {n}, gesucht 1 bis {m}",
    "number: found {n#}, wanted 1 to {m#} still on order":
        "Anzahl: gefunden {n}, gesucht 1 bis {m}, noch bestellt",
    "count: found {n#}, wanted 0 or more": "Anzahl: gefunden {n}, gesucht 0 oder mehr",
    "buy again at: found {n#}, wanted 0 or more": "Nachkaufen bei: gefunden {n}, gesucht 0 oder mehr",
    "{x!}: found {n#} pieces, wanted 1 or more": "{x}: gefunden {n} Stück, gesucht 1 oder mehr",
    "{x!}: found retired on {day}, wanted one in use":
        "{x}: ausser Gebrauch seit {day}, gesucht eines in Gebrauch",
    "{x!}: found sold no more, wanted one still sold":
        "{x}: nicht mehr erhältlich, gesucht ein erhältliches",
    "allotment: found {x}, wanted one still promised":
        "Zuteilung: gefunden {x}, gesucht eine, die noch zugesagt ist",
    "exchange: found {n#} come in already, wanted none to open it again":
        "Tausch: {n} schon eingegangen gefunden, gesucht keines, um es wieder zu öffnen",
    "entry {n#}: found {x!}, wanted a movement of it":
        "Eintrag {n}: gefunden {x}, gesucht eine Bewegung davon",
    "entry {n#}: found none of this part, wanted a movement of it":
        "Eintrag {n}: keiner dieses Teils gefunden, gesucht eine Bewegung davon",
    "entry {n#}: found one taken back already, wanted a movement of it":
        "Eintrag {n}: schon zurückgenommen gefunden, gesucht eine Bewegung davon",
    "entry {n#}: found one that takes another back, wanted a movement of it":
        "Eintrag {n}: einen gefunden, der einen anderen zurücknimmt, gesucht eine Bewegung davon",
    "batch: found {x!} received before, wanted a new one":
        "Los: {x} wurde schon angenommen, gesucht ein neues",
    "batch: found {x!} of {day!} booked already, wanted a new one":
        "Los: {x} von {day} ist schon gebucht, gesucht ein neues",
    "accessory: found {n#} {x!}, wanted 1 to {m#}":
        "Zubehör: gefunden {n} {x}, gesucht 1 bis {m}",
    "accessory: found two reasons for {x!}, wanted one":
        "Zubehör: zwei Gründe für {x} gefunden, gesucht einer",
    "accessory: found {x!}, wanted DEVICE KIND = why, of this batch":
        "Zubehör: gefunden {x}, gesucht GERÄT ART = warum, von diesem Los",
    "file: found {x!}, wanted terms.yaml, people.yaml, a table batch, parts, customer-list or history, or a description that the terms name":
        "Datei: gefunden {x}, gesucht terms.yaml, people.yaml, eine Tabelle batch, parts, customer-list oder history, oder eine Beschreibung, welche die Bedingungen nennen",
    "table: found neither file nor pasted rows, wanted one":
        "Tabelle: weder Datei noch eingefügte Zeilen gefunden, gesucht eines davon",
    "found no answer, wanted yes or no to one or more":
        "keine Antwort gefunden, gesucht ja oder nein zu einem oder mehr",
    "lock: found {x}, wanted a device locked or enrolled":
        "Sperre: gefunden {x}, gesucht ein gesperrtes oder verwaltetes Gerät",
    "request: found one not answered, wanted its answer first":
        "Anfrage: eine ohne Antwort gefunden, gesucht zuerst ihre Antwort",
    "request: found none that waits, wanted one asked":
        "Anfrage: keine gefunden, die wartet, gesucht eine gestellte",
    "test: found passed while the device is {x}, wanted not possible, because locked":
        "Prüfung: gut gefunden, obwohl das Gerät so ist: {x}; gesucht nicht möglich, weil gesperrt",
    "photo: found no mask, wanted one, or the word that nothing private is seen":
        "Foto: keine Maske gefunden, gesucht eine, oder das Wort, dass nichts Privates zu sehen ist",
    "photo: found {n#} bytes, wanted {m#} or fewer": "Foto: gefunden {n} Bytes, gesucht {m} oder weniger",
    "photo: found none, wanted one": "Foto: keines gefunden, gesucht eines",
    "photo: found one that was removed, wanted one that is there":
        "Foto: ein entferntes gefunden, gesucht eines, das da ist",
    "photo: found other marks or masks by now, wanted those looked at":
        "Foto: inzwischen andere Zeichen oder Masken gefunden, gesucht die angesehenen",
    "key: found one of another device's photo, wanted a new one":
        "Schlüssel: einer vom Foto eines anderen Geräts gefunden, gesucht ein neuer",
    "key: found one of another device, wanted a new one":
        "Schlüssel: einer eines anderen Geräts gefunden, gesucht ein neuer",
    "waste: found one taken back already, wanted one that holds":
        "Abfall: schon zurückgenommen, gesucht einer, der gilt",
    "waste: found {n#} of {m#}, wanted what is here":
        "Abfall: gefunden {n} von {m}, gesucht, was hier ist",
    "mass: found {n#} g, wanted 1 to {m#} g": "Masse: gefunden {n} g, gesucht 1 bis {m} g",
    "minutes: found {n#}, wanted {a#} to {b#}": "Minuten: gefunden {n}, gesucht {a} bis {b}",
    "minutes: found {n#}, wanted {a#} to {b#} min": "Minuten: gefunden {n}, gesucht {a} bis {b} min",
    "temperature: found {n#} °C, wanted {a#} to {b#}":
        "Temperatur: gefunden {n} °C, gesucht {a} bis {b}",
    "charge: found {n#} %, wanted {a#} to {b#} %": "Ladung: gefunden {n} %, gesucht {a} bis {b} %",
    "charge: found {n#} %, wanted {a#} % at most": "Ladung: gefunden {n} %, gesucht höchstens {a} %",
    "device: found one of an erased customer, wanted it left out of the words":
        "Gerät: eines von einem gelöschten Kunden gefunden, gesucht Worte ohne das Gerät",
    "customer: found one erased, wanted one on record":
        "Kunde: ein gelöschter gefunden, gesucht ein eingetragener",
    "in service since: found {day!}, wanted a day before today":
        "Im Dienst seit: gefunden {day}, gesucht ein Tag vor heute",
    "adapter: found it cut already, wanted one that is whole":
        "Netzteil: schon abgeschnitten, gesucht ein ganzes",
    "adapter: found {x}, wanted one not fit": "Netzteil: gefunden {x}, gesucht ein untaugliches",
    "adapter: found none here, wanted one that is here":
        "Netzteil: keines hier, gesucht eines, das hier ist",
    "incident: found it closed already, wanted an open one":
        "Vorfall: schon abgeschlossen, gesucht ein offener",
    "days: found {a!} to {b!}, wanted a year or less": "Tage: gefunden {a} bis {b}, gesucht ein Jahr oder weniger",
    "short name: found {x!} taken, wanted a new one": "Kurzname: {x} ist vergeben, gesucht ein neuer",
    "name: found {x!} listed already, wanted a new name":
        "Name: {x} ist schon aufgeführt, gesucht ein neuer Name",
    "what: found {x!} listed already, wanted a new name":
        "Was: {x} ist schon aufgeführt, gesucht ein neuer Name",
    "password: found two different ones, wanted one twice":
        "Passwort: zwei verschiedene gefunden, gesucht zweimal dasselbe",
    "password: found a wrong one, wanted yours": "Passwort: ein falsches gefunden, gesucht Ihres",
    "code: found a wrong one, wanted the one shown now":
        "Code: ein falscher gefunden, gesucht der jetzt gezeigte",
    "code: found {x!}, wanted {list!}": "Code: gefunden {x}, gesucht {list}",
    "lead: found {x!}, wanted a lead to say so": "Leitung: gefunden {x}, gesucht eine Leitung, die es sagt",
    "lead: found {x!}, wanted a lead to release it":
        "Leitung: gefunden {x}, gesucht eine Leitung, die es freigibt",
    "lead: found {x!}, wanted a lead to withdraw it":
        "Leitung: gefunden {x}, gesucht eine Leitung, die es zurückzieht",
    "trial: found {x!}, wanted somebody who did not record it":
        "Probe: gefunden {x}, gesucht jemand, der es nicht aufgezeichnet hat",
    "value: found {x!} in a list, wanted its words in quotation marks":
        "Wert: gefunden {x} in einer Liste, gesucht ihre Worte in Anführungszeichen",
    "value: found a bracket that is not closed at the end, wanted it closed, or none at the beginning":
        "Wert: eine Klammer gefunden, die am Ende nicht geschlossen ist, gesucht geschlossen, oder keine am Anfang",
    "photo: found its file lost, wanted it removed and taken again":
        "Foto: seine Datei ist verloren, gesucht, dass es entfernt und neu gemacht wird",
    "description: found none of {x!}, wanted one": "Beschreibung: keine von {x} gefunden, gesucht eine",
    "version: found version {n#} by {name!}, other in {what,}, wanted that put into this text too, and {m#} as what it was written from":
        "Version: gefunden Version {n} von {name}, anders in {what}, gesucht das auch in diesem Text, und {m} als die, aus der er geschrieben ist",
    "the fault table": "der Fehlertabelle", "its text": "seinem Text",
    "version: found one withdrawn, wanted one that is not":
        "Version: eine zurückgezogene gefunden, gesucht eine, die es nicht ist",
    "times: found none of five jobs, wanted at least one":
        "Zeiten: keine aus fünf Arbeiten gefunden, gesucht mindestens eine",
}  # fmt: skip

_AMOUNT = "wanted an amount such as {z!}"
_BETRAG = "gesucht ein Betrag wie {z}"

_ENTERED = {
    f"found {{x!}}, {_AMOUNT}, with a comma": f"gefunden {{x}}, {_BETRAG}, mit Komma",
    f"found {{x!}}, {_AMOUNT}, with a point": f"gefunden {{x}}, {_BETRAG}, mit Punkt",
    f"found {{x!}}, wanted a number such as {{y!}}; {_AMOUNT}, with a comma":
        f"gefunden {{x}}, gesucht eine Zahl wie {{y}}; {_BETRAG}, mit Komma",
    f"found {{x!}}, wanted a number such as {{y!}}; {_AMOUNT}, with a point":
        f"gefunden {{x}}, gesucht eine Zahl wie {{y}}; {_BETRAG}, mit Punkt",
    "found {x!}, wanted a number such as {y!}": "gefunden {x}, gesucht eine Zahl wie {y}",
    **{
        f"found {{x!}}, which may mean {{n#}} whole and {{m#}} {part}{more}; nothing was saved: if that is meant, write {{y!}}{wanted}":
            f"gefunden {{x}}, das vielleicht {{n}} Ganze und {{m}} {german} heisst{told}; nichts wurde gespeichert: ist das gemeint, {{y}} schreiben{sought}"
        for part, german in (
            ("tenths", "Zehntel"), ("hundredths", "Hundertstel"),
            ("thousandths", "Tausendstel"), ("ten-thousandths", "Zehntausendstel"),
            ("parts of one", "Teile von eins"),
        )
        for more, told in (("", ""), (", or {k#}", ", oder {k}"))
        for wanted, sought in (
            ("", ""),
            (f"; {_AMOUNT}, with a comma", f"; {_BETRAG}, mit Komma"),
            (f"; {_AMOUNT}, with a point", f"; {_BETRAG}, mit Punkt"),
        )
    },
    "found {x!}, wanted numbers such as 1, 3-9": "gefunden {x}, gesucht Nummern wie 1, 3-9",
    "found {x!}, wanted a workshop number of this batch": "gefunden {x}, gesucht eine Werkstattnummer dieses Loses",
    "found {n#} numbers or more, wanted {m#} or less": "gefunden {n} Nummern oder mehr, gesucht {m} oder weniger",
    "found {x!}, wanted a day from {y!} to {z!}": "gefunden {x}, gesucht ein Tag von {y} bis {z}",
    "number: found {n#} beside {k#} on hand, wanted {m#} or fewer in all": "Anzahl: gefunden {n} neben {k} vorhandenen, gesucht zusammen {m} oder weniger",
    "found {x!}, wanted FROM-TO": "gefunden {x}, gesucht VON-BIS",
    "found yes and no to {x!}, wanted one": "ja und nein zu {x} gefunden, gesucht eines",
    "found no device, wanted one or more": "kein Gerät gefunden, gesucht eines oder mehr",
    "found none, wanted a file or the text itself":
        "nichts gefunden, gesucht eine Datei oder der Text selbst",
    "found 0, wanted more than 0": "0 gefunden, gesucht mehr als 0",
    "received: found {x!}, wanted a day of the years {n#} to {m#}":
        "Erhalten: gefunden {x}, gesucht ein Tag der Jahre {n} bis {m}",
    "answers in hand: found {n#}, wanted {m#} or less": "Antworten da: gefunden {n}, gesucht {m} oder weniger",
    "days away: found {n#}, wanted {m#} or less": "Tage abwesend: gefunden {n}, gesucht {m} oder weniger",
    "late part: found {n#}, wanted {m#} or less": "Spätes Ersatzteil: gefunden {n}, gesucht {m} oder weniger",
    "found {x!}, wanted a day to come": "gefunden {x}, gesucht ein kommender Tag",
    "found its cost or more, wanted less": "gefunden sein Preis oder mehr, gesucht weniger",
    "as of: found {x!}, wanted 2027-02-01 or with T09:00":
        "Stand: gefunden {x}, gesucht 2027-02-01 oder mit T09:00",
    "away: found {x!}, wanted PERSON=FROM-TO, lead=2-4":
        "Abwesend: gefunden {x}, gesucht PERSON=VON-BIS, lead=2-4",
    "late part: found {x!}, wanted PART=DAYS": "Spätes Ersatzteil: gefunden {x}, gesucht TEIL=TAGE",
    "sign-off: found {x!}, wanted PERSON=SKILL": "Freigabe: gefunden {x}, gesucht PERSON=KÖNNEN",
    "payment: found the same one written already, wanted another; if it came twice, say so under how":
        "Zahlung: dieselbe ist schon eingetragen, gesucht eine andere; kam sie zweimal, es unter Wie sagen",
    "state: found {x}, wanted one that lies open": "Zustand: gefunden {x}, gesucht eines, das offen liegt",
    "state: found {x}, wanted it open": "Zustand: gefunden {x}, gesucht offen",
    "state: found {x}, wanted it tried by another first":
        "Zustand: gefunden {x}, gesucht zuerst von jemand anderem geprobt",
    "rights: found {x!}, wanted a lead or helper": "Rechte: gefunden {x}, gesucht Leitung oder Helfer",
    "model: found none, wanted its short name as in the terms":
        "Modell: keines gefunden, gesucht sein Kurzname wie in den Bedingungen",
    "fact: found {x!}, wanted {y!} of {z!}": "Angabe: gefunden {x}, gesucht {y} von {z}",
    "language: found {x!}, wanted {y!}": "Sprache: gefunden {x}, gesucht {y}",
    "holds: found nothing said of {x!}": "Hält: nichts gesagt zu {x}",
    "{x!}: found it written as not done today, wanted the next day's check; what was skipped stays skipped":
        "{x}: heute als nicht getan eingetragen, gesucht die Prüfung des nächsten Tages; was ausgelassen wurde, bleibt ausgelassen",
    "key: found {x!} tied to {y!} already, wanted another":
        "Schlüssel: {x} gehört schon zu {y}, gesucht ein anderer",
    "charge: found {x#} to {y#} %, wanted low, then high, both within 0 to 100":
        "Ladung: gefunden {x} bis {y} %, gesucht erst tief, dann hoch, beide von 0 bis 100",
    "cost: found {x!}, wanted 0 in minor units": "Kosten: gefunden {x}, gesucht 0 in kleinster Einheit",
}  # fmt: skip

_MORE = {
    "next look: found {x!}, wanted a day to come": "Nächster Blick: gefunden {x}, gesucht ein kommender Tag",
    "accessory: found {x!}, wanted an adapter": "Zubehör: gefunden {x}, gesucht ein Netzteil",
    "adapter: found {x!}, wanted one not fit": "Netzteil: gefunden {x}, gesucht ein untaugliches",
    "belongs: found {x!}, wanted {y!}": "Gehört zu: gefunden {x}, gesucht {y}",
    "rating: found no volts, wanted them, or that the label cannot be read":
        "Leistungsschild: keine Volt gefunden, gesucht diese, oder dass es nicht lesbar ist",
    "rating: found neither amps nor watts, wanted one, or that the label cannot be read":
        "Leistungsschild: weder Ampere noch Watt gefunden, gesucht eines, oder dass es nicht lesbar ist",
    "rating: found figures of a label that cannot be read":
        "Leistungsschild: Zahlen eines Schilds gefunden, das nicht lesbar ist",
    "limits: found {x!} above {y!}, wanted low, then high":
        "Grenzen: gefunden {x} über {y}, gesucht erst tief, dann hoch",
    "third time: found job {n#} of this device and no lead who looked into it, wanted one before it is packed":
        "Drittes Mal: Auftrag {n} dieses Geräts, und keine Leitung sah es sich an; gesucht eine, bevor es verpackt wird",
    "gap: found {x!} mm, wanted {y#} to {z#} mm": "Spalt: gefunden {x} mm, gesucht {y} bis {z} mm",
    "missing: found {x!}, wanted one of {list,}": "Fehlt: gefunden {x}, gesucht eines von {list}",
    "damage: found {x!}, wanted one of {list,}": "Schaden: gefunden {x}, gesucht eines von {list}",
    "marks: found {n#} already, wanted fewer": "Zeichen: schon {n} gefunden, gesucht weniger",
    "as of: found {x!}, wanted a time it was booked by": "Stand: gefunden {x}, gesucht eine Zeit nach der Buchung",
    "device: found it isolated, {why!}, wanted it moved out first":
        "Gerät: abgesondert gefunden, {why}, gesucht zuerst von dort geholt",
    "state: found {x}, wanted it kitted or further": "Zustand: gefunden {x}, gesucht bereitgelegt oder weiter",
    "path: found no {x!}, wanted one on record": "Weg: keinen {x} gefunden, gesucht einen eingetragenen",
    "line: found line {n#}, wanted one of {m#}": "Zeile: gefunden Zeile {n}, gesucht eine von {m}",
    "day: found {x!}, wanted one by {y!}": "Tag: gefunden {x}, gesucht einer bis {y}",
    "description: found {model!} {state}, wanted it released, or the lead's word that you may try it":
        "Beschreibung: gefunden {model} {state}, gesucht freigegeben, oder das Wort der Leitung, dass du sie proben darfst",
    "description: found none of {x!}": "Beschreibung: keine von {x} gefunden",
    "part: found no {x!}, wanted a number on record": "Ersatzteil: kein {x} gefunden, gesucht eine eingetragene Nummer",
    "device: found no {x!}, wanted a number of ours": "Gerät: kein {x} gefunden, gesucht eine Nummer von uns",
    "device {n#}: all final tests were answered in {s#} s, wanted a lead who looked into it (on the device's page)":
        "Gerät {n}: alle Schlussprüfungen in {s} s beantwortet, gesucht eine Leitung, die es sich ansah (auf der Seite des Geräts)",
    "{x!}: found {y!}, wanted one of {list,}": "{x}: gefunden {y}, gesucht eines von {list}",
    "{x!}: found {y!}, wanted 0 to {z#}": "{x}: gefunden {y}, gesucht 0 bis {z}",
    "charge: found {x#} %, wanted {y#} to {z#} %, or that the pack will not reach it":
        "Ladung: gefunden {x} %, gesucht {y} bis {z} %, oder dass der Akku es nicht erreicht",
    "charge: found {x#} % within {y#} to {z#} %, wanted it not said that the pack will not reach it":
        "Ladung: gefunden {x} % innerhalb {y} bis {z} %, gesucht nicht gesagt, dass der Akku es nicht erreicht",
    "said by: found nobody, wanted who says that it fits": "Gesagt von: niemand gefunden, gesucht wer sagt, dass es passt",
    "model: found none beside {x!}, wanted its model": "Modell: keines neben {x} gefunden, gesucht sein Modell",
    "fit: found {x!} on record, wanted a new one": "Passung: {x} schon eingetragen, gesucht eine neue",
    "{x!}: found {y#}, wanted {z#} as written; look for them before anything is accepted":
        "{x}: gefunden {y}, gesucht {z} wie eingetragen; danach suchen, bevor etwas angenommen wird",
    "verified: found nothing, wanted how it was verified": "Nachgeprüft: nichts gefunden, gesucht wie nachgeprüft wurde",
    "part: found it fitted already, wanted one that is here": "Ersatzteil: schon eingebaut, gesucht eines, das hier ist",
    "short name: found {x!}, wanted letters, digits and _": "Kurzname: gefunden {x}, gesucht Buchstaben, Ziffern und _",
    "rights: found {x!}, wanted one of {list,}": "Rechte: gefunden {x}, gesucht eines von {list}",
    "answer: found none asked for, wanted the customer's yes to the quote":
        "Antwort: keine erbeten, gesucht das Ja des Kunden zum Angebot",
    "photo: found a picture that breaks off or is damaged ({x!}), wanted a whole one":
        "Foto: ein Bild gefunden, das abbricht oder beschädigt ist ({x}), gesucht ein ganzes",
    "photo: found {x#} x {y#} points, wanted {z#} x {w#} or more": "Foto: gefunden {x} x {y} Punkte, gesucht {z} x {w} oder mehr",
    "photo: found a moving picture, wanted a still one": "Foto: ein bewegtes Bild gefunden, gesucht ein stehendes",
    "photo: found {x!}, wanted {y!} or fewer": "Foto: gefunden {x}, gesucht {y} oder weniger",
    "photo: found no mask, wanted one, or the word that nothing private is seen":
        "Foto: keine Abdeckung gefunden, gesucht eine, oder das Wort, dass nichts Privates zu sehen ist",
    "photo: found other marks or masks by now, wanted those looked at":
        "Foto: inzwischen andere Zeichen oder Abdeckungen gefunden, gesucht die angesehenen",
    "{x!}s: found {n#}, wanted {m#} or fewer": "{x}: gefunden {n}, gesucht {m} oder weniger",
    "breaks: found {x!}, wanted rising numbers, each once": "Mengenpreise: gefunden {x}, gesucht steigende Zahlen, jede einmal",
    "found {x!}, wanted a number and the cost from it on, with a colon between":
        "gefunden {x}, gesucht eine Zahl und die Kosten ab ihr, mit Doppelpunkt dazwischen",
    "file: found rows on the sheets {x!}, wanted rows on one sheet alone":
        "Datei: Zeilen auf den Blättern {x} gefunden, gesucht Zeilen auf einem Blatt allein",
    "file: found {x!}, wanted {y!}": "Datei: gefunden {x}, gesucht {y}",
    "parts of {x!}: found no {y!} on record, wanted them with their prices; the page Stock takes a parts list, and so does booking a folder with one":
        "Ersatzteile von {x}: {y} nicht eingetragen, gesucht mit ihren Preisen; die Seite Lager nimmt eine Teileliste an, das Einbuchen eines Ordners auch",
    "look: found {x!}, wanted one that a description names": "Blick: gefunden {x}, gesucht einer, den eine Beschreibung nennt",
    "left here: found {n#}, wanted 0, as the device was handed back": "Noch hier: gefunden {n}, gesucht 0, da das Gerät zurückgegeben ist",
    "left here: found {n!}, wanted 0 or more": "Noch hier: gefunden {n}, gesucht 0 oder mehr",
    "reading: found {x!}, wanted below {y!} Ω to pass": "Messwert: gefunden {x}, gesucht unter {y} Ω zum Bestehen",
    "why: found nothing, wanted why it is not used any more": "Warum: nichts gefunden, gesucht warum es nicht mehr gebraucht wird",
    "pieces: found {x#} on hand and {y#} promised, wanted none": "Stücke: {x} vorhanden und {y} zugesagt gefunden, gesucht keine",
    "wishes: found {n#} pieces still wanted, wanted none": "Wünsche: {n} Stück noch gewünscht, gesucht keines",
    "orders: found {n#} pieces on their way, wanted none": "Bestellungen: {n} Stücke unterwegs gefunden, gesucht keine",
    "amount: found one with {x}, wanted none": "Betrag: einen mit {x} gefunden, gesucht keiner",
    "name: found {n#} characters, wanted 1 to {m#}": "Name: gefunden {n} Zeichen, gesucht 1 bis {m}",
    "scopes: found {x!}, wanted {y!}": "Bereiche: gefunden {x}, gesucht {y}",
    "expiry: found {x!}, wanted {y!} or earlier": "Ablauf: gefunden {x}, gesucht {y} oder früher",
    "expiry: found {x!}, wanted later than {y!}": "Ablauf: gefunden {x}, gesucht später als {y}",
    "person: found {x!}, who has left, wanted who works here": "Person: gefunden {x}, nicht mehr hier, gesucht wer hier arbeitet",
    "tray: found {x!}, wanted none left before it is closed": "Schale: gefunden {x}, gesucht nichts übrig, bevor geschlossen wird",
    "result: found {x!}, wanted one of shown, not shown, broken off": "Ergebnis: gefunden {x}, gesucht eines von gezeigt, nicht gezeigt, abgebrochen",
    "damaged pack: found one not said to be apart, wanted it packed and labelled by itself":
        "Beschädigter Akku: nicht als einzeln bezeichnet, gesucht einzeln verpackt und beschriftet",
}  # fmt: skip

COUNTER_REFUSALS = {
    **{
        f"{where}: found {{x}}, wanted one of {{list,}}": f"{german}: gefunden {{x}}, gesucht eines von {{list}}"
        for where, german in _ONE_OF.items()
    },
    **_LACKING,
    **_STANDS,
    **_ENTERED,
    **_MORE,
    **NO_ROOM,
}
"""Where, found and wanted, at the counter."""
