"""What do the commands print in German, beside what papers and pages say?"""

from turnscrew.core.model.german.own_words import SURENESS

OPENING_COMMAND = {
    "written: {x!}": "geschrieben: {x}",
    "{x!}: to reach {list,}": "{x}: zu erreichen: {list}",
    "{x!}, revision {r!}: to reach {list,}": "{x}, Ausführung {r}: zu erreichen: {list}",
    "impossible: {x.}": "unmöglich: {x}",
    "not in one opening, but one after another: {list–}":
        "nicht in einer Öffnung, aber nacheinander: {list}",
    "uses up: {x}, {n} ({why})": "verbraucht: {x}, {n} ({why})",
    "before opening: {x.}": "vor dem Öffnen: {x}",
    "easily mistaken: {x.}": "leicht verwechselt: {x}",
    "hands on {n#} min, a first time where it is known; four of five such jobs take {low#} to {high#} min":
        "Handarbeit {n} min, ein erstes Mal, wo es bekannt ist; vier von fünf solchen Arbeiten brauchen {low} bis {high} min",
    "hands on {n#} min, practised where it is known; four of five such jobs take {low#} to {high#} min":
        "Handarbeit {n} min, geübt, wo es bekannt ist; vier von fünf solchen Arbeiten brauchen {low} bis {high} min",
    "Opening path": "Weg hinein",
    "Refit list": "Weg zurück",
    "Close gate": "Vor dem Schliessen",
    "After closing": "Nach dem Schliessen",
    "nothing to ask": "nichts zu fragen",
    "{n#} of {a!} {x} back": "{n} von {a} {x} zurück",
    "renew at refit: {x}": "beim Einbau erneuern: {x}",
    "untouched joints: {n#}": "unberührte Verbindungen: {n}",
    "({n#} s)": "({n} s)",
}  # fmt: skip
"""What ``turnscrew opening`` prints."""

