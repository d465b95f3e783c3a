"use strict";
// Lets a table stand as a list on a narrow screen: each cell bears the head of its column.
(() => {
  const label = (table) => {
    const heads = table.tHead?.rows.length === 1 ? [...table.tHead.rows[0].cells] : [];
    if (!heads.length || table.matches(".wide")) return;
    for (const row of [...table.tBodies].flatMap((body) => [...body.rows])) {
      if (row.cells.length !== heads.length) continue;
      heads.forEach((head, n) => {
        const cell = row.cells[n];
        // What stands first says itself which row it is, but for a bare number.
        if (n || cell.matches(".n")) cell.dataset.label ??= head.textContent;
      });
    }
    table.classList.add("stack");
  };
  // On a screen that is not narrow, only what would push the page sideways folds.
  const fold = () => {
    for (const table of document.querySelectorAll("table.stack")) {
      table.classList.remove("folded");
      const room = table.parentElement.clientWidth;
      table.classList.toggle("folded", table.scrollWidth > room + 1);
    }
  };
  const labelAll = (within) => {
    within.querySelectorAll("table").forEach(label);
    fold();
  };
  document.addEventListener("htmx:load", (event) => labelAll(event.target));
  window.addEventListener("resize", fold);
  labelAll(document);
})();
