"""What is said in German when an order, a count or a return is refused?"""

COUNTER_SUPPLY = {
    "{part!}: found {n#} to buy for {a#} by now, wanted the {m#} for {b#} that the page showed":
        "{part}: jetzt sind {n} für {a} zu kaufen, gesucht die {m} für {b}, welche die Seite zeigte",
    "count: found {n#} in the books by now, wanted the {m#} that the page showed; look whether what came or went is counted":
        "Zählung: jetzt sind {n} in den Büchern, gesucht die {m}, welche die Seite zeigte; nachsehen, ob mitgezählt ist, was kam oder ging",
    "found other figures than were sent": "andere Zahlen gefunden, als geschickt wurden",
}  # fmt: skip
"""Where, found and wanted, of goods and the shelf."""