DIAGNOSE_COMMAND = {
    "Next: {x} (a guess: only base priors speak)":
        "Als Nächstes: {x} (geschätzt: nur Grundwerte sprechen)",
    "reckoned as {x!}": "gerechnet als {x}",
    "close first: {list,}": "zuerst schliessen: {list}",
    "open first: {list,}": "zuerst öffnen: {list}",
    "then, before the same check-out: {list,}": "dann, vor derselben Prüfung: {list}",
    "uses {x}": "braucht {x}",
    "Three times or a third of the chance of {x} would not change it.":
        "Das Dreifache oder ein Drittel der Wahrscheinlichkeit von {x} änderte es nicht.",
    "Three times or a third of the chance of {x} or {y} would not change it.":
        "Das Dreifache oder ein Drittel der Wahrscheinlichkeit von {x} oder {y} änderte es nicht.",
    "Three times or a third of the chance of {x} or {y} or {z} would not change it.":
        "Das Dreifache oder ein Drittel der Wahrscheinlichkeit von {x} oder {y} oder {z} änderte es nicht.",
    "If {x} were three times as likely: {y}.":
        "Wäre {x} dreimal so wahrscheinlich: {y}.",
    "If {x} were a third as likely: {y}.":
        "Wäre {x} ein Drittel so wahrscheinlich: {y}.",
    "Base priors: {x!}; they weigh as {n#} own cases.":
        "Grundwerte: {x}; sie wiegen wie {n} eigene Fälle.",
    "No counts, so the table's own share: {list,}.":
        "Keine Zählung, also der Anteil der Tabelle: {list}.",
    "Own jobs counted over them: {n#}.": "Eigene Arbeiten dazu gezählt: {n}.",
    "Works: hand it back, and write the job down with its confirmed fault.":
        "Geht: zurückgeben, und die Arbeit mit ihrem bestätigten Fehler aufschreiben.",
    # The customer's words.
    "Caution: by these words its pack may be bad. Isolate it: no power, no charging, no pressure; if it hisses, smokes or gets hot, leave it, warn everybody, call the fire service. Follow local codes.":
        "Achtung: nach diesen Worten ist der Akku vielleicht schadhaft. Absondern: nicht einschalten, nicht laden, nicht drücken; zischt, raucht oder erhitzt er sich, liegen lassen, alle warnen, die Feuerwehr rufen. Örtliche Vorschriften beachten.",
    "Caution: by these words liquid may be inside. No power, no charging; gloves; whoever may handle packs takes the pack out first.":
        "Achtung: nach diesen Worten ist vielleicht Flüssigkeit innen. Nicht einschalten, nicht laden; Handschuhe; wer mit Akkus umgehen darf, nimmt zuerst den Akku heraus.",
    "No test before that is seen to; then ask again without those words.":
        "Keine Prüfung, bevor das erledigt ist; dann ohne diese Worte noch einmal fragen.",
    "read as: {x} (a phrase of the table)": "gelesen als: {x} (ein Ausdruck der Tabelle)",
    "read as: {x} (probability {n#}, by words {list!})":
        "gelesen als: {x} (Wahrscheinlichkeit {n}, wegen der Wörter {list})",
    "read as: {x} (probability {n#}, by no word of its own)":
        "gelesen als: {x} (Wahrscheinlichkeit {n}, wegen keines eigenen Worts)",
    "not clear: may be {list,} (by words {words!}); ask which, one or more, and give it with --sign":
        "nicht klar: vielleicht {list} (wegen der Wörter {words}); fragen, was davon, eines oder mehrere, und mit --sign angeben",
    "not clear: may be {list,} (by no word of its own); ask which, one or more, and give it with --sign":
        "nicht klar: vielleicht {list} (wegen keines eigenen Worts); fragen, was davon, eines oder mehrere, und mit --sign angeben",
    "unknown: no word of these tells a sign; ask what is seen, and give it with --sign":
        "unbekannt: keines dieser Wörter sagt ein Zeichen; fragen, was zu sehen ist, und mit --sign angeben",
    "{x} {n#}": "{x} {n}",
    "sorts of fault by the words: {list!}":
        "Fehlersorten nach den Wörtern: {list}",
    "sorts of fault by the words: {list!}; {n#} beyond this table":
        "Fehlersorten nach den Wörtern: {list}; {n} ausserhalb dieser Tabelle",
    "perhaps denied by the customer: {x!}": "vom Kunden vielleicht verneint: {x}",
    "words nothing is known of: {x!}": "Wörter, von denen nichts bekannt ist: {x}",
    "few own jobs with words to learn from: {n#}":
        "wenige eigene Arbeiten mit Worten, aus denen zu lernen wäre: {n}",
    "written: {x!}": "geschrieben: {x}",
    "left out: {name}: not switched on or charged while {x} or {y} is likely":
        "weggelassen: {name}: nicht einschalten oder laden, solange {x} oder {y} wahrscheinlich ist",
    "left out: {name}: not switched on or charged while {x} is likely":
        "weggelassen: {name}: nicht einschalten oder laden, solange {x} wahrscheinlich ist",
    "left out: {name}: known-good item withdrawn: {list,}":
        "weggelassen: {name}: Prüfstück zurückgezogen: {list}",
    "left out: {name}: out of reach: {why}": "weggelassen: {name}: nicht erreichbar: {why}",
    # The whole strategy.
    "Whole strategy:": "Ganzes Vorgehen:",
    "{n#} min": "{n} min",
    "{x} {n#} %:": "{x} {n} %:",
    "{x} [open {list,}]": "{x} [öffnen: {list}]",
    "{x} [close {list,}]": "{x} [schliessen: {list}]",
    "{x} [close {shut,}] [open {list,}]": "{x} [schliessen: {shut}] [öffnen: {list}]",
    # Closed jobs beside the advice.
    "{n#} jobs: {m#} min as done, {k#} min expected by the advice, {p#} % more":
        "{n} Arbeiten: {m} min wie getan, {k} min nach dem Rat zu erwarten, {p} % mehr",
    "{n#} jobs: {m#} min as done, {k#} min expected by the advice, {p#} % less":
        "{n} Arbeiten: {m} min wie getan, {k} min nach dem Rat zu erwarten, {p} % weniger",
    "{n#} job: {m#} min as done, {k#} min expected by the advice, {p#} % more":
        "{n} Arbeit: {m} min wie getan, {k} min nach dem Rat zu erwarten, {p} % mehr",
    "{n#} job: {m#} min as done, {k#} min expected by the advice, {p#} % less":
        "{n} Arbeit: {m} min wie getan, {k} min nach dem Rat zu erwarten, {p} % weniger",
    "{n#} jobs: {m#} min as done, {k#} min expected by the advice":
        "{n} Arbeiten: {m} min wie getan, {k} min nach dem Rat zu erwarten",
    "{n#} job: {m#} min as done, {k#} min expected by the advice":
        "{n} Arbeit: {m} min wie getan, {k} min nach dem Rat zu erwarten",
    "{n#} done": "{n} getan",
    "{n#} advised": "{n} nach Rat",
    "{n#} left out: no fault of this table was confirmed":
        "{n} weggelassen: kein Fehler dieser Tabelle wurde bestätigt",
    "{n#} left out: what was done is not told in names of this table":
        "{n} weggelassen: was getan wurde, ist nicht in Namen dieser Tabelle gesagt",
}  # fmt: skip
"""What ``turnscrew diagnose`` prints."""

