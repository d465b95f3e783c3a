// Everything that belongs to one line is on one screen, in letters that can be read.

const LEVELS = 7;
const UNNAMED = 6; // at this level nothing but More leads to the details
const DRAWN = 5; // from this level on the drawing is left out

export const ID1_MM = 85.6; // width of a bank or club card, ISO/IEC 7810 ID-1

// Until a card was held up, a screen counts as one of 10.1 inches.
const USUAL_DIAGONAL_MM = 10.1 * 25.4;

export function pixelsPerMm(settings) {
  if (settings.pixelsPerMm) return settings.pixelsPerMm;
  const diagonal = Math.hypot(screen.width, screen.height);
  return diagonal / USUAL_DIAGONAL_MM;
}

// Capitals in millimetres: 20 minutes of arc at the distance, NUREG-0700.
export const DISTANCES = { hand: 3.0, arm: 4.1, across: 5.9 };

// What is given up in a small window, one after another: the size of the letters, down to
// those for the hand; the tray; the size of all; the line of power.
const WAYS = [
  {}, { letters: 0.86 }, { letters: 0.74 }, { letters: 0.63 }, { letters: 0 }, { letters: 0, bare: 1 },
  ...[0.86, 0.74, 0.63, 0.54, 0.46, 0.4, 0.34].map((all) => ({ letters: 0, bare: 1, all })),
  ...[0.63, 0.46, 0.34].map((all) => ({ letters: 0, bare: 2, all })),
];
const LEAST_TYPE_PX = 12; // what is smaller is not read by anybody
const BENCH_MM = 200; // a narrower window is no screen of a bench
const LEAST_SEEN = 4; // parts of the window of which one shows the devices
const CAP_PER_SIZE = 0.66;

export function applySizes(settings, { letters = 1, all = 1, bare = 0 } = {}) {
  const mm = pixelsPerMm(settings) * all;
  const set = DISTANCES[settings.distance || "across"];
  const capital = Math.max(set * letters, Math.min(set, DISTANCES.hand));
  const style = document.documentElement.style;
  style.setProperty("--mm", `${mm}px`);
  style.setProperty("--cap", `${capital * mm}px`);
  document.documentElement.dataset.bare = bare;
  return (capital * mm) / CAP_PER_SIZE;
}

// Makes the drawing smaller, then leaves details for the next page, until all fits.
// Tells whether all fits with its drawing; if not, the caller puts cautions before it.
export function fit(body) {
  const text = body.querySelector(".text");
  if (!text) return true;
  const isFitting = () =>
    text.scrollHeight <= text.clientHeight + 1 && text.scrollWidth <= text.clientWidth + 1;
  body.dataset.level = 0;
  body.setAttribute("data-large", "");
  if (isFitting()) return true;
  body.removeAttribute("data-large");
  for (let level = 0; level < LEVELS; level += 1) {
    body.dataset.level = level;
    if (isFitting()) return level < DRAWN || !body.querySelector(".drawing");
  }
  return false;
}

// Gives up one thing after another until what is to be done can be read whole.
// Tells whether it can; if not, nothing may be told of it.
export function squeeze(root, body, settings) {
  if (isWhole(root, body, settings)) return true;
  for (const way of WAYS.slice(1)) {
    if (applySizes(settings, way) < LEAST_TYPE_PX) continue;
    fit(body);
    if (isWhole(root, body, settings)) return true;
  }
  return false;
}

function isWhole(root, body, settings) {
  const isNarrow = innerWidth < BENCH_MM * pixelsPerMm(settings);
  if (isNarrow && Number(body.dataset.level) === UNNAMED && !body.hasAttribute("data-large")) return false;
  const isWide = (one) => one.scrollWidth > one.clientWidth + 1;
  const isLong = (one) => one.scrollHeight > one.clientHeight + 1;
  const text = body.querySelector(".text");
  if (text && (isWide(text) || isLong(text))) return false;
  // What is longer than its place may be scrolled, if enough of it is seen.
  if (!text && body.clientHeight < Math.min(body.scrollHeight, innerHeight / LEAST_SEEN)) return false;
  if ([root, ...root.querySelectorAll(".band, .band span, .keys button, .told")].some(isWide)) return false;
  return root.querySelector(".keys").getBoundingClientRect().bottom <= innerHeight + 1;
}
