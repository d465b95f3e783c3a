"""What is said in German of a fleet, on its page and in its report?"""

_SENTENCES = {
    **{
        f"{{n!}} {device}, {{y!}} device-years under watch, {{m!}} {failure}.":
        f"{{n}} {geraet}, {{y}} Gerätejahre beobachtet, {{m}} {ausfall}."
        for device, geraet in (("device", "Gerät"), ("devices", "Geräte"))
        for failure, ausfall in (("failure", "Ausfall"), ("failures", "Ausfälle"))
    },
    **{
        f"{{y!}} device-years under watch, {{m!}} {failure}.":
        f"{{y}} Gerätejahre beobachtet, {{m}} {ausfall}."
        for failure, ausfall in (("failure", "Ausfall"), ("failures", "Ausfälle"))
    },
    "{n#} more of unknown cause is in no figure.":
        "{n} weiterer mit unbekannter Ursache steckt in keiner Zahl.",
    "{n#} more of unknown cause are in no figure.":
        "{n} weitere mit unbekannter Ursache stecken in keiner Zahl.",
    "No failure of {x!} in {y!} device-years: at most {n#} in 100 device-years, and no more is known.":
        "Kein Ausfall von {x} in {y} Gerätejahren: höchstens {n} in 100 Gerätejahren, und mehr ist nicht bekannt.",
    "No failure of any device with a known cause in {y!} device-years; while causes are unknown, no limit can be told.":
        "Kein Ausfall eines Geräts mit bekannter Ursache in {y} Gerätejahren; solange Ursachen unbekannt sind, lässt sich keine Grenze nennen.",
    "No failure of {x!} with a known cause in {y!} device-years; while causes are unknown, no limit can be told.":
        "Kein Ausfall von {x} mit bekannter Ursache in {y} Gerätejahren; solange Ursachen unbekannt sind, lässt sich keine Grenze nennen.",
    "No failure of any device in {y!} device-years: at most {n#} in 100 device-years, and no more is known.":
        "Kein Ausfall eines Geräts in {y} Gerätejahren: höchstens {n} in 100 Gerätejahren, und mehr ist nicht bekannt.",
    **{
        f"Few data: {{n#}} of {{m!}} {fault} {have} fewer than {{k#}} failures; limits are wide, and still too narrow where age matters.":
        f"Wenige Daten: {{n}} von {{m}} {german} {hat} weniger als {{k}} Ausfälle; die Grenzen sind weit, und wo das Alter zählt, noch zu eng."
        for fault, german in (("fault", "Fehler"), ("faults", "Fehlern"))
        for have, hat in (("has", "hat"), ("have", "haben"))
    },
    "* Age is left out: it is not known, or too few failures tell whether it matters.":
        "* Das Alter ist ausser Acht: es ist nicht bekannt, oder zu wenige Ausfälle sagen, ob es zählt.",
    "Where parts wear, more may come.": "Wo Teile sich abnutzen, können mehr kommen.",
    "over {p#} %": "über {p} %",
    "over {p#} % *": "über {p} % *",
    "{x!}: hold {n#} for {days#} days, over {p#} % sure that nobody waits":
        "{x}: {n} für {days} Tage bereithalten, zu über {p} % sicher, dass niemand wartet",
    "{low#} to {high#} *": "{low} bis {high} *",
    "Nothing could be compared: no fault has failures enough at more than one place or model-year.":
        "Nichts war zu vergleichen: kein Fehler hat genug Ausfälle an mehr als einem Ort oder Modelljahr.",
    "No place and no model-year differs from the others beyond chance ({n!} comparisons).":
        "Kein Ort und kein Modelljahr unterscheidet sich von den anderen über den Zufall hinaus ({n} Vergleiche).",
    "No place and no model-year differs from the others beyond chance ({n!} comparison).":
        "Kein Ort und kein Modelljahr unterscheidet sich von den anderen über den Zufall hinaus ({n} Vergleich).",
    "There is nothing to advise from these numbers.":
        "Aus diesen Zahlen lässt sich nichts raten.",
    **{
        f"Not shown: {{n#}} rarer {fault}, in all {{m!}} {failure}.":
        f"Nicht gezeigt: {{n}} {seltener} Fehler, zusammen {{m}} {ausfall}."
        for fault, seltener in (("fault", "seltenerer"), ("faults", "seltenere"))
        for failure, ausfall in (("failure", "Ausfall"), ("failures", "Ausfälle"))
    },
    "From {x!} to {y!}.": "Vom {x} bis {y}.",
    "Not shown: {n#} more.": "Nicht gezeigt: {n} weitere.",
    "The next {n#} days": "Die nächsten {n} Tage",
    "{n#} days ({low#} to {high#})": "{n} Tage ({low} bis {high})",
    # Advice.
    **{
        f"{{x!}}{on}: {{n!}} of {{m!}} {at}, which has {{p#}} % of {least}.":
        f"{{x}}{an}: {{n}} von {{m}} {bei}, mit {{p}} % {von}."
        for on, an in ((" on {model!}", " an {model}"), ("", ""))
        for at, bei in (
            ("at {site!}", "bei {site}"),
            ("of model-year {site!}", "aus dem Modelljahr {site}"),
        )
        for least, von in (
            ("the time under watch", "der beobachteten Zeit"),
            ("what their ages bring", "dessen, was das Alter bringt"),
        )
    },
    **{
        f"Against elsewhere: {times} (limits of {{l#}} %); chance of so many {{p}}, {{q}} with all {{k!}} {comparison} counted.":
        f"Gegenüber anderswo: {mal} (Grenzen von {{l}} %); Wahrscheinlichkeit für so viele {{p}}, mit {vergleich} {{q}}."
        for times, mal in (
            ("{n#} times as often, between {low#} and {high}",
             "{n}-mal so oft, zwischen {low} und {high}"),
            ("none there, so at least {low#} times as often",
             "dort keiner, also mindestens {low}-mal so oft"),
        )
        for comparison, vergleich in (
            ("comparisons", "allen {k} Vergleichen"), ("comparison", "dem {k} Vergleich"),
        )
    },
    "no upper limit": "keiner oberen Grenze",
    "below {n#}": "unter {n}",
    "All {n!} are of one device.": "Alle {n} sind von einem einzigen Gerät.",
    "The {n!} are of {m!} devices.": "Die {n} sind von {m} Geräten.",
    "Some devices fail again and again: limits and chances count {n#} failures as one.":
        "Manche Geräte fallen immer wieder aus: Grenzen und Wahrscheinlichkeiten zählen {n} Ausfälle als einen.",
    **{
        f"{{x!}}{on}: the {{n!}} failures are of {{m!}} {device}; were all devices alike, the same ones would be met so often by a chance of {{p}}.":
        f"{{x}}{an}: die {{n}} Ausfälle sind von {{m}} {geraet}; wären alle Geräte gleich, träfe es dieselben mit einer Wahrscheinlichkeit von {{p}} so oft."
        for on, an in ((" on {model!}", " an {model}"), ("", ""))
        for device, geraet in (("device", "Gerät"), ("devices", "Geräten"))
    },
    "Look at those that failed more than once: what was done to them, and whose they are.":
        "Die ansehen, die mehr als einmal ausfielen: was an ihnen getan wurde, und wessen sie sind.",
    "Look at that device; of the others nothing is told.":
        "Dieses Gerät ansehen; von den anderen sagt das nichts.",
    "They cost about {sum!}.": "Sie kosten etwa {sum}.",
    "Were it like the others: {n#} fewer a term ({low#} to {high#}).":
        "Wäre es wie bei den anderen: {n} weniger je Zeitraum ({low} bis {high}).",
    "Were it like the others: {n#} fewer a term ({low#} to {high#}), about {sum!} less.":
        "Wäre es wie bei den anderen: {n} weniger je Zeitraum ({low} bis {high}), etwa {sum} weniger.",
    "Were it like the others: {n#} fewer a term ({low#} to {high#}); what they cost is not known.":
        "Wäre es wie bei den anderen: {n} weniger je Zeitraum ({low} bis {high}); was sie kosten, ist nicht bekannt.",
    "These devices are all of model-year {y!}, and no others are: place and model-year cannot be told apart.":
        "Diese Geräte sind alle aus dem Modelljahr {y}, und keine anderen sind es: Ort und Modelljahr lassen sich nicht trennen.",
    "None of these devices is in service any more: nothing is to save.":
        "Keines dieser Geräte ist noch im Dienst: es ist nichts zu sparen.",
    "Look there for the cause.": "Dort nach der Ursache suchen.",
    "Look for what those devices have in common.":
        "Suchen, was diese Geräte gemeinsam haben.",
    "More than {n!} next term show that it has not helped; that it has cannot be shown within {k!} terms.":
        "Mehr als {n} im nächsten Zeitraum zeigen, dass es nicht geholfen hat; dass es geholfen hat, lässt sich in {k} Zeiträumen nicht zeigen.",
    "More than {n!} next term show that it has not helped, no more than {m!} that it has.":
        "Mehr als {n} im nächsten Zeitraum zeigen, dass es nicht geholfen hat, nicht mehr als {m}, dass es geholfen hat.",
    "More than {n!} next term show that it has not helped, no more than {m!} in {k!} terms that it has.":
        "Mehr als {n} im nächsten Zeitraum zeigen, dass es nicht geholfen hat, nicht mehr als {m} in {k} Zeiträumen, dass es geholfen hat.",
    "Usual cause: {x}.": "Übliche Ursache: {x}.",
    "To prevent it: {x}.": "Zur Vorbeugung: {x}.",
    "liquid and cleaning agent": "Flüssigkeit und Reinigungsmittel",
    "wipe with a damp cloth instead of spraying, keep drinks and gel off the same table, and put covers on keys":
        "mit feuchtem Tuch wischen statt sprühen, Getränke und Gel nicht auf denselben Tisch stellen, und Tasten abdecken",
    "heat, and being kept full for long": "Hitze, und lange voll geladen zu sein",
    "keep devices away from sun and heaters, let charging end below full where that can be set, and hand in at once what no longer shuts flat":
        "Geräte von Sonne und Heizung fernhalten, das Laden unter voll enden lassen, wo sich das einstellen lässt, und sofort abgeben, was nicht mehr flach schliesst",
    "opening at one corner, and things shut in between":
        "Öffnen an einer Ecke, und eingeklemmte Dinge",
    "open with a hand in the middle, carry devices shut, and lay nothing on the keys":
        "in der Mitte öffnen, Geräte geschlossen tragen, und nichts auf die Tasten legen",
    "drops, knocks and grit": "Stürze, Stösse und Schmutzkörner",
    "give every device a case that stands over its face and a strap or holder where it is carried, and ask after each drop where it happened":
        "jedem Gerät eine Hülle geben, die über die Vorderseite steht, und wo es getragen wird, ein Band oder eine Halterung, und nach jedem Sturz fragen, wo er geschah",
    "pull and tilt at the plug": "Zug und Verkanten am Stecker",
    "lead cables so that nobody trips over them, plug in straight or use a dock, and take bent plugs away":
        "Kabel so führen, dass niemand darüber stolpert, gerade einstecken oder eine Ladeschale verwenden, und verbogene Stecker wegnehmen",
    "dust in the vents": "Staub in den Lüftungsöffnungen",
    "clean the vents on fixed days and never lay a running device on cloth":
        "die Lüftungsöffnungen an festen Tagen reinigen und ein laufendes Gerät nie auf Stoff legen",
    "wear by use": "Abnutzung durch Gebrauch",
    "share the most used devices out in turns and plan the exchange before they fail":
        "die meistgenutzten Geräte reihum verteilen und den Austausch planen, bevor sie ausfallen",
    # Lives.
    "too few to tell": "zu wenige, um es zu sagen",
    "not known": "nicht bekannt",
    "{n#} years ({low#} to {high#})": "{n} Jahre ({low} bis {high})",
    "{n#} ({low#} to {high#})": "{n} ({low} bis {high})",
    "{low#} to {high#}": "{low} bis {high}",
    "early in life: look at how they were made or fitted":
        "früh im Leben: ansehen, wie sie gemacht oder eingebaut wurden",
    "by wear: renewing in time may help":
        "durch Abnutzung: rechtzeitig erneuern kann helfen",
    "no effect of age shown": "keine Wirkung des Alters gezeigt",
    "an age nobody was watched at": "zu einem Alter, in dem keines beobachtet wurde",
    "{x!}: repairs of a device cost {sum!} ({low!} to {high!}) by {n#} years.":
        "{x}: Reparaturen eines Geräts kosten {sum} ({low} bis {high}) bis zum Alter von {n} Jahren.",
    "it does not pay": "es lohnt sich nicht",
    "more than the others": "mehr als die anderen",
    # How it was reckoned.
    "Rates: exact Poisson limits of {p#} % for devices watched for a time; a year is {n#} days.":
        "Raten: genaue Poisson-Grenzen von {p} % für eine Zeit lang beobachtete Geräte; ein Jahr hat {n} Tage.",
    "Places and model-years: exact test against all others, all comparisons of this report counted together (Benjamini and Hochberg); where age matters, against what their ages alone would bring.":
        "Orte und Modelljahre: genauer Test gegen alle anderen, alle Vergleiche dieses Berichts zusammen gezählt (Benjamini und Hochberg); wo das Alter zählt, gegen das, was das Alter allein brächte.",
    "Nothing is compared below five failures.":
        "Unter fünf Ausfällen wird nichts verglichen.",
    "Lives: first failure in the watch; devices that came into the watch late count from then on; Weibull law by maximum likelihood, limits by its logarithm; curves by Kaplan and Meier, bands of {p#} % at each age.":
        "Lebensdauern: erster Ausfall während der Beobachtung; spät dazugekommene Geräte zählen von da an; Weibull-Gesetz nach grösster Mutmasslichkeit, Grenzen über dessen Logarithmus; Kurven nach Kaplan und Meier, Bänder von {p} % in jedem Alter.",
    "Failures of a device by age: mean cumulative function, robust variance, log-normal limits; a failure whose cost is not known costs as much as the mean of those whose cost is.":
        "Ausfälle eines Geräts nach Alter: mittlere Summenfunktion, robuste Varianz, log-normale Grenzen; ein Ausfall mit unbekannten Kosten kostet so viel wie das Mittel der bekannten.",
    "What a year of age needs: by what each device needed in it; where nothing failed, by exact Poisson limits of the number.":
        "Was ein Lebensjahr braucht: nach dem, was jedes Gerät darin brauchte; wo nichts ausfiel, nach genauen Poisson-Grenzen der Zahl.",
    "Next term: what is not known of the rate counts in (gamma and Poisson); where age matters, each part in service is taken at its own age by the Weibull law of all parts seen, and a renewed part starts anew and may fail again.":
        "Nächster Zeitraum: was an der Rate unbekannt ist, zählt mit (Gamma und Poisson); wo das Alter zählt, gilt für jedes Teil im Dienst sein eigenes Alter nach dem Weibull-Gesetz aller gesehenen Teile, und ein erneuertes Teil beginnt von vorn und kann wieder ausfallen.",
    "Limits of {p#} %.": "Grenzen von {p} %.",
    "Shelf: pieces that cover the term with the chance named, one piece a failure, nothing coming in.":
        "Lager: Stücke, die den Zeitraum mit der genannten Wahrscheinlichkeit decken, ein Stück je Ausfall, ohne Nachschub.",
    # The page.
    "a term": "ein Zeitraum",
    "a year": "ein Jahr",
    "three years": "drei Jahre",
    "five years": "fünf Jahre",
    "all places": "alle Orte",
}  # fmt: skip