BATCH_COMMAND = {
    "{x!}: {n#} devices of {c!}": "{x}: {n} Geräte von {c}",
    "{x!}: 1 device of {c!}": "{x}: 1 Gerät von {c}",
    "received {d!}, workshop day {n#}": "erhalten am {d}, Werktag {n}",
    "List: {n#} matched, {m#} differing, {k#} missing, {x#} not on the list":
        "Liste: {n} stimmig, {m} abweichend, {k} fehlend, {x} nicht auf der Liste",
    "missing: {x} (row {n#})": "fehlt: {x} (Zeile {n})",
    "missing: {x} (row {n#}, the number of row {m#} again)":
        "fehlt: {x} (Zeile {n}, noch einmal die Nummer von Zeile {m})",
    "and {n#} more missing": "und {n} fehlen noch",
    "one number on the list: rows {list,}": "eine Nummer auf der Liste: Zeilen {list}",
    "List: none to compare with": "Liste: keine zum Vergleichen",
    "Not agreed yet, in no plan and no sum: {list!}":
        "Noch nicht freigegeben, in keinem Plan und keiner Summe: {list}",
    "Cannot be planned, in no sum: {list!}":
        "Nicht planbar, in keiner Summe: {list}",
    "Not agreed yet, counted as yes: {list!}":
        "Noch nicht vereinbart, als ja gezählt: {list}",
    "Held, to be observed or settled first: {n#} devices":
        "Angehalten, zuerst zu beobachten oder zu klären: {n} Geräte",
    "Held, to be observed or settled first: 1 device":
        "Angehalten, zuerst zu beobachten oder zu klären: 1 Gerät",
    "Decisions": "Entscheide",
    "mend without asking: {n#} ({m!}): {list!}":
        "ohne Rückfrage reparieren: {n} ({m}): {list}",
    "ask first: {n#} ({m!}): {list!}": "zuerst fragen: {n} ({m}): {list}",
    "strip as donors: {n#}: {list!}": "als Spender zerlegen: {n}: {list}",
    "comeback, no charge: {n#}: {list!}": "Rückläufer, ohne Kosten: {n}: {list}",
    "no fault found: {n#} ({m!}): {list!}": "kein Fehler gefunden: {n} ({m}): {list}",
    "refused, to return unrepaired: {list!}":
        "abgelehnt, unrepariert zurückzugeben: {list}",
    "without asking {m!}, agreed for the batch: {cap!}":
        "ohne Rückfrage {m}, vereinbart für die Lieferung: {cap}",
    "without asking {m!}, agreed for the batch: no cap":
        "ohne Rückfrage {m}, vereinbart für die Lieferung: keine Obergrenze",
    "without asking {m!}, agreed for one day: {cap!}":
        "ohne Rückfrage {m}, vereinbart für einen Tag: {cap}",
    "to be asked: {x.}": "zu fragen: {x}",
    "Answers wanted": "Erwartete Antworten",
    "{x}: {m!}, by the morning of {d}": "{x}: {m}, bis zum Morgen von {d}",
    "{x}: {m!}, too late already": "{x}: {m}, schon zu spät",
    "{x}: {m!}, no day agreed": "{x}: {m}, kein Tag vereinbart",
    "Used up by opening, by the opening path: {list!}":
        "Durch Öffnen verbraucht, nach dem Weg hinein: {list}",
    "Used up by opening, by the terms: {list!}":
        "Durch Öffnen verbraucht, nach den Bedingungen: {list}",
    "Used up by opening, by the opening path: nothing listed":
        "Durch Öffnen verbraucht, nach dem Weg hinein: nichts aufgeführt",
    "Used up by opening, by the terms: nothing listed":
        "Durch Öffnen verbraucht, nach den Bedingungen: nichts aufgeführt",
    "Order: {m!} {c!}; without donors {k!}": "Bestellung: {m} {c}; ohne Spender {k}",
    "in no sum, as its price is not known: {list!}":
        "in keiner Summe, da der Preis nicht bekannt ist: {list}",
    "latest {d}": "spätestens {d}",
    "strip {n#} first: {list,}; saves {m!}": "zuerst {n} zerlegen: {list}; spart {m}",
    "{x!} for {n#}": "{x} für {n}",
    "Money before tax, {c!}": "Geld vor Steuer, {c}",
    "diagnosis of strips": "Diagnose der Spender",
    "beside it, open": "daneben, offen",
    "beside it, not planned": "daneben, nicht geplant",
    "of it still open": "davon noch offen",
    "donor credit": "Gutschrift Spender",
    "Minutes: {list,}": "Minuten: {list}",
    "handling {n!}": "Handhabung {n}",
    "open close {n!}": "Öffnen und Schliessen {n}",
    "exchange {n!}": "Austausch {n}",
    "strips {n!}": "Zerlegen {n}",
    "receiving {n!}": "Annahme {n}",
    "hand rule: last job {d}": "Handregel: letzte Arbeit {d}",
    "best found: last job {d}": "bestes gefundenes: letzte Arbeit {d}",
    "none planned": "keine geplant",
    "late: none": "zu spät: keine",
    "late: {list,}": "zu spät: {list}",
    "late: {n!} devices by {m!} days in all, at most by {k!}":
        "zu spät: {n} Geräte um zusammen {m} Tage, höchstens um {k}",
    "{x!} by {n#} days": "{x} um {n} Tage",
    "{x!} by 1 day": "{x} um 1 Tag",
    "{n#} set-ups": "{n} Umrüstungen",
    "1 set-up": "1 Umrüstung",
    "by the clock: nobody": "nach der Uhr: niemand",
    "by the clock: {list,}": "nach der Uhr: {list}",
    "{x} {n!} min": "{x} {n} min",
    "{x}: no plan has fewer than {n#} late": "{x}: kein Plan hat weniger als {n} zu spät",
    "of those none is fewer than {n#} days late":
        "von denen ist keiner weniger als {n} Tage zu spät",
    "of those none is fewer than 1 day late":
        "von denen ist keiner weniger als 1 Tag zu spät",
    "of those none has fewer than {n#} set-ups":
        "von denen hat keiner weniger als {n} Umrüstungen",
    "of those none has fewer than 1 set-up":
        "von denen hat keiner weniger als 1 Umrüstung",
    **{
        f"promise: {{d}} with probability {p}": f"Zusage: {{d}} mit Wahrscheinlichkeit {german}"
        for p, german in SURENESS
    },
    **{
        f"due day {{n#}}: all in time with probability {p}":
            f"fällig Tag {{n}}: alle rechtzeitig mit Wahrscheinlichkeit {german}"
        for p, german in SURENESS
    },
    "{n#} cannot be planned: {x.}": "{n} lässt sich nicht planen: {x}",
    "Days, as the papers have them (hand rule)":
        "Tage, wie sie auf den Papieren stehen (Handregel)",
    "Days, as the papers have them (best plan)":
        "Tage, wie sie auf den Papieren stehen (bester Plan)",
    "day {n#} {x!}": "Tag {n} {x}",
    "lead": "Leitung",
    "helper": "Hilfe",
    # A batch that is to come.
    "{n#} devices to come under the terms of {x!}":
        "{n} Geräte zu erwarten, nach den Bedingungen von {x}",
    "1 device to come under the terms of {x!}":
        "1 Gerät zu erwarten, nach den Bedingungen von {x}",
    "of {n#} of them nothing can be told": "von {n} davon lässt sich nichts sagen",
    "{n#} {x!}: {m!} min, in eight cases of ten {low!} to {high!}":
        "{n} {x}: {m} min, in acht von zehn Fällen {low} bis {high}",
    "{n#} {x!}: unknown": "{n} {x}: unbekannt",
    "{m!} min, in eight cases of ten {low!} to {high!}":
        "{m} min, in acht von zehn Fällen {low} bis {high}",
    "{x!}: {n#}, from {low#} to {high#}; {k#} in stock":
        "{x}: {n}, von {low} bis {high}; {k} am Lager",
}  # fmt: skip
"""What ``turnscrew batch`` prints."""

