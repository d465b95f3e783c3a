"""How are the four pages of a report on a fleet set?"""

SOURCE = """
#let told(chart, width) = if chart.svg != "" {
  align(center, image(bytes(chart.svg), format: "svg", width: width, alt: chart.says))
}
#let cells(rows) = rows.map(r => r.map(c => [#c])).flatten()
#let figures(columns, names, rows, first: 1) = table(
  columns: columns, stroke: ruled, inset: (x: 1mm, y: 0.75mm),
  align: (x, _) => if x < first { left } else { right },
  row-head(..names), ..cells(rows))

#let rest(name) = if d.rest.at(name) != "" { text(size: 9pt, d.rest.at(name)) }

// German says the same with longer words; four pages hold it a little smaller.
#set text(size: 9.3pt) if d.at("language", default: "en") == "de"
#if d.period != "" [*#d.whose* – #d.period #linebreak()]
#d.summary #d.few

#part(w("What to change"))
#if d.advice.len() == 0 [#d.silence]
#for one in d.advice [#block(above: 2mm, stroke: (left: 2pt), inset: (left: 2mm), one)]
#rest("advice")
#for one in d.repeats [#block(above: 2mm, stroke: (left: 2pt), inset: (left: 2mm), one)]
#rest("repeats")

#if d.causes.len() > 0 [
#part(w("What fails how often"))
#told(d.rates, 128mm)
#figures((auto, 1fr, auto, auto, auto, auto, auto), first: 2,
  (w("Model"), w("Fault"), w("Failures"), w("In 100 device-years"), w("Limits"),
    w("Each cost"), w("Next term")),
  d.causes)
#if d.more != "" [#text(size: 9pt, d.more)]
#if d.open_age != "" [#text(size: 9pt, d.open_age)]
]

#if d.places.len() > 0 [
  #part(w("Places"))
  #told(d.funnel, 112mm)
  #figures((4fr, 3fr, auto, auto, auto), first: 2,
    (w("Fault"), w("Place"), w("Failures"), w("In 100 device-years"), w("Limits")),
    d.places)
  #rest("places")
]
#if d.years.len() > 0 [
  #part(w("Model-years"))
  #figures((4fr, auto, auto, auto, auto, 3fr), first: 2,
    (w("Fault"), w("Model-year"), w("Failures"), w("In 100 device-years"),
      w("Limits"), ""), d.years)
  #rest("years")
]

#if d.lives.len() > 0 [
  #part(w("How long parts last"))
  #told(d.life, 128mm)
  #figures((4fr, auto, auto, 4fr), first: 4,
    (w("Fault"), w("One in ten failed by"), w("Shape of the law"), w("They fail")),
    d.lives)
  #rest("lives")
  #part(w("Failures of a device as it grows older"))
  #told(d.mean, 150mm)
  #if d.costs.len() > 0 [#for one in d.costs [#one ]]
  #rest("costs")
]

#if d.holds.len() > 0 [
#part(w("The next term, and what to hold for it"))
#told(d.shelf, 122mm)
#figures((auto, 1fr, auto, auto, auto), first: 2,
  (w("Model"), w("Fault"), w("Hold"), w("Sure that nobody waits"), w("Wanted")),
  d.holds)
#rest("holds")
#if d.open_age != "" [#text(size: 9pt, d.open_age)]
#part(d.beyond)
#told(d.fan, 122mm)
]

#if d.paying.len() > 0 [
  #part(w("Up to which price a repair pays for one more year"))
  #figures((auto, auto, auto, 1fr), first: 1,
    (w("Model"), w("Age in years"), w("Up to"), w("Limits")), d.paying)
  #rest("paying")
]

#part(w("How this was reckoned"))
#set text(size: 8.5pt)
#for one in d.conventions [- #one
]
"""
"""The report, in the language of the page setter; fixed words stand as w("...")."""
