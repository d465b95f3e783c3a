"""What is reckoned of a batch and its devices, said in German on its papers?"""

from turnscrew.core.model.german.own_words import SURENESS, TESTED_WORDS, WAITING_WORDS

_FIELDS = (
    ("serial", "Seriennummer"),
    ("asset", "Nummer des Eigentümers"),
    ("owner's number", "Nummer des Eigentümers"),
    ("model", "Modell"),
    ("revision", "Ausführung"),
)

_FACES = {
    "lid": "Deckel",
    "base": "Boden",
    "keys": "Tasten",
    "picture": "Bild",
    "front": "Vorderseite",
    "back": "Rückseite",
    "window": "Fenster",
    "left edge": "linke Kante",
    "right edge": "rechte Kante",
    "edge with the socket": "Kante mit der Buchse",
}

_STATES = {
    "received": "angenommen",
    "identified": "bestimmt",
    "pre-checked": "vorgeprüft",
    "diagnosed": "Fehler gefunden",
    "quoted": "angeboten",
    "kitted": "Teile bereit",
    "open": "offen",
    "tested open": "offen geprüft",
    "closed": "geschlossen",
    "final-tested": "schlussgeprüft",
    "charged and clean": "geladen und sauber",
    "packed": "verpackt",
    "isolated": "abgesondert",
    "awaiting answer": "wartet auf Antwort",
    "awaiting part": "wartet auf Ersatzteil",
    "awaiting administrator": "wartet auf Verwalter",
    "parked open": "offen geparkt",
    "soaking": "im Probelauf",
    "second look": "zweiter Blick",
    "donor": "Spender",
}