FOLLOWS_COMMAND = {
    "Nothing to compare: no device that failed was with two carriers in turn.":
        "Nichts zu vergleichen: kein ausgefallenes Gerät war nacheinander bei zweien.",
    **{
        f"Failures follow {{x!}}: {{n#}} with it where {{m#}} were to be expected, in {{k#}} {devices} that came with it and without it; chance {{p#}}, {{q#}} with all {{c#}} counted.":
        f"Ausfälle folgen {{x}}: {{n}} damit, wo {{m}} zu erwarten waren, bei {{k}} {german} mit ihm und ohne; Wahrscheinlichkeit {{p}}, mit allen {{c}} gezählt {{q}}."
        for devices, german in (("device", "Gerät"), ("devices", "Geräten"))
    },
    "Take it out of use and mark it.":
        "Aus dem Gebrauch nehmen und kennzeichnen.",
    "Mains adapters and packs are looked at by those who may under local rules; do not plug it in to see.":
        "Netzteile und Akkus sieht an, wer es nach den örtlichen Vorschriften darf; nicht einstecken, um es zu sehen.",
    "Failures follow none of the {n#} beyond chance.":
        "Ausfälle folgen keinem der {n} über den Zufall hinaus.",
    "Chance that any is so far off if none matters: {p#}, {how}.":
        "Wahrscheinlichkeit, dass eines so weit abweicht, wenn keines zählt: {p}, {how}.",
    "exact": "genau",
    "Monte Carlo": "Monte Carlo",
    "too large": "zu viele Möglichkeiten",
    "A device's own failures are shared out anew among its spells, by their days, so that a weak device blames nobody.":
        "Die eigenen Ausfälle eines Geräts werden neu auf seine Zeiten verteilt, nach ihren Tagen, damit ein schwaches Gerät niemandem die Schuld gibt.",
    "A device's own failures are shared out anew among its spells, each alike, so that a weak device blames nobody.":
        "Die eigenen Ausfälle eines Geräts werden neu auf seine Zeiten verteilt, auf jede gleich, damit ein schwaches Gerät niemandem die Schuld gibt.",
    **{
        f"{{x!}}: {{n#}} seen, {{m#}} expected, {{k#}} {devices}, chance {{p#}}":
        f"{{x}}: {{n}} gesehen, {{m}} zu erwarten, {{k}} {german}, Wahrscheinlichkeit {{p}}"
        for devices, german in (("device", "Gerät"), ("devices", "Geräte"))
    },
}  # fmt: skip
"""What ``turnscrew follows`` prints."""