_PICTURES = {
    "Failures in 100 device-years with limits: {list;}.":
        "Ausfälle in 100 Gerätejahren mit Grenzen: {list}.",
    "{x!} {n#} ({low#} to {high#})": "{x} {n} ({low} bis {high})",
    "Share without the failure. {list;}.": "Anteil ohne den Ausfall. {list}.",
    "{x!}: {n#} % still without it at {age#} years (limits not known)":
        "{x}: {n} % noch ohne ihn mit {age} Jahren (Grenzen nicht bekannt)",
    "{x!}: {n#} % still without it at {age#} years ({low#} % to {high#} %)":
        "{x}: {n} % noch ohne ihn mit {age} Jahren ({low} % bis {high} %)",
    "Failures of a device by age. {list;}.": "Ausfälle eines Geräts nach Alter. {list}.",
    "{x!}: {n#} ({low#} to {high#}) by {age#} years":
        "{x}: {n} ({low} bis {high}) bis zum Alter von {age} Jahren",
    "Failures in 100 device-years. Nothing to draw.":
        "Ausfälle in 100 Gerätejahren. Nichts zu zeichnen.",
    "Share without the failure. Nothing to draw.":
        "Anteil ohne den Ausfall. Nichts zu zeichnen.",
    "Failures of a device by age. Nothing to draw.":
        "Ausfälle eines Geräts nach Alter. Nichts zu zeichnen.",
    "Pieces held against demand. Nothing to draw.":
        "Bereitgehaltene Stücke gegenüber dem Bedarf. Nichts zu zeichnen.",
    "Failures to come. Nothing to draw.": "Kommende Ausfälle. Nichts zu zeichnen.",
    "No places to compare.": "Keine Orte zu vergleichen.",
    "{x!}: {n#} places against limits of 95 % (dashed) and 99.8 %; more than the others: {list!}. {more;}.":
        "{x}: {n} Orte gegenüber Grenzen von 95 % (gestrichelt) und 99,8 %; mehr als die anderen: {list}. {more}.",
    "{x!}: {n#} places against limits of 95 % (dashed) and 99.8 %; none stands out. {more;}.":
        "{x}: {n} Orte gegenüber Grenzen von 95 % (gestrichelt) und 99,8 %; keiner sticht hervor. {more}.",
    "{x!} {n#} times the {m#} expected": "{x} das {n}-Fache der erwarteten {m}",
    "Pieces held against demand. {list;}.":
        "Bereitgehaltene Stücke gegenüber dem Bedarf. {list}.",
    "{x!}: hold {n#} for {days#} days, {p#} % sure that nobody waits":
        "{x}: {n} für {days} Tage bereithalten, zu {p} % sicher, dass niemand wartet",
    "wanted {low#} to {high#} (90 %)": "Bedarf {low} bis {high} (90 %)",
    "Failures to come. {list;}.": "Kommende Ausfälle. {list}.",
    "{x!}: {n#} in {m#} months, between {low#} and {high#} (90 %)":
        "{x}: {n} in {m} Monaten, zwischen {low} und {high} (90 %)",
    "{x!}. wanted in the past {n#} months, oldest first: {list!}; in {m#} months {k#}, between {low#} and {high#} (90 %); hold {s#}.":
        "{x}. Gebraucht in den letzten {n} Monaten, älteste zuerst: {list}; in {m} Monaten {k}, zwischen {low} und {high} (90 %); {s} bereithalten.",
    "{x!}. wanted in the past {n#} months, oldest first: nothing; in {m#} months {k#}, between {low#} and {high#} (90 %); hold {s#}.":
        "{x}. Gebraucht in den letzten {n} Monaten, älteste zuerst: nichts; in {m} Monaten {k}, zwischen {low} und {high} (90 %); {s} bereithalten.",
}  # fmt: skip

