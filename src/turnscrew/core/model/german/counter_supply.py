"""What is said in German when an order, a count, a return or a table is refused?"""

COUNTER_SUPPLY = {
    "Counted in compartment {x!}, {kind.}": "Gezählt in Fach {x}, {kind}",
    "nothing in it": "nichts darin",
    "Counted in tray, {kind.}": "Gezählt in der Schale, {kind}",
    "compartment {x!}, {kind.}: found {y#}, wanted {z#} as written; look for them before anything is accepted":
        "Fach {x}, {kind}: gefunden {y}, gesucht {z} wie eingetragen; danach suchen, bevor etwas angenommen wird",
    "tray, {kind.}: found {y#}, wanted {z#} as written; look for them before anything is accepted":
        "Schale, {kind}: gefunden {y}, gesucht {z} wie eingetragen; danach suchen, bevor etwas angenommen wird",
    "part: found {x}, wanted one that can be given":
        "Teil: {x} gefunden, gesucht eines, das abgegeben werden kann",
    "devices: found {n#}, wanted one alone": "Geräte: {n} gefunden, gesucht genau eines",
    "{x!}: fitted in device {n#}": "{x}: eingebaut in Gerät {n}",
    "gone with its donor": "mit seinem Spender fort",
    "device {n!}: found no {x!} fitted off the shelf, wanted one that is written as fitted":
        "Gerät {n}: kein {x} aus dem Regal eingebaut gefunden, gesucht eines, das als eingebaut eingetragen ist",
    "part: found {x} already, wanted one {y}":
        "Teil: schon {x} gefunden, gesucht eines: {y}",
    "part: found {x} already, wanted another result":
        "Teil: schon {x} gefunden, gesucht ein anderes Ergebnis",
    "part: found {x}, wanted one that is here to test":
        "Teil: {x} gefunden, gesucht eines, das zum Prüfen hier ist",
    "{part!}: found {n#} to buy for {a#} by now, wanted the {m#} for {b#} that the page showed":
        "{part}: jetzt sind {n} für {a} zu kaufen, gesucht die {m} für {b}, welche die Seite zeigte",
    "count: found {n#} in the books by now, wanted the {m#} that the page showed; look whether what came or went is counted":
        "Zählung: jetzt sind {n} in den Büchern, gesucht die {m}, welche die Seite zeigte; nachsehen, ob mitgezählt ist, was kam oder ging",
    "table: found a file and pasted rows, wanted one of them":
        "Tabelle: eine Datei und eingefügte Zeilen gefunden, gesucht eines davon",
    "table: found a heading alone, wanted a row a device":
        "Tabelle: nur eine Kopfzeile gefunden, gesucht eine Zeile für jedes Gerät",
    "heading: found {x!} said of two columns, wanted one alone":
        "Überschrift: {x} für zwei Spalten gesagt, gesucht für eine allein",
    "heading: found no {x!} in the table, wanted one of {list!}":
        "Überschrift: kein {x} in der Tabelle gefunden, gesucht eines von {list}",
    "file: found letters that are not written as UTF-8, wanted it saved as UTF-8, or the spreadsheet itself, or its rows pasted":
        "Datei: Buchstaben gefunden, die nicht als UTF-8 geschrieben sind, gesucht als UTF-8 gespeichert, oder die Tabellendatei selbst, oder ihre Zeilen eingefügt",
    "returns: found {n#} not ended, wanted none":
        "Rücksendungen: {n} nicht beendet gefunden, gesucht keine",
    "{part!}: found no cost, wanted it set right, or somebody to confirm that it costs nothing":
        "{part}: keine Kosten gefunden, gesucht berichtigt, oder jemand, der bestätigt, dass es nichts kostet",
    "entry {n#}: found its credit on invoice {x!}, wanted a piece that is on none":
        "Eintrag {n}: seine Gutschrift auf Rechnung {x} gefunden, gesucht ein Stück, das auf keiner steht",
    "order: found it called off meanwhile, wanted one that awaits pieces":
        "Bestellung: inzwischen abbestellt gefunden, gesucht eine, die Stücke erwartet",
    "order: found {n#} still to come by now, wanted the {m#} that the page showed; look whether this parcel was booked in already":
        "Bestellung: jetzt stehen {n} noch aus, gesucht die {m}, welche die Seite zeigte; nachsehen, ob diese Sendung schon eingebucht ist",
    "part: found it gone with its donor, wanted one that is here":
        "Teil: mit seinem Spender fort gefunden, gesucht eines, das hier ist",
    "device: found it taken as a donor, wanted one that can be mended":
        "Gerät: als Spender genommen gefunden, gesucht eines, das sich reparieren lässt",
    "found other figures than were sent": "andere Zahlen gefunden, als geschickt wurden",
}  # fmt: skip
"""Where, found and wanted, of goods, the shelf and tables."""
