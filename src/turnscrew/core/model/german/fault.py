"""What is said in German while a fault is sought?"""

FAULT = {
    "Mains adapter: look at lead and case first; follow local codes and leave mains parts to licensed people.":
        "Netzteil: zuerst Leitung und Gehäuse ansehen; die örtlichen Vorschriften befolgen und Teile am Netz zugelassenen Fachleuten überlassen.",
    "Lithium pack: do not press, lever, puncture or cut; if it is swollen, warm or smells, stop and set it apart.":
        "Lithium-Akku: nicht drücken, hebeln, anstechen oder schneiden; ist er aufgebläht, warm oder riecht er, aufhören und absondern.",
    "Static: strap on, board on the mat, hold it by the edges.":
        "Elektrostatik: Armband an, Platine auf die Matte, an den Kanten halten.",
    "Hot parts: let them cool, or keep skin and leads away.":
        "Heisse Teile: abkühlen lassen, oder Haut und Leitungen fernhalten.",
    "Glass: eyes and hands covered; tape what is cracked.":
        "Glas: Augen und Hände geschützt; Gesprungenes abkleben.",
    "Fumes: extraction on; gloves against residue.":
        "Dämpfe: Absaugung an; Handschuhe gegen Rückstände.",
    "Data: start the test image only; nothing of the owner's is opened.":
        "Daten: nur das Prüfsystem starten; nichts vom Eigentümer wird geöffnet.",
    "Do not switch on, charge or plug in before it is excluded: {list,}.":
        "Nicht einschalten, laden oder einstecken, bevor ausgeschlossen ist: {list}.",
    "Do not switch on, charge or plug in before it is excluded: {list,}. Nothing was told by: {looks,}. Have it looked at again by somebody signed off for packs, the pack unplugged where it can be.":
        "Nicht einschalten, laden oder einstecken, bevor ausgeschlossen ist: {list}. Nichts gesagt haben: {looks}. Noch einmal ansehen lassen von jemand, der für Akkus freigegeben ist, der Akku abgesteckt, wo es geht.",
    "No look from outside is left that could exclude it: {list,}. Power only by somebody signed off, not alone, on a bare surface that does not burn, fire box open beside it; stay with it. At the first smell, smoke, warmth or swelling unplug it at the wall, do not touch it, warn everybody, call the fire service. Look after it for an hour afterwards. Follow local codes.":
        "Von aussen lässt es sich nicht mehr ausschliessen: {list}. Strom nur durch jemand Freigegebenen, nicht allein, auf kahler Fläche, die nicht brennt, Brandkiste offen daneben; dabei bleiben. Beim ersten Geruch, Rauch, bei Wärme oder Wölbung den Stecker an der Wand ziehen, nicht anfassen, alle warnen, die Feuerwehr rufen. Danach eine Stunde im Auge behalten. Örtliche Vorschriften beachten.",
    "function check-out": "Funktionsprüfung",
    "give up": "aufgeben",
    "Next: {x}": "Als Nächstes: {x}",
    "No test, no power: {why}. See to that first.":
        "Keine Prüfung, kein Strom: {why}. Das zuerst erledigen.",
    "It works: confirm the fault, then go on.":
        "Es geht: den Fehler bestätigen, dann weiter.",
    "works": "geht",
    "still at fault": "noch fehlerhaft",
    "not tried": "nicht versucht",
    "Open for it: {list,}.": "Dafür öffnen: {list}.",
    "Known good: {x}": "Bekannt gut: {x}",
    "{x} ({what}; verified {on})": "{x} ({what}; geprüft am {on})",
    "{x} ({what}; verified {on!} on {with})": "{x} ({what}; geprüft am {on} an {with})",
    "within limits": "in den Grenzen",
    "{x} ({what}; never verified)": "{x} ({what}; nie geprüft)",
    "Takes about {n#} min.": "Dauert etwa {n} min.",
    "Takes about {n#} min. A guess: no history yet.":
        "Dauert etwa {n} min. Geschätzt: noch keine Geschichte.",
    "A guess: no history yet.": "Geschätzt: noch keine Geschichte.",
    "Likely: {list;}": "Wahrscheinlich: {list}",
    "{x} {n#} %": "{x} {n} %",
    "{x} {n#} % (before {m#})": "{x} {n} % (vorher {m})",
    "Likeliest now: {list,}.": "Jetzt am wahrscheinlichsten: {list}.",
    "said: {x}": "gesagt: {x}",
    "fitted at the bench: {x}": "am Arbeitsplatz eingebaut: {x}",
    "failed after the work: {x}": "nach der Arbeit nicht bestanden: {x}",
    "said, in no words of the table: {x}": "gesagt, in keinen Worten der Tabelle: {x}",
    "said: {x}; read as {y}, {n#} % by {list,}": "gesagt: {x}; gelesen als {y}, {n} % wegen {list}",
    "After it: {list;}.": "Danach: {list}.",
    "{x} ({n#} %) then {y}": "{x} ({n} %), dann {y}",
    "hand back": "zurückgeben",
    "{x}; within limits from {low#} up to {high#} {unit} ({source}); meter to {p#} % and {plus#} {u}":
        "{x}; in den Grenzen von {low} bis {high} {unit} ({source}); Messgerät auf {p} % und {plus} {u}",
    "{x}; within limits from {low#} {unit} ({source}); meter to {p#} % and {plus#} {u}":
        "{x}; in den Grenzen ab {low} {unit} ({source}); Messgerät auf {p} % und {plus} {u}",
    "{x}; within limits up to {high#} {unit} ({source}); meter to {p#} % and {plus#} {u}":
        "{x}; in den Grenzen bis {high} {unit} ({source}); Messgerät auf {p} % und {plus} {u}",
    "To the end: {hands#} min of hands and {money#} of money, together worth {cost#} min (in eight jobs of ten {low#} to {high#}); works then in {p#} of 100, never opened in {u#} of 100.":
        "Bis zum Ende: {hands} min Handarbeit und {money} Geld, zusammen {cost} min wert (in acht von zehn Arbeiten {low} bis {high}); geht dann in {p} von 100, nie geöffnet in {u} von 100.",
    "To the end: {hands#} min of hands and {money#} of money, together worth {cost#} min (in eight jobs of ten {low#} to {high#}); works then in {p#} of 100.":
        "Bis zum Ende: {hands} min Handarbeit und {money} Geld, zusammen {cost} min wert (in acht von zehn Arbeiten {low} bis {high}); geht dann in {p} von 100.",
    "Then, before the same check-out: {list,}.": "Dann, vor derselben Prüfung: {list}.",
    "Runner-up: {x}, {n#} min dearer.": "Nächstbestes: {x}, {n} min teurer.",
    "Runner-up: {x}, {n#} min dearer, as far as was looked.":
        "Nächstbestes: {x}, {n} min teurer, soweit gesucht wurde.",
    "{x} is as good within what the figures can tell and keeps the case shut: it may well come first.":
        "{x} ist so gut, wie die Zahlen es sagen können, und lässt das Gehäuse zu: es darf gern zuerst kommen.",
    "Giving up counts {n#} of money": "Aufgeben zählt {n} Geld",
    "Giving up counts {n#} of money, and {x} is as good within what the figures can tell: let the worth of this very device decide.":
        "Aufgeben zählt {n} Geld, und {x} ist so gut, wie die Zahlen es sagen können: der Wert gerade dieses Geräts soll entscheiden.",
    "Giving up counts {n#} of money; {x} would be {m#} min dearer, so a higher worth-mending limit would be needed.":
        "Aufgeben zählt {n} Geld; {x} wäre {m} min teurer, also wäre eine höhere Grenze für die Reparatur nötig.",
    "These two speak against each other, and both are kept: {x} / {y}.":
        "Diese beiden widersprechen sich, und beide bleiben stehen: {x} / {y}.",
    "Together they exclude every fault. Each chance of 0 was taken as {n#}: look at the two again first.":
        "Zusammen schliessen sie jeden Fehler aus. Jede Wahrscheinlichkeit 0 wurde als {n} genommen: zuerst die beiden noch einmal ansehen.",
    "Together they exclude every fault. Each chance of 0 was taken as {n#}: look at them again first.":
        "Zusammen schliessen sie jeden Fehler aus. Jede Wahrscheinlichkeit 0 wurde als {n} genommen: zuerst alle noch einmal ansehen.",
    "Not proven best: no strategy takes less than {n#} min.":
        "Nicht bewiesen am besten: kein Vorgehen braucht weniger als {n} min.",
    "number": "Zahl",
}  # fmt: skip
"""The screen on which the next test stands."""
