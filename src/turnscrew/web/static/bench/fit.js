// Everything that belongs to one line is on one screen, in letters that can be read.

const LEVELS = 7;
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

export function applySizes(settings) {
  const mm = pixelsPerMm(settings);
  const capital = DISTANCES[settings.distance || "across"];
  const style = document.documentElement.style;
  style.setProperty("--mm", `${mm}px`);
  style.setProperty("--cap", `${capital * mm}px`);
}

// Makes the drawing smaller, then leaves details for the next page, until all fits.
// Tells whether all fits with its drawing; if not, the caller puts cautions before it.
export function fit(body) {
  const text = body.querySelector(".text");
  if (!text) return true;
  const isFitting = () =>
    text.scrollHeight <= text.clientHeight + 1 && text.scrollWidth <= text.clientWidth + 1;
  body.setAttribute("data-large", "");
  if (isFitting()) return true;
  body.removeAttribute("data-large");
  for (let level = 0; level < LEVELS; level += 1) {
    body.dataset.level = level;
    if (isFitting()) return level < DRAWN || !body.querySelector(".drawing");
  }
  return false;
}