AXES = {
    "failures in 100 device-years": "Ausfälle in 100 Gerätejahren",
    "age in years": "Alter in Jahren",
    "% without it": "% ohne ihn",
    "failures of a device": "Ausfälle eines Geräts",
    "failures expected at the rate of all": "erwartete Ausfälle bei der Rate aller",
    "seen by expected": "gesehen durch erwartet",
    "days from now": "Tage ab jetzt",
    "months from now": "Monate ab jetzt",
    "pieces": "Stück",
    "failures": "Ausfälle",
    "held": "bereitgehalten",
}  # fmt: skip
"""What stands in the pictures of a fleet."""

_REPORT = {
    "Fleet report": "Bericht zur Flotte",
    "What to change": "Was zu ändern ist",
    "What fails how often": "Was wie oft ausfällt",
    "Model": "Modell",
    "Fault": "Fehler",
    "Failures": "Ausfälle",
    "In 100 device-years": "In 100 Gerätejahren",
    "Limits": "Grenzen",
    "Each cost": "Kosten je Fall",
    "Next term": "Nächster Zeitraum",
    "Places": "Orte",
    "Place": "Ort",
    "Model-years": "Modelljahre",
    "Model-year": "Modelljahr",
    "How long parts last": "Wie lange Teile halten",
    "One in ten failed by": "Jedes zehnte ausgefallen bis",
    "Shape of the law": "Form des Gesetzes",
    "They fail": "Sie fallen aus",
    "Failures of a device as it grows older":
        "Ausfälle eines Geräts, während es älter wird",
    "The next term, and what to hold for it":
        "Der nächste Zeitraum, und was dafür bereitzuhalten ist",
    "Hold": "Bereithalten",
    "Sure that nobody waits": "Wahrscheinlich wartet niemand",
    "Wanted": "Bedarf",
    "The next year": "Das nächste Jahr",
    "Up to which price a repair pays for one more year":
        "Bis zu welchem Preis sich eine Reparatur für ein weiteres Jahr lohnt",
    "Age in years": "Alter in Jahren",
    "Up to": "Bis zu",
    "How this was reckoned": "Wie dies gerechnet wurde",
}  # fmt: skip

FLEET = {**_SENTENCES, **_PICTURES}
"""Sentences of a fleet, and those of its pictures."""

FLEET_REPORT = {**_SENTENCES, **_PICTURES, **_REPORT}
"""All that the printed report on a fleet says."""
