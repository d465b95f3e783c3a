"use strict";
// Says a day in words beside its field: a browser may write the month before the day.
(() => {
  const language = document.documentElement.lang === "de" ? "de-DE" : "en-GB";
  const inWords = new Intl.DateTimeFormat(language, {
    weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC",
  });
  const beside = (field) => {
    const next = field.nextElementSibling;
    if (next && next.matches("output.day")) return next;
    const made = document.createElement("output");
    made.className = "help day";
    made.htmlFor = field.id;
    field.after(made);
    return made;
  };
  const say = (field) => {
    const day = field.valueAsDate;
    if (day || field.nextElementSibling?.matches("output.day"))
      beside(field).textContent = day ? inWords.format(day) : "";
  };
  const sayAll = (within) => within.querySelectorAll('input[type="date"]').forEach(say);
  document.addEventListener("input", (event) => {
    if (event.target.matches('input[type="date"]')) say(event.target);
  });
  document.addEventListener("htmx:load", (event) => sayAll(event.target));
  sayAll(document);
})();
