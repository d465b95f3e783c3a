// Small means to build what is shown; everything is text, nothing is read as markup.

import { says } from "./words.js";

export function h(tag, facts = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(facts)) {
    if (value === undefined || value === null || value === false) continue;
    if (name === "do") made.addEventListener("click", value);
    else if (name === "aria-label") made.setAttribute(name, says(value));
    else made.setAttribute(name, value === true ? "" : value);
  }
  const shown = inside.flat(2).filter((one) => one !== null && one !== undefined && one !== "" && one !== false);
  made.append(...shown.map((one) => (one instanceof Node ? one : says(String(one)))));
  return made;
}

// Twins are told apart by number, shape, hatch and tray letter, never by colour.
const SHAPES = ["", "●", "■", "▲", "◆", "⬟"];
const TRAYS = ["", "R", "S", "T", "U", "V"];

export function placeOf(job) {
  const found = /place (\d+)$/.exec(job.place || "");
  const n = found ? Number(found[1]) : 0;
  return { n, shape: SHAPES[n] || "○", tray: TRAYS[n] || "" };
}

// A drawing comes from the server with its places in millimetres of the device.
export function drawing(run, line) {
  const svg = line.drawing && run.drawings[line.drawing];
  if (!svg) return null;
  const holder = h("div", { class: "drawing", role: "img", "aria-label": seen(line) });
  holder.innerHTML = svg;
  const picture = holder.firstElementChild;
  picture.removeAttribute("width");
  picture.removeAttribute("height");
  for (const text of picture.querySelectorAll("text")) text.textContent = says(text.textContent);
  return holder;
}

const seen = (line) => `face ${line.view}${line.letter ? `, ${line.letter}` : ""}`;

// Letters on a drawing are as large as all others, however small the drawing is.
export function enlargeLetters(holder, least) {
  const picture = holder?.querySelector("svg");
  if (!picture) return;
  const box = picture.viewBox.baseVal;
  const shown = picture.getBoundingClientRect();
  const scale = Math.min(shown.width / box.width, shown.height / box.height);
  const [width, height] = [shown.width / scale, shown.height / scale];
  // A drawing seldom fills its place; letters may use what is left beside it.
  const room = { x: box.x - (width - box.width) / 2, y: box.y - (height - box.height) / 2, width, height };
  for (const text of picture.querySelectorAll("text")) {
    const size = Number(text.getAttribute("font-size"));
    if (size && size * scale < least) {
      text.setAttribute("font-size", least / scale);
      text.removeAttribute("textLength");
    }
    keepWithin(text, room);
  }
}

// What grew beyond the edge of the drawing is drawn back into it.
function keepWithin(text, box) {
  if (text.hasAttribute("transform")) return;
  const has = text.getBBox();
  const by = (at, size, from, room) =>
    size > room ? 0 : Math.max(from - at, 0) || Math.min(from + room - at - size, 0);
  const x = by(has.x, has.width, box.x, box.width);
  const y = by(has.y, has.height, box.y, box.height);
  if (x || y) text.setAttribute("transform", `translate(${x} ${y})`);
}
