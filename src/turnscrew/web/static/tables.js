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
  const labelAll = (within) => within.querySelectorAll("table").forEach(label);
  document.addEventListener("htmx:load", (event) => labelAll(event.target));
  labelAll(document);
})();