BATCH_SENTENCES = {
    "device {n#}: {x} is sure only once open: {y}":
        "Gerät {n}: {x} ist erst offen sicher: {y}",
    "retired on {day}: use it again first":
        "seit {day} nicht mehr in Gebrauch: erst wieder verwenden",
    "to be confirmed": "zu bestätigen",
    # What must be observed or settled.
    "isolate it, pack may be swollen: no power, no charging, no pressure":
        "absondern, Akku vielleicht aufgebläht: nicht einschalten, nicht laden, nicht drücken",
    "contaminated: gloves, keep apart until cleaned":
        "verunreinigt: Handschuhe, getrennt halten bis zur Reinigung",
    "locked: full test not possible until the owner's administrator unlocks it":
        "gesperrt: ganze Prüfung erst möglich, wenn der Verwalter des Eigentümers entsperrt",
    "damaged on arrival: recorded, part of the frame may not fit":
        "bei Ankunft beschädigt: eingetragen, ein Teil des Rahmens passt vielleicht nicht",
    "private property inside: take out, label, return to the person":
        "Privates darin: herausnehmen, beschriften, der Person zurückgeben",
    "old part goes back to the owner: label it and record its end":
        "altes Teil geht an den Eigentümer zurück: beschriften und Verbleib eintragen",
    "sharp glass: gloves, tape the front": "scharfes Glas: Handschuhe, Front abkleben",
    "wet inside: no power": "innen nass: nicht einschalten",
    "to be read by the lead before any work": "von der Leitung zu lesen vor jeder Arbeit",
    "liquid inside: no power, gloves; nothing electrical from it is trusted":
        "Flüssigkeit innen: nicht einschalten, Handschuhe; keinem elektrischen Teil daraus wird getraut",
    "cracked glass: eye protection, gloves, tape the front":
        "gesprungenes Glas: Augenschutz, Handschuhe, Front abkleben",
    "data class not known: treated as holding data of persons":
        "Datenklasse unbekannt: behandelt, als enthielte es Personendaten",
    "its value is an estimate: confirm it": "sein Wert ist geschätzt: bestätigen",
    "{x} ({seen!})": "{x} ({seen})",
    "isolated: {why}": "abgesondert: {why}",
    "{x} (isolated: {why})": "{x} (abgesondert: {why})",
    **TESTED_WORDS,
    **{f"{{x}} ({words})": f"{{x}} ({told})" for words, told in TESTED_WORDS.items()},
    "{tell!} (not {x!})": "{tell} (nicht {x})",
    "comeback, class {x}": "Rückläufer, Klasse {x}",
    "a comeback the promise does not cover, class {x}":
        "ein Rückläufer, den das Versprechen nicht deckt, Klasse {x}",
    **{
        f"description of {{model!}}: {state}, not released; by it a helper opens with the lead's word alone":
        f"Beschreibung von {{model}}: {german}, nicht freigegeben; danach öffnet eine Hilfe nur mit Zustimmung der Leitung"
        for state, german in (("draft", "Entwurf"), ("tried by another", "von anderen erprobt"))
    },
    "taken as a donor": "als Spender genommen",
    "the customer said no to a dearer quote: ask again":
        "der Kunde lehnte ein teureres Angebot ab: noch einmal fragen",
    "the customer was asked, and has not answered yet":
        "der Kunde ist gefragt und hat noch nicht geantwortet",
    "{list!} beside a comeback at no charge, class {x}":
        "{list} neben einem Rückläufer ohne Berechnung, Klasse {x}",
    "no due day agreed: no day can be promised":
        "kein Termin vereinbart: kein Tag kann zugesagt werden",
    "no quote: {x}": "kein Kostenvoranschlag: {x}",
    "no quote yet: {x}": "noch kein Kostenvoranschlag: {x}",
    "{n#} faults ({x!}): one opening": "{n} Fehler ({x}): ein Öffnen",
    "{n#} faults ({x!}): stripped for the sum of them":
        "{n} Fehler ({x}): wegen der Summe zerlegt",
    "cannot be closed properly: {x!} is sold no more, and none is left: decide before opening":
        "lässt sich nicht richtig schliessen: {x} ist nicht mehr erhältlich, und keines ist mehr da: vor dem Öffnen entscheiden",
    "{x!} is sold no more, and none is left: decide before opening":
        "{x} ist nicht mehr erhältlich, und keines ist mehr da: vor dem Öffnen entscheiden",
    "not on the customer's list: whose is it": "nicht auf der Liste des Kunden: wem gehört es",
    "duplicate serial: the same as {list,}; look at the bodies again":
        "doppelte Seriennummer: dieselbe wie {list}; die Gehäuse nochmals ansehen",
    "duplicate owner's number: the same as {list,}; look at the bodies again":
        "doppelte Nummer des Eigentümers: dieselbe wie {list}; die Gehäuse nochmals ansehen",
    "near serial: {x}": "ähnliche Seriennummer: {x}",
    "no owner's number on the body": "keine Nummer des Eigentümers am Gehäuse",
    "no serial on the body": "keine Seriennummer am Gehäuse",
    "no owner's number and no serial on the body":
        "keine Nummer des Eigentümers und keine Seriennummer am Gehäuse",
    "serial unread: take a photo of its label, or of where one should be":
        "Seriennummer nicht gelesen: das Schild fotografieren, oder wo eines sein sollte",
    "differs from the list: {x;}; the body is trusted":
        "weicht von der Liste ab: {x}; dem Gehäuse wird getraut",
    # The batch against the list.
    **{field: german for field, german in _FIELDS},
    **{f"no {field}": f"ohne {german}" for field, german in _FIELDS},
    **{
        f"{field} {{x!}}, on the list {{y!}}{kind}": f"{german} {{x}}, auf der Liste {{y}}{said}"
        for field, german in _FIELDS
        for kind, said in (("", ""), (" ({kind})", " ({kind})"))
    },
    **{
        f"{field} blank, on the list {{y!}}": f"{german} leer, auf der Liste {{y}}"
        for field, german in _FIELDS
    },
    "leading zeros": "führende Nullen",
    "characters easily confused": "leicht verwechselte Zeichen",
    "one character": "ein Zeichen",
    "neighbours swapped": "Nachbarn vertauscht",
    "one character more": "ein Zeichen mehr",
    "{n#} and row {m#} of the list: {x}": "{n} und Zeile {m} der Liste: {x}",
    "and": "und",
    "{n#} and {m#}: {x}": "{n} und {m}: {x}",
    "{x} (row {n#})": "{x} (Zeile {n})",
    "{x} (row {n#}, the number of row {m#} again)":
        "{x} (Zeile {n}, noch einmal die Nummer von Zeile {m})",
    "the number of row {m#} again": "noch einmal die Nummer von Zeile {m}",
    "a number twice on the list": "eine Nummer zweimal auf der Liste",
    "rows {list,}": "Zeilen {list}",
    "no number": "ohne Nummer",
    # Decisions.
    "within both limits": "innerhalb beider Grenzen",
    "liquid inside: stripped by agreement": "Flüssigkeit innen: nach Abmachung zerlegt",
    "no worth-mending limit known for {x}: ask the list price and age":
        "keine Grenze der Reparaturwürdigkeit bekannt für {x}: Listenpreis und Alter erfragen",
    "no residual value known for {x}: ask the list price and age":
        "kein Restwert bekannt für {x}: Listenpreis und Alter erfragen",
    "no limit for mending without asking": "keine Grenze für Reparaturen ohne Rückfrage",
    "above the limit without asking": "über der Grenze ohne Rückfrage",
    "would pass the limit for the batch: {x} of {y} taken":
        "überstiege die Grenze für das Los: {x} von {y} beansprucht",
    "would pass the limit for one day: {x} of {y} taken":
        "überstiege die Grenze für einen Tag: {x} von {y} beansprucht",
    "no fault found: the trial is recorded and charged":
        "kein Fehler gefunden: der Probelauf wird eingetragen und berechnet",
    "not worth mending for all its faults; each alone would be":
        "für alle Fehler zusammen nicht reparaturwürdig; für jeden allein wäre es das",
    "not worth mending: the quote is above the limit":
        "nicht reparaturwürdig: der Kostenvoranschlag liegt über der Grenze",
    "{x} was agreed to before, so ask: {y}":
        "{x} waren schon vereinbart, also fragen: {y}",
    "nobody has found its fault yet": "noch niemand hat den Fehler gefunden",
    "no minutes for opening it, and no description to reckon by":
        "keine Minuten zum Öffnen, und keine Beschreibung, um sie zu rechnen",
    "no part for {x} fits {y}: confirm the revision":
        "kein Ersatzteil für {x} passt zu {y}: die Ausführung bestätigen",
    "the cost of {x} is not known: find it out": "die Kosten von {x} sind unbekannt: ermitteln",
    "{x} costs {y}: give its cost, or confirm that it is free":
        "{x} kostet {y}: die Kosten angeben, oder bestätigen, dass es nichts kostet",
    "the limits are in {x} and the prices in {y}: ask for limits in {z}":
        "die Grenzen sind in {x} und die Preise in {y}: Grenzen in {z} erfragen",
    "nobody said whether the limits are with or without tax: ask":
        "niemand sagte, ob die Grenzen mit oder ohne Steuer sind: fragen",
    "no customer's list in the folder: nothing could be compared":
        "keine Liste des Kunden im Ordner: nichts konnte verglichen werden",
    "the terms list {list,} for harvest: packs and storage are never harvested":
        "die Bedingungen führen {list} zum Entnehmen auf: "
        "Akkus und Speicher werden nie entnommen",
    # What was before.
    "day not known": "Tag unbekannt",
    "mended": "repariert",
    "not mended": "nicht repariert",
    "written off": "abgeschrieben",
    "no fault confirmed": "kein Fehler bestätigt",
    "{day}: {x} by this workshop ({y,})": "{day}: {x} von dieser Werkstatt ({y})",
    "{day}: {x} by this workshop ({y,} with {list,})":
        "{day}: {x} von dieser Werkstatt ({y} mit {list})",
    "{x} by this workshop ({y,}) {n#} day ago": "{x} von dieser Werkstatt ({y}) vor {n} Tag",
    "{x} by this workshop ({y,} with {list,}) {n#} day ago":
        "{x} von dieser Werkstatt ({y} mit {list}) vor {n} Tag",
    "{x} by this workshop ({y,}) {n#} days ago": "{x} von dieser Werkstatt ({y}) vor {n} Tagen",
    "{x} by this workshop ({y,} with {list,}) {n#} days ago":
        "{x} von dieser Werkstatt ({y} mit {list}) vor {n} Tagen",
    **{
        f"{kind}: {{x}}; {{y}}": f"{german}: {{x}}; {{y}}"
        for kind, german in (
            ("ours", "unsere"), ("part", "Ersatzteil"), ("other", "andere"), ("user", "Benutzung"),
        )
    },
    "settled by the lead; {x}": "von der Leitung entschieden; {x}",
    "another function now": "jetzt eine andere Funktion",
    "same function, but the body shows fresh damage: {list,}":
        "dieselbe Funktion, aber das Gehäuse zeigt frischen Schaden: {list}",
    "same function, and no passed check at hand-back on record":
        "dieselbe Funktion, und keine gute Prüfung bei der Abgabe eingetragen",
    "same function": "dieselbe Funktion",
    "besides {list!}, to be agreed apart": "dazu {list}, eigens zu vereinbaren",
    "same function; {list,} passed at hand-back; besides {x!}, to be agreed apart":
        "dieselbe Funktion; {list} war gut bei der Abgabe; dazu {x}, eigens zu vereinbaren",
    "same function; {list,} passed at hand-back": "dieselbe Funktion; {list} war gut bei der Abgabe",
    "same function though it passed at hand-back": "dieselbe Funktion, obwohl bei der Abgabe gut",
    "settled by the lead": "von der Leitung entschieden",
    **{
        f"{english}; besides {{x!}}, to be agreed apart":
            f"{german}; dazu {{x}}, eigens zu vereinbaren"
        for english, german in (
            (
                "same function though it passed at hand-back",
                "dieselbe Funktion, obwohl bei der Abgabe gut",
            ),
            (
                "same function, and no passed check at hand-back on record",
                "dieselbe Funktion, und keine gute Prüfung bei der Abgabe eingetragen",
            ),
            (
                "same function, but the body shows fresh damage: {list,}",
                "dieselbe Funktion, aber das Gehäuse zeigt frischen Schaden: {list}",
            ),
        )
    },
    "possible, by owner's number ({x}): {day}, {end}":
        "möglich, nach der Nummer des Eigentümers ({x}): {day}, {end}",
    "no serial on record": "keine Seriennummer eingetragen",
    "bent": "verbogen",
    "cracked": "gesprungen",
    "dented": "verbeult",
    "wet": "nass",
    "liquid": "Flüssigkeit",
    "broken corner": "Ecke gebrochen",
    "dropped": "gefallen",
    "torn": "gerissen",
    # What opening uses up.
    "used up by opening, by the {x}: {list,}": "beim Öffnen verbraucht, nach {x}: {list}",
    "used up by opening, by the {x}: {list,}; {notes;}":
        "beim Öffnen verbraucht, nach {x}: {list}; {notes}",
    "opening path": "Öffnungsweg",
    "terms": "Bedingungen",
    "nothing of the parts list": "nichts von der Teileliste",
    "{n#} {unit} of {x!}, not on the list": "{n} {unit} von {x}, nicht auf der Liste",
    "the terms name {x}, the path does not use it up":
        "die Bedingungen nennen {x}, der Weg verbraucht es nicht",
    "{n#} {unit} of {x!}, which is kept by the {y}: 1 {z} counted":
        "{n} {unit} von {x}, geführt nach {y}: 1 {z} gezählt",
    "piece": "Stück",
    "pieces": "Stück",
    "set": "Satz",
    "sets": "Sätze",
    # Batch sheet.
    "Batch sheet": "Losblatt",
    "Customer": "Kunde",
    "no number given": "ohne Nummer",
    "Received": "Erhalten",
    "{x}, workshop day 1": "{x}, Werktag 1",
    "Data terms": "Datenbedingungen",
    "NO CONTRACT ON FILE": "KEIN VERTRAG HINTERLEGT",
    "To be asked": "Zu fragen",
    "Noted": "Vermerkt",
    "The batch against the customer's list": "Das Los gegen die Liste des Kunden",
    "count": "Anzahl",
    "matched": "stimmt überein",
    "matched, but differing": "gefunden, aber anders",
    "on the list, but not here": "auf der Liste, aber nicht hier",
    "here, but not on the list": "hier, aber nicht auf der Liste",
    "the same serial twice": "dieselbe Seriennummer zweimal",
    "the same owner's number twice": "dieselbe Eigentümer-Nr. zweimal",
    "nearly the same serial": "fast dieselbe Seriennummer",
    "a number blank": "eine Nummer fehlt",
    "Held: to be observed or settled first":
        "Zurückgehalten: zuerst zu beachten oder zu klären",
    "Here before, not held": "Schon hier gewesen, nicht zurückgehalten",
    "Decisions": "Entscheidungen",
    "No device yet: nothing is decided, charged or planned.":
        "Noch kein Gerät: Nichts ist entschieden, berechnet oder geplant.",
    "fault found": "gefundener Fehler",
    "decision": "Entscheid",
    "quote": "Angebot",
    "limit": "Grenze",
    "flips at": "kippt bei",
    "as donor": "Spender",
    "{x}; {n#} to come": "{x}; {n} zu erwarten",
    "Limit: up to this the device is worth mending.": "Grenze: bis dahin lohnt die Reparatur.",
    "Flips at: the quote at which the decision would change.":
        "Kippt bei: das Angebot, bei dem der Entscheid wechselt.",
    "As donor: cost of the new parts it would save others if it were stripped.":
        "Spender: Kosten der neuen Teile, die es zerlegt anderen ersparen würde.",
    "The sign ~ marks a limit from a value that is an estimate.":
        "Das Zeichen ~ bezeichnet eine Grenze aus einem geschätzten Wert.",
    "To come: failures expected while it serves on.":
        "Zu erwarten: Ausfälle, solange es weiter dient.",
    "Money before tax": "Geld vor Steuer",
    "Repairs": "Reparaturen",
    "Diagnosis of what is stripped": "Diagnose der Spendergeräte",
    "No fault found, trials": "Kein Fehler gefunden, Probeläufe",
    "Total": "Summe",
    "Not agreed yet, in no plan and no sum: {list!}":
        "Noch nicht freigegeben, in keinem Plan und keiner Summe: {list}",
    "Cannot be planned, in no sum: {list!}":
        "Nicht planbar, in keiner Summe: {list}",
    "Not agreed yet, counted as yes: {list!}":
        "Noch nicht vereinbart, als ja gezählt: {list}",
    "Credit for donor parts": "Gutschrift für Spenderteile",
    "Invoice": "Rechnung",
    "Bought or stocked parts used, at cost": "Gekaufte oder gelagerte Teile, zu Kosten",
    "Labour, at pay": "Arbeit, zum Lohn",
    "Margin": "Spanne",
    "the batch": "das Los",
    "one day": "einen Tag",
    "Goes without asking; no cap agreed for {x}":
        "Geht ohne Rückfrage; keine Obergrenze vereinbart für {x}",
    "Goes without asking, of the {x} agreed for {of}; {y} left":
        "Geht ohne Rückfrage, von den {x} vereinbarten für {of}; {y} übrig",
    "Minutes, hands on, standard": "Minuten Handarbeit, Richtzeit",
    "Handling of what goes back": "Umgang mit dem, was zurückgeht",
    "Opening and closing": "Öffnen und Schliessen",
    "Exchange and trials": "Austausch und Probeläufe",
    "Strips, receiving among it": "Zerlegen, mit Annahme",
    "Receiving everything (of what is planned, part of the above)":
        "Annahme von allem (des Geplanten: oben enthalten)",
    "Opening and closing: agreed standard beside the computed way":
        "Öffnen und Schliessen: vereinbarte Richtzeit neben dem gerechneten Weg",
    "device, to reach": "Gerät, zu erreichen",
    "standard": "Richtzeit",
    "computed": "gerechnet",
    "{n#} min": "{n} min",
    "optimal": "bewiesen am besten",
    "bounded": "in Schranken bewiesen",
    "impossible": "unmöglich",
    "impossible: {x!}": "unmöglich: {x}",
    "unknown": "unbekannt",
    "Plan": "Plan",
    "hand rule": "Handregel",
    "best found": "bester gefundener",
    "last job done": "letzte Arbeit fertig",
    "not asked for": "nicht gefragt",
    "late, days": "zu spät, Tage",
    "set-ups": "Umrüstungen",
    "proof": "Beweis",
    **{
        f"{{x}}: at least {{n#}} late, then {{m#}} {days}, then {{k#}} {set_ups}":
        f"{{x}}: mindestens {{n}} zu spät, dann {{m}} {tage}, dann {{k}} {german}"
        for days, tage in (("day", "Tag"), ("days", "Tage"))
        for set_ups, german in (("set-up", "Umrüstung"), ("set-ups", "Umrüstungen"))
    },
    **{f"day {{n#}}: {p}": f"Tag {{n}}: {german}" for p, german in SURENESS},
    **{
        f"With real times as they spread, everything is done by {{day}} with probability {p} ({{n#}} plays).":
            f"Mit wirklichen Zeiten, wie sie streuen, ist alles fertig bis {{day}} mit Wahrscheinlichkeit {german} ({{n}} Durchläufe)."
        for p, german in SURENESS
    },
    "The papers follow the best plan found: it plans devices for which the hand rule finds no way.":
        "Die Papiere folgen dem besten gefundenen Plan: Er plant Geräte, für die die Handregel keinen Weg findet.",
    "The papers follow the best plan found: fewer devices are late, or less late, than by the hand rule.":
        "Die Papiere folgen dem besten gefundenen Plan: weniger Geräte kommen zu spät, oder weniger spät, als nach der Handregel.",
    **{
        f"The papers follow the hand rule: by it nobody is later, and the best plan found saves {{n#}} {set_ups} alone, by letting people wait for like devices.":
        f"Die Papiere folgen der Handregel: nach ihr kommt keines später, und der beste gefundene Plan spart nur {{n}} {german}, indem er auf gleiche Geräte warten lässt."
        for set_ups, german in (("set-up", "Umrüstung"), ("set-ups", "Umrüstungen"))
    },
    "No day can be promised: in too many plays work is left after workshop day {n#}.":
        "Kein Tag lässt sich zusagen: in zu vielen Durchläufen ist nach Werktag {n} noch Arbeit übrig.",
    "No day can be promised while devices cannot be planned.":
        "Kein Tag lässt sich zusagen, solange Geräte nicht geplant werden können.",
    "In time for each due day: {x;}.": "Rechtzeitig je Termin: {x}.",
    **{
        f"times spread by own times of {{n#}} {job}, {{x}}":
        f"Zeiten streuen nach eigenen Zeiten von {{n}} {german}, {{x}}"
        for job, german in (("job", "Arbeit"), ("jobs", "Arbeiten"))
    },
    **{
        f"too few own times of like jobs ({{n#}} {job}): the figure of the terms made wider, {{x}}":
        f"zu wenige eigene Zeiten gleicher Arbeiten ({{n}} {german}): die Zahl der Bedingungen, erweitert, {{x}}"
        for job, german in (("job", "Arbeit"), ("jobs", "Arbeiten"))
    },
    # From the records.
    "without words": "ohne Worte",
    "{n#} on arrival: {x;}": "{n} bei Ankunft: {x}",
    "gap of the case {n#} mm": "Spalt am Gehäuse {n} mm",
    **{
        f"missing {{n#}} {kind}": f"es fehlen {{n}} {german}"
        for kind, german in (
            ("feet", "Füsse"), ("screws", "Schrauben"), ("trims", "Leisten"),
            ("keys", "Tasten"), ("covers", "Abdeckungen"),
        )
    },
    **{
        f"{face}: {kind}{words}": f"{german_face}: {german}{words}"
        for face, german_face in _FACES.items()
        for kind, german in (
            ("crack", "Riss"), ("dent", "Delle"), ("scratch", "Kratzer"), ("stain", "Fleck"),
            ("missing", "fehlt"), ("other", "anderes"),
        )
        for words in ("", ", {words!}")
    },
    "may be started to a test image, no further": "darf bis zum Prüfbild gestartet werden, nicht weiter",
    "may be logged in to with the account given": "Anmeldung mit dem gegebenen Konto erlaubt",
    "must not be started": "darf nicht gestartet werden",
    **{
        f"{{x}}{by}{until}{ended}": f"{{x}}{german_by}{german_until}{german_ended}"
        for by, german_by in (("", ""), (", by word of {who!}", ", laut {who}"))
        for until, german_until in (("", ""), (", until {day}", ", bis {day}"))
        for ended, german_ended in (
            ("", ""),
            (
                ": this has ended and allows nothing any more",
                ": das ist abgelaufen und erlaubt nichts mehr",
            ),
        )
        if by or until
    },
    **{
        f"trial of {{n#}} h, {{load!}}, {{where!}}, {{t#}} °C; tried: {{x!}}; the fault was {{result}}{words}":
            f"Probelauf von {{n}} h, {{load}}, {{where}}, {{t}} °C; versucht: {{x}}; der Fehler: {{result}}{told}"
        for words, told in (("", ""), (": {words!}", ", {words}"))
    },
    "shown": "gezeigt",
    "not shown": "nicht gezeigt",
    "not shown before it was broken off": "nicht gezeigt, bevor er abgebrochen wurde",
    # What stays, and adapters.
    **_STATES,
    **WAITING_WORDS,
    "{n#}: {x!}, {state}": "{n}: {x}, {state}",
    "{n#}: {x!}, {state}, {why}": "{n}: {x}, {state}, {why}",
    "{n#}: {x!}, {state}, until {day}": "{n}: {x}, {state}, bis {day}",
    "{n#}: {x!}, {state}, {why}, until {day}": "{n}: {x}, {state}, {why}, bis {day}",
    "{x}, piece {n#}": "{x}, Stück {n}",
    "{x}: cut, does not go back": "{x}: abgeschnitten, geht nicht zurück",
    "{x}: fit by {y}": "{x}: tauglich nach {y}",
    "{x}: fit by {y}, look again by {day}": "{x}: tauglich nach {y}, wieder ansehen bis {day}",
    "a look": "einem Blick",
    "a look and {v#} V read at {a#} A": "einem Blick und {v} V gemessen bei {a} A",
    "{x}: NOT HANDED BACK AS FIT ({standing}: {why;})":
        "{x}: NICHT ALS TAUGLICH ZURÜCKGEGEBEN ({standing}: {why})",
    "not fit": "nicht tauglich",
    "not looked at": "nicht angesehen",
    "nobody looked at it": "niemand sah es an",
    "{x}: NOT HANDED BACK AS FIT (passed at the bench; no reading is on record)":
        "{x}: NICHT ALS TAUGLICH ZURÜCKGEGEBEN (am Arbeitsplatz bestanden; kein Messwert ist festgehalten)",
    "yes": "ja",
    "not known": "nicht bekannt",
    "that it belongs to its device: {x}": "dass es zum Gerät gehört: {x}",
    "that it belongs to its device: no": "dass es zum Gerät gehört: nein",
    "case, pins or cable are not whole": "Gehäuse, Stifte oder Kabel sind nicht ganz",
    "its rating cannot be read": "seine Nennwerte sind nicht lesbar",
    "that its rating fits is not tested: the device's label was not read":
        "ob seine Nennwerte passen, ist nicht geprüft: das Schild des Geräts wurde nicht gelesen",
    "neither amps nor watts are on its label": "weder Ampere noch Watt stehen auf seinem Schild",
    "its rating does not fit: {a#} V {b#} A for {c#} V {d#} A":
        "seine Nennwerte passen nicht: {a} V {b} A für {c} V {d} A",
    "its output under load was not measured": "seine Ausgangsspannung unter Last wurde nicht gemessen",
    "no limits of its output are known": "keine Grenzen seiner Ausgangsspannung sind bekannt",
    "output under load: found {a#} V, wanted {b#} to {c#} V":
        "Ausgang unter Last: gefunden {a} V, gesucht {b} bis {c} V",
}  # fmt: skip
"""Sentences that are made when a batch is reckoned, and words of its records."""