FLEET_COMMAND = {
    "{x!}: cause not known": "{x}: Ursache nicht bekannt",
    "{x!}: the same but for case, counted apart":
        "{x}: gleich bis auf Groß und Klein, getrennt gezählt",
    "what to change:": "was zu ändern ist:",
    "failures in 100 device-years, exact limits of {p#} %; next term:":
        "Ausfälle in 100 Gerätejahren, genaue Grenzen von {p} %; nächster Zeitraum:",
    **{
        f"{{x!}}: {{n#}}; {{r#}} ({{low#}} to {{high#}}); {each}; next term {{a#}} to {{b#}}{star}":
        f"{{x}}: {{n}}; {{r}} ({{low}} bis {{high}}); {je}; nächster Zeitraum {{a}} bis {{b}}{star}"
        for each, je in (
            ("{m!} each", "{m} je Fall"), ("cost not known", "Kosten nicht bekannt"),
        )
        for star in ("", " *")
    },
    "how long parts last:": "wie lange Teile halten:",
    "{x!}: one in ten by {t}; {way}": "{x}: jedes zehnte bis {t}; {way}",
    "{x!}: too few to tell": "{x}: zu wenige, um es zu sagen",
    "hold for {n#} days, nothing coming in:":
        "bereithalten für {n} Tage, ohne Nachschub:",
    **{
        f"{{x!}}: {{n#}} ({over}{{p#}} % sure that nobody waits){star}":
        f"{{x}}: {{n}} (zu {ueber}{{p}} % sicher, dass niemand wartet){star}"
        for over, ueber in (("", ""), ("over ", "über "))
        for star in ("", " *")
    },
    "up to which price a repair pays for one more year:":
        "bis zu welchem Preis sich eine Reparatur für ein weiteres Jahr lohnt:",
    "{x!} at {n#} years: {m!} ({low!} to {high!})":
        "{x} mit {n} Jahren: {m} ({low} bis {high})",
    "The two prices imply a level of {p#} % for the shelf.":
        "Aus den beiden Preisen folgt für das Lager ein Grad von {p} %.",
    "printed to {x!}": "gedruckt nach {x}",
    # An open record of repairs.
    "{n!} repairs, read as {x!}; {k#} odd fields":
        "{n} Reparaturen, gelesen als {x}; {k} auffällige Felder",
    "shares with limits of {p#} %, exact": "Anteile mit Grenzen von {p} %, genau",
    "what came of them:": "was daraus wurde:",
    "what came of them, by age:": "was daraus wurde, nach Alter:",
    "age in years, mean and {list!}:": "Alter in Jahren, Mittel und {list}:",
    "{x!}: no age told in {n!} rows": "{x}: kein Alter genannt in {n} Zeilen",
    "{x!} ({n!} told, {k!} not)": "{x} ({n} genannt, {k} nicht)",
    "{x}: {list;}; not known {n!}": "{x}: {list}; nicht bekannt {n}",
    "{x!} {n!} ({p#}, {low#} to {high#})": "{x} {n} ({p}, {low} bis {high})",
    "{x!} {n!} (of none)": "{x} {n} (von keinem)",
    "{x!}, {n#} to {m#} years": "{x}, {n} bis {m} Jahre",
    "{x!}, over {n#} to {m#} years": "{x}, über {n} bis {m} Jahre",
    "{x!}, over {n#} years": "{x}, über {n} Jahre",
    "faults of {x!}: {n!} known, {m!} read and not told, {k!} not read; prior of {p#} cases:":
        "Fehler von {x}: {n} bekannt, {m} gelesen und nicht genannt, {k} nicht gelesen; Vorwissen von {p} Fällen:",
    "{x!}: {n!} ({p#}, {low#} to {high#}), prior {q#}":
        "{x}: {n} ({p}, {low} bis {high}), Vorwissen {q}",
    "{x!}: {n!} (of none), prior {q#}": "{x}: {n} (von keinem), Vorwissen {q}",
    "No rates: nobody knows how many devices were not brought in, so counts and shares are all there is.":
        "Keine Raten: niemand weiss, wie viele Geräte nicht gebracht wurden, also gibt es nur Anzahlen und Anteile.",
    "why {x!} came to its end: {list!}": "warum {x} zu Ende ging: {list}",
}  # fmt: skip
"""What ``turnscrew fleet`` prints."""
