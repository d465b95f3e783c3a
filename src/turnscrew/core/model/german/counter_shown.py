"""What is said in German when what a page showed is not what stands by now?"""

COUNTER_SHOWN = {
    "found this not to be done any more, wanted the page looked at: it was done, or what it rests on changed, since the page was opened":
        "nicht mehr zu tun gefunden, gesucht die Seite angesehen: es wurde getan, oder worauf es ruht, änderte sich, seit die Seite geöffnet wurde",
    "invoice: found {a#} owed by now, wanted the {b#} that the page showed":
        "Rechnung: jetzt sind {a} geschuldet, gesucht die {b}, welche die Seite zeigte",
    "device {n#}: found {a} for {x!} by now, wanted the {b} for {y!} that the page showed":
        "Gerät {n}: jetzt {a} für {x} gefunden, gesucht die {b} für {y}, welche die Seite zeigte",
    "device {n#}: found {a} for {x!} by now, wanted it with none, as the page showed":
        "Gerät {n}: jetzt {a} für {x} gefunden, gesucht ohne Angebot, wie es die Seite zeigte",
    "device {n#}: found it with no quote here by now, wanted the {b} for {y!} that the page showed":
        "Gerät {n}: jetzt hier ohne Angebot gefunden, gesucht die {b} für {y}, welche die Seite zeigte",
    "devices: found {x} to bill by now, wanted {y} as the page showed":
        "Geräte: jetzt zu berechnen: {x}, gesucht wie auf der Seite: {y}",
    "credits: found {n#} on no invoice by now, wanted {m#} as the page showed":
        "Gutschriften: jetzt {n} auf keiner Rechnung, gesucht {m} wie auf der Seite",
    "no amount": "kein Betrag",
}  # fmt: skip
"""Where, found and wanted, of a page that was open while things changed."""
