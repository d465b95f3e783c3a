"""What is said in German where something can hurt somebody or break?"""

DANGERS = {
    "Serial {x} is also on device {list,}: hold the number on this body against the "
    "owner's number {y} before anything is opened.":
        "Seriennummer {x} steht auch auf Gerät {list}: die Nummer am Gehäuse mit der "
        "Nummer {y} des Besitzers vergleichen, bevor etwas geöffnet wird.",
    "Static: strap on, and hold it by the edges.":
        "Elektrostatik: Armband an, und an den Kanten halten.",
    "Light: cover it at once.": "Licht: sofort abdecken.",
    "Dust: cap or cover it at once.": "Staub: sofort verschliessen oder abdecken.",
    "Magnets: keep it away from drivers and readers.":
        "Magnete: von Schraubendrehern und Lesegeräten fernhalten.",
    "Pressure: do not press on its face.": "Druck: nicht auf die Fläche drücken.",
    "Battery pack: do not bend, pierce or heat it; if it is swollen, hot or smells, stop, isolate it and call the lead.":
        "Akku: nicht biegen, anstechen oder erhitzen; ist er aufgebläht, heiss oder riecht er, aufhören, absondern und die Leitung rufen.",
    "Battery pack inside: look before you heat, lever or open; if it is swollen, hot or smells, stop, isolate it and call the lead; do not bend, pierce or heat it.":
        "Akku im Gerät: hinsehen, bevor etwas erwärmt, gehebelt oder geöffnet wird; ist er aufgebläht, heiss oder riecht er, aufhören, absondern und die Leitung rufen; nicht biegen, anstechen oder erhitzen.",
    "A second pair of hands is needed.": "Ein zweites Paar Hände ist nötig.",
    "If swollen: {x}": "Wenn aufgebläht: {x}",
    "Not with {x}": "Nicht mit: {x}",
    "Do not lever in the hatched zone": "Im schraffierten Bereich nicht hebeln",
    "Do not lever in the hatched zone: {x}": "Im schraffierten Bereich nicht hebeln: {x}",
    "Not deeper than {n#} mm here: {x}": "Hier nicht tiefer als {n} mm: {x}",
    "Springs under tension: hold {x}": "Federn unter Spannung: festhalten: {x}",
    "Known to go wrong: {x}": "Geht bekanntlich schief: {x}",
    "Slip met here: {x}": "Fehlgriff, der hier vorkam: {x}",
    "Slip met here: {x} ({n#} times)": "Fehlgriff, der hier vorkam: {x} ({n}-mal)",
    "Slip met before: {x}": "Fehlgriff, der schon vorkam: {x}",
    "Slip met before: {x} ({n#} times)": "Fehlgriff, der schon vorkam: {x} ({n}-mal)",
    "A screw of {n#} mm or more reaches {x} here.":
        "Eine Schraube von {n} mm oder mehr erreicht hier: {x}.",
    "A longer screw reaches {x} here.": "Eine längere Schraube erreicht hier: {x}.",
    "{x}: ask the customer in writing first": "{x}: zuerst den Kunden schriftlich fragen",
    "Heat: {heat}, {n#} s, {where}; then wait {wait#} s.":
        "Wärme: {heat}, {n} s, {where}; dann {wait} s warten.",
    "Heat: {heat}, {n#} s; then wait {wait#} s.": "Wärme: {heat}, {n} s; dann {wait} s warten.",
    "Heat: {heat}, {n#} s, {where}.": "Wärme: {heat}, {n} s, {where}.",
    "Heat: {heat}, {n#} s.": "Wärme: {heat}, {n} s.",
    "warm": "handwarm",
    "This joint does not survive: have its replacement at hand first.":
        "Diese Verbindung überlebt es nicht: zuerst den Ersatz bereitlegen.",
    "{X} does not survive: have its replacement at hand.": "{X} überlebt es nicht: den Ersatz bereitlegen.",
    "Off already: {list,}, and with that {rest,}.": "Schon ab: {list,}, und damit {rest,}.",
    "Off already: {list,}.": "Schon ab: {list,}.",
    "Next, {x} does not survive: have its replacement at hand.":
        "Als Nächstes überlebt {x} es nicht: den Ersatz bereitlegen.",
    "Solvent: {x}": "Lösemittel: {x}",
    "Magnets: keep away from {x}": "Magnete: fernhalten von: {x}",
    "Contacts: do not touch.": "Kontakte: nicht berühren.",
    "Hot: iron at {n#} °C; extraction on.": "Heiss: Lötkolben auf {n} °C; Absaugung an.",
    "Mated {n#} times of {of#} rated: mate it rarely.":
        "{n}-mal von {of} zugelassenen Malen gesteckt: selten stecken.",
    "Stays live with the pack off: {x}": "Bleibt auch ohne Akku unter Spannung: {x}",
    "Data: it leaves custody only with a recorded end state.":
        "Daten: verlässt die Obhut nur mit einem eingetragenen Endzustand.",
    "Pack, never: {list,}.": "Akku, niemals: {list}.",
    "Power: {state}, {key}, wait {n#} s.": "Strom: {state}, {key}, {n} s warten.",
    "Power: {state}, wait {n#} s.": "Strom: {state}, {n} s warten.",
    "Power: {state}, {key}.": "Strom: {state}, {key}.",
    "Power: {state}.": "Strom: {state}.",
    "device off": "Gerät aus",
    "Power: device off, adapter out.": "Strom: Gerät aus, Netzteil abgezogen.",
    "adapter out": "Netzteil abgezogen",
    "pack disconnected": "Akku abgesteckt",
    "Live by {x}: {y}, until {until}": "Unter Spannung durch {x}: {y}, bis {until}",
    "Live by {x}: {y}": "Unter Spannung durch {x}: {y}",
    "something": "etwas",
    # A pack that is swollen or unknown.
    "A swollen or unknown pack is inside: do not press, bend or pierce it; if it gets hot, hisses or smokes, leave it, warn everybody, call the fire service.":
        "Ein aufgeblähter oder unbekannter Akku ist darin: nicht drücken, biegen oder anstechen; wird er heiss, zischt oder raucht er, liegen lassen, alle warnen, die Feuerwehr rufen.",
    "No heat while this pack is inside: the lead says how it comes off cold; if there is no such way, leave it shut and isolate it.":
        "Keine Wärme, solange dieser Akku darin ist: die Leitung sagt, wie es kalt abgeht; gibt es keinen solchen Weg, geschlossen lassen und absondern.",
    "{X} is not laid in again: it stays in the fire box. Close without it.":
        "{X} wird nicht wieder eingelegt: er bleibt in der Brandkiste. Ohne ihn schliessen.",
    "Old pack into the fire box at once: alone, ends taped, nothing on top; label with date and number; then to the store for bad packs by local rules.":
        "Alter Akku sofort in die Feuerkiste: allein, Pole abgeklebt, nichts darauf; mit Datum und Nummer beschriften; dann ins Lager für schlechte Akkus nach den örtlichen Regeln.",
    "The pack fitted last is bad too: into the fire box at once: alone, ends taped, nothing on top; label with date and number; then to the store for bad packs by local rules.":
        "Auch der zuletzt eingesetzte Akku ist schlecht: sofort in die Feuerkiste: allein, Pole abgeklebt, nichts darauf; mit Datum und Nummer beschriften; dann ins Lager für schlechte Akkus nach den örtlichen Regeln.",
    "Old pack: tape its ends, into the box for old packs, by local rules.":
        "Alter Akku: Pole abkleben, in die Kiste für alte Akkus, nach den örtlichen Regeln.",
    "Swollen or unknown pack: never press, bend, pierce, charge or power it; eye protection, fire box open beside you, nothing sharp or metal near it; if it hisses, smokes or gets hot, leave it, warn everybody, call the fire service.":
        "Aufgeblähter oder unbekannter Akku: niemals drücken, biegen, anstechen, laden oder einschalten; Augenschutz, Feuerkiste offen daneben, nichts Scharfes oder Metallenes in der Nähe; zischt, raucht oder erhitzt er sich, liegen lassen, alle warnen, die Feuerwehr rufen.",
    "Pack off first, before anything is warmed or levered: do not bend, pierce or heat it; if it is swollen, hot or smells, stop, isolate it and call the lead; boxed by itself once out.":
        "Zuerst den Akku abstecken, bevor etwas erwärmt oder gehebelt wird: nicht biegen, anstechen oder erhitzen; ist er aufgebläht, heiss oder riecht er, aufhören, absondern und die Leitung rufen; ausgebaut für sich allein in den Kasten.",
    "Liquid inside: pack off first, gloves, no power; ventilate, and take away what smells of cleaning agents to the extraction.":
        "Flüssigkeit im Gerät: zuerst den Akku abstecken, Handschuhe, kein Strom; lüften, und was nach Reinigungsmitteln riecht, zur Absaugung bringen.",
    "Cracked glass: eye protection and gloves, tape the front before anything else, splinters into the sharps box.":
        "Gesprungenes Glas: Augenschutz und Handschuhe, vor allem anderen die Front abkleben, Splitter in den Behälter für Scharfes.",
    "Strap on, on the mat, before any board is touched.":
        "Armband an, auf der Matte, bevor eine Platine berührt wird.",
    "Mains adapter: look at case, pins and lead first; a cracked one is cut off and logged. Follow local codes; leave mains parts to licensed people.":
        "Netzteil: zuerst Gehäuse, Stifte und Leitung ansehen; ein gesprungenes wird abgeschnitten und eingetragen. Die örtlichen Vorschriften befolgen; Teile am Netz zugelassenen Fachleuten überlassen.",
    "{serial} came so before: {x}": "{serial} kam schon einmal so: {x}",
    "{serial} came so before: {x} ({joint}, {n#} missing)":
        "{serial} kam schon einmal so: {x} ({joint}, {n} fehlend)",
    # Kinds of caution.
    "pack: {rest.}": "Akku: {rest.}",
    "heat: {rest.}": "Wärme: {rest.}",
    "hot: {rest.}": "heiss: {rest.}",
    "static: {rest.}": "Elektrostatik: {rest.}",
    "light: {rest.}": "Licht: {rest.}",
    "dust: {rest.}": "Staub: {rest.}",
    "spring: {rest.}": "Feder: {rest.}",
    "sharp: {rest.}": "scharf: {rest.}",
    "glass: {rest.}": "Glas: {rest.}",
    "fibre: {rest.}": "Fasern: {rest.}",
    "chemical: {rest.}": "Chemikalie: {rest.}",
    "charge: {rest.}": "Ladung: {rest.}",
    "fumes: {rest.}": "Dämpfe: {rest.}",
    "mains: {rest.}": "Netzspannung: {rest.}",
    "data: {rest.}": "Daten: {rest.}",
    "pressure: {rest.}": "Druck: {rest.}",
    "magnets: {rest.}": "Magnete: {rest.}",
    # Recording a model that nobody has described.
    "Power off, adapter out. Strap on, on the mat. Pack swollen, hot or of unknown state: do not open it here, isolate it.":
        "Strom aus, Netzteil abgezogen. Armband an, auf der Matte. Akku aufgebläht, heiss oder in unbekanntem Zustand: hier nicht öffnen, absondern.",
    "Glass: goggles; do not press on its face.": "Glas: Schutzbrille; nicht auf die Fläche drücken.",
    # May it have power?
    "May run: no, see above.": "Strom: nein, siehe oben.",
    "May run: yes.": "Strom: ja.",
    "May run: yes, {n#} s at most.": "Strom: ja, höchstens {n} s.",
    "May run: no: {why}.": "Strom: nein: {why}.",
    "May run: no: {why}, and {n#} more.": "Strom: nein: {why}, und {n} weitere.",
    "May run: no: nobody has described it yet.": "Strom: nein: Noch niemand hat es beschrieben.",
    "Pack is live.": "Akku liefert Strom.",
    "nothing says that it may run open": "nichts sagt, dass es offen laufen darf",
    "{x} is off": "{x} ist ab",
    "{x} is off, and it cools": "{x} ist ab und kühlt sonst",
    "{x} off, not provided for": "{x} ab, nicht vorgesehen",
    "{x} off": "{x} ab",
    "Contaminated: gloves, keep apart until cleaned ({x!}).":
        "Verunreinigt: Handschuhe, getrennt halten bis zur Reinigung ({x}).",
    "To be read by the lead before any work ({x!}).":
        "Von der Leitung zu lesen vor jeder Arbeit ({x}).",
    "Known of it: {rest}. No power, no charging, no pressure.":
        "Davon bekannt: {rest}. Kein Strom, kein Laden, kein Druck.",
    "Known only since this path was made: {rest}. No power, no charging, no pressure; ask for a new path.":
        "Erst seit diesem Weg bekannt: {rest}. Kein Strom, kein Laden, kein Druck; einen neuen Weg verlangen.",
    "pack swollen or not known": "Akku aufgebläht oder unbekannt",
    "liquid got in, and no finding says that it is dry inside":
        "Flüssigkeit eingedrungen, und kein Befund sagt, dass es innen trocken ist",
    "the customer wants it not started": "der Kunde will nicht, dass es gestartet wird",
    "Data: may be started to a test image, no further.":
        "Daten: darf bis zum Prüfbild gestartet werden, nicht weiter.",
    "Data: may be logged in to with the account given.":
        "Daten: Anmeldung mit dem gegebenen Konto erlaubt.",
    "Data: must not be started.": "Daten: darf nicht gestartet werden.",
    "Do not power it now: {why;}.": "Jetzt nicht einschalten: {why}.",
    "May be powered.": "Darf Strom haben.",
    "May be powered for at most {n#} s.": "Darf höchstens {n} s Strom haben.",
    "May be powered, {with,}.": "Darf Strom haben, {with}.",
    "May be powered for at most {n#} s, {with,}.": "Darf höchstens {n} s Strom haben, {with}.",
    "May be powered ({why;}).": "Darf Strom haben ({why}).",
    "May be powered for at most {n#} s ({why;}).": "Darf höchstens {n} s Strom haben ({why}).",
    "May be powered, {with,} ({why;}).": "Darf Strom haben, {with} ({why}).",
    "May be powered for at most {n#} s, {with,} ({why;}).":
        "Darf höchstens {n} s Strom haben, {with} ({why}).",
}  # fmt: skip
"""Cautions, exactly as careful as the English ones, and the state of power."""
